//! What the motor gives and what arrives.

use super::Check;
use super::outcome::{Outcome, Verdict};
use super::ranking::{Growth, Load};
use crate::design::PartName;
use crate::product::Product;
use crate::ratings::heat::continuous::HeldBy;
use crate::ratings::heat::duty::NoDuty;
use crate::ratings::heat::inputs::Limits;
use crate::ratings::heat::rating::LONGEST;
use crate::ratings::heat::transient::Hottest;
use crate::ratings::heat::{Node, Rating};
use crate::ratings::motor;
use crate::ratings::planetary_efficiency::NoEfficiency;
use crate::ratings::planetary_efficiency::StageEfficiency;

pub static CHECKS: &[Check] = &[
    Check {
        id: "motor-torque",
        title: "Peak torque from the motor's current",
        unit: "N m",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "T = Kt I (1 - a) i eta",
        symbols: "Kt torque constant per peak phase ampere, N m/A\nI the lower current limit, A\na saturation\ni ratio\neta efficiency",
        clause: "constants: source-robotics.com; saturation and efficiency: stated estimates",
        range: "wye motor, sinusoidal drive; band 10 %",
        not_covered: "supply limit at speed, heat",
        parts: &[],
        run: |made| {
            let (design, stage) = (&made.actuator.design, &made.actuator.stage);
            let current = f64::min(design.motor.current_limit, design.controller.current_limit);
            let torque =
                motor::rotor_torque(&design.motor, current) * stage.ratio * design.gearset.efficiency;
            Outcome::at_least(torque * (1.0 + 1e-9), made.actuator.torques.output)
                .remedy("Raise the current limit, the ratio, or ask for less.")
        },
    },
    Check {
        id: "efficiency-assumed",
        title: "Efficiency the torque is reckoned with, against tooth friction alone",
        unit: "",
        load: Load::None,
        formula: "eta <= (1 + eta0 k) / (1 + k), eta0 = (1 - mu HVs)(1 - mu HVr)",
        symbols: "mu friction coefficient\nHVs, HVr loss factors of the two meshes\nk ring teeth over sun teeth",
        clause: "mesh loss after Niemann and Ohlendorf; planetary by torque balance (from memory, recomputed)",
        range: "transverse contact ratio 1 and more; constant friction, equal sharing of the pairs in contact",
        not_covered: "drag of bearings, grease, seals and misfit: the assumed value must leave room for it",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: |made| {
            let gearset = &made.actuator.design.gearset;
            match StageEfficiency::of(&made.actuator.stage, gearset.friction) {
                Err(why @ NoEfficiency::SelfLocking) => Outcome::at_most(gearset.efficiency, 0.0)
                    .remark(move || format!("No torque arrives: {why}."))
                    .remedy("Grease the gears and lower gearset.friction, or take more and smaller teeth."),
                Err(why) => Outcome::not_applicable(move || format!("No efficiency: {why}.")),
                Ok(teeth) => Outcome::at_most(gearset.efficiency, teeth.forward)
                    .only_warns()
                    .remark(move || {
                        format!(
                            "Tooth friction alone: {:.3} forward, {:.3} back-driven.",
                            teeth.forward, teeth.back
                        )
                    })
                    .remedy("Lower gearset.efficiency, or grease the gears and lower gearset.friction."),
            }
        },
    },
    Check {
        id: "output-speed",
        title: "Output speed the supply reaches",
        unit: "rpm",
        load: Load::None,
        formula: "|v| = hypot(R iq + w psi, w L iq) <= 0.95 V / sqrt 3, V = V0 - Rs I",
        symbols: "R phase resistance, hot\nw electrical speed\npsi flux, from the torque constant\nL phase inductance\nV supply voltage under load, Rs its resistance",
        clause: "steady equations of the synchronous machine without saliency (textbook, from memory)",
        range: "at the continuous torque asked for, else without load; current up to the limit",
        not_covered: "loss of the drive, a battery running down; without motor.phase_inductance and controller.supply_resistance an upper bound",
        parts: &[],
        run: output_speed,
    },
    Check {
        id: "continuous-torque",
        title: "Torque that can be held for hours",
        unit: "N m",
        load: Load::Continuous(Growth::Power(-1.0)),
        formula: "T = eta i Kt(I) I at the I for which max(Tw - limit, Tplastic - limit) = 0, steady",
        symbols: "Tw winding, Tplastic at the motor's face and in the wall, degC\nI phase current, peak, A",
        clause: "natural convection: Churchill and Chu; forced: Churchill and Bernstein; network of five nodes, band 20 % (stated estimate)",
        range: "at rest or turning slowly, all phases alike; one phase loaded: 0.8 of it",
        not_covered: "heat of gears and drive, sunshine; air pumped by a turning rotor and heat into the machine, which help",
        parts: &[PartName::StatorMount, PartName::VentedBase],
        run: continuous_torque,
    },
    Check {
        id: "peak-time",
        title: "Time the peak torque can be held from warm",
        unit: "s",
        load: Load::Peak(Growth::Other),
        formula: "C dT/dt = P(T) - sum G(T) (T - Tother), until the first limit",
        symbols: "C heat stored, J/K\nP loss, W\nG conductances, W/K",
        clause: "as continuous-torque; Dormand-Prince of order 5",
        range: "begun at half the heat of the continuous torque; a day at most",
        not_covered: "hot spots of the winding, one phase loaded",
        parts: &[PartName::StatorMount],
        run: peak_time,
    },
    Check {
        id: "winding-temperature",
        title: "Winding after the peak, and at the continuous torque asked for",
        unit: "degC",
        load: Load::Peak(Growth::Rise(2.0)),
        formula: "as peak-time and continuous-torque; the hotter of the two",
        symbols: "limit: motor.winding_limit",
        clause: "as continuous-torque; band 10 K",
        range: "begun at half the heat of the continuous torque",
        not_covered: "hot spots of the winding",
        parts: &[],
        run: |made| temperature(made, Node::Winding, |limits| limits.winding),
    },
    Check {
        id: "plastic-temperature",
        title: "Plastic under the motor after the peak, and at the continuous torque asked for",
        unit: "degC",
        load: Load::Peak(Growth::Rise(2.0)),
        formula: "as peak-time and continuous-torque; the hotter of the two",
        symbols: "limit: long-term wall limit of the stator mount's material",
        clause: "as continuous-torque; limits: hubwright tables materials; band 10 K",
        range: "begun at half the heat of the continuous torque; the plate as hot as the motor's face",
        not_covered: "creep under the screws' heads below the limit",
        parts: &[PartName::StatorMount],
        run: |made| temperature(made, Node::Mount, |limits| limits.plate),
    },
    Check {
        id: "wall-temperature",
        title: "Wall around the motor after the peak, and at the continuous torque asked for",
        unit: "degC",
        load: Load::Peak(Growth::Rise(2.0)),
        formula: "as peak-time and continuous-torque; the hotter of the two",
        symbols: "limit: long-term wall limit of the base's material",
        clause: "as continuous-torque; limits: hubwright tables materials; band 10 K",
        range: "the wall's outer skin",
        not_covered: "its inside, which lies between rotor and skin",
        parts: &[PartName::VentedBase],
        run: |made| temperature(made, Node::Wall, |limits| limits.wall),
    },
    Check {
        id: "duty",
        title: "Room to the nearest limit over the duty, day after day",
        unit: "K",
        load: Load::Continuous(Growth::Other),
        formula: "least of limit - T over the cycle, begun at the temperatures its mean heat keeps",
        symbols: "T winding, plastic under the motor, wall",
        clause: "as continuous-torque; band 10 K",
        range: "requirement.duty: torque and speed over time; rows held to the next",
        not_covered: "friction at rest, braking power, heat of the gears",
        parts: &[PartName::StatorMount, PartName::VentedBase],
        run: duty,
    },
];

