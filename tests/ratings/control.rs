//! The virtual spring: published values, a second solver's figures, closed forms, and the demos.

use crate::support::published::{cases, get, number, same, values};
use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::assessment::control_inputs::blow_capacity;
use hubwright::checks::{self, Verdict};
use hubwright::design::load_text;
use hubwright::drive_sheet::DriveSheet;
use hubwright::export::drive_sheet::markdown;
use hubwright::export::report;
use hubwright::pipeline::{Made, make};
use hubwright::ratings::spring::gains::{Gains, in_series, virtual_for};
use hubwright::ratings::spring::matrix::Matrix;
use hubwright::ratings::spring::rating::Setting;
use hubwright::ratings::spring::sampled::{Plant, Timing, spectral_radius};
use hubwright::ratings::spring::second_order::{
    Band, natural_frequency, overshoot, peak_time, rise_time, settling_time,
};
use hubwright::ratings::spring::stability::{
    GAIN_MARGIN, Limits, Rule, by_bandwidth, by_sampled_loop, wall_by_damping, wall_by_friction,
};
use hubwright::ratings::spring::static_error::{Causes, StaticError};
use hubwright::ratings::spring::two_masses::{Course, Drive, Joint, course};
use hubwright::ratings::spring::{dead_band, encoder, impact};
use toml::Value;

fn near(found: f64, expected: f64, relative: f64, what: &str) {
    assert!((found / expected - 1.0).abs() <= relative, "{what}: {found} against {expected}");
}

fn rows(kind: &str) -> Vec<Vec<f64>> {
    let rows = |case: &toml::Table| -> Vec<Vec<f64>> {
        let row = |row: &Value| row.as_array().expect("a row").iter().map(number).collect();
        case["rows"].as_array().expect("rows").iter().map(row).collect()
    };
    cases("control", kind).iter().flat_map(rows).collect()
}

#[test]
fn overshoots() {
    for row in rows("overshoot") {
        let found = 100.0 * overshoot(row[0]).expect("in range");
        // As many digits as are printed: 72.93 four, 0.152 three.
        let digits = if row[1] < 1.0 { 3 } else { 4 };
        same(found, row[1], digits, &format!("overshoot at {}", row[0]));
    }
    for outside in [0.0, 1.0, 1.5, -0.1, f64::NAN] {
        assert_eq!(overshoot(outside), None);
    }
}

#[test]
fn step_of_the_textbook() {
    for case in cases("control", "step") {
        let (z, wn) = (get(&case, "damping_ratio"), get(&case, "natural_frequency"));
        same(rise_time(z, wn).expect("in range"), get(&case, "rise_time"), 4, "rise time");
        same(peak_time(z, wn).expect("in range"), get(&case, "peak_time"), 4, "peak time");
        same(100.0 * overshoot(z).expect("in range"), get(&case, "overshoot_percent"), 4, "overshoot");
        same(settling_time(z, wn, Band::TwoPercent).expect("in range"), get(&case, "settling_2"), 4, "2 %");
        same(settling_time(z, wn, Band::FivePercent).expect("in range"), get(&case, "settling_5"), 2, "5 %");
    }
}

#[test]
fn sampled_walls() {
    for row in rows("wall") {
        near(wall_by_damping(row[0], row[2], row[1]), row[3], 1e-12, "wall");
    }
    assert_eq!(wall_by_damping(0.05, 0.06, 1e-3), 0.0);
    for case in cases("control", "friction_wall") {
        let count = encoder::resolution(get(&case, "bits") as u32);
        same(
            wall_by_friction(get(&case, "friction"), count).expect("counts"),
            get(&case, "stiffness"),
            3,
            "wall",
        );
    }
}

/// Not a prediction: see the remark at the values.
#[test]
fn springs_in_a_row() {
    for case in cases("control", "leg") {
        let found = in_series(get(&case, "commanded"), get(&case, "in_series"));
        near(found, get(&case, "measured"), 1e-4, "leg");
        near(
            virtual_for(found, get(&case, "in_series")).expect("softer"),
            get(&case, "commanded"),
            1e-9,
            "back",
        );
    }
    assert_eq!(virtual_for(10.0, 10.0), None);
}

