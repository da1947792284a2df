//! `parts[]` and `printing`: every print with its sizes, walls, time and place; what all of them take.

use rayon::prelude::*;
use serde_json::{Value, json};

use super::{maybe, round};
use crate::bought::Bought;
use crate::parts::{MadePart, Place};
use crate::pipeline::{Made, Solids};
use crate::printing::orientation::{Hangs, orientation};
use crate::printing::print_time::{BAND, PrintTime, print_time};
use crate::printing::{bed_hold, wall};
use crate::product::Product;

pub(super) fn parts(made: &Made, solids: &Solids) -> Value {
    let product = &made.product;
    let rows: Vec<Value> = product
        .parts
        .par_iter()
        .zip(&solids.meshes)
        .zip(&solids.nominal_volumes)
        .map(|((part, mesh), nominal)| {
            let actuator = &product.actuator;
            let time = time(product, part);
            let hold = bed_hold::bed_hold(&part.printed);
            let wall = wall::thinnest(&part.printed).ok().flatten();
            json!({
                "name": part.part.name.as_str(),
                "file": format!("parts/{}.stl", part.part.name.as_str()),
                "material": actuator.design.parts.get(&part.part.name).map(|settings| settings.material.name.clone()),
                "volume_mm3": round(part.volume),
                "nominal_volume_mm3": round(*nominal),
                "area_mm2": round(mesh.area()),
                "print_mass_g": round(part.mass.mass * 1e3),
                "print_time_s": round(time.time),
                "layers": time.layers,
                "layers_slowed": time.slowed_layers,
                "quickest_layer_s": round(time.quickest_layer),
                "filament_mm": round(time.filament),
                "filament_cost": maybe(time.cost),
                "least_wall_mm": maybe(wall.map(|wall| wall.thickness)),
                "bed_contact_mm2": maybe(hold.map(|hold| hold.area)),
                "slenderness": maybe(hold.map(|hold| hold.slenderness)),
                "orientation": which_way_up(product, part),
                "size_mm": part.size.map(round),
                "triangles": mesh.triangles.len(),
                "count": part.part.count,
                "assembly": places(part.part.flipped, part.part.stack.z_range()[0], &part.part.places(&actuator.stage)),
            })
        })
        .collect();
    json!(rows)
}

/// `bought[]`: bodies of the assembly that aren't printed, as drawn.
pub(super) fn bought(solids: &Solids) -> Value {
    let row = |body: &Bought| {
        json!({
            "name": body.name,
            "kind": body.kind.as_str(),
            "count": body.places.len(),
            "drawn_volume_mm3": maybe(body.stack.volume().ok()),
            "assembly": places(false, body.stack.z_range()[0], &body.places),
        })
    };
    json!(solids.bought.iter().map(row).collect::<Vec<_>>())
}

/// What all prints take together.
pub(super) fn printing(product: &Product) -> Value {
    let each = || product.parts.iter().map(|part| (f64::from(part.part.count), time(product, part)));
    let sum = |of: fn(&PrintTime) -> f64| -> f64 { each().map(|(count, time)| count * of(&time)).sum() };
    json!({
        "time_s": round(sum(|time| time.time)),
        "time_band": BAND,
        "filament_mm": round(sum(|time| time.filament)),
        "mass_g": round(product.bom.printed_mass() * 1e3),
    })
}

fn time(product: &Product, part: &MadePart) -> PrintTime {
    let design = &product.actuator.design;
    print_time(&part.mass, design.settings(part.part.name), &design.printer)
}

fn which_way_up(product: &Product, part: &MadePart) -> Value {
    let hangs =
        |hangs: &Hangs| json!({ "faults": hangs.count, "worst_reach_over_limit": round(hangs.worst) });
    match orientation(part, &product.actuator.design.printer) {
        Ok(found) => json!({
            "as_laid": hangs(&found.as_laid),
            "turned_over": hangs(&found.turned_over),
            "load": found.load,
        }),
        Err(_) => Value::Null,
    }
}

/// How the file's body gets into the assembly: turned over about x if `flipped`, then lifted so that its lowest point
/// lies at `z_mm`, then out to each axis.
fn places(flipped: bool, bottom: f64, places: &[Place]) -> Value {
    let axes: Vec<Value> = places
        .iter()
        .map(|place| {
            let [angle, turn] = [place.angle, place.turn].map(|angle| round(angle.to_degrees()));
            json!({ "distance_mm": round(place.distance), "angle_deg": angle, "turn_deg": turn })
        })
        .collect();
    json!({ "flipped": flipped, "z_mm": round(bottom), "axes": axes })
}
