//! Tables that read well as plain text, too.

/// A table with its columns padded: the first `left` ones to the left, the rest, numbers, to the right.
pub fn table(head: &[String], rows: &[Vec<String>], left: usize) -> String {
    // A bar inside a cell would end it.
    let clean = |row: &[String]| row.iter().map(|cell| cell.replace('|', "/")).collect::<Vec<_>>();
    let head = clean(head);
    let rows: Vec<Vec<String>> = rows.iter().map(|row| clean(row)).collect();
    let widths: Vec<usize> = (0..head.len())
        .map(|column| {
            let cells = std::iter::once(&head).chain(&rows).filter_map(|row| row.get(column));
            cells.map(|cell| cell.chars().count()).max().unwrap_or(0)
        })
        .collect();
    let line = |row: &Vec<String>| {
        let cells = row.iter().zip(&widths).enumerate().map(|(column, (cell, &width))| {
            if column < left { format!("{cell:<width$}") } else { format!("{cell:>width$}") }
        });
        format!("| {} |\n", cells.collect::<Vec<_>>().join(" | "))
    };
    let rule = widths.iter().enumerate().map(|(column, &width)| {
        if column < left { "-".repeat(width) } else { format!("{}:", "-".repeat(width.saturating_sub(1))) }
    });
    let rule = format!("| {} |\n", rule.collect::<Vec<_>>().join(" | "));
    let body: String = rows.iter().map(line).collect();
    [line(&head), rule, body].concat()
}
