//! How sun, planets and ring are turned, at the planets' back, so that all teeth mesh with equal play on both flanks.
//!
//! The sun has a tooth centred on +x. Outlines have a tooth (ring: a space) centred on +x; a gear's *turn* is the
//! counter-clockwise angle by which its outline is then turned about its own axis.

use std::f64::consts::PI;

use super::stage::Stage;

/// Where a planet stands on the carrier and how it is turned.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanetPhase {
    /// Angular position of the planet's axis \[rad\], planet 0 on +x.
    pub position: f64,
    /// Turn of the planet's outline \[rad\], within one tooth pitch.
    pub turn: f64,
}

impl Stage {
    /// Planet `index`, counted from +x.
    ///
    /// Along the line of centres the sun's nearest tooth is behind by `position * zs / 2 pi` pitches, and a space of the
    /// planet must be as far from the opposite point of its pitch circle.
    pub fn planet_phase(&self, index: u32) -> PlanetPhase {
        let position = self.spacing.position(index);
        let teeth = f64::from(self.planet.teeth);
        let opposite = PI - PI / teeth;
        let carried = position * f64::from(self.sun.teeth) / teeth;
        PlanetPhase { position, turn: (position + opposite + carried).rem_euclid(2.0 * PI / teeth) }
    }

    /// Turn of the ring's outline \[rad\]: a ring tooth, not a space, lies on +x when the planet has even teeth.
    pub fn ring_turn(&self) -> f64 {
        if self.planet.teeth.is_multiple_of(2) { PI / f64::from(self.ring.teeth) } else { 0.0 }
    }
}
