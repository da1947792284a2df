//! Tables for the terminal.

use comfy_table::{ContentArrangement, Table, presets::NOTHING};

use super::Comparison;
use super::blocks::{Block, Row, Telling, blocks};

/// Two designs, what differs first.
pub fn text(comparison: &Comparison, telling: Telling) -> String {
    let told: Vec<String> = blocks(comparison, telling).iter().map(block).collect();
    told.join("\n")
}

/// A title, its sentences and its table.
pub fn block(block: &Block) -> String {
    let mut text = format!("{}\n", block.title);
    for sentence in &block.lead {
        text.push_str(&format!("  {}\n", sentence.replace('`', "")));
    }
    if !block.rows.is_empty() {
        text.push_str(&table(block));
    }
    text
}

fn table(block: &Block) -> String {
    let mut grid = Table::new();
    grid.load_preset(NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(block.head.iter().map(|name| format!(" {name}")));
    for row in &block.rows {
        match row {
            Row::Group(name) => grid.add_row(vec![format!(" {name}:")]),
            Row::Cells(cells) => grid.add_row(cells.iter().map(|cell| format!("  {cell}"))),
        };
    }
    grid.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect()
}
