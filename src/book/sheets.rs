//! Gear sheets and the drive's set-up.

use maud::{Markup, html};

use super::text::{table, words};
use crate::drive_sheet::DriveSheet;
use crate::export::assembly_sheet::capital;
use crate::gear_sheet::{GearSheet, Section};
use crate::layout::Actuator;
use crate::product::Product;

pub fn gears(actuator: &Actuator) -> Markup {
    html! {
        p { "Lengths in mm, angles in degrees, nominal values." }
        @for sheet in GearSheet::all(actuator) {
            h3 { (capital(&sheet.member.to_string())) }
            div.columns {
                @for section in &sheet.sections {
                    div { h4 { (section.title) } (rows(section)) }
                }
            }
            ul { @for note in &sheet.notes { li { (words(note)) } } }
        }
    }
}

fn rows(section: &Section) -> Markup {
    let rows: Vec<Vec<String>> = section
        .rows
        .iter()
        .map(|row| {
            vec![
                row.label.to_string(),
                row.symbol.to_string(),
                format!("{} {}", row.text(), row.unit()).trim_end().to_string(),
            ]
        })
        .collect();
    table(&["quantity", "symbol", "value"], &rows, 2)
}

pub fn drive(product: &Product) -> Markup {
    let sheet = DriveSheet::of(product);
    html! {
        p { "For a field-oriented drive of any make. Currents are peaks of the sine in one phase." }
        @for part in &sheet.tables {
            h3 { (part.title) }
            @if !part.about.is_empty() { p { (words(&part.about)) } }
            @if !part.head.is_empty() {
                @let head: Vec<&str> = part.head.iter().map(String::as_str).collect();
                (table(&head, &part.rows, 1))
            }
        }
        h3 { "In this order" }
        ol { @for [title, what] in &sheet.steps { li { strong { (title) ". " } (words(what)) } } }
        ul { @for note in &sheet.notes { li { (words(note)) } } }
    }
}
