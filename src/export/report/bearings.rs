//! `bearings`: a row each for output and planets.

use serde_json::{Map, Value, json};

use super::{maybe, round};
use crate::layout::PlanetSeat;
use crate::pipeline::Made;

pub(super) fn bearings(made: &Made) -> Value {
    let design = &made.product.actuator.design;
    let output = &made.product.output_bearing;
    let bearing = &design.bearings.output;
    let row = |place: &str, bearing: &crate::tables::Bearing| {
        let mut row = Map::new();
        row.insert("place".into(), json!(place));
        row.insert("designation".into(), json!(bearing.designation));
        row.insert("maker".into(), json!(bearing.maker));
        row.insert("source".into(), json!(bearing.source));
        row.insert("bore_mm".into(), round(bearing.bore));
        row.insert("outer_mm".into(), round(bearing.outer));
        row.insert("width_mm".into(), round(bearing.width));
        row.insert("dynamic_rating_n".into(), round(bearing.dynamic_rating));
        row.insert("static_rating_n".into(), round(bearing.static_rating));
        row
    };
    let mut output_row = row("output", bearing);
    for (key, value) in [
        ("radial_n", Some(output.radial)),
        ("axial_n", Some(output.axial)),
        ("equivalent_dynamic_n", output.equivalent_dynamic),
        ("equivalent_static_n", Some(output.equivalent_static)),
        ("life_mrev", output.life_mrev),
        ("life_h", output.life_hours),
        ("static_safety", Some(output.static_safety)),
    ] {
        output_row.insert(key.into(), maybe(value));
    }
    let mut rows = vec![output_row];
    if let (PlanetSeat::Bearings { bearing, .. }, Some(load)) =
        (&made.product.actuator.planet.turns_on, made.product.planet_load)
    {
        let mut planet_row = row("planet", bearing);
        planet_row.insert("radial_n".into(), round(load));
        planet_row.insert("static_safety".into(), round(bearing.static_rating / load));
        rows.push(planet_row);
    }
    json!(rows)
}
