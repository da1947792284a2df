//! What the motor gives and what arrives.

use super::Check;
use super::outcome::Outcome;
use crate::design::PartName;
use crate::ratings::motor;
use crate::ratings::planetary_efficiency::NoEfficiency;
use crate::ratings::planetary_efficiency::StageEfficiency;

pub static CHECKS: &[Check] = &[
    Check {
        id: "motor-torque",
        title: "Peak torque from the motor's current",
        unit: "N m",
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
                    .remark(format!("No torque arrives: {why}."))
                    .remedy("Grease the gears and lower gearset.friction, or take more and smaller teeth."),
                Err(why) => Outcome::not_applicable(format!("No efficiency: {why}.")),
                Ok(teeth) => Outcome::at_most(gearset.efficiency, teeth.forward)
                    .only_warns()
                    .remark(format!(
                        "Tooth friction alone: {:.3} forward, {:.3} back-driven.",
                        teeth.forward, teeth.back
                    ))
                    .remedy("Lower gearset.efficiency, or grease the gears and lower gearset.friction."),
            }
        },
    },
];