/// The inputs of tests/kernels/spring.py.
const MOTOR: f64 = 0.0155;
const CARRIER: f64 = 0.0001;
const HANGING: f64 = 0.30;
const GEARS: f64 = 1400.0;
const TIMING: Timing = Timing { period: 1e-3, delay: 1.4e-3, filter: 0.0008 };

fn gear_damping() -> f64 {
    2.0 * 0.05 * (GEARS * MOTOR).sqrt()
}

fn gains(stiffness: f64) -> Gains {
    Gains::damped(stiffness, 0.7, MOTOR + CARRIER + HANGING)
}

fn joint() -> Joint {
    Joint {
        motor_inertia: MOTOR,
        load_inertia: CARRIER + HANGING,
        gear_stiffness: GEARS,
        gear_damping: gear_damping(),
        play: 0.008,
        drive: Drive {
            torque_constant: 0.83,
            saturation: 0.15,
            current_limit: 36.0,
            lag: 75e-6,
            filter: 0.0008,
        },
        gains: gains(60.0),
        place: 0.0,
        load_torque: 0.0,
    }
}

fn run(joint: &Joint, start: [f64; 6], duration: f64) -> Course {
    course(joint, start, duration).expect("solved")
}

/// Two solvers, two languages: to a thousandth.
#[test]
fn motions_against_the_reference() {
    let table = values("control");
    let listed = |name: &str| number(&table["reference"][name]);
    let step = run(&Joint { place: 0.1, ..joint() }, [0.0; 6], 1.0);
    near(step.farthest() / 0.1 - 1.0, listed("step_overshoot"), 1e-3, "overshoot");
    let loaded = Joint { load_torque: 8.0, ..joint() };
    let released = run(&loaded, [0.0, 0.0, 0.004, 0.0, 0.0, 0.0], 0.6);
    near(released.peak_gear_torque(), listed("release_peak_torque"), 1e-3, "torque after release");
    near(released.turns_back().expect("caught").0 - 0.004, listed("release_deflection"), 1e-3, "release");
    let fallen = run(&loaded, [0.0, 0.0, 0.0, 2.0, 0.0, 0.0], 0.4);
    near(fallen.peak_gear_torque(), listed("drop_peak_torque"), 1e-3, "torque of a drop");
    near(fallen.turns_back().expect("caught").0, listed("drop_deflection"), 1e-3, "drop");
}

fn plants() -> [Plant; 3] {
    [Some(CARRIER), Some(CARRIER + HANGING), None].map(|load_inertia| Plant {
        motor_inertia: MOTOR,
        load_inertia,
        gear_stiffness: GEARS,
        gear_damping: gear_damping(),
    })
}

#[test]
fn sampled_loop_against_the_reference() {
    let table = values("control");
    let listed = table["reference"]["radius"].as_array().expect("radii");
    for (plant, listed) in plants().iter().zip(listed) {
        let found = spectral_radius(plant, &TIMING, &gains(20.0)).expect("in range");
        assert!((found - number(listed)).abs() < 1e-6, "{found} against {listed}");
    }
    let stiffest =
        by_sampled_loop(&plants(), &TIMING, 0.7, MOTOR + CARRIER + HANGING).expect("stable when soft");
    // Halved to a thousandth.
    near(stiffest, number(&table["reference"]["stiffest"]), 1.5e-3, "stiffest");
    let slow = Timing { delay: 21.0 * TIMING.period, ..TIMING };
    assert_eq!(spectral_radius(&plants()[0], &slow, &gains(1.0)), None);
}

/// More delay, a slower loop or a slower filter never allow more.
#[test]
fn slower_loops_allow_less() {
    let limit =
        |timing: Timing| by_sampled_loop(&plants(), &timing, 0.7, MOTOR + CARRIER + HANGING).expect("stable");
    let as_is = limit(TIMING);
    assert!(limit(Timing { delay: 2.4e-3, ..TIMING }) < as_is);
    assert!(limit(Timing { period: 2e-3, ..TIMING }) < as_is);
    assert!(by_bandwidth(MOTOR, &Timing { filter: 0.002, ..TIMING }) < by_bandwidth(MOTOR, &TIMING));
    assert!(limit(Timing { period: 1e-4, delay: 1e-4, ..TIMING }) > 2.0 * as_is);
}

