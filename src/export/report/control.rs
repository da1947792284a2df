//! `control`: the virtual spring. Simulated figures to four digits: finer is the solver's business.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::product::Product;
use crate::ratings::heat::transient::Unsolved;
use crate::ratings::spring::Rating;
use crate::ratings::spring::rating::{Fall, Setting, Step};
use crate::ratings::spring::stability::GAIN_MARGIN;
use crate::ratings::spring::two_masses::Sample;

pub(super) fn control(made: &Product) -> Value {
    match &made.control {
        Ok(rating) => answer(rating),
        Err(why) => json!({ "no_answer": why.to_string() }),
    }
}

fn answer(rating: &Rating) -> Value {
    let inputs = &rating.inputs;
    let limits = &rating.limits;
    let motions = rating.motions();
    let degrees = |angle: f64| round(angle.to_degrees());
    json!({
        "period_s": round(inputs.timing.period),
        "delay_s": round(inputs.timing.delay),
        "filter_s": round(inputs.timing.filter),
        "motor_inertia_kg_m2": round(inputs.motor_inertia),
        "carrier_inertia_kg_m2": round(inputs.carrier_inertia),
        "load_inertia_kg_m2": round(inputs.load_inertia),
        "gear_stiffness_n_m_per_rad": round(inputs.gear_stiffness),
        "damping_ratio": round(inputs.damping_ratio),
        "friction_n_m": round(inputs.friction),
        "stiffest": {
            "stiffness_n_m_per_rad": round(rating.stiffest),
            "governed_by": rating.governed_by.name(),
            "gain_margin": GAIN_MARGIN,
            "sampled_loop_n_m_per_rad": maybe(limits.sampled_loop.map(fine)),
            "bandwidth_n_m_per_rad": round(limits.bandwidth),
            "counts_and_friction_n_m_per_rad": maybe(limits.counts_and_friction),
            "wall_by_damping_is": "not told: no viscous damping of the mechanism itself is known",
        },
        "settings": rating.settings.iter().zip(&motions.steps).map(|(setting, step)| row(rating, setting, step)).collect::<Vec<_>>(),
        "judged": rating.judged().map(|setting| setting.name),
        "dead_band": {
            "angle_deg": degrees(rating.dead_band.angle),
            "at_arm_mm": round(rating.dead_band.at_arm),
            "stiffness_share_at_its_size": round(rating.dead_band.share),
            "nine_tenths_from_deg": maybe(rating.dead_band.nine_tenths.map(f64::to_degrees)),
            "is": "of the gears' stiffness in a swing about zero load; the encoder sits on the rotor, so the loop doesn't feel the \
                play and doesn't hunt in it; integral action, or a second encoder at the output, would",
        },
        "encoder": {
            "count_deg": degrees(rating.count),
            "count_at_output_deg": degrees(rating.count / inputs.ratio),
            "error_deg": maybe(rating.encoder.map(|error| error.mechanical.to_degrees())),
            "electrical_error_deg": maybe(rating.encoder.map(|error| error.electrical.to_degrees())),
            "torque_lost": maybe(rating.encoder.map(|error| error.torque_lost)),
        },
        "release": fall(&motions.release),
        "drop": fall(&rating.drop),
        "covers": "two masses with the gears' play between them, current limit and saturation; control continuous with its delay as a lag, \
            sampling rated by itself; no friction, no voltage limit, no give of links: overshoot and peaks are upper ends",
    })
}

fn row(rating: &Rating, setting: &Setting, moved: &Result<Step, Unsolved>) -> Value {
    let (motor, error) = (&setting.at_motor, &setting.error);
    let degrees = |angle: f64| round(angle.to_degrees());
    json!({
        "name": setting.name,
        "stiffness_n_m_per_rad": round(setting.gains.stiffness),
        "damping_n_m_s_per_rad": round(setting.gains.damping),
        "felt_n_m_per_rad": round(setting.felt),
        "motor": {
            "stiffness_n_m_per_rad": round(motor.stiffness),
            "stiffness_n_m_per_turn": round(motor.stiffness_per_turn),
            "stiffness_a_per_rad": round(motor.current_per_angle),
            "damping_n_m_s_per_rad": round(motor.damping),
            "damping_n_m_s_per_turn": round(motor.damping_per_turn),
            "damping_a_s_per_rad": round(motor.current_per_speed),
        },
        "natural_frequency_hz": round(setting.natural_frequency / std::f64::consts::TAU),
        "static_error_deg": degrees(error.total()),
        "static_error_at_arm_mm": round(error.total() * rating.inputs.arm),
        "static_error_of_deg": {
            "friction": degrees(error.friction), "cogging": degrees(error.cogging), "counts": degrees(error.quantisation),
            "play": degrees(error.play), "encoder": degrees(error.encoder),
        },
        "sag_deg": degrees(setting.sag),
        "reach_deg": degrees(setting.reach),
        "step": moved.as_ref().map_or_else(no_answer, step),
    })
}

fn no_answer(why: &Unsolved) -> Value {
    json!({ "no_answer": why.to_string() })
}

fn step(step: &Step) -> Value {
    json!({
        "angle_deg": round(step.angle.to_degrees()),
        "rise_time_s": maybe(step.rise_time.map(fine)),
        "overshoot": fine(step.overshoot),
        "settling_time_s": maybe(step.settling_time.map(fine)),
        "trace": trace(&step.trace),
    })
}

fn fall(fall: &Option<Result<Fall, Unsolved>>) -> Value {
    match fall {
        None => Value::Null,
        Some(Err(why)) => no_answer(why),
        Some(Ok(fall)) => json!({
            "speed_rad_s": round(fall.speed),
            "peak_gear_torque_n_m": fine(fall.peak_gear_torque),
            "caught": fall.peak_deflection.is_some(),
            "peak_deflection_deg": maybe(fall.peak_deflection.map(|angle| fine(angle.to_degrees()))),
            "trace": trace(&fall.trace),
        }),
    }
}

/// Columns: time s, motor's and load's angle at the output deg, torque of the gears on the load N m.
fn trace(samples: &[Sample]) -> Value {
    let column = |of: fn(&Sample) -> f64| samples.iter().map(|sample| fine(of(sample))).collect::<Vec<_>>();
    json!({
        "time_s": column(|sample| sample.time),
        "motor_deg": column(|sample| sample.motor_angle.to_degrees()),
        "load_deg": column(|sample| sample.load_angle.to_degrees()),
        "gear_torque_n_m": column(|sample| sample.gear_torque),
    })
}

/// A thousandth.
fn fine(value: f64) -> f64 {
    let rounded = (value * 1e3).round() / 1e3;
    // -0.0 and 0.0 are one value.
    if rounded == 0.0 { 0.0 } else { rounded }
}
