//! Which balls or pins a gear is measured over, and what the measure is.

use crate::gears::{Gear, GearKind, over_pins, usual_pin};

/// Two balls (pins of a spur gear) in opposite tooth spaces.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BallMeasure {
    pub ball: f64,
    /// Over the balls, of a ring between them.
    pub measure: f64,
    /// Where the balls touch the flanks.
    pub contact_diameter: f64,
}

/// Other sizes in modules, tried when the usual one touches off the flank or stands below the tips.
const OTHER_SIZES: [f64; 6] = [1.68, 1.9, 2.0, 2.1, 1.6, 1.5];

impl BallMeasure {
    /// With the usual ball if that can be used, else with the first other that can.
    pub fn of(gear: &Gear) -> Option<BallMeasure> {
        let others = OTHER_SIZES.map(|size| size * gear.normal_module);
        std::iter::once(usual_pin(gear)).chain(others).find_map(|ball| BallMeasure::over(gear, ball))
    }

    /// None if the ball touches off the involute, or the tips keep the anvils from it.
    pub fn over(gear: &Gear, ball: f64) -> Option<BallMeasure> {
        let outwards = match gear.kind {
            GearKind::External => 1.0,
            GearKind::Internal => -1.0,
        };
        let measure = over_pins(gear, ball)?;
        // Two balls of an odd gear are not quite opposite.
        let half_pitch = 0.25 * gear.pitch_angle();
        let between_odd = if gear.teeth % 2 == 1 { libm::cos(half_pitch) } else { 1.0 };
        let centres = (measure - outwards * ball) / between_odd;
        // The ball's radius to the contact lies in the base tangent plane, square to the flank's line in it.
        let across = 0.5 * ball * libm::cos(gear.base_helix_angle);
        let contact = gear.along_tangent(centres) - outwards * across;
        if contact <= 0.0 {
            return None;
        }
        let contact_diameter = 2.0 * gear.radius_at(contact);
        let [inner, outer] = match gear.kind {
            GearKind::External => [gear.form_diameter, gear.tip_diameter],
            GearKind::Internal => [gear.tip_diameter, gear.form_diameter],
        };
        let stands_out = outwards * (centres + outwards * ball - gear.tip_diameter) > 0.0;
        let usable = (inner..=outer).contains(&contact_diameter) && stands_out;
        usable.then_some(BallMeasure { ball, measure, contact_diameter })
    }
}
