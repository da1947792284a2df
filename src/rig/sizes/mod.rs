//! Every dimension of the rig, from the actuator it fits. Lengths mm.

pub mod lever; // arm on the output
pub mod lock; // in place of base and motor
pub mod stand; // under the base

use thiserror::Error;

use crate::design::PartName;
use crate::layout::Actuator;
use crate::ratings::joint::head_pressure::warm_strength;
use crate::tables::{HoleSeries, Thread};

pub use lever::Lever;
pub use lock::Lock;
pub use stand::Stand;

/// Plastic around holes (common practice, no source).
pub const WALL: f64 = 4.0;
/// Wanted over the limit's factor, so that lever and stand also stay straight.
const IN_HAND: f64 = 1.5;
/// Thicknesses are tried in such steps.
const STEP: f64 = 1.0;
/// Skirt around a part on the bed.
const MARGIN: f64 = 5.0;
/// Thread of the scale foot's screw and of the bench screws.
pub const FOOT_THREAD: Thread = Thread::M5;
/// Plain washer for it, outside (ISO 7089, from memory).
pub const FOOT_WASHER: f64 = 10.0;
/// How far the foot stands out below the lever.
const FOOT_BELOW: f64 = 6.0;
/// Thick enough that it doesn't tilt on the scale.
pub const FOOT_THICKNESS: f64 = 12.0;
/// Stem of dial indicators: 8 h6 (ISO 463, from memory), and how the printed bore holds it by its slit.
pub const DIAL_STEM: f64 = 8.0;
const DIAL_SLACK: f64 = 0.2;
/// Half of the pointer's end, on which the dial stands.
pub const POINTER_TIP: f64 = 4.0;

/// Why no rig is made.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NoRig {
    #[error("the bed of {bed:.0} mm holds no lever that reaches a mark {wanted:.0} mm from the axis")]
    BedTooSmall { bed: f64, wanted: f64 },
    #[error(
        "no length of the output screws ({thread}) fits a lever between {least:.0} and {most:.0} mm thick"
    )]
    NoScrew { thread: Thread, least: f64, most: f64 },
    #[error("no length of the screws {thread} fits a stand between {least:.0} and {most:.0} mm thick")]
    NoStandScrew { thread: Thread, least: f64, most: f64 },
}

/// Foot: a round disc beside the lever, so that the force acts right below its hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Foot {
    pub diameter: f64,
    pub thickness: f64,
    pub hole: f64,
}

/// A post on the bench that holds a dial indicator level, its plunger against pointer or tail.
#[derive(Clone, Debug, PartialEq)]
pub struct DialHolder {
    /// Stem over the bench.
    pub height: f64,
    /// Of the post, and of its head.
    pub width: f64,
    /// Along the stem.
    pub depth: f64,
    /// Of the foot along the bench.
    pub foot_length: f64,
    pub foot_height: f64,
    pub bore: f64,
    pub slit: f64,
    /// Open slots for the bench screws.
    pub slot: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    pub lever: Lever,
    pub foot: Foot,
    pub stand: Stand,
    pub dial: DialHolder,
    /// None where the rotor's face stands in front of the service plane.
    pub lock: Option<Lock>,
}

impl Sizes {
    /// # Errors
    /// A bed too small for a lever, or no screw that fits it or the stand.
    pub fn of(actuator: &Actuator) -> Result<Sizes, NoRig> {
        let printer = &actuator.design.printer;
        let hole =
            |thread: Thread| printer.hole(thread.clearance_hole(HoleSeries::Medium) + printer.clearance_hole);
        let lever = Lever::of(actuator, hole(FOOT_THREAD))?;
        let foot = Foot {
            diameter: lever.width + 2.0 * FOOT_BELOW,
            thickness: FOOT_THICKNESS,
            hole: lever.mark_hole,
        };
        let stand = Stand::of(actuator, &lever, foot.diameter, hole(FOOT_THREAD))?;
        let dial = DialHolder {
            // Level with the middle of the mark on pointer and tail.
            height: stand.axis_height + lever.tail,
            width: DIAL_STEM + 4.0 * WALL,
            depth: 20.0,
            foot_length: 80.0,
            foot_height: 10.0,
            bore: printer.hole(DIAL_STEM + DIAL_SLACK),
            slit: 2.0,
            slot: hole(FOOT_THREAD),
        };
        Ok(Sizes { lever, foot, stand, dial, lock: Lock::of(actuator) })
    }
}

/// Strength in the layers \[MPa\] of what the base, and so the rig, prints in, at the surroundings' temperature: a short test doesn't
/// warm it. None above the service temperature.
pub fn strength(actuator: &Actuator) -> Option<f64> {
    let design = &actuator.design;
    let material = &design.settings(PartName::VentedBase).material;
    warm_strength(material.strength_in_plane, design.ambient.temperature, material.service_temperature)
}

/// Whether a stress leaves what is wanted of the thickness chosen.
fn enough(actuator: &Actuator, stress: f64) -> bool {
    let wanted = IN_HAND * actuator.design.limits.joint_factor;
    // Where no plastic bears anything, thicker doesn't help: the rating says so.
    strength(actuator).is_none_or(|strength| strength >= wanted * stress)
}
