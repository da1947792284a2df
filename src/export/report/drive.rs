//! `drive`: what the motor gives at the output.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::design::KvConvention;
use crate::layout::Actuator;
use crate::ratings;
use crate::ratings::planetary_efficiency::{Drag, StageEfficiency};

pub(super) fn drive(actuator: &Actuator) -> Value {
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
