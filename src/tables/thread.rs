//! Metric coarse threads.

use std::f64::consts::PI;
use std::fmt;

/// A metric coarse thread that the tool uses.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thread {
    M2,
    M2_5,
    M3,
    M4,
    M5,
    M6,
}

/// Clearance hole series of ISO 273.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleSeries {
    /// H12
    Fine,
    /// H13
    Medium,
    /// H14
    Coarse,
}

/// Property class of ISO 898-1.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PropertyClass {
    #[default]
    C8_8,
    C10_9,
    C12_9,
}

impl PropertyClass {
    /// Stress under proof load \[MPa\], ISO 898-1 for sizes to M16.
    pub fn proof_stress(self) -> f64 {
        match self {
            PropertyClass::C8_8 => 580.0,
            PropertyClass::C10_9 => 830.0,
            PropertyClass::C12_9 => 970.0,
        }
    }

    /// Least yield stress Rp0.2 \[MPa\], ISO 898-1 for sizes to M16 (from memory).
    pub fn yield_stress(self) -> f64 {
        match self {
            PropertyClass::C8_8 => 640.0,
            PropertyClass::C10_9 => 940.0,
            PropertyClass::C12_9 => 1100.0,
        }
    }

    /// Least tensile strength Rm \[MPa\], ISO 898-1 for sizes to M16.
    pub fn tensile_strength(self) -> f64 {
        match self {
            PropertyClass::C8_8 => 800.0,
            PropertyClass::C10_9 => 1040.0,
            PropertyClass::C12_9 => 1220.0,
        }
    }

    /// As stamped on a head.
    pub fn as_str(self) -> &'static str {
        match self {
            PropertyClass::C8_8 => "8.8",
            PropertyClass::C10_9 => "10.9",
            PropertyClass::C12_9 => "12.9",
        }
    }
}

impl Thread {
    pub const ALL: [Thread; 6] = [Thread::M2, Thread::M2_5, Thread::M3, Thread::M4, Thread::M5, Thread::M6];

    /// Reads "M2.5", in either case, with or without a coarse pitch ("M3x0.5").
    ///
    /// None for another size or a pitch that is not the coarse one.
    pub fn parse(text: &str) -> Option<Thread> {
        let upper = text.trim().to_ascii_uppercase();
        let size = upper.strip_prefix('M')?;
        let (diameter, pitch) = match size.split_once('X') {
            Some((diameter, pitch)) => (diameter, Some(pitch.trim().parse::<f64>().ok()?)),
            None => (size, None),
        };
        let diameter: f64 = diameter.trim().parse().ok()?;
        let thread = Thread::ALL.into_iter().find(|thread| thread.nominal() == diameter)?;
        pitch.is_none_or(|pitch| pitch == thread.pitch()).then_some(thread)
    }

    /// Nominal diameter d.
    pub fn nominal(self) -> f64 {
        match self {
            Thread::M2 => 2.0,
            Thread::M2_5 => 2.5,
            Thread::M3 => 3.0,
            Thread::M4 => 4.0,
            Thread::M5 => 5.0,
            Thread::M6 => 6.0,
        }
    }

    /// Coarse pitch P (ISO 261; read beside the ISO 4762 table of the University of Stavanger).
    pub fn pitch(self) -> f64 {
        match self {
            Thread::M2 => 0.4,
            Thread::M2_5 => 0.45,
            Thread::M3 => 0.5,
            Thread::M4 => 0.7,
            Thread::M5 => 0.8,
            Thread::M6 => 1.0,
        }
    }

    /// Pitch diameter d2 = d - 0.6495 P (ISO 724).
    pub fn pitch_diameter(self) -> f64 {
        self.nominal() - 0.6495 * self.pitch()
    }

    /// Stress area As = pi/4 (d - 0.9382 P)^2 \[mm2\] (ISO 898-1).
    pub fn stress_area(self) -> f64 {
        let diameter = self.nominal() - 0.9382 * self.pitch();
        PI / 4.0 * diameter * diameter
    }

    /// Proof load \[N\]: stress area times proof stress (ISO 898-1).
    pub fn proof_load(self, class: PropertyClass) -> f64 {
        self.stress_area() * class.proof_stress()
    }

    /// Clearance hole (ISO 273; read at engineeringhardware.com).
    pub fn clearance_hole(self, series: HoleSeries) -> f64 {
        let [fine, medium, coarse] = match self {
            Thread::M2 => [2.2, 2.4, 2.6],
            Thread::M2_5 => [2.7, 2.9, 3.1],
            Thread::M3 => [3.2, 3.4, 3.6],
            Thread::M4 => [4.3, 4.5, 4.8],
            Thread::M5 => [5.3, 5.5, 5.8],
            Thread::M6 => [6.4, 6.6, 7.0],
        };
        match series {
            HoleSeries::Fine => fine,
            HoleSeries::Medium => medium,
            HoleSeries::Coarse => coarse,
        }
    }
}

impl fmt::Display for Thread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "M{}", self.nominal())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_read_back() {
        for thread in Thread::ALL {
            assert_eq!(Thread::parse(&thread.to_string()), Some(thread));
        }
        assert_eq!(Thread::parse(" m2.5 "), Some(Thread::M2_5));
        assert_eq!(Thread::parse("M3x0.5"), Some(Thread::M3));
        for text in ["M3x0.35", "M3.5", "3", "M", "", "Mx", "M-3", "MNaN"] {
            assert_eq!(Thread::parse(text), None, "{text}");
        }
    }
}
