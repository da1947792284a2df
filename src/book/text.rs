//! Words as the sheets write them: `code` between back ticks.

use maud::{Markup, html};

/// Escaped, with what stands between back ticks as code.
pub fn words(text: &str) -> Markup {
    html! {
        @for (index, piece) in text.split('`').enumerate() {
            @if index % 2 == 1 { code { (piece) } } @else { (piece) }
        }
    }
}

/// A table; columns after the first `left` hold numbers.
pub fn table(head: &[&str], rows: &[Vec<String>], left: usize) -> Markup {
    let class = |column: usize| (column >= left).then_some("number");
    html! {
        // Wide tables are moved sideways, by keys too.
        div.wide tabindex="0" role="group" aria-label={ "Table: " (head.join(", ")) } {
            table {
                thead { tr { @for (column, name) in head.iter().enumerate() { th scope="col" class=[class(column)] { (name) } } } }
                tbody {
                    @for row in rows {
                        tr { @for (column, cell) in row.iter().enumerate() {
                            @if column == 0 { th scope="row" { (words(cell)) } }
                            @else { td class=[class(column)] { (words(cell)) } }
                        } }
                    }
                }
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_is_escaped() {
        assert_eq!(words("<b> `a&b` c").into_string(), "&lt;b&gt; <code>a&amp;b</code> c");
    }
}
