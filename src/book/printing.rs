//! Each printed part with its picture and settings.

use maud::{Markup, html};
use rayon::prelude::*;

use super::base64::data_address;
use super::picture::{Shown, Side, picture};
use super::text::words;
use crate::export::assembly_sheet::capital;
use crate::export::print_sheet::{BEFORE, Print, hours, plate_words, prints, why};
use crate::pipeline::Solids;
use crate::product::Product;

const PICTURE: [usize; 2] = [540, 405];

pub fn printing(product: &Product, solids: &Solids) -> Markup {
    let printer = &product.actuator.design.printer;
    let prints = prints(product);
    let cards: Vec<Markup> = prints.par_iter().map(|print| card(product, solids, print)).collect();
    let (plates, too_large) = plate_words(product);
    html! {
        p { "Printer: " (printer.name) ", lines " (printer.line_width) " mm. Files lie as they print; no supports." }
        ul { @for line in BEFORE { li { (words(line)) } } }
        div.cards { @for card in &cards { (card) } }
        h3 { "Plates" }
        ol { @for line in &plates { li { (line) } } }
        @if !too_large.is_empty() {
            p { "On no plate:" }
            ul { @for line in &too_large { li { (line) } } }
        }
    }
}

fn card(product: &Product, solids: &Solids, print: &Print) -> Markup {
    let (made, settings, time) = print;
    let name = made.part.name.as_str();
    let [x, y, z] = made.size;
    let side = if made.part.flipped { Side::Back } else { Side::Front };
    let body = solids.scene.iter().find(|thing| thing.part == Some(made.part.name)).and_then(|thing| {
        // One piece, on its own axis.
        let place = crate::parts::Place { distance: 0.0, angle: 0.0, turn: 0.0 };
        picture(&[Shown { thing, place, lift: 0.0, pale: false }], side, PICTURE)
    });
    html! {
        article.card {
            h3 { (name) @if made.part.count > 1 { " (" (made.part.count) " pieces)" } }
            @if let Some(png) = body {
                img src=(data_address("image/png", &png)) width=(PICTURE[0] / 2) height=(PICTURE[1] / 2) alt={ (name) " as it lies on the bed" };
            }
            dl {
                dt { "Material" } dd { (settings.material.name) }
                dt { "Walls, skins" } dd { (settings.walls) ", " (settings.skins) }
                dt { "Infill" } dd { (format!("{:.0} %", settings.infill * 100.0)) }
                dt { "Layers" } dd { (format!("{:.2} mm", settings.layer_height)) }
                dt { "Size, mm" } dd { (format!("{x:.1} x {y:.1} x {z:.1}")) }
                dt { "Each" } dd { (format!("{} g, {}", grams(made.mass.mass), hours(time.time))) }
            }
            p { (words(&capital(&why(product, made)))) }
        }
    }
}

/// Hundredths below ten grams, as the bill of materials has them; tenths above.
fn grams(mass: f64) -> String {
    let grams = mass * 1e3;
    if grams < 10.0 { format!("{grams:.2}") } else { format!("{grams:.1}") }
}
