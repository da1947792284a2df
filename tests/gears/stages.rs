//! Stages to try things on: the reference joints and random valid ones.
#![allow(dead_code)] // Each test binary uses its part of this.

use hubwright::design::{Shift, ShiftRule, Spacing, ToothForm};
use hubwright::gears::{Rack, Stage, StageInput};
use hubwright::layout;
use proptest::prelude::*;
use proptest::strategy::ValueTree;
use proptest::test_runner::TestRunner;

use crate::support;

pub fn input(teeth: [u32; 3], planets: u32) -> StageInput {
    StageInput {
        sun_teeth: teeth[0],
        planet_teeth: teeth[1],
        ring_teeth: teeth[2],
        planets,
        rack: Rack::ISO_53_A,
        normal_module: 0.8,
        helix_angle: 20f64.to_radians(),
        face_width: 12.0,
        backlash: 0.136,
        sun_shift: Shift::Auto,
        planet_shift: Shift::Auto,
        ring_shift: Shift::Auto,
        shift_rule: ShiftRule::UndercutFree,
        spacing: Spacing::Equal,
        tooth_form: ToothForm::Helical,
    }
}

/// Shoulder, wrist and mast of the rover's tool arm.
pub fn reference_inputs() -> [StageInput; 3] {
    [input([12, 42, 96], 3), input([15, 24, 63], 3), input([16, 28, 72], 4)]
}

pub fn solved(input: &StageInput) -> Stage {
    match Stage::solve(input) {
        Ok(stage) => stage,
        Err(faults) => panic!("{input:?}: {}", faults.iter().map(ToString::to_string).collect::<String>()),
    }
}

fn any_shift(most: f64) -> impl Strategy<Value = Shift> {
    prop_oneof![3 => Just(Shift::Auto), 1 => (0.0..most).prop_map(Shift::Fixed)]
}

/// Valid stages of all kinds: spur and helical, either hand, shifted, with a ring up to a tooth off `zs + 2 zp`.
pub fn any_stage() -> impl Strategy<Value = (StageInput, Stage)> {
    let counts = (8u32..40, 12u32..60, -1i32..=1, 3u32..=5);
    let sizes = (0.4f64..2.5, -32f64..32.0, 0.0f64..0.2, prop::bool::ANY);
    let shapes = (any_shift(0.5), any_shift(0.3), prop_oneof![Just(20f64), 17f64..25.0], 0.1f64..0.38);
    (counts, sizes, shapes).prop_filter_map("not a valid stage", |(counts, sizes, shapes)| {
        let (sun, planet, excess, planets) = counts;
        let (normal_module, helix, backlash, spur) = sizes;
        let (sun_shift, planet_shift, pressure_angle, fillet) = shapes;
        let ring = (sun + 2 * planet).checked_add_signed(excess)?;
        let input = StageInput {
            rack: Rack { pressure_angle: pressure_angle.to_radians(), fillet, ..Rack::ISO_53_A },
            normal_module,
            helix_angle: if spur { 0.0 } else { helix.to_radians() },
            backlash: backlash * normal_module,
            face_width: 15.0 * normal_module,
            // Equal where that goes in.
            spacing: Spacing::Nearest,
            sun_shift,
            planet_shift,
            ..input([sun, planet, ring], planets)
        };
        Stage::solve(&input).ok().map(|stage| (input, stage))
    })
}

/// Enough play that the outlines' tolerances, half a micrometre each, leave some; with less, gears touch, and are no case
/// for gaps.
pub fn has_play(stage: &Stage) -> bool {
    stage.backlash > 2e-3
}

/// `count` stages that pass `wanted`, the same on every run.
pub fn random_stages(count: usize, wanted: fn(&Stage) -> bool) -> Vec<Stage> {
    let mut runner = TestRunner::deterministic();
    let any = any_stage();
    let next = || any.new_tree(&mut runner).expect("few stages are refused").current().1;
    std::iter::repeat_with(next).filter(wanted).take(count).collect()
}

/// The stages of the demo designs, as their files resolve.
pub fn demos() -> [(&'static str, Stage); 3] {
    [support::SHOULDER, support::WRIST, support::MAST].map(|name| {
        let actuator =
            layout::lay_out(&support::demo(name)).unwrap_or_else(|faults| panic!("{name}: {faults:?}"));
        (name, actuator.stage)
    })
}
