//! The bill of materials.

use maud::{Markup, html};

use super::text::table;
use crate::bom::{BillOfMaterials, Item};

pub fn parts_list(bom: &BillOfMaterials) -> Markup {
    let grams = |mass: f64| format!("{:.2}", mass * 1e3);
    let cost = bom.total_cost();
    let row = |item: &Item| {
        let mut cells = vec![
            item.name.clone(),
            item.designation.clone(),
            item.material.clone(),
            item.note.clone(),
            item.quantity.to_string(),
            item.unit_mass.map_or("-".to_string(), grams),
            item.unit_mass.map_or("-".to_string(), |_| grams(item.total_mass())),
        ];
        if cost.is_some() {
            cells.push(item.total_cost().map_or("-".to_string(), |cost| format!("{cost:.2}")));
        }
        cells
    };
    let rows: Vec<Vec<String>> = bom.items.iter().map(row).collect();
    let mut head = vec!["item", "designation", "material", "note", "pieces", "g each", "g"];
    if cost.is_some() {
        head.push("cost");
    }
    html! {
        (table(&head, &rows, 4))
        p {
            "Mass in all: " (format!("{:.0} g", bom.total_mass() * 1e3))
            @if let Some(cost) = cost { "; cost of what has a price: " (format!("{cost:.2}")) }
            "."
        }
    }
}
