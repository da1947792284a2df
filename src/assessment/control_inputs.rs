//! The virtual spring of a laid-out joint: which sizes go into its rating, and what the teeth bear of a blow.

use std::f64::consts::TAU;

use super::gear_ratings::{GearRatings, printed_part};
use super::stage_feel::Feel;
use crate::gears::Member;
use crate::layout::Actuator;
use crate::ratings::motor::Circuit;
use crate::ratings::plastic_gear::Band;
use crate::ratings::spring::rating::NotRated;
use crate::ratings::spring::sampled::Timing;
use crate::ratings::spring::{Inputs, Rating};

/// The rating of the joint's virtual spring.
///
/// # Errors
/// Where stiffness or inertia of the stage is not known.
pub fn control(actuator: &Actuator, feel: &Feel) -> Result<Rating, NotRated> {
    Ok(Rating::of(control_inputs(actuator, feel)?))
}

fn control_inputs(actuator: &Actuator, feel: &Feel) -> Result<Inputs, NotRated> {
    let stiffness = feel.stiffness.as_ref().ok_or(NotRated::NoGearStiffness)?;
    let inertia = feel.inertia.ok_or(NotRated::NoInertia)?.reflected;
    let (design, stage) = (&actuator.design, &actuator.stage);
    let (controller, load) = (&design.controller, &design.load);
    let circuit = Circuit::of(&design.motor, controller);
    Ok(Inputs {
        ratio: stage.ratio,
        torque_constant: circuit.torque_constant,
        saturation: circuit.saturation,
        current_limit: circuit.current_limit,
        motor_inertia: inertia.rotor + inertia.sun + inertia.planets_turning,
        carrier_inertia: inertia.carrier + inertia.planets_round,
        load_inertia: load.inertia,
        gear_stiffness: stiffness.output(),
        play: stage.output_backlash,
        friction: actuator.torques.drag + circuit.drag_torque * stage.ratio,
        cogging: design.motor.cogging_torque.unwrap_or(0.0) * stage.ratio,
        encoder_bits: controller.encoder.bits,
        pole_pairs: circuit.pole_pairs,
        eccentricity: controller.encoder.eccentricity,
        gap: controller.encoder.gap,
        magnet_thickness: design.motor.magnet.thickness,
        timing: Timing {
            period: 1.0 / controller.position_rate,
            delay: controller.loop_delay,
            filter: 1.0 / (TAU * controller.velocity_filter),
        },
        damping_ratio: design.requirement.damping_ratio,
        wanted_stiffness: design.requirement.stiffness,
        weight: load.weight,
        arm: load.arm,
        drop: load.drop,
    })
}

/// Torque at the output \[N m\] that the roots of the weakest printed gear bear for a moment, and whose; none where no gear
/// is printed, or one is out of range. Stress goes with torque.
pub fn blow_capacity(actuator: &Actuator, gears: &GearRatings) -> Option<(Band, Member)> {
    let mut least: Option<(Band, Member)> = None;
    for (member, mate) in [
        (Member::Sun, Member::Planet),
        (Member::Planet, Member::Sun),
        (Member::Planet, Member::Ring),
        (Member::Ring, Member::Planet),
    ] {
        if printed_part(actuator, member).is_none() {
            continue;
        }
        let rating = gears.rating(member, mate);
        let (strength, stress) = (rating.root_strength.ok()?.impact, rating.root_stress.ok()?.impact);
        let capacity = strength.scaled(gears.work.torque.impact / stress);
        if least.is_none_or(|(other, _)| capacity.value < other.value) {
            least = Some((capacity, member));
        }
    }
    least
}
