//! A metric ISO thread by diameter and pitch (ISO 724, ISO 898-1), of any size.

use std::f64::consts::PI;

use crate::tables::Thread;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MetricThread {
    /// d
    pub nominal: f64,
    /// P
    pub pitch: f64,
}

impl From<Thread> for MetricThread {
    fn from(thread: Thread) -> MetricThread {
        MetricThread { nominal: thread.nominal(), pitch: thread.pitch() }
    }
}

impl MetricThread {
    /// d2 = d - 0.6495 P (ISO 724).
    pub fn pitch_diameter(&self) -> f64 {
        self.nominal - 0.6495 * self.pitch
    }

    /// Of the internal thread, D1 = d - 1.0825 P (ISO 724).
    pub fn minor_diameter(&self) -> f64 {
        self.nominal - 1.0825 * self.pitch
    }

    /// Of the screw's core, d3 = d - 1.2269 P (ISO 724).
    pub fn core_diameter(&self) -> f64 {
        self.nominal - 1.2269 * self.pitch
    }

    /// Diameter of the stress area, d - 0.9382 P (ISO 898-1).
    pub fn stress_diameter(&self) -> f64 {
        self.nominal - 0.9382 * self.pitch
    }

    /// As \[mm2\] (ISO 898-1).
    pub fn stress_area(&self) -> f64 {
        PI / 4.0 * self.stress_diameter() * self.stress_diameter()
    }
}