/// Turns a minute in a radian a second.
const RPM: f64 = 30.0 / std::f64::consts::PI;

fn output_speed(made: &Product) -> Outcome {
    let requirement = &made.actuator.design.requirement;
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let torque = requirement.continuous_torque.unwrap_or(0.0);
    let winding =
        rating.continuous.map_or(rating.network.ambient(), |held| held.temperatures[Node::Winding as usize]);
    // Any speed but rest has the drag.
    let current = rating.holder().current(torque, 1.0);
    let (circuit, supply, ratio) = (rating.circuit, rating.supply, rating.reduction.ratio);
    let reached = move || Some(circuit.highest_speed(&supply, current?, winding)? / ratio * RPM);
    let Some(wanted) = requirement.speed else {
        return Outcome::not_applicable(move || match reached() {
            Some(rpm) => {
                format!("No speed is asked (requirement.speed); {rpm:.0} rpm with {torque:.1} N m.")
            }
            None => format!("No speed is asked (requirement.speed); {torque:.1} N m isn't reached at any."),
        });
    };
    Outcome::at_least(reached().unwrap_or(0.0), wanted * RPM)
        .remark(move || format!("With {torque:.1} N m at the output."))
        .remedy("Raise the supply voltage or Kv, or lower the ratio.")
}

