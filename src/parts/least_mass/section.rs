//! Plastic of a section that is known along rays from the axis.
//!
//! Print mass is volume less what the core, the section's inward offset, saves ([`print_mass`](super::super::print_mass)).
//! A point of the core is nowhere nearer to the outline than the perimeters reach. So on a ray that runs inside the part from
//! radius a to radius b and leaves it at both, the core lies between a + inset and b - inset: its area is bounded from above,
//! the plastic from below. Material beyond b that isn't counted only adds: it brings at least as much volume as core.

use std::f64::consts::{PI, TAU};

use crate::design::{Design, PartName, PartSettings};
use crate::layout::Bolting;

/// An outline with columns is longer than the circle around them: a chamfer along it is taken so much larger.
pub const LONGER: f64 = 1.5;
/// Chords and rounding never take more off a radius than this \[mm\].
const SLACK: f64 = 0.005;
/// Of the lead-in of an insert's hole, on the radius and along the axis.
const LEAD_IN: f64 = super::super::shapes::LEAD_IN;

/// How a part is printed.
pub struct Print {
    pub inset: f64,
    pub skin: f64,
    pub infill: f64,
    /// \[kg/mm3\]
    density: f64,
}

impl Print {
    pub fn of(design: &Design, part: PartName) -> Option<Print> {
        let settings = design.parts.get(&part).or_else(|| design.parts.get(&PartName::RingHousing))?;
        let PartSettings { material, walls, infill, skins, layer_height } = settings;
        let scale = design.printer.scale(&material.name).min(1.0);
        Some(Print {
            inset: f64::from(*walls) * design.printer.line_width,
            skin: f64::from(*skins) * layer_height,
            infill: infill.min(1.0),
            // g/cm3 is 1e-6 kg/mm3.
            density: scale.powi(3) * material.density * 1e-6,
        })
    }

    /// Of so much plastic \[kg\].
    pub fn mass(&self, plastic: f64) -> f64 {
        plastic.max(0.0) * self.density
    }
}

/// Rays that run inside the part between two radii, as a share of all.
#[derive(Clone, Copy)]
pub struct Zone {
    share: f64,
    inner: f64,
    outer: f64,
}

impl Zone {
    /// Between two radii; none inside if the inner isn't positive.
    pub fn new(share: f64, inner: f64, outer: f64) -> Zone {
        Zone { share: share.clamp(0.0, 1.0), inner: inner.max(0.0), outer }
    }

    /// The whole circle, by diameters.
    pub fn ring(inner: f64, outer: f64) -> Zone {
        Zone::new(1.0, inner / 2.0, outer / 2.0)
    }

    fn between(&self, inner: f64, outer: f64) -> f64 {
        let inner = inner.max(0.0);
        self.share * PI * (outer * outer - inner * inner) * f64::from(outer > inner)
    }

    fn area(&self) -> f64 {
        self.between(if self.inner > 0.0 { self.inner + SLACK } else { 0.0 }, self.outer - SLACK)
    }

    fn core_ends(&self, print: &Print) -> [f64; 2] {
        let inner = if self.inner > 0.0 { self.inner + print.inset - SLACK } else { 0.0 };
        [inner, self.outer - print.inset + SLACK]
    }

    /// What may print at the infill's share \[mm2\].
    fn core(&self, print: &Print) -> f64 {
        let [inner, outer] = self.core_ends(print);
        self.between(inner, outer)
    }

    /// Of that, what the perimeters around a hole take \[mm2\]: its middle at a radius, room to either side of it.
    pub fn spared(&self, print: &Print, at: f64, diameter: f64, room: f64) -> f64 {
        let [inner, outer] = self.core_ends(print);
        let reach = f64::min(diameter / 2.0 + print.inset, room) - SLACK;
        if reach <= 0.0 || at <= inner || at >= outer {
            return 0.0;
        }
        // Of a disc, what lies within so much on one side of its middle.
        let within = |limit: f64| {
            let limit = limit.clamp(0.0, reach);
            limit * (reach * reach - limit * limit).max(0.0).sqrt()
                + reach * reach * libm::asin((limit / reach).min(1.0))
        };
        // Outside, the circle falls back beside the hole by its sagitta.
        within(at - inner) + within(outer - at - reach * reach / (2.0 * outer))
    }

