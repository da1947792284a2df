//! Bearings at work: loops over `published/bearings.toml`, and what must hold for any joint.

use crate::support::published::{cases, get, numbers};
use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::checks::Verdict;
use hubwright::design::Bush;
use hubwright::pipeline::{Made, make};
use hubwright::ratings::bearing_friction::FrictionCase;
use hubwright::ratings::grease_life::{BaseOil, grease_life, minimum_load};
use hubwright::ratings::mean_load::{Stretch, mean};
use hubwright::ratings::{
    bearing_friction, bearing_life, bearing_load, bearing_modified_life, lubrication, tilt_play,
};
use hubwright::tables::ClearanceGroup;

const VALUES: &str = "bearings";

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} against {expected}");
}

#[test]
fn larger_clearance_groups() {
    for case in cases(VALUES, "clearance_factors") {
        for (key, group) in [("c3", ClearanceGroup::C3), ("c4", ClearanceGroup::C4)] {
            let (e, y) = bearing_load::factors(get(&case, "argument"), group).expect("in the table");
            let printed = numbers(&case[key]);
            near(e, printed[0], 1e-9, key);
            near(y, printed[1], 1e-9, key);
        }
    }
    // SKF: 6310 of C3 under the same loads has a lower X and a larger e than the normal group.
    let load =
        |group| bearing_load::equivalent_load(1000.0, 1000.0, 14.0, 10_000.0, group).expect("in range").load;
    assert!((load(ClearanceGroup::C3) - (460.0 + 1000.0 * (1.34 - 0.02 / 0.69 * 0.11))).abs() < 5.0);
}

#[test]
fn modified_life_by_the_standards_equation() {
    for case in cases(VALUES, "modified_life") {
        let factor = bearing_modified_life::life_factor(get(&case, "clean_share"), get(&case, "kappa"))
            .expect("in range");
        near(factor / get(&case, "factor"), 1.0, 5e-3, "aISO");
    }
    // ISO 281:2007: 0.1 without any clean share, whatever the film; continuous where the constants change (from memory).
    for kappa in [0.1, 0.5, 2.0, 9.0] {
        near(bearing_modified_life::life_factor(0.0, kappa).expect("in range"), 0.1, 1e-12, "limit");
    }
    for kappa in [0.4, 1.0] {
        let below = bearing_modified_life::life_factor(0.1, kappa - 1e-9).expect("in range");
        let above = bearing_modified_life::life_factor(0.1, kappa).expect("in range");
        near(below / above, 1.0, 2e-3, "continuity");
    }
    assert_eq!(bearing_modified_life::life_factor(0.1, 0.05), None);
    assert_eq!(bearing_modified_life::life_factor(10.0, 4.0), Some(50.0));
    assert_eq!(bearing_modified_life::life_factor(0.05, 9.0), bearing_modified_life::life_factor(0.05, 4.0));
}

/// ISO 3448 and ASTM D341: an oil of 100 mm2/s at 40 degC and viscosity index 95 has 11.1 at 100 degC (from memory).
#[test]
fn viscosity_over_temperature() {
    near(lubrication::viscosity(100.0, 40.0).expect("in range"), 100.0, 1e-9, "40 degC");
    near(lubrication::viscosity(100.0, 100.0).expect("in range"), 11.1, 0.15, "100 degC");
    assert!(lubrication::viscosity(100.0, 20.0).expect("in range") > 250.0);
    assert_eq!(lubrication::viscosity(100.0, 150.0), None);
    for case in cases(VALUES, "reference_viscosity") {
        let found = lubrication::reference_viscosity(get(&case, "speed"), get(&case, "mean_diameter"))
            .expect("turns");
        near(found / get(&case, "viscosity"), 1.0, get(&case, "tolerance"), "nu1");
    }
    // Both branches meet at 1000 a minute within their printed digits.
    let [below, above] =
        [999.999, 1000.0].map(|speed| lubrication::reference_viscosity(speed, 50.0).expect("turns"));
    near(below / above, 1.0, 0.025, "1000 a minute");
}

#[test]
fn mean_load_and_friction() {
    for case in cases(VALUES, "mean_load") {
        let [loads, speeds, times] = ["loads", "speeds", "times"].map(|key| numbers(&case[key]));
        let stretches = loads.iter().zip(&speeds).zip(&times).map(|((&load, &speed), &time)| Stretch {
            time,
            load,
            speed,
        });
        let (load, speed) = mean(stretches, 3.0).expect("turns");
        near(load, get(&case, "mean_load"), 0.005, "load");
        near(speed, get(&case, "mean_speed"), 1e-9, "speed");
    }
    assert_eq!(mean([Stretch { time: 5.0, load: 10.0, speed: 0.0 }], 3.0), None);
    for case in cases(VALUES, "friction") {
        let found = bearing_friction::friction_torque(
            get(&case, "coefficient"),
            get(&case, "load"),
            get(&case, "bore"),
        );
        near(found / get(&case, "torque"), 1.0, 2e-3, "friction");
    }
}

