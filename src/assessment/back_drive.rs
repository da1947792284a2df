//! What turns the unloaded motor by hand: its drag and cogging through the teeth's friction, and the stage's own drag.

use crate::layout::Actuator;
use crate::ratings::motor::Circuit;
use crate::ratings::planetary_efficiency::{Drag, StageEfficiency};

/// Predictions of back-driving hold to this factor (common practice, no source); where the drag is a guess, to its square.
const BAND: f64 = 1.5;

/// Torque at the output \[N m\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BackDrive {
    pub expected: f64,
    pub band: [f64; 2],
}

/// None if the stage locks itself.
pub fn back_drive(actuator: &Actuator) -> Option<BackDrive> {
    let design = &actuator.design;
    let at_sun = Circuit::of(&design.motor, &design.controller).drag_torque
        + design.motor.cogging_torque.unwrap_or(0.0);
    let efficiency = efficiency(actuator)?;
    let expected = efficiency.backdrive_torque(Drag { sun: at_sun, output: actuator.torques.drag });
    let factor = if design.gearset.drag.is_some() { BAND } else { BAND * BAND };
    Some(BackDrive { expected, band: [expected / factor, expected * factor] })
}

/// By tooth friction alone; none if the stage locks itself.
pub fn efficiency(actuator: &Actuator) -> Option<StageEfficiency> {
    StageEfficiency::of(&actuator.stage, actuator.design.gearset.friction).ok()
}
