//! Other reducers beside the chosen planetary stage: same motor, same envelope, same torque. Comparison only.

use std::f64::consts::PI;

use serde_json::{Value, json};

use crate::ratings::cycloidal::Cycloidal;
use crate::ratings::motor::{self, Circuit, Supply};

use super::rate::Choice;

/// Friction of printed or plain steel pins without rollers, greased (as the values the losses were proved with).
const PIN_FRICTION: f64 = 0.1;
/// Wall outside the ring pins \[mm\] (common practice, no source).
const PIN_WALL: f64 = 6.0;
/// Efficiency of one spur stage of a small servo (from memory).
const SPUR: f64 = 0.95;
/// Ratio of one spur stage (common practice, no source).
const SPUR_RATIO: f64 = 4.0;
/// Where no speed is asked: the ratio of a usual hobby servo (from memory).
const SERVO_RATIO: f64 = 200.0;

/// One reducer.
#[derive(Clone, Debug)]
pub struct Reducer {
    pub name: &'static str,
    pub ratio: f64,
    pub efficiency: f64,
    /// None: it locks.
    pub efficiency_back: Option<f64>,
    /// Torque at the output that turns the motor \[N m\]; none if it locks.
    pub backdrive: Option<f64>,
    /// Of the rotor, at the output \[kg m2\]; none if the motor's isn't known.
    pub inertia: Option<f64>,
    pub load: String,
    pub verdict: String,
}

impl Reducer {
    pub fn tree(&self) -> Value {
        json!({
            "reducer": self.name, "ratio": self.ratio, "efficiency": self.efficiency, "efficiency_back": self.efficiency_back,
            "backdrive_torque_n_m": self.backdrive, "reflected_inertia_kg_m2": self.inertia, "load": self.load, "verdict": self.verdict,
        })
    }
}

/// The planetary stage, a cycloidal disc and a train of spur stages.
pub fn compare(choice: &Choice) -> Vec<Reducer> {
    let mut all = vec![planetary(choice)];
    all.extend(cycloidal(choice));
    all.push(servo(choice));
    all
}

/// Drag and cogging at the rotor \[N m\].
fn rotor_drag(choice: &Choice) -> f64 {
    let design = &choice.design;
    Circuit::of(&design.motor, &design.controller).drag_torque + design.motor.cogging_torque.unwrap_or(0.0)
}

fn rotor_at(choice: &Choice, ratio: f64) -> Option<f64> {
    choice.design.motor.rotor_inertia.map(|inertia| inertia * ratio * ratio)
}

fn planetary(choice: &Choice) -> Reducer {
    let limited = choice.limited_by.as_ref().map_or("no check is near", |(id, _)| id.as_str());
    Reducer {
        name: "planetary",
        ratio: choice.ratio,
        efficiency: choice.efficiency,
        efficiency_back: None,
        backdrive: Some(choice.objectives.backdrive),
        inertia: rotor_at(choice, choice.ratio),
        load: "see the checks".to_string(),
        verdict: format!("as made; least in hand: {limited}"),
    }
}

/// A disc in the same outside, with the lobes nearest to the planetary ratio.
fn cycloidal(choice: &Choice) -> Option<Reducer> {
    let design = &choice.design;
    // Rounded and bounded: fewer than eight lobes have steep flanks, more than sixty no room for pins.
    let lobes = choice.ratio.round().clamp(8.0, 60.0);
    let pins = lobes as u32 + 1;
    let outside = choice.objectives.diameter / 2.0 - PIN_WALL;
    // Half of the pin pitch is pin, E N / R is a half: the usual middle between steep flanks and undercut.
    let pin_radius = 0.25 * 2.0 * PI * outside / f64::from(pins) * 0.8;
    let pin_circle = outside - pin_radius;
    let disc = Cycloidal {
        pin_circle,
        pin_radius,
        eccentricity: 0.5 * pin_circle / f64::from(pins),
        pins,
        output_pins: 6,
        output_circle: 0.55 * pin_circle,
    };
    let peak = design.requirement.peak_torque;
    let forces = disc.forces(peak * 1e3, 0.01)?;
    let efficiency_back = forces.efficiency_back(PIN_FRICTION);
    let ratio = disc.ratio();
    let efficiency = forces.efficiency(PIN_FRICTION);
    let rotor = motor::rotor_torque(
        &design.motor,
        f64::min(design.motor.current_limit, design.controller.current_limit),
    );
    let reached = rotor * ratio * efficiency;
    let undercut = disc.least_convex_radius().is_none_or(|least| pin_radius >= least);
    Some(Reducer {
        name: "cycloidal disc",
        ratio,
        efficiency,
        efficiency_back,
        backdrive: efficiency_back.map(|back| rotor_drag(choice) * ratio / back),
        inertia: rotor_at(choice, ratio),
        load: format!(
            "{:.0} N a pin, {:.0} N an output pin, {:.0} N on the eccentric",
            forces.largest_pin, forces.largest_output_pin, forces.eccentric_bearing
        ),
        verdict: if undercut {
            "loses: pins this thick undercut the disc".to_string()
        } else if reached < peak {
            format!("loses here: {reached:.1} N m at the current limit, {peak:.1} asked")
        } else {
            format!(
                "gives {reached:.1} N m; {} pins, E {:.2} mm, its eccentric turns at the motor's speed",
                pins, disc.eccentricity
            )
        },
    })
}

/// Spur stages to the highest ratio that reaches the speed asked for.
fn servo(choice: &Choice) -> Reducer {
    let design = &choice.design;
    let circuit = Circuit::of(&design.motor, &design.controller);
    let speed = circuit
        .highest_speed(&Supply::of(&design.controller), 0.0, design.ambient.temperature)
        .unwrap_or(0.0);
    let ratio = match design.requirement.speed {
        Some(asked) if asked > 0.0 => (speed / asked).clamp(1.0, SERVO_RATIO),
        _ => SERVO_RATIO,
    };
    let stages = (libm::log(ratio) / libm::log(SPUR_RATIO)).ceil().max(1.0);
    let efficiency = libm::pow(SPUR, stages);
    // The same friction loss taken from the power that comes in at the output (textbook approximation, from memory).
    let back = 2.0 - 1.0 / efficiency;
    let efficiency_back = (back > 0.0).then_some(back);
    let inertia = rotor_at(choice, ratio);
    let times = ratio / choice.ratio;
    Reducer {
        name: "spur servo",
        ratio,
        efficiency,
        efficiency_back,
        backdrive: efficiency_back.map(|back| rotor_drag(choice) * ratio / back),
        inertia,
        load: format!("{stages:.0} stages"),
        verdict: format!(
            "a motor {times:.0} times weaker would do, but this rotor feels {:.0} times as heavy at the output",
            times * times
        ),
    }
}
