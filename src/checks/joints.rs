//! How torque and loads get from part to part.

use super::Check;
use super::ESTIMATE;
use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use crate::design::PartName;
use crate::layout::SunJoint;
use crate::layout::clamp_force;
use crate::product::Product;
use crate::ratings::insert_pull;

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
            let kind = match actuator.sun.joint {
                SunJoint::Socket { depth } => format!("Toothed socket {depth:.1} deep"),
                SunJoint::OnePiece => "Printed with the adapter".to_string(),
            };
            Outcome::at_least(
                actuator.sun.capacity / actuator.torques.sun,
                actuator.design.limits.joint_factor,
            )
            .remark(format!("{kind}, carries {:.1} N m.", actuator.sun.capacity))
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
            let crown = &actuator.carrier.crown;
            Outcome::at_least(crown.capacity / actuator.torques.output, actuator.design.limits.joint_factor)
                .remark(format!("{} teeth carry {:.0} N m.", crown.count, crown.capacity))
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
        symbols: "n screws\nF = 450 N clamp force per M3 insert (by stress area for others)\nmu = 0.2\nr circle radius, mm\nT reaction on the housing, N m",
        clause: ESTIMATE,
        range: "clamp force band 0.5 to 1.5 of the value",
        not_covered: "loss of clamp force by creep and heat",
        parts: &[PartName::VentedBase, PartName::RingHousing],
        run: |made| {
            let actuator = &made.actuator;
            let joint = &actuator.joints.service;
            let friction = f64::from(joint.count)
                * clamp_force(joint.thread)
                * crate::layout::FRICTION
                * joint.radius()
                * 1e-3;
            Outcome::at_least(friction / actuator.torques.ring, actuator.design.limits.service_factor)
                .remark(format!("{} {} hold {friction:.1} N m.", joint.count, joint.thread))
                .remedy("More screws or M4 under [fasteners.service].")
        },
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

fn keeper_pull(made: &Product) -> Outcome {
    let actuator = &made.actuator;
    let joint = &actuator.joints.keeper;
    let crate::layout::Anchor::Insert(insert) = &joint.anchor else {
        return Outcome::not_applicable("The keeper has no inserts.");
    };
    let material = actuator.design.settings(PartName::RingHousing).material;
    let holds = f64::from(joint.count) * insert_pull::pull_out(insert, &material);
    // Pushing load, and for a single bearing the moment's couple, of which one side pushes.
    let load = &actuator.design.load;
    let couple = if actuator.design.bearings.output_count == 1 {
        4.0 * made.output_bearing.peak_moment * 1e3 / actuator.design.bearings.output.mean_diameter()
    } else {
        0.0
    };
    let push = f64::max(0.0, -load.axial) * load.shock + couple;
    if push <= 0.0 {
        return Outcome::not_applicable("Nothing pushes the output in.");
    }
    Outcome::at_least(holds / push, actuator.design.limits.keeper_factor)
        .remark(format!(
            "{} {} inserts hold {holds:.0} N (band {:.0} to {:.0}).",
            joint.count,
            joint.thread,
            holds / insert_pull::BAND,
            holds * insert_pull::BAND
        ))
        .remedy("Turn the joint so that the load pulls, or through-bolt the keeper.")
}
