//! `report.json`: everything computed, machine-readable. Keys in snake_case with the unit as suffix.

use serde_json::{Map, Value, json};

use crate::bom::BillOfMaterials;
use crate::checks::Checked;
use crate::design::KvConvention;
use crate::gears::Gear;
use crate::layout::{Actuator, Bolting};
use crate::parts::{Motion, Part};
use crate::pipeline::Made;
use crate::ratings;
use crate::ratings::planetary_efficiency::{Drag, StageEfficiency};

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
pub fn report(made: &Made, input: Value) -> Value {
    let actuator = &made.product.actuator;
    json!({
        "design": actuator.design.name,
        "version": env!("CARGO_PKG_VERSION"),
        "input": input,
        "parts": made.product.parts.iter().map(|made| {
            let size = made.size;
            json!({
                "name": made.part.name.as_str(),
                "file": format!("parts/{}.stl", made.part.name.as_str()),
                "material": actuator.design.parts.get(&made.part.name).map(|settings| settings.material.name.clone()),
                "volume_mm3": round(made.volume),
                "nominal_volume_mm3": round(made.volume),
                "area_mm2": round(made.mesh.area()),
                "print_mass_g": round(made.mass.mass * 1e3),
                "print_time_s": null,
                "size_mm": [round(size[0]), round(size[1]), round(size[2])],
                "triangles": made.mesh.triangles.len(),
                "count": made.part.count,
                "assembly": placement(actuator, &made.part),
            })
        }).collect::<Vec<_>>(),
        "gears": gears(actuator),
        "bearings": bearings(made),
        "drive": drive(actuator),
        "layout": layout(actuator),
        "fasteners": actuator.joints.iter().map(fastener).collect::<Vec<_>>(),
        "mass": mass(&made.product.bom),
        "thermal": null,
        "cost": cost(&made.product.bom),
        "checks": made.checks.iter().map(check).collect::<Vec<_>>(),
        "notes": actuator.notes.iter().map(|note| json!({ "id": note.id, "message": note.message })).collect::<Vec<_>>(),
    })
}

/// How the file's body gets into the assembly: turned over about x if `flipped`, then lifted so that its lowest point
/// lies at `z_mm`, then out to each axis.
fn placement(actuator: &Actuator, part: &Part) -> Value {
    let [bottom, _] = part.stack.z_range();
    let pitch = 360.0 / f64::from(actuator.stage.planets.max(1));
    let axes: Vec<Value> = if part.on_pin() {
        let distance = actuator.stage.centre_distance;
        (0..actuator.stage.planets)
            .map(|k| {
                let phase = actuator.stage.planet_phase(k);
                // Only a toothed body cares how it is turned about its own axis.
                let turn = if part.motion == Motion::Planet { phase.turn.to_degrees() } else { 0.0 };
                json!({ "distance_mm": round(distance), "angle_deg": round(pitch * f64::from(k)), "turn_deg": round(turn) })
            })
            .collect()
    } else {
        vec![json!({ "distance_mm": 0.0, "angle_deg": 0.0, "turn_deg": 0.0 })]
    };
    json!({ "flipped": part.flipped, "z_mm": round(bottom), "axes": axes })
}

fn gears(actuator: &Actuator) -> Value {
    let stage = &actuator.stage;
    let efficiency = StageEfficiency::of(stage, actuator.design.gearset.friction);
    json!({
        "ratio": round(stage.ratio),
        "centre_distance_mm": round(stage.centre_distance),
        "transverse_module_mm": round(stage.transverse_module),
        "working_pressure_angle_deg": round(stage.working_pressure_angle_sun.to_degrees()),
        "working_pressure_angle_ring_deg": round(stage.working_pressure_angle_ring.to_degrees()),
        "sun": gear(&stage.sun),
        "planet": gear(&stage.planet),
        "ring": gear(&stage.ring),
        "contact_ratio_sun": round(stage.contact_ratio_sun),
        "contact_ratio_ring": round(stage.contact_ratio_ring),
        "overlap_ratio": round(stage.overlap_ratio),
        "planet_gap_mm": round(stage.planet_gap),
        "efficiency_forward": maybe(efficiency.ok().map(|found| found.forward)),
        "efficiency_back": maybe(efficiency.ok().map(|found| found.back)),
        "efficiency_covers": match efficiency {
            Ok(_) => "tooth friction alone; drag of bearings, grease and misfit comes on top".to_owned(),
            Err(why) => format!("no efficiency: {why}"),
        },
        "efficiency_assumed": round(actuator.design.gearset.efficiency),
        "backlash_deg": round(stage.output_backlash.to_degrees()),
    })
}

