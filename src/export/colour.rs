//! Colours: of printed parts so that what turns together looks alike, one hue a turning group, a shade a part; of bought ones as
//! they are.

use crate::design::PartName;

/// Red, green, blue as on a screen (sRGB), 0 to 1.
pub fn colour(part: PartName) -> [f64; 3] {
    match part {
        // Fixed: slate.
        PartName::RingHousing => [0.45, 0.52, 0.59],
        PartName::VentedBase => [0.36, 0.43, 0.50],
        PartName::StatorMount => [0.54, 0.61, 0.67],
        PartName::BearingKeeper => [0.61, 0.67, 0.73],
        PartName::RingInsert => [0.67, 0.73, 0.78],
        PartName::RingInsertBack => [0.72, 0.78, 0.83],
        PartName::OuterSpacer => [0.78, 0.83, 0.87],
        // With the rotor: brick.
        PartName::RotorAdapter => [0.72, 0.31, 0.22],
        PartName::Sun => [0.80, 0.40, 0.28],
        PartName::MagnetCup => [0.61, 0.25, 0.19],
        // Planets: straw.
        PartName::Planet => [0.89, 0.74, 0.36],
        // With the carrier: leaf.
        PartName::OutputCarrier => [0.38, 0.58, 0.40],
        PartName::CarrierBackPlate => [0.47, 0.66, 0.46],
        PartName::OutputClampRing => [0.30, 0.50, 0.34],
        PartName::PlanetWasher => [0.63, 0.76, 0.58],
        PartName::PlanetSleeve => [0.55, 0.70, 0.52],
        PartName::InnerSpacer => [0.71, 0.82, 0.67],
    }
}

/// Red, green, blue as on a screen (sRGB), 0 to 1, of a substance.
pub fn substance_colour(name: &str) -> [f64; 3] {
    match name {
        "painted steel" => [0.31, 0.33, 0.36],
        "aluminium" => [0.86, 0.87, 0.88],
        "brass" => [0.82, 0.69, 0.41],
        "nickel" => [0.80, 0.78, 0.73],
        "circuit board" => [0.11, 0.38, 0.35],
        _ => [0.76, 0.77, 0.78],
    }
}
