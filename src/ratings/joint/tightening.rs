//! Preload and tightening torque of a screw in a printed joint: the least of what screw, plastic under the head, insert and
//! thread bear.
//!
//! Half of an insert's pull-out and torque-out and half of a thread's strip load stay in hand. Where the clamped part lies on
//! the insert and its hole is smaller than the knurl, the insert's rim bears on that part and takes its share of the preload
//! past the plastic around the knurl. Not covered: tightening scatter (a factor of 1.6 with a torque wrench, VDI 2230), heat while the
//! insert goes in.

use super::head_pressure::{once, ring_area};
use super::insert_hold::{pull_out, torque_out};
use super::metric_thread::MetricThread;
use super::screw_torque::{Edition, FRICTION, YIELD_SHARE, assembly_preload, thread_arm, torque_arm};
use super::thread_strip::{BRASS, strip_load};

/// Share of an insert's or a thread's strength that tightening may use.
const IN_HAND: f64 = 0.5;

/// Yield stress of insert brass, CuZn39Pb3 half hard \[MPa\] (from memory: 200 to 300).
const BRASS_YIELD: f64 = 200.0;

/// What sets the preload.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Governs {
    Screw,
    Head,
    InsertPull,
    InsertRim,
    InsertTurn,
    Thread,
}

impl Governs {
    pub fn words(self) -> &'static str {
        match self {
            Governs::Screw => "screw's yield",
            Governs::Head => "plastic under the head",
            Governs::InsertPull => "insert's pull-out",
            Governs::InsertRim => "insert's rim",
            Governs::InsertTurn => "insert's torque-out",
            Governs::Thread => "thread stripping",
        }
    }
}

/// Ring under a head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadSeat {
    pub outer: f64,
    /// Clearance hole.
    pub hole: f64,
    /// A 90 degree countersunk head, which wedges.
    pub cone: bool,
    /// Tensile strength in the plane of the plastic it bears on; none on metal.
    pub plastic: Option<f64>,
}

/// What the rim of an insert meets.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Rim {
    /// A gap, or a part whose hole nobody knows.
    Nothing,
    /// Plastic of this tensile strength with a hole of this diameter.
    Plastic { strength: f64, hole: f64 },
    /// Metal with a hole of this diameter.
    Metal { hole: f64 },
}

/// What holds the thread.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Nut {
    Insert {
        outside: f64,
        length: f64,
        strength_across: f64,
        strength_in_plane: f64,
        rim: Rim,
    },
    /// A thread in metal of this tensile strength.
    Metal {
        strength: f64,
    },
}

/// A screw and what it bears on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScrewInJoint {
    pub thread: MetricThread,
    /// Of the screw \[MPa\].
    pub yield_stress: f64,
    pub tensile_strength: f64,
    pub engagement: f64,
    pub head: HeadSeat,
    pub nut: Nut,
}

/// The answer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tightening {
    /// \[N\]
    pub preload: f64,
    /// \[N mm\]
    pub torque: f64,
    pub governs: Governs,
    /// Load that strips the engaged thread \[N\].
    pub strip_load: f64,
}

impl HeadSeat {
    /// Mean diameter on which the head rubs; a cone's normal force is larger by the sine of 45 degrees.
    fn friction_diameter(&self) -> f64 {
        let mean = (self.outer + self.hole) / 2.0;
        if self.cone { mean * std::f64::consts::SQRT_2 } else { mean }
    }
}

impl ScrewInJoint {
    /// Preload and torque; `None` if nothing of the thread is engaged or a size is no number.
    pub fn tighten(&self) -> Option<Tightening> {
        let limits = self.limits();
        let (governs, preload) =
            limits.into_iter().flatten().fold(None, |least: Option<(Governs, f64)>, next| match least {
                Some(found) if found.1 <= next.1 => Some(found),
                _ => Some(next),
            })?;
        (preload.is_finite() && preload > 0.0).then(|| Tightening {
            preload,
            torque: preload * torque_arm(&self.thread, FRICTION, FRICTION, self.head.friction_diameter()),
            governs,
            strip_load: self.strip_load(),
        })
    }

    /// Preload that each limit allows \[N\]; none where a limit doesn't exist.
    pub fn limits(&self) -> [Option<(Governs, f64)>; 5] {
        let screw = assembly_preload(&self.thread, self.yield_stress, YIELD_SHARE, FRICTION, Edition::Of2015);
        let [pull, turn] = match &self.nut {
            Nut::Insert { .. } => [self.by_pull(), self.by_turn()],
            Nut::Metal { .. } => [None, None],
        };
        [
            Some((Governs::Screw, screw)),
            self.by_head().map(|load| (Governs::Head, load)),
            pull,
            turn,
            Some((Governs::Thread, IN_HAND * self.strip_load())),
        ]
    }

    /// What the plastic under the head bears; none on metal.
    pub fn by_head(&self) -> Option<f64> {
        self.head.plastic.map(|strength| once(strength) * ring_area(self.head.outer, self.head.hole))
    }

    fn by_pull(&self) -> Option<(Governs, f64)> {
        let Nut::Insert { outside, rim, .. } = self.nut else { return None };
        let by_knurl = IN_HAND * self.pull_out()?;
        match rim {
            Rim::Nothing => Some((Governs::InsertPull, by_knurl)),
            Rim::Plastic { strength, hole } => {
                Some((Governs::InsertPull, by_knurl + once(strength) * ring_area(outside, hole)))
            }
            // Between metals nothing pulls on the plastic; the insert's own end must not yield.
            Rim::Metal { hole } => Some((Governs::InsertRim, BRASS_YIELD * ring_area(outside, hole))),
        }
    }

    fn by_turn(&self) -> Option<(Governs, f64)> {
        let Nut::Insert { outside, length, strength_in_plane, .. } = self.nut else { return None };
        let torque = IN_HAND * torque_out(outside, length, strength_in_plane);
        Some((Governs::InsertTurn, torque / thread_arm(&self.thread, FRICTION)))
    }

    /// Pull-out of the insert \[N\]; none in metal.
    pub fn pull_out(&self) -> Option<f64> {
        match self.nut {
            Nut::Insert { outside, length, strength_across, .. } => {
                Some(pull_out(outside, length, strength_across))
            }
            Nut::Metal { .. } => None,
        }
    }

    /// \[N\]
    pub fn strip_load(&self) -> f64 {
        let nut = match self.nut {
            Nut::Insert { .. } => BRASS,
            Nut::Metal { strength } => strength,
        };
        strip_load(&self.thread, self.engagement, nut, self.tensile_strength)
    }
}
