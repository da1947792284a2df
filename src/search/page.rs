//! The search as a page of its own: requirement, stages, scatters, the ranked table, what missed, other reducers. One file
//! that loads nothing.

use maud::{DOCTYPE, Markup, html};

use super::picture;
use super::reducers;
use super::requirement::Space;
use super::run::Found;
use super::table;
use crate::web::frame;

const PAGE_STYLE: &str = include_str!("page.css");

/// The page.
pub fn page(space: &Space, found: &Found) -> String {
    let title = format!("Choices for {}", space.name);
    let near = table::near_misses(found);
    let mut chapters: Vec<(&str, &str, Markup)> = vec![
        ("asked", "Asked", html! { pre { code { (requirement(&space.shared)) } } }),
        ("searched", "How it was searched", html! { @for line in table::stages(found) { p { (line) } } }),
        ("choices", "Choices", choices(found)),
        ("ranked", "Ranked", grid(&table::HEADS, &table::NUMBERS, &table::rows(space, found))),
    ];
    if let Some(best) = found.choices.first() {
        let rows = table::reducer_rows(&reducers::compare(best));
        let content =
            html! { p { (table::REDUCERS) } (grid(&table::REDUCER_HEADS, &[1, 2, 3, 4, 5], &rows)) };
        chapters.push(("reducers", "Other reducers", content));
    }
    if !near.is_empty() {
        let content = html! { ul { @for line in &near { li { (line) } } } };
        chapters.push(("missed", "What came closest and missed", content));
    }
    html! {
        (DOCTYPE)
        html lang="en" {
            (frame::head(&title, frame::STILL, &[PAGE_STYLE]))
            body {
                a.skip href="#contents" { "To the contents" }
                header {
                    p.kind { "Choices" }
                    h1 { (space.name) }
                }
                (frame::chapters(&chapters))
                (frame::foot())
            }
        }
    }
    .into_string()
}

fn choices(found: &Found) -> Markup {
    html! {
        p {
            "Each dot is a design that was made and whose checks hold. Numbers are places in the table; dots have the colour of "
            "their motor."
        }
        (picture::key(found))
        (picture::scatters(found))
    }
}

/// The lines of `[requirement]`, of all that designs share.
fn requirement(shared: &str) -> String {
    let lines = shared.lines().skip_while(|line| *line != "[requirement]").skip(1);
    lines
        .take_while(|line| !line.starts_with('['))
        .filter(|line| !line.is_empty())
        .map(|line| format!("{line}\n"))
        .collect()
}

/// A table without the columns of which nothing is known.
fn grid(heads: &[&str], numbers: &[usize], rows: &[Vec<String>]) -> Markup {
    /// Cells of sentences may break.
    const LONG: usize = 24;
    let class = |column: usize, cell: &str| {
        if numbers.contains(&column) {
            "number"
        } else if cell.len() > LONG {
            "sentence"
        } else {
            "short"
        }
    };
    let known = |column: &usize| rows.iter().any(|row| row.get(*column).is_some_and(|cell| cell != "-"));
    let columns: Vec<usize> = (0..heads.len()).filter(known).collect();
    html! {
        div.wide {
            table {
                thead {
                    tr {
                        @for (column, head) in columns.iter().filter_map(|&column| Some((column, heads.get(column)?))) {
                            th scope="col" class=[numbers.contains(&column).then_some("number")] { (head) }
                        }
                    }
                }
                tbody {
                    @for row in rows {
                        tr {
                            @for (column, cell) in columns.iter().filter_map(|&column| Some((column, row.get(column)?))) {
                                // A number keeps its percent sign.
                                td class=(class(column, cell)) { (cell.replace(" %", "\u{a0}%")) }
                            }
                        }
                    }
                }
            }
        }
    }
}
