//! `report.json`: everything computed, machine-readable. Keys in snake_case with the unit as suffix.

mod assembly;
mod bearings;
mod control;
mod drive;
mod fasteners;
mod fits;
mod gear_life;
mod gears;
mod parts;
pub mod ranking;
mod structure;
mod thermal;

use serde_json::{Value, json};

use crate::bom::{BillOfMaterials, Item, Kind};
use crate::checks::Checked;
use crate::demand::Demand;
use crate::design::Requirement;
use crate::layout::Actuator;
use crate::pipeline::{Made, Solids};
use crate::plates::{self, Piece, Plate};
use crate::product::Product;

/// Digits after the point: micrometres for lengths, and as fine for the rest.
fn round(value: f64) -> Value {
    let rounded = (value * 1e6).round() / 1e6;
    // -0.0 and 0.0 are one value.
    json!(if rounded == 0.0 { 0.0 } else { rounded })
}

/// A value that may be missing.
fn maybe(value: Option<f64>) -> Value {
    value.map_or(Value::Null, round)
}

/// The whole report.
pub fn report(made: &Made, solids: &Solids, input: Value) -> Value {
    let actuator = &made.product.actuator;
    json!({
        "design": actuator.design.name,
        "version": env!("CARGO_PKG_VERSION"),
        "input": input,
        "parts": parts::parts(made, solids),
        "bought": parts::bought(solids),
        "printing": parts::printing(&made.product),
        "plates": plates::plates(&made.product).0.iter().map(plate).collect::<Vec<_>>(),
        "requirement": requirement(&actuator.design.requirement),
        "gears": gears::gears(&made.product),
        "bearings": bearings::bearings(made),
        "fits": fits::fits(actuator),
        "drive": drive::drive(&made.product),
        "control": control::control(&made.product),
        "layout": layout(actuator),
        "fasteners": fasteners::fasteners(&made.product),
        "structure": structure::structure(&made.product),
        "interference": assembly::interference(&made.product),
        "axial": assembly::axial(&made.product),
        "assembly": assembly::assembly(&made.product),
        "service": assembly::service(&made.product),
        "mass": mass(&made.product.bom),
        "thermal": thermal::thermal(&made.product),
        "cost": cost(&made.product),
        "checks": made.checks.iter().map(check).collect::<Vec<_>>(),
        "ranking": ranking::ranking(made),
        "notes": actuator.notes.iter().map(|note| json!({ "id": note.id, "message": note.message })).collect::<Vec<_>>(),
    })
}

/// One plate: what lies where on the bed.
fn plate(plate: &Plate) -> Value {
    let piece = |piece: &Piece| {
        json!({
            "part": piece.part.as_str(),
            "copy": piece.copy + 1,
            "turned": piece.turned,
            "shift_mm": piece.shift.map(round),
        })
    };
    json!({
        "material": plate.material,
        "layer_height_mm": round(plate.layer_height),
        "pieces": plate.pieces.iter().map(piece).collect::<Vec<_>>(),
    })
}

/// What is asked, and by whom.
fn requirement(requirement: &Requirement) -> Value {
    const RPM: f64 = 30.0 / std::f64::consts::PI;
    let demand = |demand: &Demand| {
        json!({
            "by": demand.by,
            "peak_torque_n_m": round(demand.peak_torque),
            "continuous_torque_n_m": maybe(demand.continuous_torque),
            "speed_rpm": maybe(demand.speed.map(|speed| speed * RPM)),
        })
    };
    json!({
        "peak_torque_n_m": round(requirement.peak_torque),
        "peak_time_s": round(requirement.peak_time),
        "continuous_torque_n_m": maybe(requirement.continuous_torque),
        "speed_rpm": maybe(requirement.speed.map(|speed| speed * RPM)),
        "mass_limit_g": maybe(requirement.mass_limit.map(|mass| mass * 1e3)),
        "outer_diameter_limit_mm": maybe(requirement.outer_diameter_limit),
        "height_limit_mm": maybe(requirement.height_limit),
        "life_h": round(requirement.life),
        "demands": requirement.demands.iter().map(demand).collect::<Vec<_>>(),
    })
}

/// The figures one looks up on the bench.
fn layout(actuator: &Actuator) -> Value {
    let stations = &actuator.stations;
    json!({
        "outer_diameter_mm": round(actuator.outer_diameter()),
        "height_mm": round(stations.output_face),
        "service_plane_mm": round(stations.service),
        "rotor_front_mm": round(stations.rotor_front),
        "planets_mm": [round(stations.planet_back), round(stations.planet_front)],
        "output_bearing_mm": [round(stations.bearing_back), round(stations.bearing_front)],
        "base_bore_mm": round(actuator.base.bore),
        "carrier_plate_diameter_mm": round(actuator.carrier.plate_diameter),
        "encoder_gap_mm": round(stations.magnet_back - stations.sensor_front),
        "output_circle_mm": round(actuator.joints.output.circle),
    })
}

fn mass(bom: &BillOfMaterials) -> Value {
    json!({
        "printed_g": round(bom.printed_mass() * 1e3),
        "bought_g": round(bom.bought_mass() * 1e3),
        "total_g": round(bom.total_mass() * 1e3),
    })
}

/// Sums of what the design gives a price.
fn cost(product: &Product) -> Value {
    let of = |printed: bool| {
        let items = product.bom.items.iter().filter(|item| (item.kind == Kind::Printed) == printed);
        let costs: Vec<f64> = items.filter_map(Item::total_cost).collect();
        (!costs.is_empty()).then(|| costs.iter().sum())
    };
    json!({
        "printed": maybe(of(true)),
        "bought": maybe(of(false)),
        "total": maybe(product.bom.total_cost()),
        "currency": product.actuator.design.printer.currency,
    })
}

/// One check with its outcome.
pub fn check(checked: &Checked) -> Value {
    let outcome = &checked.outcome;
    json!({
        "id": checked.check.id,
        "title": checked.check.title,
        "value": maybe(outcome.value),
        "limit": maybe(outcome.limit),
        "unit": checked.check.unit,
        "margin": maybe(outcome.margin()),
        "verdict": outcome.verdict.as_str(),
        "basis": checked.check.formula,
        "clause": checked.check.clause,
        "parts": checked.check.parts.iter().map(|part| part.as_str()).collect::<Vec<_>>(),
        "remark": outcome.remark,
        "remedy": outcome.remedy,
    })
}
