//! `drive`: what the motor gives at the output.

use serde_json::{Value, json};

use super::thermal::held_by;
use super::{maybe, round};
use crate::assessment::back_drive::back_drive;
use crate::design::KvConvention;
use crate::layout::Actuator;
use crate::product::Product;
use crate::ratings;
use crate::ratings::heat::Rating;
use crate::ratings::motor::circuit::LimitedBy;
use crate::ratings::motor::scale::{Reading, readings};

/// Shares of the current limit for which the sheet gives scale readings.
const READINGS: [f64; 5] = [0.1, 0.25, 0.5, 0.75, 1.0];
const RPM: f64 = 30.0 / std::f64::consts::PI;

pub(super) fn drive(made: &Product) -> Value {
    let actuator = &made.actuator;
    let rating = made.heat.as_ref().ok();
    let held = rating.and_then(|rating| rating.continuous.as_ref().ok());
    let map = rating.map(|rating| rating.map());
    let backdrive = back_drive(actuator);
    let warm = rating.and_then(|rating| rating.peak.as_ref()).and_then(|peak| peak.warm);
    let speed = |value: Option<f64>| maybe(value.map(|value| value * RPM));
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
        "backdrive_torque_n_m": maybe(backdrive.map(|torque| torque.expected)),
        "backdrive_torque_band_n_m": backdrive.map(|torque| torque.band.map(round)),
        "backdrive_torque_is": backdrive_is(actuator),
        "continuous_torque_n_m": maybe(held.map(|held| held.torque)),
        "continuous_limited_by": held.map(|held| held_by(held.held_by)),
        "current_continuous_a": maybe(held.map(|held| held.current)),
        // From warm, see thermal.peak; none within a day.
        "time_at_peak_s": maybe(warm.map(|(time, _)| (time * 1e3).round() / 1e3)),
        "no_load_speed_is": "Kv times supply: an upper bound",
        "no_load_speed_with_drag_rpm": speed(map.and_then(|map| map.no_load_speed)),
        "corner_speed_rpm": speed(map.and_then(|map| map.corner_speed)),
        "ideal_corner_speed_rpm": speed(map.and_then(|map| map.ideal_corner_speed)),
        "ideal_corner_speed_is": "by resistance alone: an upper bound",
        "curve": rating.map(curve).unwrap_or_default(),
        "scale": rating.map(|rating| scale(rating, actuator)).unwrap_or_default(),
        "reflected_inertia_kg_m2": maybe(made.feel.inertia.map(|inertia| inertia.reflected.output())),
        "rotor_inertia_is": made.feel.inertia.map(|inertia| match inertia.rotor_estimated {
            true => "estimated from the motor's mass and diameter, band 0.5 to 1.5",
            false => "as given",
        }),
        "sun_torque_n_m": round(actuator.torques.sun),
        "housing_torque_n_m": round(actuator.torques.ring),
    })
}

/// Torque over speed at the output, with the winding as warm as the continuous torque makes it.
fn curve(rating: &Rating) -> Vec<Value> {
    // Without an answer there is no curve at all.
    let held = rating.survey().map_or(&[] as &[_], |survey| &survey.continuous_at_speeds);
    rating
        .map()
        .points
        .iter()
        .zip(held)
        .map(|(point, continuous)| {
            json!({
                "speed_rpm": round(point.speed * RPM),
                "torque_n_m": round(point.torque),
                "continuous_torque_n_m": maybe(*continuous),
                "current_a": round(point.current),
                "supply_current_a": round(point.supply_current),
                "limited_by": match point.limited_by {
                    LimitedBy::Current => "current",
                    LimitedBy::Voltage => "voltage",
                    LimitedBy::Supply => "supply",
                    LimitedBy::Speed => "speed",
                },
            })
        })
        .collect()
}

/// What a scale under a lever as long as the load's arm should show; nothing without an arm.
fn scale(rating: &Rating, actuator: &Actuator) -> Vec<Value> {
    let arm = actuator.design.load.arm;
    let currents = READINGS.map(|share| share * rating.circuit.current_limit);
    let torque = |current: f64| rating.holder().torque(current, 0.0);
    let rows = readings(&currents, torque, arm).unwrap_or_default();
    let row = |row: &Reading| {
        json!({
            "lever_mm": round(arm),
            "current_a": round(row.current),
            "torque_n_m": round(row.torque),
            "force_n": round(row.force),
            "reading_g": round(row.grams),
        })
    };
    rows.iter().map(row).collect()
}

fn backdrive_is(actuator: &Actuator) -> String {
    let drag = match actuator.design.gearset.drag {
        Some(_) => "the stage's drag as given",
        None => "the stage's drag guessed at 1 % of the peak torque (gearset.drag, once measured)",
    };
    let cogging = match actuator.design.motor.cogging_torque {
        Some(_) => "cogging as given",
        None => "no cogging (motor.cogging_torque isn't given)",
    };
    format!(
        "to turn the output by hand, power off: motor drag and {cogging}, through the teeth's friction, and {drag}"
    )
}
