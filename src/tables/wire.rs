//! Stranded copper leads with silicone insulation, by American wire gauge.
//!
//! Copper: the gauge's definition (ASTM B258), `d = 0.127 mm 92^((36 - n) / 39)`, taken for the strands together. Outsides of
//! silicone leads differ by maker; from memory.

use std::f64::consts::PI;

/// One lead.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wire {
    pub gauge: u32,
    /// Over the insulation \[mm\]. From memory.
    pub outside: f64,
}

const WIRES: [Wire; 8] = [
    Wire { gauge: 26, outside: 1.3 },
    Wire { gauge: 24, outside: 1.6 },
    Wire { gauge: 22, outside: 1.7 },
    Wire { gauge: 20, outside: 1.8 },
    Wire { gauge: 18, outside: 2.3 },
    Wire { gauge: 16, outside: 3.0 },
    Wire { gauge: 14, outside: 3.5 },
    Wire { gauge: 12, outside: 4.5 },
];

/// The table, thinnest first.
pub fn wires() -> &'static [Wire] {
    &WIRES
}

impl Wire {
    /// Copper section \[mm2\].
    pub fn copper(&self) -> f64 {
        let diameter = 0.127 * libm::pow(92.0, (36.0 - f64::from(self.gauge)) / 39.0);
        PI / 4.0 * diameter * diameter
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// ASTM B258, as every table prints it: AWG 18 has 0.823 mm2, AWG 12 3.31, AWG 24 0.205.
    #[test]
    fn sections_of_the_gauge() {
        for (gauge, section) in [(18, 0.823), (12, 3.31), (24, 0.205)] {
            let wire = wires().iter().find(|wire| wire.gauge == gauge).expect("in the table");
            assert!((wire.copper() / section - 1.0).abs() < 2e-3, "{gauge}: {}", wire.copper());
        }
    }
}
