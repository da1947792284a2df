//! What sits in what: the class of ISO 286 that a metal part would have.
//!
//! Classes by which ring turns under the load (makers' catalogues, from memory): a ring that the load goes round wants a tight fit,
//! k6 on a shaft, N7 in a housing, one that the load stands still on a sliding one, H7 in a housing, h6 on a shaft. The load is taken to
//! hang: one that turns with the output reverses the two.

use crate::layout::{Actuator, PlanetSeat};
use crate::tables::fit::{Class, Letter};

/// The class of each seat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct FitClasses {
    /// Output bearing in the ring housing.
    pub housing: Class,
    /// Hub in the output bearing.
    pub hub: Class,
    /// Planet pins, pressed into the carrier; the back plate slips over them.
    pub carrier_pins: Class,
    pub back_plate_pins: Class,
    /// Planet bearing or bush in the planet.
    pub planet: Class,
    /// Magnet cup on the motor's shaft.
    pub cup: Class,
}

impl FitClasses {
    pub fn of(actuator: &Actuator) -> FitClasses {
        let swings = actuator.design.load.oscillation.is_some();
        FitClasses {
            housing: Class::Hole(7),
            hub: Class::Shaft(if swings { Letter::H } else { Letter::K }, 6),
            carrier_pins: Class::Hole(7),
            back_plate_pins: Class::Hole(8),
            planet: match actuator.planet.turns_on {
                PlanetSeat::Bearings { .. } => Class::HoleN(7),
                PlanetSeat::Bush(_) => Class::Hole(7),
            },
            cup: Class::Hole(8),
        }
    }
}