fn gear(gear: &Gear) -> Value {
    json!({
        "teeth": gear.teeth,
        "shift": round(gear.shift),
        "reference_diameter_mm": round(gear.reference_diameter),
        "base_diameter_mm": round(gear.base_diameter),
        "tip_diameter_mm": round(gear.tip_diameter),
        "root_diameter_mm": round(gear.root_diameter),
        "span_teeth": gear.span_teeth,
        "span_mm": round(gear.span),
    })
}

fn bearings(made: &Made) -> Value {
    let design = &made.product.actuator.design;
    let output = &made.product.output_bearing;
    let bearing = &design.bearings.output;
    let planet = &made.product.actuator.planet.bearing;
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
    let mut planet_row = row("planet", planet);
    planet_row.insert("radial_n".into(), round(made.product.planet_load));
    planet_row.insert("static_safety".into(), round(planet.static_rating / made.product.planet_load));
    json!([output_row, planet_row])
}

fn drive(actuator: &Actuator) -> Value {
    let motor = &actuator.design.motor;
    let constants = ratings::motor::torque_constants(motor.kv, motor.kv_is);
    let supply = actuator.design.controller.bus_voltage;
    let no_load = ratings::motor::no_load_speed(motor.kv, motor.kv_is, supply) / actuator.stage.ratio;
    json!({
        "torque_constant_n_m_per_a": round(constants.peak_phase),
        "torque_constant_is": "per ampere of peak phase current",
        "torque_constant_dc_n_m_per_a": round(constants.direct_current),
        "torque_constant_rms_n_m_per_a": round(constants.rms_phase),
        "kv_is": match motor.kv_is {
            KvConvention::LinePeak => "line-peak",
            KvConvention::LineRms => "line-rms",
            KvConvention::Dc => "dc",
        },
        "peak_torque_n_m": round(actuator.torques.output),
        "no_load_speed_rpm": round(no_load),
        // Drag of bearings, grease and misfit is unknown; without it this would be too low to call a prediction.
        "backdrive_torque_n_m": null,
        "backdrive_torque_least_n_m": maybe(least_backdrive_torque(actuator)),
        "backdrive_torque_covers": "at least: the motor's cogging torque through the teeth's friction, if \
            motor.cogging_torque is given; drag of bearings, grease and misfit comes on top, and is to be measured",
        // Heat and inertia are not rated yet: the keys stand for whoever reads them by name.
        "continuous_torque_n_m": null,
        "reflected_inertia_kg_m2": null,
        "current_continuous_a": null,
        "time_at_peak_s": null,
        "curve": [],
        "sun_torque_n_m": round(actuator.torques.sun),
        "housing_torque_n_m": round(actuator.torques.ring),
    })
}

/// Torque at the output that overcomes the motor's cogging. None if that isn't known, or nothing overcomes it.
fn least_backdrive_torque(actuator: &Actuator) -> Option<f64> {
    let drag = Drag { sun: actuator.design.motor.cogging_torque?, output: 0.0 };
    let efficiency = StageEfficiency::of(&actuator.stage, actuator.design.gearset.friction).ok()?;
    Some(efficiency.backdrive_torque(drag))
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

fn fastener(joint: &Bolting) -> Value {
    json!({
        "joint": crate::bom::place(joint.joint),
        "size": joint.thread.to_string(),
        "standard": joint.head.number(),
        "length_mm": round(joint.length),
        "quantity": joint.count,
        "circle_mm": round(joint.circle),
        "grip_mm": round(joint.grip),
        "engagement_mm": round(joint.engagement()),
    })
}

fn mass(bom: &BillOfMaterials) -> Value {
    json!({
        "printed_g": round(bom.printed_mass() * 1e3),
        "bought_g": round(bom.bought_mass() * 1e3),
        "total_g": round(bom.total_mass() * 1e3),
    })
}

/// Sums of what the design gives a cost; filament has none yet, and no currency is asked.
fn cost(bom: &BillOfMaterials) -> Value {
    let total = maybe(bom.total_cost());
    json!({ "printed": null, "bought": total, "total": total, "currency": null })
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
