//! Screws, inserts and their holes as a joint of the layout sees them.

use std::f64::consts::TAU;

use crate::design::{Design, ForcedJoint, Joint};
use crate::tables::{
    Head, HoleSeries, Insert, InsertLength, Thread, head_dimensions, heat_set_insert, next_length,
};

/// Room beyond a screw's tip in a blind hole.
pub const TIP_ROOM: f64 = 0.5;
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
    pub head: Head,
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
            Head::Countersunk => self.head_diameter,
            Head::Cap | Head::Button => self.head_diameter + HEAD_ROOM,
        }
    }
}

/// Clearance hole of the design's printer: ISO 273 medium plus the printer's allowance.
pub fn clearance(design: &Design, thread: Thread) -> f64 {
    thread.clearance_hole(HoleSeries::Medium) + design.printer.clearance_hole
}

/// Boss wall around an insert (practice: max of 2 mm and half the insert hole).
pub fn boss_wall(insert: &Insert) -> f64 {
    f64::max(2.0, insert.hole / 2.0)
}

/// The long insert of a thread, or the only one.
pub fn insert(thread: Thread) -> Insert {
    heat_set_insert(thread, InsertLength::Long)
}

/// The short insert of a thread, or the only one.
pub fn short_insert(thread: Thread) -> Insert {
    heat_set_insert(thread, InsertLength::Short)
}

/// What the design forces on a joint.
pub fn forced(design: &Design, joint: Joint) -> ForcedJoint {
    design.fasteners.get(&joint).cloned().unwrap_or_default()
}

/// Head diameter (largest a maker may deliver) and height.
pub fn head(head: Head, thread: Thread) -> (f64, f64) {
    let dimensions = head_dimensions(head, thread);
    (dimensions.diameter_max, dimensions.height)
}

/// The shortest screw one can buy that reaches `grip + engagement`, honouring a forced length.
pub fn length(design: &Design, joint: Joint, kind: Head, thread: Thread, at_least: f64) -> Option<f64> {
    forced(design, joint).length.or_else(|| next_length(kind, thread, at_least))
}
