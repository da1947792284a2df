//! `bearings`: a row each for output and planets.

use serde_json::{Map, Value, json};

use super::{maybe, round};
use crate::assessment::bearing_ratings::Life;
use crate::layout::{Actuator, PlanetSeat};
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
        ("life_h", made.product.bearings.output.map(|life| life.judged())),
        ("static_safety", Some(output.static_safety)),
    ] {
        output_row.insert(key.into(), maybe(value));
    }
    lives(&mut output_row, made.product.bearings.output);
    let [own, planets] = made.product.bearings.friction;
    output_row.insert("contributions".into(), contributions(made));
    output_row.insert("friction_n_m".into(), round(own));
    let drag = made.product.bearings.output_drag;
    output_row.insert("rolling_drag_n_m".into(), maybe(drag.map(|[rolling, _]| rolling)));
    output_row.insert("sliding_drag_n_m".into(), maybe(drag.map(|[_, sliding]| sliding)));
    output_row.insert("grease_life_h".into(), maybe(made.product.bearings.grease_hours));
    output_row.insert("minimum_load_n".into(), maybe(made.product.bearings.least_load));
    output_row.insert(
        "tilt_mrad".into(),
        made.product.bearings.tilt.map_or(Value::Null, |tilt| json!(tilt.map(|angle| round(angle * 1e3)))),
    );
    output_row.insert("abutment".into(), abutment(bearing, &made.product.actuator));
    let mut rows = vec![output_row];
    if let (PlanetSeat::Bearings { bearing, .. }, Some(load)) =
        (&made.product.actuator.planet.turns_on, made.product.planet_load)
    {
        let mut planet_row = row("planet", bearing);
        planet_row.insert("radial_n".into(), round(load));
        planet_row.insert("static_safety".into(), round(bearing.static_rating / load));
        lives(&mut planet_row, made.product.bearings.planet);
        planet_row.insert("friction_at_output_n_m".into(), round(planets));
        rows.push(planet_row);
    }
    json!(rows)
}

/// What the life was reckoned with.
fn lives(row: &mut Map<String, Value>, life: Option<Life>) {
    for (key, value) in [
        ("equivalent_dynamic_n", life.map(|life| life.load)),
        ("mean_speed_rpm", life.map(|life| life.speed)),
        ("life_mrev", life.map(|life| life.basic)),
        ("a1", life.map(|life| life.a1)),
        ("kappa", life.and_then(|life| life.kappa)),
        ("a_iso", life.and_then(|life| life.a_iso)),
        ("basic_life_h", life.map(|life| life.hours)),
        ("modified_life_h", life.and_then(|life| life.modified_hours)),
        ("life_h", life.map(|life| life.judged())),
    ] {
        row.insert(key.into(), maybe(value));
    }
}

/// The maker's shoulders, and what the layout gives.
fn abutment(bearing: &crate::tables::Bearing, actuator: &Actuator) -> Value {
    json!({
        "inner_least_mm": round(bearing.shoulder_inner_min),
        "inner_most_mm": round(bearing.shoulder_inner_max),
        "inner_as_laid_out_mm": round(actuator.carrier.step_diameter),
        "outer_most_mm": round(bearing.shoulder_outer_max),
        "outer_as_laid_out_mm": round(actuator.housing.lip_bore),
        "estimated": bearing.shoulders_estimated,
    })
}

/// What loads the output bearing, each part of it.
fn contributions(made: &Made) -> Value {
    let actuator = &made.product.actuator;
    let load = &actuator.design.load;
    let rated = &made.product.output_bearing;
    let lever = (load.arm > 0.0).then(|| actuator.torques.output / (load.arm * 1e-3));
    json!({
        "hanging_weight_n": round(load.weight),
        "further_radial_n": round(load.radial),
        "lever_force_at_peak_n": maybe(lever),
        "axial_n": round(load.axial),
        "overhang_from_the_face_mm": round(load.overhang),
        "moment_n_m": round(rated.moment),
        "moment_at_the_worst_n_m": round(rated.peak_moment),
        "shock_factor": round(load.shock),
    })
}
