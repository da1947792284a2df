//! Plain washers, ISO 7089.

use std::f64::consts::PI;

use super::Thread;
use super::screw::STEEL;

/// A plain washer of normal series.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Washer {
    pub thread: Thread,
    pub bore: f64,
    pub outer: f64,
    pub thickness: f64,
    pub source: &'static str,
    pub from_memory: bool,
}

const READ: &str = "ISO 7089, read at engineeringhardware.com";
const RECALLED: &str = "ISO 7089, from memory";

const fn washer(
    thread: Thread,
    [bore, outer, thickness]: [f64; 3],
    (source, from_memory): (&'static str, bool),
) -> Washer {
    Washer { thread, bore, outer, thickness, source, from_memory }
}

const WASHERS: [Washer; 6] = [
    washer(Thread::M2, [2.2, 5.0, 0.3], (RECALLED, true)),
    washer(Thread::M2_5, [2.7, 6.0, 0.5], (RECALLED, true)),
    washer(Thread::M3, [3.2, 7.0, 0.5], (READ, false)),
    washer(Thread::M4, [4.3, 9.0, 0.8], (READ, false)),
    washer(Thread::M5, [5.3, 10.0, 1.0], (READ, false)),
    washer(Thread::M6, [6.4, 12.0, 1.6], (READ, false)),
];

/// All washers, smallest first.
pub fn washers() -> &'static [Washer] {
    &WASHERS
}

/// The washer of a thread; every thread of [`Thread`] has one.
pub fn washer_of(thread: Thread) -> Option<&'static Washer> {
    WASHERS.iter().find(|washer| washer.thread == thread)
}

impl Washer {
    /// Mass \[kg\] from the nominal volume, steel of 7.85 g/cm3.
    pub fn mass(&self) -> f64 {
        PI / 4.0 * (self.outer * self.outer - self.bore * self.bore) * self.thickness * STEEL
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_thread_has_a_washer_that_passes_it() {
        for thread in Thread::ALL {
            let washer = washer_of(thread).expect("one row a thread");
            assert!(washer.bore > thread.nominal() && washer.mass() > 0.0);
        }
    }
}