#[test]
fn lives_of_textbooks() {
    for case in cases(VALUES, "combined") {
        let at = |key| get(&case, key);
        let load = at("x") * at("radial") + at("y") * at("axial");
        near(load, at("load"), 1e-9, "P");
        let life = bearing_life::basic_life(at("dynamic_rating"), load).expect("in range");
        near(life, at("life_mrev"), at("life_tolerance"), "L10");
    }
    // The older table is the closed form without the floor of 0.05 that ISO 281:2007 added, to its two digits.
    for case in cases(VALUES, "older_reliability") {
        for (reliability, printed) in numbers(&case["reliability"]).into_iter().zip(numbers(&case["a1"])) {
            let newer = bearing_life::reliability_factor(reliability).expect("in range");
            near((newer - 0.05) / 0.95, printed, 5e-3, "a1");
        }
    }
}

/// Layout notes give 2.6 and 3.9 mrad for 6810 and 6805 (their own estimate): between least and most clearance.
#[test]
fn tipping_of_single_bearings() {
    for (bore, outer, clearance, known) in
        [(50.0, 65.0, [0.006, 0.023], 2.6e-3), (25.0, 37.0, [0.005, 0.020], 3.9e-3)]
    {
        let [least, most] = clearance.map(|clearance| tilt_play::single(bore, outer, clearance));
        assert!(least < known && known < most, "{least} {most}");
    }
    // By hand: 20 um over a span of 13 mm, to and fro.
    near(tilt_play::pair(13.0, 0.02), 0.04 / 13.0, 1e-12, "pair");
}

fn made(name: &str) -> Made {
    make(&demo(name)).unwrap_or_else(|error| panic!("{error:?}"))
}

/// Everything that judges a life is the lower of basic and modified, and both follow each other through a1 and aISO.
#[test]
fn lives_of_the_demos_are_consistent() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let bearings = &made.product.bearings;
        for life in [bearings.output, bearings.planet].into_iter().flatten() {
            near(life.hours, life.a1 * life.basic * 1e6 / (60.0 * life.speed), 1e-6 * life.hours, name);
            if let (Some(factor), Some(modified)) = (life.a_iso, life.modified_hours) {
                near(modified, factor * life.hours, 1e-6 * modified, name);
            }
            assert!(life.judged() <= life.hours);
        }
        // A planet turns zr / zp times as fast on its pin as the output.
        if let (Some(output), Some(planet)) = (bearings.output, bearings.planet) {
            let teeth = &made.product.actuator.stage;
            near(
                planet.speed / output.speed,
                f64::from(teeth.ring.teeth) / f64::from(teeth.planet.teeth),
                1e-9,
                name,
            );
        }
    }
}

/// The same torque and speed all the time as a duty gives the planets the life they have without one.
#[test]
fn a_steady_duty_is_the_steady_case() {
    let mut design = demo(SHOULDER);
    design.load.oscillation = None;
    let steady = make(&design).expect("makes");
    let speed = design.load.rate * std::f64::consts::TAU;
    let torque = design.requirement.continuous_torque.expect("asked");
    let row = |line: usize, time: f64| hubwright::design::DutyRow { line, time, torque, speed };
    design.requirement.duty = Some(vec![row(1, 0.0), row(2, 3.0), row(3, 60.0)].into());
    let duty = make(&design).expect("makes");
    let [one, other] = [&steady, &duty].map(|made| made.product.bearings.planet.expect("a life"));
    near(one.load, other.load, 1e-9 * one.load, "load");
    near(one.speed, other.speed, 1e-9 * one.speed, "speed");
}

/// By hand: pin force over bore times length, and the bore's circumference times the planet's turns.
#[test]
fn a_bush_at_work() {
    let mut design = demo(WRIST);
    design.gearset.planet_bush = Some(Bush { bore: 6.0, outer: 8.0, pressure_limit: 20.0, pv_limit: 1.8 });
    design.load.oscillation = None;
    let made = make(&design).expect("makes");
    let work = made.product.bearings.bush.expect("a bush");
    let turns = design.load.rate * 63.0 / 24.0;
    near(work.speed, std::f64::consts::PI * 6e-3 * turns, 1e-9, "speed");
    let stage = &made.product.actuator.stage;
    let sun = made.product.bearings.work_torque / (stage.ratio * design.gearset.efficiency);
    // 1.4: load sharing of three planets.
    let tangential = sun / (stage.sun.reference_diameter / 2e3) / 3.0 * 1.4;
    near(work.pressure, 2.0 * tangential / (6.0 * stage.face_width), 1e-9, "pressure");
    let checked =
        made.checks.iter().find(|checked| checked.check.id == "planet-bush-work").expect("the check");
    near(checked.outcome.value.expect("a value"), work.pressure * work.speed, 1e-12, "pv");
}

