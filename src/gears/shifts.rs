//! Profile shifts of sun, planet and ring that give both meshes the same centre distance.

use super::fillet::bisect;
use super::pair::{MeshKind, Pair};
use super::rack::ToothSystem;
use crate::design::Shift;

#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Shifts {
    pub sun: f64,
    pub planet: f64,
    pub ring: f64,
    pub centre_distance: f64,
}

/// Why there is no common centre distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum NoShifts {
    /// All three shifts are given; this ring shift would do.
    Disagree { sun_mesh: f64, ring_mesh: f64, ring_shift: f64 },
    /// No shift within reason gives one.
    OutOfReach,
}

/// Three given shifts may differ by their rounding: this much of the module in centre distance.
const AGREEMENT: f64 = 1e-3;

/// Shifts are sought up to this size; practical ones are below 1.
const LARGEST: f64 = 3.0;

pub(super) struct ShiftProblem<'a> {
    pub system: &'a ToothSystem,
    pub sun_mesh: Pair<'a>,
    pub ring_mesh: Pair<'a>,
}

impl<'a> ShiftProblem<'a> {
    pub fn new(system: &'a ToothSystem, [sun, planet, ring]: [u32; 3]) -> ShiftProblem<'a> {
        ShiftProblem {
            system,
            sun_mesh: Pair { system, kind: MeshKind::External, teeth: [sun, planet] },
            ring_mesh: Pair { system, kind: MeshKind::Internal, teeth: [planet, ring] },
        }
    }

    /// The larger reference centre distance: then neither mesh works below the rack's pressure angle. Both are equal
    /// when the ring has as many teeth as the sun and twice the planet.
    fn natural_centre_distance(&self) -> f64 {
        self.sun_mesh.reference_centre_distance().max(self.ring_mesh.reference_centre_distance())
    }

    pub fn solve(&self, sun: Shift, planet: Shift, ring: Shift) -> Result<Shifts, NoShifts> {
        match ring {
            Shift::Auto => self.solve_ring(sun, planet),
            Shift::Fixed(ring) => match (sun, planet) {
                (Shift::Fixed(sun), Shift::Fixed(planet)) => self.compare(sun, planet, ring),
                (Shift::Auto, Shift::Fixed(planet)) => self.solve_sun(planet, ring),
                (Shift::Fixed(sun), Shift::Auto) => self.solve_planet(sun, ring),
                (Shift::Auto, Shift::Auto) => self
                    .solve_planet(automatic_least_shift(self.system, self.sun_mesh.teeth[0]).max(0.0), ring),
            },
        }
    }

    /// The ring follows the sun mesh.
    fn solve_ring(&self, sun: Shift, planet: Shift) -> Result<Shifts, NoShifts> {
        let [sun_teeth, planet_teeth] = self.sun_mesh.teeth;
        let sun_least = automatic_least_shift(self.system, sun_teeth);
        let planet_least = automatic_least_shift(self.system, planet_teeth);
        let sum = self.sun_mesh.shift_for(self.natural_centre_distance()).ok_or(NoShifts::OutOfReach)?;
        let (sun, planet) = match (sun, planet) {
            (Shift::Fixed(sun), Shift::Fixed(planet)) => (sun, planet),
            (Shift::Fixed(sun), Shift::Auto) => (sun, (sum - sun).max(planet_least)),
            (Shift::Auto, Shift::Fixed(planet)) => ((sum - planet).max(sun_least), planet),
            (Shift::Auto, Shift::Auto) => {
                let planet = (sum - sun_least.max(0.5 * sum)).max(planet_least);
                ((sum - planet).max(sun_least), planet)
            }
        };
        let centre_distance = self.sun_mesh.centre_distance(sun + planet).ok_or(NoShifts::OutOfReach)?;
        let ring = planet + self.ring_mesh.shift_for(centre_distance).ok_or(NoShifts::OutOfReach)?;
        Ok(Shifts { sun, planet, ring, centre_distance })
    }

    fn solve_sun(&self, planet: f64, ring: f64) -> Result<Shifts, NoShifts> {
        let centre_distance = self.ring_mesh.centre_distance(ring - planet).ok_or(NoShifts::OutOfReach)?;
        let sun = self.sun_mesh.shift_for(centre_distance).ok_or(NoShifts::OutOfReach)? - planet;
        Ok(Shifts { sun, planet, ring, centre_distance })
    }

    /// Raising the planet's shift moves it away from the sun and, in the ring, towards the axis: one crossing.
    fn solve_planet(&self, sun: f64, ring: f64) -> Result<Shifts, NoShifts> {
        let lowest = (self.sun_mesh.least_shift() - sun).max(-LARGEST);
        let highest = (ring - self.ring_mesh.least_shift()).min(LARGEST);
        let sun_side_short = |planet: f64| {
            match (self.sun_mesh.centre_distance(sun + planet), self.ring_mesh.centre_distance(ring - planet))
            {
                (Some(from_sun), Some(from_ring)) => from_sun < from_ring,
                // Rounding at the very ends of the interval, where one mesh ceases to exist.
                (None, _) => true,
                (_, None) => false,
            }
        };
        if !(lowest < highest && sun_side_short(lowest) && !sun_side_short(highest)) {
            return Err(NoShifts::OutOfReach);
        }
        let planet = bisect(lowest, highest, sun_side_short);
        let centre_distance = self.sun_mesh.centre_distance(sun + planet).ok_or(NoShifts::OutOfReach)?;
        Ok(Shifts { sun, planet, ring, centre_distance })
    }

    fn compare(&self, sun: f64, planet: f64, ring: f64) -> Result<Shifts, NoShifts> {
        let sun_mesh = self.sun_mesh.centre_distance(sun + planet).ok_or(NoShifts::OutOfReach)?;
        let ring_mesh = self.ring_mesh.centre_distance(ring - planet).ok_or(NoShifts::OutOfReach)?;
        if (sun_mesh - ring_mesh).abs() > AGREEMENT * self.system.normal_module {
            let ring_shift = planet + self.ring_mesh.shift_for(sun_mesh).ok_or(NoShifts::OutOfReach)?;
            return Err(NoShifts::Disagree { sun_mesh, ring_mesh, ring_shift });
        }
        Ok(Shifts { sun, planet, ring, centre_distance: sun_mesh })
    }
}

/// Undercut-free shift that "auto" keeps to: at least 0.02 above the limit, rounded up to a multiple of 0.05 so that
/// a bought gear can be ordered with it. 12 teeth at 20 degrees of helix: limit 0.167, chosen 0.2.
pub(super) fn automatic_least_shift(system: &ToothSystem, teeth: u32) -> f64 {
    const EXCESS: f64 = 0.02;
    const STEPS_PER_UNIT: f64 = 20.0;
    ((system.least_shift(teeth) + EXCESS) * STEPS_PER_UNIT).ceil() / STEPS_PER_UNIT
}
