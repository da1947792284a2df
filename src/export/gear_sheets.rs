//! `gears.md`: the gear sheets as tables that read well as plain text.

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

/// Columns padded so that the text lines up unrendered.
fn table(rows: impl Iterator<Item = [String; 3]>) -> String {
    let heading = ["quantity", "symbol", "value"].map(str::to_owned);
    // A bar inside a cell would end it.
    let rows: Vec<[String; 3]> =
        std::iter::once(heading).chain(rows).map(|row| row.map(|cell| cell.replace('|', "/"))).collect();
    let width = |column: usize| rows.iter().map(|row| row[column].chars().count()).max().unwrap_or(0);
    let widths = [width(0), width(1), width(2)];
    let line = |[label, symbol, value]: &[String; 3]| {
        let [w0, w1, w2] = widths;
        format!("| {label:<w0$} | {symbol:<w1$} | {value:>w2$} |\n")
    };
    let rule = format!(
        "| {} | {} | {}: |\n",
        "-".repeat(widths[0]),
        "-".repeat(widths[1]),
        "-".repeat(widths[2].saturating_sub(1))
    );
    let mut lines = rows.iter().map(line);
    let first = lines.next().unwrap_or_default();
    std::iter::once(first).chain(std::iter::once(rule)).chain(lines).collect()
}

fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
