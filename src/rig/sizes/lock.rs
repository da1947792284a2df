//! The input lock: a cup in the place of base and motor, that holds the rotor adapter against the housing and stands on the stand.
//!
//! It takes the actuator's own screws: those of adapter and housing from the front, the stand's from the back, each into an insert.

use crate::layout::{Actuator, Bolting};
use crate::tables::{Insert, InsertForm, insert_of};

/// Outside the screws' heads.
const LOCK_WALL: f64 = 4.0;
/// Least floor of the cup, and plastic beyond a blind hole (common practice, no source).
const FLOOR: f64 = 6.0;
const BEYOND: f64 = 1.5;
/// Room beyond an insert, as the layout's.
const TIP_ROOM: f64 = 0.5;

#[derive(Clone, Debug, PartialEq)]
pub struct Lock {
    /// Height of the cup's inside: service plane over the rotor's face.
    pub depth: f64,
    pub inner: f64,
    pub outer: f64,
    pub mouth: f64,
    pub mouth_depth: f64,
    pub floor: f64,
    pub pilot: f64,
    /// For the adapter's screws, in the floor.
    pub adapter_insert: Insert,
    pub adapter_depth: f64,
}

impl Lock {
    /// None where the rotor's face stands in front of the service plane, or no insert takes the adapter's screws.
    pub fn of(actuator: &Actuator) -> Option<Lock> {
        let (stations, base, joints) = (&actuator.stations, &actuator.base, &actuator.joints);
        let depth = stations.service - stations.rotor_front;
        let printer = &actuator.design.printer;
        let pilot = actuator.adapter.pilot.map_or(0.0, |(diameter, _)| diameter);
        let thread = joints.adapter_to_rotor.thread;
        let adapter_insert =
            *insert_of(thread, InsertForm::Short).or_else(|| insert_of(thread, InsertForm::Standard))?;
        let reach = joints.adapter_to_rotor.reach();
        let adapter_depth = f64::max(adapter_insert.length, reach) + TIP_ROOM;
        let beside = |joint: &Bolting| joint.circle + joint.head_diameter.max(joint.hole_diameter());
        let widest = base.mouth_bore.max(beside(&joints.service)).max(beside(&joints.machine));
        let floor = FLOOR.max(adapter_depth + BEYOND).max(joints.machine.hole_depth() + BEYOND);
        (depth > 0.0).then(|| Lock {
            depth,
            inner: base.bore.min(base.mouth_bore),
            outer: widest + 2.0 * LOCK_WALL,
            mouth: base.mouth_bore,
            mouth_depth: base.mouth_depth.min(depth),
            floor,
            // A raised pilot centres the adapter as the rotor's does.
            pilot: if pilot > 0.0 { printer.post(pilot) } else { 0.0 },
            adapter_insert,
            adapter_depth,
        })
    }

    pub fn height(&self) -> f64 {
        self.floor + self.depth
    }
}
