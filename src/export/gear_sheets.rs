//! `gears.md`: the gear sheets as tables that read well as plain text.

use super::markdown;
use crate::gear_sheet::GearSheet;

/// Sun, planet and ring of the design `name`, one table a section.
pub fn markdown(name: &str, sheets: &[GearSheet]) -> String {
    let mut text = format!(
        "# Gears of {name}\n\nLengths in mm, angles in degrees, nominal values. Drawing: `mesh.svg`.\n"
    );
    for sheet in sheets {
        text.push_str(&format!("\n## {}\n", capital(&sheet.member.to_string())));
        for section in &sheet.sections {
            text.push_str(&format!("\n### {}\n\n", section.title));
            text.push_str(&table(section.rows.iter().map(|row| {
                let value = [row.text().as_str(), row.unit()].join(" ");
                [row.label.to_owned(), row.symbol.to_owned(), value.trim_end().to_owned()]
            })));
        }
        text.push('\n');
        for note in &sheet.notes {
            text.push_str(&format!("- {note}\n"));
        }
    }
    text
}

/// Quantity, symbol, value.
fn table(rows: impl Iterator<Item = [String; 3]>) -> String {
    let head = ["quantity", "symbol", "value"].map(str::to_owned);
    let rows: Vec<Vec<String>> = rows.map(|row| row.to_vec()).collect();
    markdown::table(&head, &rows, 2)
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
