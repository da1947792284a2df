//! A gearset known from another joint, tried at this one by the same steps as `make`.

use crate::bom::BillOfMaterials;
use crate::design;
use crate::gears::Stage;
use crate::layout::{self, stage_input};
use crate::product::{heat, made_parts};
use crate::search::Space;
use crate::search::candidates::{self, Candidate};
use crate::search::front::Objectives;
use crate::search::rate::{self, Choice};
use crate::search::text::{self, Choices};

/// The candidate made in this space; none unless it can be laid out, all its checks hold and it turns as easily as asked.
pub fn tried(space: &Space, choices: Choices) -> Option<Choice> {
    let design = design::load_text(&space.path, &text::design(space, &choices)).ok()?.design;
    let stage = Stage::solve(&stage_input(&design)).ok()?;
    let backdrive = candidates::backdrive(&stage, &design)?;
    if space.backdrive_limit.is_some_and(|limit| backdrive > limit) {
        return None;
    }
    let actuator = layout::lay_out(&design).ok()?;
    let drawn = made_parts(&actuator).ok()?;
    let bom = BillOfMaterials::new(&actuator, &drawn);
    let objectives = Objectives {
        mass: bom.total_mass(),
        diameter: actuator.outer_diameter(),
        height: actuator.stations.output_face,
        continuous: heat(&actuator).ok()?.continuous.as_ref().map_or(0.0, |held| held.torque),
        backdrive,
        cost: bom.total_cost(),
    };
    rate::make(space, &Candidate { choices, bound: objectives }, objectives, (&actuator, drawn)).ok()
}
