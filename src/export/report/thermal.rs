//! `thermal`: what gets how hot, and what would gain.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::product::Product;
use crate::ratings::heat::continuous::{Continuous, FAN, HeldBy};
use crate::ratings::heat::limiter::TwoNodes;
use crate::ratings::heat::network::Network;
use crate::ratings::heat::rating::{Peak, WARM_HEAT};
use crate::ratings::heat::survey::COOLED;
use crate::ratings::heat::transient::Hottest;
use crate::ratings::heat::{Node, Rating, Survey, Temperatures};

pub(super) fn thermal(made: &Product) -> Value {
    match made.heat.as_ref().and_then(|rating| Ok((rating, rating.survey()?))) {
        Ok((rating, survey)) => answer(made, rating, survey),
        Err(why) => json!({ "no_answer": why.to_string() }),
    }
}

fn answer(made: &Product, rating: &Rating, survey: &Survey) -> Value {
    let held = rating.continuous.as_ref().ok();
    let at = |node: Node| maybe(held.map(|held| thousandths(held.temperatures[node as usize])));
    let limits = &rating.network.inputs.limits;
    json!({
        "surroundings_c": round(rating.network.ambient()),
        "airflow_m_s": round(rating.network.inputs.ambient.airflow),
        // At the continuous torque.
        "winding_c": at(Node::Winding),
        "mount_c": at(Node::Mount),
        "rotor_c": at(Node::Rotor),
        "air_inside_c": at(Node::Air),
        "wall_c": at(Node::Wall),
        "limited_by": held.map(|held| held_by(held.held_by)),
        "nothing_held": rating.continuous.as_ref().err().map(ToString::to_string),
        "limits": { "winding_c": round(limits.winding), "plastic_c": round(limits.plate), "wall_c": round(limits.wall) },
        "one_phase_torque_n_m": maybe(rating.one_phase_torque.map(fine)),
        "runaway_current_a": maybe(survey.runaway_current.map(thousandths)),
        "peak": rating.peak.as_ref().map_or(Value::Null, |found| peak(found, survey.peak_from_cold)),
        "cool_down_s": maybe(survey.cool_down.map(thousandths)),
        "cool_down_is": format!("from the continuous torque until {COOLED} of the mount's rise is left"),
        "at_continuous_asked": rating.at_demand.as_ref().map_or(Value::Null, temperatures),
        "duty": duty(rating),
        "derating": survey.derating.iter().map(|(at, held)| derated("surroundings_c", *at, held)).collect::<Vec<_>>(),
        "derating_by_plastic": survey.derating_by_wall.iter().map(|(at, held)| derated("plastic_c", *at, held)).collect::<Vec<_>>(),
        "continuous_torque_n_m": {
            "as_is": maybe(survey.gains.as_is.map(fine)),
            "without_vents": maybe(survey.gains.without_vents.map(fine)),
            "with_fan": maybe(survey.gains.with_fan.map(fine)),
            "fan_m_s": FAN,
            "with_aluminium_plate": maybe(survey.gains.with_metal_plate.map(fine)),
        },
        "two_nodes": survey.two_nodes.as_ref().map_or(Value::Null, two_nodes),
        "data": data(made, &rating.network),
        "covers": "joint at rest (the curve: turning, its drag mostly estimated), no pumping by the rotor, no heat into the machine or the ring housing; \
            heat of gears and board and sunshine are not in it; temperatures to 10 K, torque to 20 %",
    })
}

/// A thousandth of a kelvin, an ampere or a second: finer is the solver's business.
fn thousandths(value: f64) -> f64 {
    (value * 1e3).round() / 1e3
}

/// Torques go a digit further.
fn fine(value: f64) -> f64 {
    (value * 1e4).round() / 1e4
}

fn temperatures(found: &Temperatures) -> Value {
    let at = |node: Node| round(thousandths(found[node as usize]));
    json!({
        "winding_c": at(Node::Winding), "mount_c": at(Node::Mount), "rotor_c": at(Node::Rotor),
        "air_inside_c": at(Node::Air), "wall_c": at(Node::Wall),
    })
}

