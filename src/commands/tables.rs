//! `hubwright tables [NAME]`: the built-in tables, with their sources.

use comfy_table::{ContentArrangement, presets::NOTHING};
use serde_json::{Map, Value, json};

use crate::design;
use crate::tables::{Table, catalogue};

/// The catalogues, and the defaults of the design file.
fn tables() -> Vec<Table> {
    let mut tables = catalogue();
    tables.push(design::defaults());
    tables
}

/// All tables' names and what they hold.
pub fn list() -> String {
    let mut text = String::from("Tables (hubwright tables NAME):\n\n");
    for table in tables() {
        text.push_str(&format!("  {:<16} {} rows. {}\n", table.name, table.rows.len(), table.title));
    }
    text
}

/// One table, or why there is none of that name.
pub fn show(name: &str) -> Result<String, String> {
    let table = named(name)?;
    let mut grid = comfy_table::Table::new();
    grid.load_preset(NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(table.columns.clone());
    for row in &table.rows {
        grid.add_row(row.clone());
    }
    // The grid pads its last column; trailing blanks help nobody.
    let lines: Vec<String> = grid.to_string().lines().map(|line| line.trim_end().to_string()).collect();
    Ok(format!("{}\n\n{}\n\n{}\n", table.title, lines.join("\n"), table.notes))
}

/// The tables (all, or one) as JSON.
pub fn as_json(name: Option<&str>) -> Result<Value, String> {
    let tables = match name {
        Some(name) => vec![named(name)?],
        None => tables(),
    };
    let tree = tables.into_iter().map(|table| {
        let rows: Vec<Value> = table
            .rows
            .iter()
            .map(|row| {
                let cells =
                    table.columns.iter().zip(row).map(|(column, cell)| (column.to_string(), json!(cell)));
                Value::Object(cells.collect::<Map<_, _>>())
            })
            .collect();
        json!({ "name": table.name, "title": table.title, "notes": table.notes, "rows": rows })
    });
    Ok(Value::Array(tree.collect()))
}

fn named(name: &str) -> Result<Table, String> {
    let names: Vec<&str> = tables().iter().map(|table| table.name).collect();
    tables()
        .into_iter()
        .find(|table| table.name == name)
        .ok_or_else(|| format!("There is no table \"{name}\". Tables: {}.", names.join(", ")))
}