/// A crossed roller bearing in the seat of the deep groove one: its own formulas, by hand from the report's loads, no play and no
/// factor of ball bearings.
#[test]
fn a_crossed_roller_carries_the_moment_itself() {
    let mut design = demo(SHOULDER);
    design.bearings.output = hubwright::tables::crossed_roller("RA 5008").expect("in the table").clone();
    design.load.axial = 40.0;
    let made = make(&design).unwrap_or_else(|error| panic!("{error:?}"));
    let rated = &made.product.output_bearing;
    let by_hand = rated.radial + 2e3 * rated.moment / 57.0 + 0.45 * 40.0;
    near(rated.equivalent_dynamic.expect("in range"), by_hand, 1e-9, "P");
    let life = made.product.bearings.output.expect("a life");
    near(life.basic, (5100.0f64 / by_hand).powf(10.0 / 3.0), 1e-6 * life.basic, "L10");
    assert_eq!(life.a_iso, None);
    assert_eq!(made.product.bearings.tilt, None);
    // Half of C0 in a printed seat.
    let value = |id: &str| {
        let checked = made.checks.iter().find(|checked| checked.check.id == id).expect("the check");
        checked.outcome.value.expect("a value")
    };
    near(value("output-static"), 7190.0 / rated.equivalent_static, 1e-9, "static");
    near(value("output-moment"), rated.equivalent_static / 3595.0, 1e-9, "moment");
    for part in &made.product.parts {
        assert!(part.mesh().expect("closed").is_closed());
    }
}

#[test]
fn longer_friction_grease_and_least_load() {
    for case in cases(VALUES, "friction_model") {
        let at = |key| get(&case, key);
        let series = case["series"].as_str().expect("a digit").chars().next().expect("a digit");
        let [rolling, sliding] = bearing_friction::rolling_and_sliding(&FrictionCase {
            series,
            mean_diameter: at("mean_diameter"),
            static_rating: at("static_rating"),
            radial: at("radial"),
            axial: at("axial"),
            speed: at("speed"),
            viscosity: at("viscosity"),
        })
        .expect("a series with constants");
        near(rolling / at("rolling"), 1.0, 1e-3, "rolling");
        near(sliding / at("sliding"), 1.0, 1e-3, "sliding");
    }
    for case in cases(VALUES, "grease") {
        let at = |key| get(&case, key);
        let hours = grease_life(
            BaseOil::Ester,
            at("mean_diameter"),
            at("speed"),
            at("temperature"),
            at("load_share"),
        );
        near(hours.expect("in range") / at("hours"), 1.0, 1e-3, "grease");
    }
    assert_eq!(grease_life(BaseOil::Mineral, 60.0, 1000.0, 160.0, 0.05), None);
    for case in cases(VALUES, "minimum_load") {
        let at = |key| get(&case, key);
        let load = minimum_load(at("factor"), at("viscosity"), at("speed"), at("mean_diameter"));
        near(load, at("load"), 0.05, "least load");
    }
}

/// Loads whose lives are the parts': their mean load has the whole's life (printed to three digits).
#[test]
fn part_lives_add_up() {
    for case in cases(VALUES, "part_lives") {
        let (hours, shares) = (numbers(&case["hours"]), numbers(&case["shares"]));
        let stretches = hours.iter().zip(&shares).map(|(&hours, &time)| Stretch {
            time,
            load: hours.powf(-1.0 / 3.0),
            speed: 1.0,
        });
        let (load, _) = mean(stretches, 3.0).expect("turns");
        near(load.powi(-3), get(&case, "whole"), 50.0, "life");
    }
}

/// Thrust by hand: T / r tan(beta), off the stator one way round and onto it the other; judged once the motor says what it bears.
#[test]
fn the_suns_thrust_on_the_motor() {
    let mut design = demo(SHOULDER);
    for (limit, verdict) in
        [(None, Verdict::NotApplicable), (Some(200.0), Verdict::Holds), (Some(100.0), Verdict::Fails)]
    {
        design.motor.thrust_limit = limit;
        let made = make(&design).expect("makes");
        let checked =
            made.checks.iter().find(|checked| checked.check.id == "motor-thrust").expect("the check");
        assert_eq!(checked.outcome.verdict, verdict);
        if limit.is_some() {
            let sun = &made.product.actuator.stage.sun;
            let by_hand = made.product.actuator.torques.sun / (sun.reference_diameter / 2e3)
                * sun.helix_angle.abs().tan();
            near(checked.outcome.value.expect("a value"), by_hand, 1e-9 * by_hand, "thrust");
        }
    }
}
