//! `printing.md`: every print with its settings, time and filament, how it lies and why; the plates.

use super::markdown::table;
use crate::design::PartSettings;
use crate::parts::MadePart;
use crate::plates::plates;
use crate::printing::orientation::{Hangs, orientation};
use crate::printing::print_time::{BAND, PrintTime, print_time};
use crate::product::Product;

/// The page.
pub fn markdown(product: &Product) -> String {
    let design = &product.actuator.design;
    let each = prints(product);
    let mut text = format!(
        "# Prints of {}\n\nPrinter: {}, lines {} mm. Files lie as they print: no turning, no supports; every hole stands upright, and windows through walls end in a roof at 45 degrees. Times are estimates, {} to {} times.\n",
        design.name, design.printer.name, design.printer.line_width, BAND[0], BAND[1]
    );
    text.push_str("\n## Settings\n\n");
    text.push_str(&settings_table(&each));
    text.push_str("\n## Time and filament, one piece\n\n");
    text.push_str(&time_table(product, &each));
    text.push_str("\n## Which way up, and why\n\n");
    for (part, ..) in &each {
        text.push_str(&format!("- **{}**: {}\n", part.part.name.as_str(), why(product, part)));
    }
    text.push_str("\n## Plates\n\nPlan: `plates.svg`; ready to load: `plate-1.3mf` and on.\n\n");
    text.push_str(&plates_list(product));
    text.push_str("\n## Before the first part\n\n");
    for line in BEFORE {
        text.push_str(&format!("- {line}\n"));
    }
    text
}

pub const BEFORE: [&str; 3] = [
    "Print the fit coupons first: `hubwright coupons` makes them for this design.",
    "Print gears solid, slowly, and let them cool on the bed.",
    "The nozzle, the bed and an insert tool burn; printing ABS, ASA and nylon wants moving air.",
];

/// A printed part with its settings and time.
pub type Print<'a> = (&'a MadePart, &'a PartSettings, PrintTime);

pub fn prints(product: &Product) -> Vec<Print<'_>> {
    let design = &product.actuator.design;
    let print = |part| -> Print<'_> {
        let part: &MadePart = part;
        let settings = design.settings(part.part.name);
        let time = print_time(&part.mass, settings, &design.printer);
        (part, settings, time)
    };
    product.parts.iter().map(print).collect()
}

fn cells<const N: usize>(row: [String; N]) -> Vec<String> {
    row.to_vec()
}

fn settings_table(each: &[Print]) -> String {
    let head = ["part", "material", "pieces", "walls", "skins", "infill", "layers mm"].map(String::from);
    let rows: Vec<Vec<String>> = each
        .iter()
        .map(|(part, settings, _)| {
            cells([
                part.part.name.as_str().to_string(),
                settings.material.name.clone(),
                part.part.count.to_string(),
                settings.walls.to_string(),
                settings.skins.to_string(),
                format!("{:.0} %", settings.infill * 100.0),
                format!("{:.2}", settings.layer_height),
            ])
        })
        .collect();
    table(&head, &rows, 2)
}

fn time_table(product: &Product, each: &[Print]) -> String {
    let head = ["part", "time", "layers", "slowed", "mass g", "filament m", "cost"].map(String::from);
    let price = |cost: Option<f64>| cost.map_or("-".to_string(), |cost| format!("{cost:.2}"));
    let mut rows: Vec<Vec<String>> = each
        .iter()
        .map(|(part, _, time)| {
            cells([
                part.part.name.as_str().to_string(),
                hours(time.time),
                time.layers.to_string(),
                time.slowed_layers.to_string(),
                format!("{:.1}", part.mass.mass * 1e3),
                format!("{:.2}", time.filament * 1e-3),
                price(time.cost),
            ])
        })
        .collect();
    let sum = |of: fn(&PrintTime) -> f64| -> f64 {
        each.iter().map(|(part, _, time)| f64::from(part.part.count) * of(time)).sum()
    };
    let costs = each.iter().map(|(part, _, time)| Some(f64::from(part.part.count) * time.cost?));
    rows.push(cells([
        "all pieces".to_string(),
        hours(sum(|time| time.time)),
        String::new(),
        String::new(),
        format!("{:.1}", product.bom.printed_mass() * 1e3),
        format!("{:.2}", sum(|time| time.filament) * 1e-3),
        price(costs.sum()),
    ]));
    table(&head, &rows, 1)
}

/// Hours and minutes.
pub fn hours(seconds: f64) -> String {
    let minutes = (seconds / 60.0).round().max(1.0);
    format!("{:.0} h {:02.0} min", (minutes / 60.0).floor(), minutes % 60.0)
}

pub fn why(product: &Product, part: &MadePart) -> String {
    let face = if part.part.flipped { "output face down" } else { "mounting face down" };
    let said = |hangs: &Hangs| match hangs.count {
        0 => "no face hangs too far".to_string(),
        1 => "one face would hang".to_string(),
        count => format!("{count} faces would hang"),
    };
    match orientation(part, &product.actuator.design.printer) {
        Ok(found) => format!(
            "{face}: {}; turned over, {}. {}",
            said(&found.as_laid),
            said(&found.turned_over),
            found.load
        ),
        Err(_) => face.to_string(),
    }
}

fn plates_list(product: &Product) -> String {
    let (lines, too_large) = plate_words(product);
    let mut text = String::new();
    for (number, line) in lines.iter().enumerate() {
        text.push_str(&format!("{}. {line}\n", number + 1));
    }
    for part in too_large {
        text.push_str(&format!("- On none: {part}.\n"));
    }
    text
}

/// What lies on each plate, and which parts go on none.
pub fn plate_words(product: &Product) -> (Vec<String>, Vec<String>) {
    let (plates, too_large) = plates(product);
    let mut lines = Vec::new();
    for plate in &plates {
        let names: Vec<String> = product
            .parts
            .iter()
            .filter_map(|part| {
                let count = plate.pieces.iter().filter(|piece| piece.part == part.part.name).count();
                (count > 0).then(|| format!("{count} x {}", part.part.name.as_str()))
            })
            .collect();
        lines.push(format!("{}: {}", plate.material, names.join(", ")));
    }
    (lines, too_large.into_iter().map(|part| part.to_string()).collect())
}
