//! `drive.md`: the drive sheet as a page that reads well as plain text, too.

use crate::drive_sheet::{DriveSheet, Table};

pub fn markdown(sheet: &DriveSheet) -> String {
    let mut text = format!(
        "# Drive set-up of {}\n\nFor a field-oriented drive of any make. Currents are peaks of the sine in one phase.\n",
        sheet.name
    );
    for table in &sheet.tables {
        text.push_str(&format!("\n## {}\n", table.title));
        if !table.about.is_empty() {
            text.push_str(&format!("\n{}\n", table.about));
        }
        if !table.head.is_empty() {
            text.push('\n');
            text.push_str(&columns(table));
        }
    }
    text.push_str("\n## In this order\n\n");
    for (index, [title, what]) in sheet.steps.iter().enumerate() {
        text.push_str(&format!("{}. [ ] **{title}.** {what}\n", index + 1));
    }
    text.push('\n');
    for note in &sheet.notes {
        text.push_str(&format!("- {note}\n"));
    }
    text
}

/// Padded so that the text lines up unrendered; the first column left, values right.
fn columns(table: &Table) -> String {
    // A bar inside a cell would end it.
    let clean = |row: &Vec<String>| row.iter().map(|cell| cell.replace('|', "/")).collect::<Vec<_>>();
    let head = clean(&table.head);
    let rows: Vec<Vec<String>> = table.rows.iter().map(clean).collect();
    let widths: Vec<usize> = (0..head.len())
        .map(|column| {
            let cells = std::iter::once(&head).chain(&rows).filter_map(|row| row.get(column));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        })
        .collect();
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).enumerate().map(|(column, (cell, &width))| {
            if column == 0 { format!("{cell:<width$}") } else { format!("{cell:>width$}") }
        });
        format!("| {} |\n", cells.collect::<Vec<_>>().join(" | "))
    };
    let rule = widths.iter().enumerate().map(|(column, &width)| {
        if column == 0 { "-".repeat(width) } else { format!("{}:", "-".repeat(width.saturating_sub(1))) }
    });
    let rule = format!("| {} |\n", rule.collect::<Vec<_>>().join(" | "));
    let body: String = rows.iter().map(line).collect();
    [line(&head), rule, body].concat()
}
