//! `gears`: the stage and its three gears.

use serde_json::{Map, Value, json};

use super::{maybe, round};
use crate::gear_sheet::{self, GearSheet};
use crate::layout::Actuator;
use crate::ratings::planetary_efficiency::StageEfficiency;

pub(super) fn gears(actuator: &Actuator) -> Value {
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
