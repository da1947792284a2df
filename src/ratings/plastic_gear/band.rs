//! An estimate: its value and the ends it plausibly lies between.

/// `low <= value <= high`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    pub value: f64,
    pub low: f64,
    pub high: f64,
}

impl Band {
    pub const ZERO: Band = Band::exactly(0.0);
    pub const ONE: Band = Band::exactly(1.0);

    pub const fn exactly(value: f64) -> Band {
        Band { value, low: value, high: value }
    }

    /// Each end by itself: the worst of both together, not a statistical sum. For bands that aren't negative.
    pub fn times(self, other: Band) -> Band {
        Band { value: self.value * other.value, low: self.low * other.low, high: self.high * other.high }
    }

    /// `factor` of 0 and more.
    pub fn scaled(self, factor: f64) -> Band {
        self.times(Band::exactly(factor))
    }

    pub fn plus(self, other: Band) -> Band {
        Band { value: self.value + other.value, low: self.low + other.low, high: self.high + other.high }
    }
}
