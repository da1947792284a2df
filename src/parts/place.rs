//! Where the copies of a part stand in the actuator.

use super::{Motion, Part};
use crate::gears::Stage;

/// A part's own axis in the actuator: out to `distance` \[mm\] at `angle`, the part turned about it by `turn` \[rad\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    pub distance: f64,
    pub angle: f64,
    pub turn: f64,
}

impl Part {
    /// One place for a part about the actuator's axis, one a planet for what sits on the pins.
    pub fn places(&self, stage: &Stage) -> Vec<Place> {
        if !self.on_pin() {
            return vec![Place { distance: 0.0, angle: 0.0, turn: 0.0 }];
        }
        (0..stage.planets)
            .map(|index| {
                let phase = stage.planet_phase(index);
                // Only a toothed body cares how it is turned about its own axis.
                let turn = if self.motion == Motion::Planet { phase.turn } else { 0.0 };
                Place { distance: stage.centre_distance, angle: phase.position, turn }
            })
            .collect()
    }
}
