//! Gearsets that assemble, fit and bear the peak torque: what is known of them before any motor or bearing.
//!
//! Teeth are searched one by one: sun, planet, ring of sun + 2 planets or one tooth off, planets, module and helix, face.
//! Bounds, each flattering the gearset:
//! - *ratio* 1 + zr / zs and *assembly* (zs + zr) / n are exact.
//! - *neighbours*: planets taken as wide as their base circles (tips are wider), on a centre distance longer by three
//!   modules (profile shifts end at 1.5 each).
//! - *envelope*: the housing taken as wide as the ring's root with the most inward shift, d + 2 m (1.25 - 1.5).
//! - *strength*: exact at each face; stress falls with the face width (force over width; the helix factor too), so that a
//!   widest face that breaks takes all narrower ones with it.

use std::sync::Arc;

use rayon::prelude::*;

use crate::design::{Design, GearSource};
use crate::gears::Stage;
use crate::layout::stage_input;
use crate::ratings::gear_forces::GearForces;
use crate::ratings::gear_strength::StageRoots;
use crate::tables::gear_metal;

use super::bounds::{Bounds, ROUNDING};
use super::requirement::Space;

/// A gearset without its stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Integers {
    pub gears: usize,
    pub teeth: [u32; 3],
    pub planets: u32,
}

impl Integers {
    pub fn ratio(&self) -> f64 {
        1.0 + f64::from(self.teeth[2]) / f64::from(self.teeth[0])
    }
}

/// A gearset whose teeth bear the peak torque.
#[derive(Clone, Debug)]
pub struct Gearset {
    pub integers: Integers,
    pub face: f64,
    /// Shared by all that is made of it.
    pub stage: Arc<Stage>,
    /// Worst stress over its limit, and where.
    pub used: (f64, &'static str),
}

/// How many gearsets (faces counted) each stage has left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Counts {
    pub considered: u64,
    pub in_ratio: u64,
    pub assembling: u64,
    pub in_envelope: u64,
    pub strong: u64,
}

/// Planet teeth looked at.
const PLANET_TEETH: [u32; 2] = [8, 120];
/// The ring is sun + 2 planets, or one tooth off.
const RING_OFF: [i64; 3] = [-1, 0, 1];

/// All that assemble and may fit; `window` is the least and the most ratio that any motor works with.
pub fn integers(space: &Space, window: [f64; 2], bounds: &Bounds) -> (Vec<Integers>, Counts) {
    let faces = space.faces.len() as u64;
    let mut counts = Counts::default();
    let mut found = Vec::new();
    let least = f64::max(space.ratio[0], window[0]);
    let most = f64::min(space.ratio[1], window[1]);
    for (gears, row) in space.gears.iter().enumerate() {
        let Some(base) = space.bases.first().and_then(|bases| bases.get(gears)) else { continue };
        let cosine = libm::cos(row.helix);
        let transverse = row.module / cosine;
        let pressure = libm::atan2(libm::tan(base.gearset.pressure_angle), cosine);
        let base_share = libm::cos(pressure);
        let widest =
            base.requirement.outer_diameter_limit.filter(|_| bounds.envelope).unwrap_or(f64::INFINITY);
        for sun in space.sun_teeth[0]..=space.sun_teeth[1] {
            for planet in PLANET_TEETH[0]..=PLANET_TEETH[1] {
                for off in RING_OFF {
                    let plain = i64::from(sun) + 2 * i64::from(planet) + off;
                    // Positive and small: the loops' ends bound it.
                    let Ok(ring) = u32::try_from(plain) else { continue };
                    let counted = faces * u64::from(space.planets[1] - space.planets[0] + 1);
                    counts.considered += counted;
                    let ratio = 1.0 + f64::from(ring) / f64::from(sun);
                    if !(least..=most).contains(&ratio) {
                        continue;
                    }
                    counts.in_ratio += counted;
                    for planets in space.planets[0]..=space.planets[1] {
                        let assembles = (sun + ring).is_multiple_of(planets);
                        let sine = libm::sin(std::f64::consts::PI / f64::from(planets));
                        let apart = !bounds.neighbours
                            || f64::from(planet) * base_share < (f64::from(sun + planet) + 6.0) * sine;
                        if !(assembles && apart) {
                            continue;
                        }
                        counts.assembling += faces;
                        if f64::from(ring) * transverse - 0.5 * row.module > widest {
                            continue;
                        }
                        counts.in_envelope += faces;
                        found.push(Integers { gears, teeth: [sun, planet, ring], planets });
                    }
                }
            }
        }
    }
    (found, counts)
}