    /// Of that, what perimeters along one straight side take, free between two radii \[mm2\].
    pub fn along_side(&self, print: &Print, free: [f64; 2]) -> f64 {
        /// A side is straight, the core's ends are round.
        const ROUND: f64 = 0.95;
        let [inner, outer] = self.core_ends(print);
        let long = f64::min(outer, free[1]) - f64::max(inner, free[0]);
        ROUND * long.max(0.0) * (print.inset - SLACK).max(0.0)
    }
}

/// A height over which the section is the same.
#[derive(Default)]
pub struct Slab<'a> {
    pub height: f64,
    pub zones: &'a [Zone],
    /// Faces that end in the air.
    pub faces: f64,
    /// Of those faces, what something goes on over \[mm2\].
    pub covered: f64,
    /// Of the core, what perimeters around holes and along sides take, clear of the skins \[mm3\].
    pub spared: f64,
    /// Volume of all that is cut \[mm3\].
    pub holes: f64,
}

impl Slab<'_> {
    /// \[mm3\]; of a part's slabs only the sum isn't negative, since holes pass from one into the next.
    pub fn plastic(&self, print: &Print) -> f64 {
        let height = self.height.max(0.0);
        let area: f64 = self.zones.iter().map(Zone::area).sum();
        let core: f64 = self.zones.iter().map(|zone| zone.core(print)).sum();
        let core = core.min(area);
        let skins = (self.faces * print.skin).min(height);
        let saved = (core * (height - skins) - self.spared).max(0.0) + self.covered.min(core) * skins;
        area * height - (1.0 - print.infill) * saved - self.holes
    }
}

/// Plastic of what grows outwards at 45 degrees from one radius to another, beyond what stands inside the first \[mm3\].
pub fn flare(print: &Print, share: f64, inner: f64, [from, to]: [f64; 2]) -> f64 {
    /// Steps, each taken as wide as at its narrow end.
    const STEPS: u32 = 4;
    let reach = to - from;
    if reach <= 0.0 {
        return 0.0;
    }
    let height = reach / f64::from(STEPS);
    let plastic = |outer: f64| {
        Slab { height, zones: &[Zone::new(share, inner, outer)], ..Slab::default() }.plastic(print)
    };
    let step = |index: u32| plastic(from + height * f64::from(index)) - plastic(from);
    (1..STEPS).map(step).sum::<f64>().max(0.0)
}

/// Share of the circle that sectors take.
pub fn share(count: u32, half: f64) -> f64 {
    f64::from(count) * 2.0 * half / TAU
}

/// \[mm2\]
pub fn disc(diameter: f64) -> f64 {
    PI / 4.0 * diameter * diameter
}

/// Volume of so many blind holes of inserts, with their lead-ins.
pub fn insert_holes(count: u32, diameter: f64, depth: f64) -> f64 {
    f64::from(count) * (disc(diameter) * depth + PI * (diameter + LEAD_IN) * LEAD_IN * LEAD_IN / 2.0)
}

/// Volume of a chamfer around an outline of this diameter.
pub fn chamfer(diameter: f64, by: f64) -> f64 {
    PI * (diameter + by) * by * by / 2.0
}

/// Volume of a 90 degree countersink beyond its clearance hole.
pub fn countersink(head: f64, clearance: f64) -> f64 {
    let (wide, narrow) = (head / 2.0, clearance / 2.0);
    let depth = (wide - narrow).max(0.0);
    PI / 3.0 * depth * (wide * wide + wide * narrow - 2.0 * narrow * narrow)
}

/// Angles at which two rings of sectors overlap, as a share of the circle.
pub fn overlap(one: &Bolting, one_half: f64, other: &Bolting, other_half: f64) -> f64 {
    let apart = |a: f64, b: f64| {
        let difference = a - b;
        libm::fabs(difference - TAU * (difference / TAU).round())
    };
    let pairs = one.angles().flat_map(|a| other.angles().map(move |b| apart(a, b)));
    pairs.map(|apart| (one_half + other_half - apart).clamp(0.0, 2.0 * one_half)).sum::<f64>() / TAU
}