/// A failure for which there is no number.
fn fails_without_value(why: String) -> Outcome {
    Outcome { verdict: Verdict::Fails, ..Outcome::not_applicable(why) }
}

fn duty(made: &Product) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let remedy = "Rest longer, ask for less, or let more heat out.";
    match &rating.duty {
        None => Outcome::not_applicable("No duty is given (requirement.duty)."),
        Some(Err(NoDuty::NoSteadyState(why))) => {
            fails_without_value(format!("Its mean heat: {why}.")).remedy(remedy)
        }
        Some(Err(why)) => Outcome::not_applicable(format!("No answer: {why}.")),
        Some(Ok(duty)) if !duty.beyond_current.is_empty() => {
            let line = duty.beyond_current.first().copied().unwrap_or_default();
            fails_without_value(format!(
                "{} rows ask for more than the current limit gives, line {line} first.",
                duty.beyond_current.len()
            ))
            .remedy("Raise the current limit or the ratio, or ask for less.")
        }
        Some(Ok(duty)) => Outcome::at_least(duty.least_room, 0.0)
            .remark(format!(
                "RMS torque {:.2} N m, {:.1} A; nearest: {}.",
                duty.rms_torque,
                duty.rms_current,
                part(duty.nearest)
            ))
            .remedy(remedy),
    }
}

/// Heat and motor, or the outcome that says why not.
fn rating(made: &Product) -> Result<&Rating, Outcome> {
    made.heat.as_ref().map_err(|why| Outcome::not_applicable(format!("No answer: {why}.")))
}

fn part(hottest: Hottest) -> &'static str {
    match hottest {
        Hottest::Winding => "the winding",
        Hottest::Plate => "the plastic under the motor",
        Hottest::Wall => "the wall around the motor",
    }
}

fn continuous_torque(made: &Product) -> Outcome {
    let wanted = made.actuator.design.requirement.continuous_torque;
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let remedy =
        "Take a motor of less resistance, a plastic that stands more heat, or blow air at the joint.";
    match (&rating.continuous, wanted) {
        (Err(why), Some(wanted)) => {
            Outcome::at_least(0.0, wanted).remark(format!("Nothing: {why}.")).remedy(remedy)
        }
        (Err(why), None) => Outcome::not_applicable(format!("Nothing can be held: {why}.")),
        (Ok(held), _) => {
            let held = *held;
            let remark = move || {
                let by = match held.held_by {
                    HeldBy::Heat(hottest) => part(hottest),
                    HeldBy::CurrentLimit => "the current alone",
                };
                format!("{:.1} N m with {:.1} A, limited by {by}; band 20 %.", held.torque, held.current)
            };
            match wanted {
                Some(wanted) => Outcome::at_least(held.torque, wanted).remark(remark).remedy(remedy),
                None => Outcome::not_applicable(move || {
                    format!("None is asked (requirement.continuous_torque). Held: {}", remark())
                }),
            }
        }
    }
}

fn peak_time(made: &Product) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let Some(peak) = rating.peak else {
        return Outcome::not_applicable("The current limit doesn't give the peak torque: see motor-torque.");
    };
    let time = peak.warm.map_or(LONGEST, |(time, _)| time);
    Outcome::at_least(time, made.actuator.design.requirement.peak_time)
        .remark(move || match peak.warm {
            Some((_, hottest)) => {
                format!("With {:.1} A; then {} is at its limit.", peak.current, part(hottest))
            }
            None => format!("With {:.1} A; no limit within a day.", peak.current),
        })
        .remedy("Take a heavier motor, or let it cool between peaks.")
}

fn temperature(made: &Product, node: Node, limit: fn(&Limits) -> f64) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let Some(peak) = rating.peak else {
        return Outcome::not_applicable("The current limit doesn't give the peak torque: see motor-torque.");
    };
    let asked = made.actuator.design.requirement.continuous_torque.is_some();
    let hottest = match (rating.at_demand, asked) {
        (Some(steady), _) => f64::max(steady[node as usize], peak.after[node as usize]),
        (None, false) => peak.after[node as usize],
        (None, true) => {
            return Outcome::not_applicable(
                "At the continuous torque asked for nothing stays: see continuous-torque.",
            );
        }
    };
    let ambient = rating.network.ambient();
    Outcome::at_most(hottest, limit(&rating.network.inputs.limits))
        .remark(move || format!("In air of {ambient:.0} degC."))
        .remedy("Lower the torque or its time, or let more heat out.")
}