fn hottest(part: Hottest) -> &'static str {
    match part {
        Hottest::Winding => "winding",
        Hottest::Plate => "plastic under the motor",
        Hottest::Wall => "wall around the motor",
    }
}

pub(super) fn held_by(by: HeldBy) -> &'static str {
    match by {
        HeldBy::Heat(part) => hottest(part),
        HeldBy::CurrentLimit => "current limit",
    }
}

fn peak(peak: &Peak, from_cold: Option<(f64, Hottest)>) -> Value {
    json!({
        "current_a": round(thousandths(peak.current)),
        "time_from_cold_s": maybe(from_cold.map(|(time, _)| thousandths(time))),
        "first_from_cold": from_cold.map(|(_, part)| hottest(part)),
        "time_from_warm_s": maybe(peak.warm.map(|(time, _)| thousandths(time))),
        "first_from_warm": peak.warm.map(|(_, part)| hottest(part)),
        "warm_is": format!("{WARM_HEAT} of the heat of the continuous torque"),
        "after": temperatures(&peak.after),
    })
}

/// Null without one. The trace has a hundred rows at most: the report is no recording.
fn duty(rating: &Rating) -> Value {
    const ROWS: usize = 100;
    match &rating.duty {
        None => Value::Null,
        Some(Err(why)) => json!({ "no_answer": why.to_string() }),
        Some(Ok(duty)) => {
            let every = duty.trace.len().div_ceil(ROWS).max(1);
            let row = |(time, found): &(f64, Temperatures)| {
                let mut row = temperatures(found);
                row["time_s"] = round(thousandths(*time));
                row
            };
            json!({
                "length_s": round(duty.length),
                "rms_torque_n_m": round(fine(duty.rms_torque)),
                "peak_torque_n_m": round(duty.peak_torque),
                "rms_current_a": round(thousandths(duty.rms_current)),
                "hottest": temperatures(&duty.hottest),
                "least_room_k": round(thousandths(duty.least_room)),
                "nearest": hottest(duty.nearest),
                "lines_beyond_current": duty.beyond_current.iter().take(ROWS).collect::<Vec<_>>(),
                "holds": duty.holds(),
                "trace": duty.trace.iter().step_by(every).map(row).collect::<Vec<_>>(),
            })
        }
    }
}

fn derated(axis: &str, at: f64, held: &Option<Continuous>) -> Value {
    json!({
        axis: round(at),
        "torque_n_m": maybe(held.map(|held| fine(held.torque))),
        "current_a": maybe(held.map(|held| thousandths(held.current))),
        "limited_by": held.map(|held| held_by(held.held_by)),
    })
}

fn two_nodes(nodes: &TwoNodes) -> Value {
    json!({
        "winding_to_mount_k_per_w": round(thousandths(nodes.winding_to_mount)),
        "mount_to_air_k_per_w": round(thousandths(nodes.mount_to_air)),
        "winding_capacity_j_per_k": round(thousandths(nodes.winding_capacity)),
        "mount_capacity_j_per_k": round(thousandths(nodes.mount_capacity)),
        "fast_s": round(thousandths(nodes.fast)),
        "slow_s": round(thousandths(nodes.slow)),
        "worst_error_k": round(thousandths(nodes.worst_error)),
    })
}

/// What was given and what is estimated.
fn data(made: &Product, network: &Network) -> Value {
    let thermal = &made.actuator.design.motor.thermal;
    let capacities = &network.inputs.capacities;
    let from = |given: Option<f64>| if given.is_some() { "given" } else { "estimated" };
    json!({
        "winding_to_mount_k_per_w": round(thousandths(network.inputs.winding_to_mount)),
        "winding_to_mount_is": from(thermal.winding_to_mount),
        "mount_to_air_is": from(thermal.mount_to_air),
        "winding_capacity_j_per_k": round(thousandths(capacities.winding)),
        "winding_capacity_is": from(thermal.winding_capacity),
        "mount_capacity_j_per_k": round(thousandths(capacities.mount)),
        "mount_capacity_is": from(thermal.mount_capacity),
        "rotor_capacity_j_per_k": round(thousandths(capacities.rotor)),
        "wall_capacity_j_per_k": round(thousandths(capacities.wall)),
    })
}
