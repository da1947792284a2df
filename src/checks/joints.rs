//! How torque and loads get from part to part.

use super::Check;
use super::ESTIMATE;
use super::bolting::NO_CLAMP;
use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use crate::assessment::joint_loads::keeper_push;
use crate::assessment::tightening::screw_in_joint;
use crate::design::{Joint, PartName};
use crate::layout::SunJoint;
use crate::product::Product;
use crate::ratings::joint::insert_hold;

pub static CHECKS: &[Check] = &[
    Check {
        id: "sun-joint",
        title: "Sun's joint to the rotor, times the peak torque",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "socket: 0.5 z 1.2 mn L p r; one piece: tau pi (d^4 - b^4) / (16 d)",
        symbols: "z sun teeth\nL socket depth, mm\np = 40 MPa on printed teeth\ntau = 18 MPa across layers\nd, b root and bore, mm",
        clause: ESTIMATE,
        range: "allowables band 0.6 to 1.4 of the value",
        not_covered: "creep, heat, fatigue",
        parts: &[PartName::RotorAdapter],
        run: |made| {
            let actuator = &made.actuator;
            let (joint, capacity) = (actuator.sun.joint, actuator.sun.capacity);
            Outcome::at_least(capacity / actuator.torques.sun, actuator.design.limits.joint_factor)
                .remark(move || {
                    let kind = match joint {
                        SunJoint::Socket { depth } => format!("Toothed socket {depth:.1} deep"),
                        SunJoint::OnePiece => "Printed with the adapter".to_string(),
                    };
                    format!("{kind}, carries {capacity:.1} N m.")
                })
                .remedy("Use a bought sun, or lower the peak torque.")
        },
    },
    Check {
        id: "output-crown",
        title: "Crown into the output flange, times the peak torque",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "T = n h w p r, and bending across layers at the teeth's feet; the lesser",
        symbols: "n teeth\nh depth along the radius, mm\nw height that bears, mm\np = 20 MPa\nr mean radius, mm",
        clause: ESTIMATE,
        range: "allowables band 0.6 to 1.4 of the value; all teeth carry",
        not_covered: "uneven teeth, the output bolts' own share",
        parts: &[PartName::OutputCarrier, PartName::OutputClampRing],
        run: |made| {
            let actuator = &made.actuator;
            let (count, capacity) = (actuator.carrier.crown.count, actuator.carrier.crown.capacity);
            Outcome::at_least(capacity / actuator.torques.output, actuator.design.limits.joint_factor)
                .remark(move || format!("{count} teeth carry {capacity:.0} N m."))
                .remedy("Take a larger output bearing, fewer output bolts, or lower the peak torque.")
        },
    },
    Check {
        id: "ring-lobes",
        title: "Lobes of the ring insert, times the peak torque",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "T = n F 3 p r",
        symbols: "n lobes\nF face width, mm\np = 20 MPa\nr distance of the lobes, mm",
        clause: ESTIMATE,
        range: "allowable band 0.6 to 1.4 of the value",
        not_covered: "play of the lobes in their pockets",
        parts: &[PartName::RingInsert, PartName::RingHousing],
        run: |made| match &made.actuator.ring_insert {
            Some(insert) => Outcome::at_least(
                insert.capacity / made.actuator.torques.ring,
                made.actuator.design.limits.joint_factor,
            )
            .remedy("Widen the face or lower the peak torque."),
            None => Outcome::not_applicable("The ring's teeth are cut in the housing."),
        },
    },
    Check {
        id: "service-joint",
        title: "Friction of the service joint, times the housing's torque",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "n F mu r / T",
        symbols: "n screws\nF clamp force of a screw after creep and heat, N (see joint-slip)\nmu = 0.2\nr circle radius, mm\nT reaction on the housing, N m",
        clause: ESTIMATE,
        range: "clamp force band 0.5 to 1.5 of the value; prints up to their service temperature",
        not_covered: "the register's own friction, scatter of tightening",
        parts: &[PartName::VentedBase, PartName::RingHousing],
        run: service_joint,
    },
    Check {
        id: "keeper-pull",
        title: "Keeper inserts, times the pushing load",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "n 0.2 sigma_t pi D L / F",
        symbols: "n screws\nsigma_t strength across layers, MPa\nD insert outside, L its length, mm\nF load that pushes the output in, with shock and moment, N",
        clause: "stated estimate, fitted to one test (Polymers 18(1) 112, 2025)",
        range: "band half to twice the value",
        not_covered: "installation quality, heat, creep",
        parts: &[PartName::RingHousing, PartName::BearingKeeper],
        run: keeper_pull,
    },
];

fn service_joint(made: &Product) -> Outcome {
    let actuator = &made.actuator;
    let joint = &actuator.joints.service;
    let (count, thread) = (joint.count, joint.thread);
    let rating = made.joints.find(Joint::Service);
    let Some((friction, clamp)) = rating.and_then(|rating| rating.friction(joint).zip(rating.clamp())) else {
        return Outcome::not_applicable(NO_CLAMP);
    };
    Outcome::at_least(friction / actuator.torques.ring, actuator.design.limits.service_factor)
        .remark(move || format!("{count} {thread} at {clamp:.0} N each hold {friction:.1} N m."))
        .remedy("More screws or a larger thread under [fasteners.service], or a stronger plastic for base and housing.")
}

fn keeper_pull(made: &Product) -> Outcome {
    let actuator = &made.actuator;
    let joint = &actuator.joints.keeper;
    let Some(one) = screw_in_joint(actuator, joint).pull_out() else {
        return Outcome::not_applicable("The keeper has no inserts.");
    };
    let (count, thread) = (joint.count, joint.thread);
    let holds = f64::from(count) * one;
    let push = keeper_push(actuator);
    if push <= 0.0 {
        return Outcome::not_applicable("Nothing pushes the output in.");
    }
    Outcome::at_least(holds / push, actuator.design.limits.keeper_factor)
        .remark(move || {
            format!(
                "{count} {thread} inserts hold {holds:.0} N (band {:.0} to {:.0}).",
                holds / insert_hold::BAND,
                holds * insert_hold::BAND
            )
        })
        .remedy("Turn the joint so that the load pulls, or through-bolt the keeper.")
}