#[test]
fn the_least_limit_governs() {
    let limits = Limits { sampled_loop: Some(100.0), bandwidth: 60.0, counts_and_friction: None };
    assert_eq!(limits.governing(), (100.0 / GAIN_MARGIN, Rule::SampledLoop));
    let limits = Limits { sampled_loop: Some(200.0), ..limits };
    assert_eq!(limits.governing(), (60.0, Rule::Bandwidth));
    let limits = Limits { counts_and_friction: Some(50.0), ..limits };
    assert_eq!(limits.governing(), (25.0, Rule::CountsAndFriction));
}

/// A rotation's exponential and radius in closed form.
#[test]
fn matrices() {
    let mut turning = Matrix::zero(2);
    (turning[(0, 1)], turning[(1, 0)]) = (-1.0, 1.0);
    let turned = turning.scaled(2.5).exponential();
    assert!((turned[(0, 0)] - 2.5f64.cos()).abs() < 1e-14 && (turned[(1, 0)] - 2.5f64.sin()).abs() < 1e-14);
    near(turned.scaled(0.9).spectral_radius(), 0.9, 1e-8, "radius");
    // A Jordan block: no eigenvectors to hide behind.
    let mut block = Matrix::identity(3).scaled(0.5);
    (block[(0, 1)], block[(1, 2)]) = (1e3, 1e3);
    near(block.spectral_radius(), 0.5, 1e-6, "Jordan block");
    assert_eq!(Matrix::zero(3).spectral_radius(), 0.0);
}

/// Without play, damping, filter lag and weight the blow is the closed form's.
#[test]
fn blow_in_closed_form() {
    let mut bare = Joint { play: 0.0, gear_damping: 0.0, ..joint() };
    bare.gains = Gains { stiffness: 0.0, damping: 0.0 };
    let found = run(&bare, [0.0, 0.0, 0.0, 2.0, 0.0, 0.0], 0.05).peak_gear_torque();
    let free = impact::free_rotor_torque(2.0, GEARS, MOTOR, CARRIER + HANGING);
    near(found, free, 1e-3, "free rotor");
    assert!(free < impact::held_rotor_torque(2.0, GEARS, CARRIER + HANGING));
    // Falling 50 mm at a lever of 0.35 m: sqrt(2 g h) / r.
    let weight = 2.5 * impact::GRAVITY;
    let speed = impact::fall_speed(weight, 2.5 * 0.35 * 0.35, 0.05).expect("falls");
    near(speed, (2.0 * impact::GRAVITY * 0.05f64).sqrt() / 0.35, 1e-12, "fall");
    assert_eq!(impact::fall_speed(0.0, 1.0, 0.05), None);
}

/// A stiff stage without play is the textbook's second-order system.
#[test]
fn stiff_gears_step_like_one_mass() {
    let mut stiff = Joint { play: 0.0, gear_stiffness: 1e6, gear_damping: 100.0, place: 0.01, ..joint() };
    stiff.drive.saturation = 0.0;
    stiff.drive.filter = 1e-4;
    let step = run(&stiff, [0.0; 6], 1.5);
    near(step.farthest() / 0.01 - 1.0, overshoot(0.7).expect("in range"), 0.02, "overshoot");
    let wn = natural_frequency(60.0, MOTOR + CARRIER + HANGING);
    let (_, peak) = step.turns_back().expect("turns back");
    near(peak, peak_time(0.7, wn).expect("in range"), 0.01, "time of the peak");
}

#[test]
fn too_much_for_the_current_is_not_caught() {
    // 25.4 N m at the limit.
    let heavy = Joint { load_torque: 30.0, ..joint() };
    let falling = run(&heavy, [0.0, 0.0, 0.004, 0.0, 0.0, 0.0], 0.6);
    assert_eq!(falling.turns_back(), None);
    near(joint().drive.most(), 0.83 * 36.0 * 0.85, 1e-12, "limit");
    assert_eq!(joint().drive.torque(1e9), joint().drive.most());
}

#[test]
fn units_of_the_gains() {
    let at_motor = Gains { stiffness: 81.0, damping: 8.1 }.at_motor(9.0, 0.1);
    near(at_motor.stiffness, 1.0, 1e-12, "i^2");
    near(at_motor.stiffness_per_turn, std::f64::consts::TAU, 1e-12, "turn");
    near(at_motor.current_per_angle, 10.0, 1e-12, "A/rad");
    near(at_motor.current_per_speed, 1.0, 1e-12, "A s/rad");
}

