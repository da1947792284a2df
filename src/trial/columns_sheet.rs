//! What a log may hold, as text: for a reader who has none yet.

use super::columns::{COLUMN_TABLE, TESTS};

/// Tests and columns, one a line.
pub fn columns_sheet() -> String {
    let mut text = String::from(
        "A log is a CSV file: the first row the columns with their units, as in\n\n  test, current [A], force [g], lever [mm], note\n\n\
         then one row a reading; cells that a test doesn't need stay empty; lines with # are remarks. Semicolons or tabs may part the cells\n\
         instead; then a comma is a decimal mark, too.\n\nTests:\n",
    );
    for test in &TESTS {
        let needs: Vec<String> = test
            .needs
            .iter()
            .map(|any| any.iter().map(|column| column.info().name).collect::<Vec<_>>().join(" or "))
            .collect();
        text.push_str(&format!(
            "  {:<11} {}\n              needs {}; identifies {}\n",
            test.word,
            test.title,
            needs.join(", "),
            test.identifies
        ));
    }
    text.push_str("\nColumns:\n");
    for column in &COLUMN_TABLE {
        let units = column.kind.unit_list();
        text.push_str(&format!("  {:<11} [{units}] {}\n", column.name, column.about));
    }
    text.push_str("  note        the reader's own words\n");
    text
}
