//! `gears`: the stage and its three gears.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::gears::Gear;
use crate::layout::Actuator;
use crate::ratings::planetary_efficiency::StageEfficiency;

pub(super) fn gears(actuator: &Actuator) -> Value {
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
