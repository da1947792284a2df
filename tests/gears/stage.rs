//! The planetary stage: what must hold of any stage, the reference joints' numbers, and inputs that are refused.

use hubwright::gears::{Stage, StageFault, StageInput};

use crate::stages::input;

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
