//! The planetary stage: what must hold of any stage, the reference joints' numbers, and inputs that are refused.

use hubwright::design::Shift;
use hubwright::gears::{Rack, Stage, StageFault, StageInput};

fn input(teeth: [u32; 3], planets: u32) -> StageInput {
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
    }
}

fn faults(input: &StageInput) -> Vec<StageFault> {
    Stage::solve(input).expect_err("refused")
}

#[test]
fn counts_that_do_not_assemble_name_their_neighbours() {
    let found = faults(&input([16, 24, 64], 3));
    assert_eq!(found.len(), 1);
    assert_eq!(
        found[0].to_string(),
        "16/24/64 cannot take 3 equally spaced planets (80/3 is not whole). Nearest: 15/24/63, 18/24/66, or 4 planets."
    );
}