/// Against the integral it stands for: the first harmonic of a triangle cut out of the middle.
#[test]
fn dead_band_by_its_integral() {
    for amplitude in [0.6, 1.0, 2.0, 10.0] {
        let steps = 200_000;
        let sum: f64 = (0..steps)
            .map(|step| {
                let sine = (std::f64::consts::TAU * (f64::from(step) + 0.5) / f64::from(steps)).sin();
                let angle = amplitude * sine;
                let torque = if angle.abs() > 0.5 { angle - 0.5 * angle.signum() } else { 0.0 };
                torque * sine
            })
            .sum();
        near(dead_band::share(1.0, amplitude), 2.0 * sum / f64::from(steps) / amplitude, 1e-6, "share");
    }
    assert_eq!(dead_band::share(1.0, 0.5), 0.0);
    let nine_tenths = dead_band::amplitude_for(1.0, 0.9).expect("in range");
    near(dead_band::share(1.0, nine_tenths), 0.9, 1e-9, "back");
    assert_eq!(dead_band::amplitude_for(1.0, 1.0), None);
}

#[test]
fn sensor_beside_the_axis() {
    let found = encoder::angle_error(0.2, 1.0, 2.5, 21.0).expect("in range");
    // The dipole's field itself, magnet at 45 degrees to the offset.
    let (e, z) = (0.2f64, 2.25f64);
    let (x, y) = (e / 2f64.sqrt(), e / 2f64.sqrt());
    let square = x * x + y * y + z * z;
    let (along, across) = (3.0 * x * x - square, 3.0 * x * y);
    near(found.mechanical, (across / along).abs().atan(), 1e-9, "dipole");
    near(found.electrical, 21.0 * found.mechanical, 1e-12, "electrical");
    near(found.torque_lost, 1.0 - found.electrical.cos(), 1e-12, "cosine");
    assert_eq!(encoder::angle_error(0.0, 1.0, 2.5, 21.0).expect("in range").torque_lost, 0.0);
    assert_eq!(encoder::angle_error(1.2, 1.0, 2.5, 21.0), None);
    // 60 degrees electrical cost half.
    near(encoder::lost(60f64.to_radians() / 7.0, 7.0).torque_lost, 0.5, 1e-12, "half");
}

#[test]
fn errors_add_up() {
    let causes =
        Causes { friction: 0.5, cogging: 0.1, count: 0.009, encoder_error: 0.018, play: 0.004, ratio: 9.0 };
    let error = StaticError::of(&causes, 50.0);
    near(error.total(), 0.01 + 0.002 + 0.0005 + 0.002 + 0.002, 1e-12, "total");
}

fn made(name: &str) -> Made {
    make(&demo(name)).expect("makes")
}

#[test]
fn demos_are_rated() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let rating = made.product.control.as_ref().expect("rated");
        let stiffest =
            rating.settings.iter().take(3).map(|setting| setting.gains.stiffness).fold(0.0, f64::max);
        near(stiffest, rating.stiffest, 1e-12, "stiff is the stiffest");
        for setting in &rating.settings {
            let step = setting.step.as_ref().expect("solved");
            let play = rating.inputs.play / 2.0 / step.angle;
            let theory = overshoot(rating.inputs.damping_ratio).expect("in range");
            assert!(step.overshoot < theory + play + 0.1, "{name}, {}: {}", setting.name, step.overshoot);
            assert!(step.settling_time.is_some(), "{name}, {}", setting.name);
        }
        for checked in checks::run(&made.product) {
            assert!(checked.outcome.verdict != Verdict::Fails, "{name}: {checked:?}");
        }
    }
}

/// What is asked is felt, and the drop lies between free and held rotor.
#[test]
fn shoulder_as_asked() {
    let made = made(SHOULDER);
    let rating = made.product.control.as_ref().expect("rated");
    let asked: &Setting = rating.judged().expect("asked");
    assert_eq!(asked.name, "asked");
    near(asked.felt, 60.0, 1e-9, "felt");
    let fall = rating.drop.as_ref().expect("falls").as_ref().expect("solved");
    let inputs = &rating.inputs;
    let load = inputs.carrier_inertia + inputs.load_inertia;
    let free = impact::free_rotor_torque(fall.speed, inputs.gear_stiffness, inputs.motor_inertia, load);
    let held =
        impact::held_rotor_torque(fall.speed, inputs.gear_stiffness, load) + 2.0 * inputs.weight_torque();
    assert!((0.8 * free..held).contains(&fall.peak_gear_torque), "{free} {held} {fall:?}");
    let (capacity, _) = blow_capacity(&made.product.actuator, &made.product.gears).expect("printed gears");
    assert!(capacity.low < capacity.value && capacity.value < capacity.high);
}

