//! Forces in the stage: balance of torques and axial forces, and hands.

use hubwright::design::{Shift, ShiftRule, Spacing, ToothForm};
use hubwright::gears::{Rack, Stage, StageInput};
use hubwright::ratings::gear_forces::GearForces;
use hubwright::ratings::planet_bearing::bearing_load;

fn stage(teeth: [u32; 3], planets: u32, helix_degrees: f64, tooth_form: ToothForm) -> Stage {
    let input = StageInput {
        sun_teeth: teeth[0],
        planet_teeth: teeth[1],
        ring_teeth: teeth[2],
        planets,
        rack: Rack::ISO_53_A,
        normal_module: 0.8,
        helix_angle: helix_degrees.to_radians(),
        face_width: 12.0,
        backlash: 0.136,
        sun_shift: Shift::Fixed(0.0),
        planet_shift: Shift::Fixed(0.0),
        ring_shift: Shift::Fixed(0.0),
        shift_rule: ShiftRule::UndercutFree,
        spacing: Spacing::Nearest,
        tooth_form,
    };
    Stage::solve(&input).unwrap_or_else(|faults| panic!("{faults:?}"))
}

fn near(found: f64, expected: f64, what: &str) {
    assert!((found - expected).abs() <= 1e-9 * expected.abs().max(1.0), "{what}: {found} against {expected}");
}

/// Without loss the carrier's torque is the sun's times the ratio (Willis): the pins' forces must give it.
#[test]
fn pins_carry_the_output_torque() {
    for (teeth, planets) in [([18, 30, 78], 3), ([20, 28, 76], 4), ([18, 27, 72], 3)] {
        let stage = stage(teeth, planets, 20.0, ToothForm::Helical);
        let forces = GearForces::of(&stage, 2.0);
        let mean_pin = forces.pin / forces.sharing;
        let carrier = f64::from(planets) * mean_pin * stage.centre_distance * 1e-3;
        near(carrier, 2.0 * stage.ratio, "carrier torque");
        near(
            forces.sun_thrust,
            2.0 / (0.5 * stage.sun.reference_diameter * 1e-3) * 20f64.to_radians().tan(),
            "thrust",
        );
        near(forces.axial / forces.tangential, 20f64.to_radians().tan(), "axial force");
        near(forces.planet_couple, forces.axial * stage.planet.reference_diameter * 1e-3, "couple");
        near(forces.radial_sun / forces.tangential, stage.working_pressure_angle_sun.tan(), "radial force");
    }
}

/// A right-hand driver that turns along +z is pushed along it (right-hand rule of textbooks); a left-hand one back.
#[test]
fn the_hand_turns_the_thrust() {
    let thrust =
        |helix: f64| GearForces::of(&stage([18, 30, 78], 3, helix, ToothForm::Helical), 2.0).sun_thrust;
    assert!(thrust(20.0) > 0.0);
    near(thrust(-20.0), -thrust(20.0), "left hand");
    near(thrust(0.0), 0.0, "straight teeth");
}

/// A herringbone has neither thrust nor couple: its planet bearings carry the tangential force alone.
#[test]
fn herringbone_halves_cancel() {
    let stage = stage([18, 30, 78], 3, 20.0, ToothForm::Herringbone);
    let forces = GearForces::of(&stage, 2.0);
    near(forces.sun_thrust, 0.0, "thrust");
    near(forces.planet_couple, 0.0, "couple");
    near(bearing_load(&stage, 2.0, 8.0), forces.tangential, "bearing load");
}

/// Three planets where 94 places don't divide: the sun feels what the forces' directions leave over.
#[test]
fn unequal_planets_push_the_sun_aside() {
    let equal = stage([18, 30, 78], 3, 20.0, ToothForm::Helical);
    near(GearForces::of(&equal, 2.0).sun_unbalance, 0.0, "equal spacing");
    let unequal = stage([17, 30, 77], 3, 20.0, ToothForm::Helical);
    let places = [0.0, 31.0, 63.0].map(|place: f64| place * std::f64::consts::TAU / 94.0);
    let (x, y) = places.iter().fold((0.0, 0.0), |(x, y), angle| (x + angle.cos(), y + angle.sin()));
    let mean = 2.0 / (0.5 * unequal.sun.reference_diameter * 1e-3) / 3.0;
    near(GearForces::of(&unequal, 2.0).sun_unbalance, mean * x.hypot(y), "left over");
}
