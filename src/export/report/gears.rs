//! `gears`: the stage and its three gears.

use serde_json::{Map, Value, json};

use super::{gear_life, maybe, round};
use crate::gear_sheet::{self, GearSheet};
use crate::gears::{Margin, Stage};
use crate::layout::Actuator;
use crate::product::Product;
use crate::ratings::gear_forces::GearForces;
use crate::ratings::planetary_efficiency::StageEfficiency;

pub(super) fn gears(made: &Product) -> Value {
    let actuator = &made.actuator;
    let stage = &actuator.stage;
    let [sun, planet, ring] = GearSheet::all(actuator);
    let efficiency = StageEfficiency::of(stage, actuator.design.gearset.friction);
    json!({
        "ratio": round(stage.ratio),
        "centre_distance_mm": round(stage.centre_distance),
        "transverse_module_mm": round(stage.transverse_module),
        "working_pressure_angle_deg": round(stage.working_pressure_angle_sun.to_degrees()),
        "working_pressure_angle_ring_deg": round(stage.working_pressure_angle_ring.to_degrees()),
        "sun": sheet(&sun),
        "planet": sheet(&planet),
        "ring": sheet(&ring),
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
        "spacing": spacing(stage),
        "ring_interference": interference(stage),
        "forces_at_peak": forces(actuator),
        "play": gear_life::play(made),
        "stiffness": gear_life::stiffness(made),
        "at_work": gear_life::at_work(made),
    })
}

fn spacing(stage: &Stage) -> Value {
    let positions = (0..stage.planets).map(|index| round(stage.spacing.position(index).to_degrees()));
    json!({ "equal": stage.spacing.is_equal(), "positions_deg": positions.collect::<Vec<_>>() })
}

/// Values, least values and what is in hand; angles in radians as the conditions have them.
fn interference(stage: &Stage) -> Value {
    let margin = |margin: &Margin| json!({ "value": round(margin.value), "least": round(margin.least), "in_hand": round(margin.in_hand()) });
    let found = &stage.interferences;
    json!({
        "involute": margin(&found.involute),
        "trochoid": margin(&found.trochoid),
        "trimming": margin(&found.trimming),
        "assembles_radially": found.trimming.holds(),
    })
}

fn forces(actuator: &Actuator) -> Value {
    let forces = GearForces::of(&actuator.stage, actuator.torques.sun);
    json!({
        "load_sharing": round(forces.sharing),
        "tangential_n": round(forces.tangential),
        "radial_sun_n": round(forces.radial_sun),
        "radial_ring_n": round(forces.radial_ring),
        "axial_n": round(forces.axial),
        "planet_couple_n_m": round(forces.planet_couple),
        "pin_n": round(forces.pin),
        "sun_thrust_n": round(forces.sun_thrust),
        "ring_thrust_n": round(-forces.sun_thrust),
        "sun_unbalance_n": round(forces.sun_unbalance),
        "direction": "thrust along +z, towards the output, when the output is driven counter-clockwise as seen from it; \
                      the sun's goes to the motor, the ring's to the housing",
    })
}

/// A gear's sheet: its rows by name, those of a mesh in an object of their own.
fn sheet(sheet: &GearSheet) -> Value {
    let mut gear = Map::new();
    for section in &sheet.sections {
        let rows = section.rows.iter().map(|row| (row.json_key(), cell(&row.value)));
        match section.key {
            None => gear.extend(rows),
            Some(key) => {
                gear.insert(key.to_owned(), Value::Object(rows.collect()));
            }
        }
    }
    gear.insert("notes".to_owned(), json!(sheet.notes));
    Value::Object(gear)
}

fn cell(value: &gear_sheet::Value) -> Value {
    match value {
        gear_sheet::Value::Count(count) => json!(count),
        gear_sheet::Value::Number(value) | gear_sheet::Value::Length(value) => round(*value),
        gear_sheet::Value::Angle(angle) => round(angle.to_degrees()),
        gear_sheet::Value::Text(text) => json!(text),
        gear_sheet::Value::Absent(_) => Value::Null,
    }
}
