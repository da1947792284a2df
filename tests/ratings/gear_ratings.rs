//! Gears of the demo joints at work: what heats, weakens and loads them, each against an independent reckoning.

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::assessment::gear_ratings::GearRatings;
use hubwright::assessment::stage_feel::Feel;
use hubwright::gears::Member;
use hubwright::layout::{Actuator, lay_out};
use hubwright::ratings::gear_forces::GearForces;
use hubwright::ratings::plastic_gear::{IDLER_SHARE, NotApplicable, cycles_share, temperature_share};

fn rated(actuator: &Actuator) -> GearRatings {
    GearRatings::of(actuator, None, &Feel::of(actuator, &[]))
}

fn near(found: f64, expected: f64, what: &str) {
    assert!((found / expected - 1.0).abs() < 1e-9, "{what}: {found} against {expected}");
}

/// Strength of the planet in its three cases, put together by hand from the stated shares.
#[test]
fn a_planets_strength_is_its_shares() {
    let actuator = lay_out(&demo(SHOULDER)).expect("demo");
    let gears = rated(&actuator);
    let planet = gears.rating(Member::Planet, Member::Sun);
    let material = &actuator.design.settings(hubwright::design::PartName::Planet).material;
    let warm = gears.work.ambient + planet.rise.expect("rated").root;
    let at_rest = material.strength_in_plane * temperature_share(material, warm).expect("cool").value;
    let strength = planet.root_strength.expect("rated");
    near(strength.peak.value, at_rest, "peak");
    // Once round against the carrier for each turn of the ring against it: 96/42 of a swing there and back.
    let half_swing = actuator.design.load.oscillation.expect("it swings");
    let passes = (2.0 * half_swing * 96.0 / 42.0 / std::f64::consts::TAU).max(1.0) * 2.0;
    let cycles = actuator.design.requirement.life * 3600.0 * actuator.design.load.rate * passes;
    let tired = at_rest * cycles_share(cycles).expect("a life").value * IDLER_SHARE;
    near(strength.continuous.value, tired, "over the life");
}

/// Stress goes with the torque, the planet's teeth are heated by both meshes, a metal sun isn't rated as plastic.
#[test]
fn loads_and_heat_add_up() {
    for name in [SHOULDER, WRIST, MAST] {
        let actuator = lay_out(&demo(name)).expect("demo");
        let gears = rated(&actuator);
        let planet = gears.rating(Member::Planet, Member::Ring);
        let stress = planet.root_stress.expect("rated");
        let torque = gears.work.torque;
        near(stress.continuous / stress.peak, torque.continuous / torque.peak, name);
        let at_sun = gears.rating(Member::Planet, Member::Sun).rise.expect("rated");
        near(at_sun.flank, planet.rise.expect("rated").flank, "the same tooth in both meshes");
        let sun = gears.rating(Member::Sun, Member::Planet);
        let is_printed = name == WRIST;
        assert_eq!(sun.rise.is_ok(), is_printed, "{name}");
        assert!(is_printed || sun.root_strength == Err(NotApplicable::Metal), "{name}");
    }
}

/// The peak's force is the one of the forces' own rating.
#[test]
fn the_peak_is_the_torque_at_the_sun() {
    let actuator = lay_out(&demo(WRIST)).expect("demo");
    let forces = GearForces::of(&actuator.stage, actuator.torques.sun);
    let torque =
        rated(&actuator).work.torque.peak / actuator.stage.ratio / actuator.design.gearset.efficiency;
    near(forces.tangential, GearForces::of(&actuator.stage, torque).tangential, "force");
}

/// Hotter surroundings weaken; past the plastic's limit there is no number.
#[test]
fn heat_weakens_and_ends() {
    let strength = |ambient: f64| {
        let mut design = demo(MAST);
        design.ambient.temperature = ambient;
        rated(&lay_out(&design).expect("demo")).rating(Member::Planet, Member::Sun).root_strength
    };
    let (cool, warm) = (strength(20.0).expect("rated"), strength(50.0).expect("rated"));
    assert!(warm.peak.value < cool.peak.value && warm.peak.low < warm.peak.value);
    assert!(matches!(strength(95.0), Err(NotApplicable::TooHot { .. })), "PA12 ends at 90 degC");
}
