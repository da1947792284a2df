//! Profile shifts of sun, planet and ring that give both meshes the same centre distance.

use super::fillet::bisect;
use super::pair::{MeshKind, Pair};
use super::rack::ToothSystem;
use crate::design::{Shift, ShiftRule};

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

    /// `rule` decides where sun and planet are both left open.
    pub fn solve(&self, rule: ShiftRule, sun: Shift, planet: Shift, ring: Shift) -> Result<Shifts, NoShifts> {
        match ring {
            Shift::Auto => self.solve_ring(rule, sun, planet),
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
    fn solve_ring(&self, rule: ShiftRule, sun: Shift, planet: Shift) -> Result<Shifts, NoShifts> {
        let [sun_teeth, planet_teeth] = self.sun_mesh.teeth;
        let sun_least = automatic_least_shift(self.system, sun_teeth);
        let planet_least = automatic_least_shift(self.system, planet_teeth);
        let sum = self.sun_mesh.shift_for(self.natural_centre_distance()).ok_or(NoShifts::OutOfReach)?;
        let (sun, planet) = match (sun, planet) {
            (Shift::Fixed(sun), Shift::Fixed(planet)) => (sun, planet),
            (Shift::Fixed(sun), Shift::Auto) => (sun, (sum - sun).max(planet_least)),
            (Shift::Auto, Shift::Fixed(planet)) => ((sum - planet).max(sun_least), planet),
            (Shift::Auto, Shift::Auto) => {
                let wanted = match rule {
                    ShiftRule::UndercutFree => 0.5 * sum,
                    ShiftRule::BalancedSliding => self.balanced_sun_shift(sum, sun_least),
                };
                let planet = (sum - sun_least.max(wanted)).max(planet_least);
                ((sum - planet).max(sun_least), planet)
            }
        };
        let centre_distance = self.sun_mesh.centre_distance(sun + planet).ok_or(NoShifts::OutOfReach)?;
        let ring = planet + self.ring_mesh.shift_for(centre_distance).ok_or(NoShifts::OutOfReach)?;
        Ok(Shifts { sun, planet, ring, centre_distance })
    }

    /// The sun's shift, at a given sum with the planet's, at which the two slide alike on their worst flank points: a
    /// larger one spares the sun's root and loads the planet's. Rounded to a hundredth, to be ordered by.
    fn balanced_sun_shift(&self, sum: f64, least: f64) -> f64 {
        /// More shift than this points the teeth of a small sun.
        const MOST: f64 = 1.0;
        // Without a mesh there is nothing to raise the shift for.
        let sun_slides_more = |sun: f64| {
            self.root_sliding(sun, sum - sun).is_some_and(|[at_sun, at_planet]| at_sun > at_planet)
        };
        if !sun_slides_more(least) || sun_slides_more(MOST) {
            return least;
        }
        (bisect(least, MOST, sun_slides_more) * 100.0).round() / 100.0
    }

    /// Specific sliding at the roots of sun and planet, from the tip circles: without bound where a tip reaches past the
    /// end of the other's involute.
    fn root_sliding(&self, sun_shift: f64, planet_shift: f64) -> Option<[f64; 2]> {
        let (system, [sun, planet]) = (self.system, self.sun_mesh.teeth);
        let a = self.sun_mesh.centre_distance(sun_shift + planet_shift)?;
        let line = a * libm::sin(self.sun_mesh.working_pressure_angle(a)?);
        let along = |teeth: u32, tip: f64| {
            let base = 0.5 * system.reference_diameter(teeth) * libm::cos(system.transverse_pressure_angle);
            (tip > base).then(|| (tip * tip - base * base).sqrt())
        };
        let half = |teeth: u32| 0.5 * system.reference_diameter(teeth);
        let clearance = system.rack.clearance() * system.normal_module;
        let height = |shift: f64| (system.rack.addendum + shift) * system.normal_module;
        let root =
            |teeth: u32, shift: f64| half(teeth) - (system.rack.dedendum - shift) * system.normal_module;
        let sun_tip = f64::min(half(sun) + height(sun_shift), a - root(planet, planet_shift) - clearance);
        let planet_tip = f64::min(half(planet) + height(planet_shift), a - root(sun, sun_shift) - clearance);
        let (start, end) = (line - along(planet, planet_tip)?, along(sun, sun_tip)?);
        let ratio = f64::from(sun) / f64::from(planet);
        let at_sun = if start > 0.0 { ratio * (line - start) / start - 1.0 } else { f64::INFINITY };
        let at_planet = if end < line { end / (line - end) / ratio - 1.0 } else { f64::INFINITY };
        Some([at_sun, at_planet])
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
