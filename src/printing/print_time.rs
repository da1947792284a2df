//! Time and filament of a print, layer by layer: `t = A h / Q` with `Q = min(v w h, Qmax)`, no layer faster than it cools.
//!
//! A plastic of the layer per height, h layer height, w line width, v mean speed, Qmax what the hot end melts. Travel, seams and
//! slow corners are [`OVERHEAD`]; a stated estimate, band 0.7 to 1.5 of the value. Not covered: heating up, purging.

use crate::design::{PartSettings, Printer};
use crate::parts::PrintMass;

/// Travel, acceleration, retraction (common practice, no source).
pub const OVERHEAD: f64 = 1.25;
/// Band of the time.
pub const BAND: [f64; 2] = [0.7, 1.5];

/// One print of a part.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PrintTime {
    /// \[s\]
    pub time: f64,
    pub layers: u32,
    /// Quickest layer before it is slowed down \[s\].
    pub quickest_layer: f64,
    /// How many layers are slowed to let them cool.
    pub slowed_layers: u32,
    /// Filament \[mm\].
    pub filament: f64,
    /// Price of its filament, if the printer's section says.
    pub cost: Option<f64>,
}

/// Plastic a second while lines are laid \[mm3/s\].
pub fn flow(printer: &Printer, layer_height: f64) -> f64 {
    f64::min(printer.speed * printer.line_width * layer_height, printer.flow_limit)
}

/// Time and filament of one print.
pub fn print_time(mass: &PrintMass, settings: &PartSettings, printer: &Printer) -> PrintTime {
    let height = settings.layer_height;
    let flow = flow(printer, height);
    let (mut time, mut layers, mut slowed, mut quickest) = (0.0, 0, 0, f64::INFINITY);
    for band in &mass.bands {
        // Bands are cut where sections change, layers are not: a part of a layer counts as one where it begins.
        let count = ((band.z[1] / height - 1e-6).ceil() - (band.z[0] / height - 1e-6).ceil()).max(0.0);
        let one = band.area * height / flow * OVERHEAD;
        if count == 0.0 || one <= 0.0 {
            continue;
        }
        quickest = f64::min(quickest, one);
        if one < printer.least_layer_time {
            slowed += count as u32;
        }
        layers += count as u32;
        time += count * f64::max(one, printer.least_layer_time);
    }
    let across = printer.filament_diameter / 2.0;
    let price = printer.filament_cost.iter().find(|(name, _)| *name == settings.material.name);
    PrintTime {
        time,
        layers,
        quickest_layer: if quickest.is_finite() { quickest } else { 0.0 },
        slowed_layers: slowed,
        filament: mass.plastic / (std::f64::consts::PI * across * across),
        cost: price.map(|(_, per_kg)| per_kg * mass.mass),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::Band;

    fn printer() -> Printer {
        Printer {
            speed: 50.0,
            line_width: 0.4,
            flow_limit: 10.0,
            least_layer_time: 8.0,
            filament_diameter: 1.75,
            ..Printer::default()
        }
    }

    /// By hand: 10 x 10 mm2, 2 mm high in ten layers: 20 mm3 a layer at 50 x 0.4 x 0.2 = 4 mm3/s, 1.25 for travel: 6.25 s,
    /// slowed to 8 s; 200 mm3 of plastic on 2.4053 mm2 of filament are 83.15 mm.
    #[test]
    fn a_block() {
        let mass =
            PrintMass { mass: 0.2e-3, plastic: 200.0, bands: vec![Band { z: [0.0, 2.0], area: 100.0 }] };
        let settings = PartSettings { layer_height: 0.2, ..PartSettings::default() };
        let found = print_time(&mass, &settings, &printer());
        assert_eq!((found.layers, found.slowed_layers), (10, 10));
        assert!((found.time - 80.0).abs() < 1e-9 && (found.quickest_layer - 6.25).abs() < 1e-9, "{found:?}");
        assert!((found.filament - 83.15).abs() < 0.01);
        assert_eq!(found.cost, None);
    }
}
