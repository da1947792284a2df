//! Limits that the requirement sets.

use super::Check;
use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use crate::demand::Demand;
use crate::design::PartName;
use crate::product::Product;

/// Turns a minute in a radian a second.
const RPM: f64 = 30.0 / std::f64::consts::PI;

pub static CHECKS: &[Check] = &[
    Check {
        id: "demand-torque",
        title: "Peak torque designed for, against what lever, link or leg ask",
        unit: "N m",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "lever: W l cos(e); link: (m c + p L) g cos(e) + J a; knee: m g / n (1 + h / s) a b sin(k) / L; hip: m g / n x",
        symbols: "W weight, N; l its lever, m; e elevation\nm mass, kg; c its centre, m; p payload, kg; L length, m; J inertia, kg m2; a = 5.77 angle / time^2\nknee: n legs that stand; a thigh, b shank, L hip to foot, m; k knee angle; h jump, s stroke, m\nhip: x foot beside the hip, m",
        clause: "statics and kinematics of rigid links (textbook); least-jerk swing: Flash and Hogan 1985 (from memory)",
        range: "rigid links, feet below the body; without requirement.peak_torque it is what is designed for",
        not_covered: "mass of the legs, landing, sideways forces",
        parts: &[],
        run: |made| {
            let designed = made.actuator.design.requirement.peak_torque;
            demanded(made, designed, 1.0, |demand| Some(demand.peak_torque), "requirement.peak_torque")
        },
    },
    Check {
        id: "demand-continuous",
        title: "Continuous torque designed for, against what lever, link or leg ask for hours",
        unit: "N m",
        load: Load::Continuous(Growth::Power(-1.0)),
        formula: "the hold alone; a link that swings on: its r.m.s. with a = 4.14 angle / time^2",
        symbols: "as demand-torque",
        clause: "as demand-torque",
        range: "as demand-torque; held = \"hours\"",
        not_covered: "rests between",
        parts: &[],
        run: |made| match made.actuator.design.requirement.continuous_torque {
            Some(designed) => demanded(
                made,
                designed,
                1.0,
                |demand| demand.continuous_torque,
                "requirement.continuous_torque",
            ),
            None => Outcome::not_applicable("Nothing is asked for hours."),
        },
    },
    Check {
        id: "demand-speed",
        title: "Speed designed for, against what link or leg ask",
        unit: "rpm",
        load: Load::None,
        formula: "link: 15/8 angle / time; knee: sqrt(2 g h) L / (a b sin(k)) at the end of the push",
        symbols: "as demand-torque",
        clause: "as demand-torque",
        range: "as demand-torque",
        not_covered: "the hip's speed in a jump",
        parts: &[],
        run: |made| match made.actuator.design.requirement.speed {
            Some(designed) => demanded(made, designed, RPM, |demand| demand.speed, "requirement.speed"),
            None => Outcome::not_applicable("No speed is asked."),
        },
    },
    Check {
        id: "mass",
        title: "Mass against the limit",
        unit: "g",
        load: Load::None,
        formula: "printed (walls, skins, infill) + bought",
        symbols: "",
        clause: "print mass by offset areas; bought masses from rows or volume",
        range: "band 10 %",
        not_covered: "wires, grease",
        parts: &[],
        run: |made| match made.actuator.design.requirement.mass_limit {
            Some(limit) => Outcome::at_most(made.bom.total_mass() * 1e3, limit * 1e3)
                .remedy("Less infill, fewer walls, a lighter motor."),
            None => Outcome::not_applicable("No limit is set."),
        },
    },
    Check {
        id: "outer-diameter",
        title: "Outside diameter against the limit",
        unit: "mm",
        load: Load::None,
        formula: "largest ring of bosses",
        symbols: "",
        clause: "geometry",
        range: "",
        not_covered: "",
        parts: &[PartName::VentedBase],
        run: |made| match made.actuator.design.requirement.outer_diameter_limit {
            Some(limit) => {
                Outcome::at_most(made.actuator.outer_diameter(), limit).remedy("A smaller rotor or ring.")
            }
            None => Outcome::not_applicable("No limit is set."),
        },
    },
    Check {
        id: "height",
        title: "Height against the limit",
        unit: "mm",
        load: Load::None,
        formula: "mounting face to output face",
        symbols: "",
        clause: "geometry",
        range: "",
        not_covered: "the link and its screws",
        parts: &[],
        run: |made| match made.actuator.design.requirement.height_limit {
            Some(limit) => Outcome::at_most(made.actuator.stations.output_face, limit)
                .remedy("A narrower face, one bearing, a flatter motor."),
            None => Outcome::not_applicable("No limit is set."),
        },
    },
];

/// What is designed for against the most that is asked; `unit` turns both into the check's.
fn demanded(
    made: &Product,
    designed: f64,
    unit: f64,
    asked: fn(&Demand) -> Option<f64>,
    key: &str,
) -> Outcome {
    let demands = &made.actuator.design.requirement.demands;
    let most = demands
        .iter()
        .filter_map(|demand| Some((demand.by, asked(demand)?)))
        .max_by(|(_, a), (_, b)| a.total_cmp(b));
    match most {
        // Rounding must not decide where the one is taken from the other.
        Some((by, most)) => Outcome::at_least(designed * (1.0 + 1e-9) * unit, most * unit)
            .remark(move || format!("Asked by requirement.{by}."))
            .remedy(format!("Raise {key}, or leave it out: then it follows.")),
        None => Outcome::not_applicable("Neither lever nor link nor leg asks for it."),
    }
}