fn changed(from: &str, to: &str) -> Made {
    let path = format!("{}/designs/weeder-shoulder.toml", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(&path).expect("the demo");
    assert!(text.contains(from));
    let loaded = load_text(path.as_ref(), &text.replace(from, to)).expect("a design");
    make(&loaded.design).expect("makes")
}

fn verdict(made: &Made, id: &str) -> Verdict {
    made.checks.iter().find(|checked| checked.check.id == id).expect("a check").outcome.verdict
}

#[test]
fn checks_can_warn() {
    let stiff =
        changed("stiffness    = \"60 N m/rad\"", "stiffness = \"900 N m/rad\"\nhold_accuracy = \"0.01 deg\"");
    assert_eq!(verdict(&stiff, "spring-stable"), Verdict::Warns);
    assert_eq!(verdict(&stiff, "gear-stiffness-share"), Verdict::Holds);
    assert_eq!(verdict(&stiff, "static-error"), Verdict::Fails);
    let beyond = changed("stiffness    = \"60 N m/rad\"", "stiffness = \"5000 N m/rad\"");
    assert_eq!(verdict(&beyond, "gear-stiffness-share"), Verdict::Fails);
    let high = changed("drop        = \"20 mm\"", "drop = \"2000 mm\"");
    assert_eq!(verdict(&high, "drop-impact"), Verdict::Warns);
    let nothing = changed("drop        = \"20 mm\"", "");
    assert_eq!(verdict(&nothing, "drop-impact"), Verdict::NotApplicable);
    let beside = changed("encoder = { bits = 14", "encoder = { eccentricity = \"0.6 mm\", bits = 14");
    assert_eq!(verdict(&beside, "encoder-torque-loss"), Verdict::Warns);
}

/// Ends of the keys' ranges: an answer or a reason, no panic, no endless run.
#[test]
fn slow_and_late_loops_have_an_answer() {
    for keys in [
        "position_rate = \"10 Hz\"",
        "position_rate = \"1000 kHz\"\nloop_delay = \"0 s\"",
        "position_rate = \"1000 kHz\"\nloop_delay = \"100 ms\"",
        "velocity_filter = \"1 Hz\"",
        "velocity_filter = \"100 kHz\"",
        "current_limit = \"0.1 A\"",
    ] {
        let dropped =
            if keys.starts_with("current") { "current_limit = \"40 A\"" } else { "mass          = \"30 g\"" };
        let made = changed(dropped, keys);
        let rating = made.product.control.as_ref().expect("rated");
        assert!(rating.stiffest > 0.0 && rating.stiffest.is_finite(), "{keys}");
        for setting in &rating.settings {
            assert!(
                setting.step.as_ref().is_ok_and(|step| step.overshoot.is_finite()),
                "{keys}: {:?}",
                setting.step
            );
        }
    }
}

#[test]
fn sheet_says_what_a_drive_asks() {
    let made = made(SHOULDER);
    let text = markdown(&DriveSheet::of(&made.product));
    for wanted in [
        "| pole pairs ",
        "0.09189 N m/A",
        "0.1299 N m/A",
        "0.1061 N m/A",
        "| winding to mount ",
        "| watchdog ",
        "Clamp it",
        "not a brake",
        "| spring, rotor, A/rad ",
        "asked",
    ] {
        assert!(text.contains(wanted), "{wanted} in\n{text}");
    }
    assert!(!text.contains("NaN") && !text.contains("inf "), "{text}");
    let report = report::report(&made, &made.solids().expect("solids"), serde_json::Value::Null);
    let trace = &report["control"]["settings"][0]["step"]["trace"];
    assert_eq!(trace["time_s"].as_array().expect("times").len(), 61);
    assert_eq!(report["control"]["judged"], "asked");
}
