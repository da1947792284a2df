//! `drive.md`: the drive sheet as a page that reads well as plain text, too.

use super::markdown;
use crate::drive_sheet::DriveSheet;

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
            text.push_str(&markdown::table(&table.head, &table.rows, 1));
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
