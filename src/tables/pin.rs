//! Hardened dowel pins, ISO 8734.

use std::f64::consts::PI;

use super::screw::STEEL;

/// A dowel pin of one diameter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pin {
    pub diameter: f64,
    /// Tolerance m6 above nominal, least and most \[mm\].
    pub over_nominal: (f64, f64),
    /// Shortest and longest length of the standard's table.
    pub lengths: (f64, f64),
    /// Double shear strength \[N\], where read.
    pub double_shear: Option<f64>,
    pub source: &'static str,
    pub from_memory: bool,
}

const SHEAR_READ: &str =
    "m6: DIN 7 page at nutbolt.org, read; double shear: ASME B18.8.5M, read; lengths of ISO 8734 from memory";
const NO_SHEAR: &str = "m6: DIN 7 page at nutbolt.org, read; lengths of ISO 8734 from memory";

const fn pin(diameter: f64, over_nominal: (f64, f64), lengths: (f64, f64), double_shear: Option<f64>) -> Pin {
    let source = if double_shear.is_some() { SHEAR_READ } else { NO_SHEAR };
    Pin { diameter, over_nominal, lengths, double_shear, source, from_memory: true }
}

/// Tolerance m6 by range "over ... up to and including" 3, 6, 10 mm.
const M6_TO_3: (f64, f64) = (0.002, 0.008);
const M6_TO_6: (f64, f64) = (0.004, 0.012);
const M6_TO_10: (f64, f64) = (0.006, 0.015);

const PINS: [Pin; 8] = [
    pin(2.0, M6_TO_3, (5.0, 20.0), None),
    pin(2.5, M6_TO_3, (6.0, 24.0), None),
    pin(3.0, M6_TO_3, (8.0, 30.0), Some(14_800.0)),
    pin(4.0, M6_TO_6, (10.0, 40.0), Some(26_400.0)),
    pin(5.0, M6_TO_6, (12.0, 50.0), Some(41_200.0)),
    pin(6.0, M6_TO_6, (14.0, 60.0), Some(59_400.0)),
    pin(8.0, M6_TO_10, (18.0, 80.0), Some(105_000.0)),
    pin(10.0, M6_TO_10, (22.0, 100.0), Some(165_000.0)),
];

/// Lengths of ISO 8734 up to 65. From memory.
const LENGTHS: [f64; 22] = [
    5.0, 6.0, 8.0, 10.0, 12.0, 14.0, 16.0, 18.0, 20.0, 22.0, 24.0, 26.0, 28.0, 30.0, 32.0, 35.0, 40.0, 45.0,
    50.0, 55.0, 60.0, 65.0,
];

/// All pins, thinnest first.
pub fn pins() -> &'static [Pin] {
    &PINS
}

/// The pin of a nominal diameter.
pub fn pin_of(diameter: f64) -> Option<&'static Pin> {
    PINS.iter().find(|pin| pin.diameter == diameter)
}

impl Pin {
    /// Lengths one can buy, shortest first.
    pub fn standard_lengths(&self) -> impl Iterator<Item = f64> {
        let (least, most) = self.lengths;
        LENGTHS.into_iter().filter(move |length| (least..=most).contains(length))
    }

    /// The shortest standard length that is at least `at_least`.
    pub fn next_length(&self, at_least: f64) -> Option<f64> {
        // A wanted length is a sum of stack heights: its rounding must not cost a whole step.
        const ROUNDING: f64 = 1e-9;
        self.standard_lengths().find(|length| *length >= at_least - ROUNDING)
    }

    /// Mass \[kg\] of a plain cylinder, steel of 7.85 g/cm3.
    pub fn mass(&self, length: f64) -> f64 {
        PI / 4.0 * self.diameter * self.diameter * length * STEEL
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_length_is_in_the_table_of_the_diameter() {
        let pin = pin_of(6.0).expect("a diameter of the standard");
        assert_eq!(pin.next_length(18.3), Some(20.0));
        assert_eq!(pin.next_length(2.0), Some(14.0));
        assert_eq!(pin.next_length(60.1), None);
        assert_eq!(pin_of(7.0), None);
    }

    #[test]
    fn the_printed_shear_strengths_are_of_one_steel() {
        // ASME B18.8.5M: all sizes at about 1047 N/mm2 on two areas.
        for (pin, shear) in PINS.iter().filter_map(|pin| Some((pin, pin.double_shear?))) {
            let stress = shear / (2.0 * PI / 4.0 * pin.diameter * pin.diameter);
            assert!((stress / 1047.0 - 1.0).abs() < 0.01, "{}: {stress}", pin.diameter);
        }
    }
}
