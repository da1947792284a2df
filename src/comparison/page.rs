//! A comparison as tables of a page: of one of its own, or of a chapter.

use maud::{DOCTYPE, Markup, html};

use super::Comparison;
use super::blocks::{Block, Row, Telling, blocks};
use crate::book::text::words;
use crate::web::frame;

/// Nothing from anywhere.
const PAGE_STYLE: &str = include_str!("page.css");

/// Two designs on a page of their own, what is alike folded away.
///
/// # Arguments
/// * `heads`: what the two are called above their columns; `title`: of the page; `about`: a line on each design.
pub fn page(comparison: &Comparison, heads: [&str; 2], title: &str, about: &[String; 2]) -> String {
    let differing = blocks(comparison, Telling { heads, all: false });
    let everything = blocks(comparison, Telling { heads, all: true });
    html! {
        (DOCTYPE)
        html lang="en" {
            (frame::head(title, frame::STILL, &[PAGE_STYLE]))
            body {
                header {
                    h1 { (title) }
                    @for line in about { p { (line) } }
                }
                nav aria-label="Contents" {
                    ol { @for one in &differing { li { a href={ "#" (anchor(one)) } { (one.title) } @if let Some(counted) = one.lead.first() { ": " (counted) } } } }
                }
                main {
                    @for (one, whole) in differing.iter().zip(&everything) {
                        section id=(anchor(one)) aria-labelledby={ (anchor(one)) "-title" } {
                            h2 id={ (anchor(one)) "-title" } { (one.title) }
                            (block(one))
                            @if whole.rows.len() > one.rows.len() {
                                details { summary { "With what is alike" } (table(whole)) }
                            }
                        }
                    }
                }
                (frame::foot())
            }
        }
    }
    .into_string()
}

fn anchor(block: &Block) -> String {
    block.title.to_lowercase().replace(' ', "-")
}

/// Sentences and table, without the title.
pub fn block(block: &Block) -> Markup {
    html! {
        @for sentence in &block.lead { p { (words(sentence)) } }
        @if !block.rows.is_empty() { (table(block)) }
    }
}

fn table(block: &Block) -> Markup {
    html! {
        // Wide tables are moved sideways, by keys too.
        div.wide tabindex="0" role="group" aria-label={ "Table: " (block.title) } {
            table.compared {
                thead { tr { @for name in &block.head { th scope="col" { (name) } } } }
                tbody { @for row in &block.rows { (line(row, block.head.len())) } }
            }
        }
    }
}

fn line(row: &Row, columns: usize) -> Markup {
    match row {
        Row::Group(name) => html! { tr { th.group scope="rowgroup" colspan=(columns) { (name) } } },
        Row::Cells(cells) => html! {
            tr {
                @for (column, cell) in cells.iter().enumerate() {
                    @if column == 0 { th scope="row" { (breakable(cell)) } }
                    @else { td class=[class(cell)] { (cell) } }
                }
            }
        },
    }
}

/// Verdicts and judgements have the colours that they have elsewhere, beside their words.
fn class(cell: &str) -> Option<&'static str> {
    match cell.rsplit(" -> ").next().unwrap_or(cell) {
        "better" | "holds" => Some("verdict holds"),
        "worse" | "warns" => Some("verdict warns"),
        "fails" => Some("verdict fails"),
        // A number stays with its unit.
        _ if cell.len() <= SHORT => Some("short"),
        _ => None,
    }
}

/// Letters of the longest cell that stays in one line.
const SHORT: usize = 14;

/// A key may be broken behind its dots and underscores, on a narrow screen.
fn breakable(text: &str) -> Markup {
    html! { @for piece in text.split_inclusive(['.', '_']) { (piece) wbr; } }
}