/// Makes a design's gearset this one.
pub fn set_gearset(design: &mut Design, integers: &Integers, face: f64) {
    let gearset = &mut design.gearset;
    [gearset.sun_teeth, gearset.planet_teeth, gearset.ring_teeth] = integers.teeth;
    gearset.planets = integers.planets;
    gearset.face_width = face;
}

/// Worst root stress over its limit; none where the rating doesn't apply, which is no failure.
pub fn used(stage: &Stage, design: &Design) -> Option<(f64, &'static str)> {
    let torque = design.requirement.peak_torque / (stage.ratio * design.gearset.efficiency);
    let force = GearForces::of(stage, torque).tangential;
    let roots = StageRoots::of(stage);
    let (gearset, limits) = (&design.gearset, &design.limits);
    let metal = |name: &str| gear_metal(name).map(|metal| metal.root_static / limits.metal_safety);
    let mut found: Vec<(f64, &'static str)> = Vec::new();
    let mut note = |stress: Option<f64>, limit: Option<f64>, name| {
        if let (Some(stress), Some(limit)) = (stress, limit) {
            found.push((stress / limit, name));
        }
    };
    note(roots.ring.stress(force).ok(), Some(limits.printed_root_stress), "the ring's root");
    let planet = roots.planet().and_then(|root| root.stress(force)).ok();
    match gearset.planet_made {
        GearSource::Print => note(planet, Some(limits.printed_root_stress), "the planets' root"),
        GearSource::Buy => note(planet, metal(&gearset.planet_bought_of), "the planets' root"),
    }
    if gearset.sun_made == GearSource::Buy {
        note(roots.sun.stress(force).ok(), metal(&gearset.sun_bought_of), "the sun's root");
    }
    found.into_iter().max_by(|a, b| a.0.total_cmp(&b.0))
}

/// All faces of one set of integers, widest first, until one breaks; and the least share of the limit that was used.
fn strong_faces(space: &Space, integers: &Integers, bounds: &Bounds) -> (Vec<Gearset>, Option<f64>) {
    let Some(base) = space.bases.first().and_then(|bases| bases.get(integers.gears)) else {
        return (Vec::new(), None);
    };
    let mut design = base.clone();
    let mut strong = Vec::new();
    let mut least_used: Option<f64> = None;
    for &face in space.faces.iter().rev() {
        set_gearset(&mut design, integers, face);
        // Faults other than of strength: a contact that breaks at this face breaks at narrower ones too, and the others
        // don't ask for the face.
        let Ok(stage) = Stage::solve(&stage_input(&design)) else { break };
        let used = used(&stage, &design).unwrap_or((0.0, "nothing rated"));
        least_used = Some(least_used.map_or(used.0, |least| f64::min(least, used.0)));
        if bounds.strength && used.0 > 1.0 + ROUNDING {
            break;
        }
        strong.push(Gearset { integers: *integers, face, stage: stage.into(), used });
    }
    (strong, least_used)
}

/// The gearsets whose roots bear the peak torque, in the order of the integers; and the least share of the limit that any
/// used.
pub fn strong(
    space: &Space,
    integers: &[Integers],
    counts: &mut Counts,
    bounds: &Bounds,
) -> (Vec<Gearset>, Option<f64>) {
    let found: Vec<(Vec<Gearset>, Option<f64>)> =
        integers.par_iter().map(|integers| strong_faces(space, integers, bounds)).collect();
    let least = found.iter().filter_map(|(_, used)| *used).reduce(f64::min);
    let strong: Vec<Gearset> = found.into_iter().flat_map(|(gearsets, _)| gearsets).collect();
    counts.strong = strong.len() as u64;
    (strong, least)
}
