//! Why a design can't be built: the numbers that clash and what would resolve it.

use std::fmt;

use crate::words::Words;

/// One condition of the layout that doesn't hold.
#[derive(Clone, Debug, PartialEq)]
pub struct Fault {
    /// Stable name of the condition, as `explain` knows it.
    pub id: &'static str,
    pub message: Words,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.message)
    }
}

/// Collects every fault, so that a design learns all of them at once.
#[derive(Debug, Default)]
pub struct Faults(pub Vec<Fault>);

impl Faults {
    pub fn push(&mut self, id: &'static str, message: impl Into<Words>) {
        self.0.push(Fault { id, message: message.into() });
    }

    /// Notes a fault unless `holds`.
    pub fn require<W: Into<Words>>(&mut self, holds: bool, id: &'static str, message: impl FnOnce() -> W) {
        if !holds {
            self.push(id, message());
        }
    }
}

/// Least in hand on every condition of the layout: covers the table rows' rounding and one print's scatter
/// (common practice, no source).
pub const IN_HAND: f64 = 0.3;
