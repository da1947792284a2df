//! The planetary stage: sun in, carrier out, ring fixed.
//!
//! # Backlash
//! The asked backlash is circumferential, transverse, at the working pitch circle, and holds for each mesh at nominal
//! centre distance. Sun and planet each give half of it off their tooth thickness; in the planet's other mesh its own
//! thinning (scaled to that pitch circle) counts, and the ring gives the rest. So both meshes end with the asked value.
//!
//! # Tips
//! Nominal tips are the rack's. They are shortened, never lengthened, where needed: sun and planet to keep the rack's
//! tip clearance at the common centre distance, and to keep the tip 0.2 modules thick; the ring to keep that clearance
//! and to end its contact on the planet's involute, clear of the planet's fillet (a ring's tip reaches deeper than the
//! rack's).

use std::f64::consts::{PI, TAU};

use super::assembly::{LEAST_PLANETS, PlanetSpacing, is_assemblable};
use super::fault::{Member, StageFault};
use super::gear::Gear;
use super::limits::{assembly_fault, input_faults};
use super::pair::{InternalInterferences, Mesh};
use super::rack::{Rack, ToothSystem};
use super::sizing::Sizing;
use crate::design::{Shift, ShiftRule, Spacing, ToothForm};

/// Least gap between neighbouring planets.
pub const LEAST_PLANET_GAP: f64 = 0.5;

/// What a stage is made from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageInput {
    pub sun_teeth: u32,
    pub planet_teeth: u32,
    pub ring_teeth: u32,
    pub planets: u32,
    pub rack: Rack,
    /// \[mm\]
    pub normal_module: f64,
    /// Of the sun \[rad\], right hand positive; the planets and the ring have the other hand.
    pub helix_angle: f64,
    /// Common width of the teeth in mesh \[mm\].
    pub face_width: f64,
    /// Of each mesh, circumferential and transverse at the working pitch circle \[mm\].
    pub backlash: f64,
    pub sun_shift: Shift,
    pub planet_shift: Shift,
    pub ring_shift: Shift,
    pub shift_rule: ShiftRule,
    pub spacing: Spacing,
    /// Straight teeth have a helix angle of 0; herringbone halves have half the face width each.
    pub tooth_form: ToothForm,
}

/// A stage whose gears mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    pub planets: u32,
    /// Input (sun) over output (carrier) speed with the ring fixed: `1 + zr / zs`.
    pub ratio: f64,
    pub centre_distance: f64,
    pub face_width: f64,
    pub tooth_form: ToothForm,
    /// Of each mesh, circumferential at the working pitch circle.
    pub backlash: f64,
    pub transverse_module: f64,
    pub transverse_pressure_angle: f64,
    pub base_helix_angle: f64,
    pub working_pressure_angle_sun: f64,
    pub working_pressure_angle_ring: f64,
    /// Transverse, sun and planet.
    pub contact_ratio_sun: f64,
    /// Transverse, planet and ring.
    pub contact_ratio_ring: f64,
    /// Of one helix: half the face width of a herringbone.
    pub overlap_ratio: f64,
    /// How the planets stand around the sun.
    pub spacing: PlanetSpacing,
    /// Between the tips of the nearest neighbours: `2 a sin(angle / 2) - da`.
    pub planet_gap: f64,
    pub sun: Gear,
    pub planet: Gear,
    pub ring: Gear,
    pub sun_mesh: Mesh,
    pub ring_mesh: Mesh,
    /// Of planet and ring.
    pub interferences: InternalInterferences,
    /// Play of the carrier with sun and ring held \[rad\]: `(js rp2 + jr rp1) / (a (rp1 + rp2))`, rp1 and rp2 the
    /// planet's pitch radii in the two meshes; with equal play j in both that is `j / a`.
    pub output_backlash: f64,
}

impl Stage {
    /// # Errors
    /// Everything that is wrong, at once, as far as it can be told apart.
    pub fn solve(input: &StageInput) -> Result<Stage, Vec<StageFault>> {
        let mut faults = input_faults(input);
        // Geometry cannot be computed from such numbers; counts that do not assemble leave it computable.
        let computable = faults.is_empty();
        faults.extend(assembly_fault(input));
        if !computable {
            return Err(faults);
        }
        let system = ToothSystem::new(input.rack, input.normal_module, input.helix_angle);
        let sizing = match Sizing::of(input, &system) {
            Ok(sizing) => sizing,
            Err(fault) => {
                faults.push(fault);
                return Err(faults);
            }
        };
        faults.extend(sizing.shift_faults());
        faults.extend(sizing.undercut_faults());
        let stage = match sizing.build() {
            Ok(stage) => stage,
            Err(pointed) => {
                faults.extend(pointed);
                return Err(faults);
            }
        };
        faults.extend(stage.running_faults());
        if faults.is_empty() { Ok(stage) } else { Err(faults) }
    }

    /// Carrier speed (or turn) from those of sun and ring, in any one unit: `zs ws + zr wr = (zs + zr) wc` (Willis).
    pub fn carrier_speed(&self, sun: f64, ring: f64) -> f64 {
        let [sun_teeth, ring_teeth] = [self.sun.teeth, self.ring.teeth].map(f64::from);
        (sun_teeth * sun + ring_teeth * ring) / (sun_teeth + ring_teeth)
    }

    fn running_faults(&self) -> Vec<StageFault> {
        let mut faults = Vec::new();
        if self.planet_gap < LEAST_PLANET_GAP {
            faults.push(self.planets_touch());
        }
        for (with, transverse) in
            [(Member::Sun, self.contact_ratio_sun), (Member::Ring, self.contact_ratio_ring)]
        {
            if transverse + self.overlap_ratio < 1.0 {
                faults.push(StageFault::ContactBroken { with, transverse, overlap: self.overlap_ratio });
            }
        }
        faults
    }

    fn planets_touch(&self) -> StageFault {
        let teeth = [self.sun.teeth, self.planet.teeth, self.ring.teeth];
        let fits = |count: &u32| {
            is_assemblable(teeth, *count)
                && planet_gap(self.centre_distance, TAU / f64::from(*count), self.planet.tip_diameter)
                    >= LEAST_PLANET_GAP
        };
        let sun = f64::from(self.sun.teeth);
        // zp + 2 + gap/mt <= (zs + zp) sin(pi/n), ratio = 2 + 2 zp / zs.
        let sine = libm::sin(PI / f64::from(self.planets));
        let room = sun * sine - 2.0 - LEAST_PLANET_GAP / self.transverse_module;
        let most_planet_teeth = (room / (1.0 - sine)).floor().max(0.0);
        StageFault::PlanetsTouch {
            gap: self.planet_gap,
            least: LEAST_PLANET_GAP,
            planets: self.planets,
            fewer: (LEAST_PLANETS..self.planets).rev().find(fits),
            highest_ratio: 2.0 + 2.0 * most_planet_teeth / sun,
        }
    }
}

/// Between the tips of two planets `angle` apart \[rad\].
pub(super) fn planet_gap(centre_distance: f64, angle: f64, tip_diameter: f64) -> f64 {
    2.0 * centre_distance * libm::sin(0.5 * angle) - tip_diameter
}
