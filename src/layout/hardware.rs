//! Screws, inserts and their holes as a joint of the layout sees them.

use std::f64::consts::TAU;

use crate::design::{Design, ForcedJoint, Joint};
use crate::tables::{
    HoleSeries, Insert, InsertForm, ScrewStandard, Thread, cap_head, insert_of, next_length, screw_head,
    screw_lengths, usual_insert,
};

/// Room beyond a screw's tip in a blind hole.
pub const TIP_ROOM: f64 = 0.5;
/// Sums of layer heights carry rounding.
const ROUNDING: f64 = 1e-6;
/// Least floor left under a blind hole (layout rule).
pub const FLOOR: f64 = 1.2;
/// Room around a head so that it enters its pocket, on the diameter.
pub const HEAD_ROOM: f64 = 0.4;

/// What a screw holds on to.
#[derive(Clone, Debug, PartialEq)]
pub enum Anchor {
    /// A heat-set insert in a printed part.
    Insert(Insert),
    /// A thread in a bought part.
    Thread,
    /// Something that isn't part of the actuator: the machine, the link.
    Outside(Insert),
}

/// A bolted joint, dimensioned.
#[derive(Clone, Debug)]
pub struct Bolting {
    pub joint: Joint,
    pub thread: Thread,
    pub head: ScrewStandard,
    /// Nominal length as bought.
    pub length: f64,
    pub count: u32,
    /// Circle diameter; 0 on the axis.
    pub circle: f64,
    pub first_angle: f64,
    /// From under the head (countersunk: from its top) to where the anchor begins.
    pub grip: f64,
    /// Clearance hole through the clamped parts.
    pub clearance: f64,
    pub head_diameter: f64,
    pub head_height: f64,
    pub anchor: Anchor,
}

/// How often in a turn two rings of evenly spaced screws together come to lie on themselves: the greatest common divisor.
pub fn alike(one: u32, other: u32) -> u32 {
    if other == 0 { one } else { alike(other, one % other) }
}

impl Bolting {
    pub fn angles(&self) -> impl Iterator<Item = f64> + '_ {
        let step = TAU / f64::from(self.count.max(1));
        (0..self.count).map(move |k| self.first_angle + step * f64::from(k))
    }

    pub fn radius(&self) -> f64 {
        self.circle / 2.0
    }

    /// How far the screw stands into its anchor.
    pub fn reach(&self) -> f64 {
        self.length - self.grip
    }

    /// Thread in the anchor that carries.
    pub fn engagement(&self) -> f64 {
        match &self.anchor {
            Anchor::Insert(insert) | Anchor::Outside(insert) => self.reach().min(insert.length),
            Anchor::Thread => self.reach(),
        }
    }

    /// Thread the anchor offers: what a screw should reach.
    pub fn engagement_wanted(&self) -> f64 {
        match &self.anchor {
            Anchor::Insert(insert) | Anchor::Outside(insert) => insert.length,
            Anchor::Thread => self.thread.nominal(),
        }
    }

    /// Depth of the blind hole that takes insert and screw tip.
    pub fn hole_depth(&self) -> f64 {
        match &self.anchor {
            Anchor::Insert(insert) => (self.reach() + TIP_ROOM).max(insert.length + TIP_ROOM),
            Anchor::Outside(insert) => insert.length + TIP_ROOM,
            Anchor::Thread => self.reach(),
        }
    }

    /// Diameter of the hole that takes the insert; the thread itself in bought parts.
    pub fn hole_diameter(&self) -> f64 {
        match &self.anchor {
            Anchor::Insert(insert) | Anchor::Outside(insert) => insert.hole,
            Anchor::Thread => self.thread.nominal(),
        }
    }

    /// Pocket or countersink for the head, on the diameter.
    pub fn head_pocket(&self) -> f64 {
        match self.head {
            ScrewStandard::Countersunk => self.head_diameter,
            ScrewStandard::Cap | ScrewStandard::Button => self.head_diameter + HEAD_ROOM,
        }
    }
}

/// Clearance hole of the design's printer: ISO 273 medium plus the printer's allowance.
pub fn clearance(design: &Design, thread: Thread) -> f64 {
    thread.clearance_hole(HoleSeries::Medium) + design.printer.clearance_hole
}

/// The usual insert of a thread.
pub fn insert(thread: Thread) -> Insert {
    *usual_insert(thread)
}

/// The short insert of a thread, or the only one.
pub fn short_insert(thread: Thread) -> Insert {
    *insert_of(thread, InsertForm::Short).unwrap_or_else(|| usual_insert(thread))
}

/// What the design forces on a joint.
pub fn forced(design: &Design, joint: Joint) -> ForcedJoint {
    design.fasteners.get(&joint).cloned().unwrap_or_default()
}

/// Head diameter (largest a maker may deliver) and height. Where a standard has no such size (button heads under M3),
/// the cap head's, which is taller and so never too small a pocket.
pub fn head(head: ScrewStandard, thread: Thread) -> (f64, f64) {
    let found = screw_head(head, thread).unwrap_or_else(|| cap_head(thread));
    (found.diameter_most, found.height)
}

/// The longest screw that is at most this long, if one is sold.
pub fn longest_length_within(kind: ScrewStandard, thread: Thread, at_most: f64) -> Option<f64> {
    screw_lengths(kind, thread).filter(|&length| length <= at_most + ROUNDING).last()
}

/// The shortest screw one can buy that reaches `grip + engagement`, honouring a forced length.
pub fn length(
    design: &Design,
    joint: Joint,
    kind: ScrewStandard,
    thread: Thread,
    at_least: f64,
) -> Option<f64> {
    forced(design, joint).length.or_else(|| next_length(kind, thread, at_least - ROUNDING))
}
