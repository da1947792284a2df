//! Two bodies that don't move against each other.

use super::body::{Body, Layer};
use super::sweep::separation;
use crate::geometry::{Lateral, Point, Section, ShapeError};

/// Shared sections narrower than this touch and don't overlap \[mm\]: outlines of gears are followed to 5e-4, and the kernel
/// joins what is nearer than 1e-5.
const SLIVER: f64 = 2e-4;
/// What the kernel takes for one outline \[mm\].
const JOINED: f64 = 1e-6;

/// How two bodies lie to each other.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lie {
    /// Least gap; 0 where they touch or overlap.
    pub gap: f64,
    /// What both cover \[mm3\].
    pub volume: f64,
    /// Width of the shared section at its widest height (twice area over outline), or the height they share if that is less.
    pub depth: f64,
    /// Nearest place, or the middle of what is shared.
    pub at: [f64; 3],
}

/// Nearest and shared so far.
struct Found {
    reach: f64,
    gap: f64,
    nearest: [f64; 3],
    volume: f64,
    depth: f64,
    moment: [f64; 3],
    /// Heights at which they share something.
    shared: [f64; 2],
    /// Heights of the layers that are met at present.
    within: [f64; 2],
}

impl Found {
    /// What lies farther apart than this changes nothing any more.
    fn reach(&self) -> f64 {
        f64::min(self.reach, self.gap)
    }

    fn nearer(&mut self, gap: f64, at: Point, z: f64) {
        if gap < self.gap {
            self.gap = gap;
            self.nearest = [at.x, at.y, z];
        }
    }

    /// Sections at one height that stands for so much of it.
    fn slice(&mut self, a: &Section, b: &Section, z: f64, height: f64) -> Result<(), ShapeError> {
        match a.lateral(b, self.reach()) {
            Lateral::Far => {}
            Lateral::Apart(gap, at) => self.nearer(gap, at, z),
            // They touch all along, as fits drawn without clearance do.
            Lateral::Meets if a.nested(b, JOINED) || a.rims(b, JOINED) => {
                self.nearer(0.0, b.bounds.low.lerp(b.bounds.high, 0.5), z);
            }
            Lateral::Meets => {
                let shared = a.shared(b)?;
                let (area, perimeter) = (shared.area(), shared.perimeter());
                let width = if perimeter > 0.0 { 2.0 * area / perimeter } else { 0.0 };
                let middle = shared.centroid().unwrap_or_else(|| b.bounds.low.lerp(b.bounds.high, 0.5));
                self.nearer(0.0, middle, z);
                if width > SLIVER {
                    self.depth = self.depth.max(width);
                    self.volume += area * height;
                    let ([low, high], [from, to]) = (self.within, self.shared);
                    let (bottom, top) = (f64::max(low, z - height / 2.0), f64::min(high, z + height / 2.0));
                    self.shared = [from.min(bottom), to.max(top)];
                    for (sum, place) in self.moment.iter_mut().zip([middle.x, middle.y, z]) {
                        *sum += area * height * place;
                    }
                }
            }
        }
        Ok(())
    }
}

/// How two bodies lie as they stand; none when farther apart than `reach`.
///
/// Straight walls are exact. Tapered and twisted ones are cut at five heights, ends included, weighted by Simpson's rule: exact in
/// volume where the shared section is a cubic of the height, and blind to what overlaps less than a quarter of a slab's height
/// between two of them.
///
/// # Errors
/// A section that can't be formed.
pub fn lie(a: &Body, b: &Body, reach: f64) -> Result<Option<Lie>, ShapeError> {
    let mut found = Found {
        reach,
        gap: f64::INFINITY,
        nearest: [0.0; 3],
        volume: 0.0,
        depth: 0.0,
        moment: [0.0; 3],
        shared: [f64::INFINITY, f64::NEG_INFINITY],
        within: [f64::NEG_INFINITY, f64::INFINITY],
    };
    let pairs = || {
        let lowers = a.layers.iter().enumerate();
        lowers.flat_map(|lower| b.layers.iter().enumerate().map(move |upper| (lower, upper)))
    };
    // Straight walls first: what touches there leaves the others less to look at.
    let steep = |lower: &Layer, upper: &Layer| {
        separation(lower.z, upper.z) >= 0.0
            || (lower.straight_near(upper, reach) && upper.straight_near(lower, reach))
    };
    for first in [true, false] {
        for ((i, lower), (j, upper)) in pairs() {
            let apart = separation(lower.z, upper.z);
            let reach = found.reach();
            if apart >= reach || lower.bounds.gap_to(upper.bounds) > reach || lower.is_clear_of(upper, reach)
            {
                continue;
            }
            if steep(lower, upper) != first {
                continue;
            }
            if apart < 0.0 {
                beside(&mut found, (a, i, lower), (b, j, upper))?;
            } else {
                above(&mut found, apart, lower, upper);
            }
        }
    }
    if found.gap > reach {
        return Ok(None);
    }
    let at = if found.volume > 0.0 { found.moment.map(|sum| sum / found.volume) } else { found.nearest };
    Ok(Some(Lie {
        gap: found.gap,
        volume: found.volume,
        depth: found.depth.min((found.shared[1] - found.shared[0]).max(0.0)),
        at,
    }))
}

/// Layers that share heights.
fn beside(
    found: &mut Found,
    (a, i, lower): (&Body, usize, &Layer),
    (b, j, upper): (&Body, usize, &Layer),
) -> Result<(), ShapeError> {
    const SIMPSON: [f64; 5] = [1.0 / 12.0, 4.0 / 12.0, 2.0 / 12.0, 4.0 / 12.0, 1.0 / 12.0];
    let (from, to) = (f64::max(lower.z[0], upper.z[0]), f64::min(lower.z[1], upper.z[1]));
    let height = to - from;
    found.within = [from, to];
    if lower.straight_near(upper, found.reach()) && upper.straight_near(lower, found.reach()) {
        return found.slice(lower.low(), upper.low(), (from + to) / 2.0, height);
    }
    for (step, weight) in SIMPSON.into_iter().enumerate() {
        let z = from + height * step as f64 / 4.0;
        found.slice(
            &a.section_near(i, z, upper, found.reach())?,
            &b.section_near(j, z, lower, found.reach())?,
            z,
            weight * height,
        )?;
    }
    Ok(())
}

/// Layers one over the other.
fn above(found: &mut Found, apart: f64, one: &Layer, other: &Layer) {
    let (under, over) = if one.z[0] < other.z[0] { (one, other) } else { (other, one) };
    match under.high().lateral(over.low(), found.reach()) {
        Lateral::Far => {}
        Lateral::Apart(gap, at) => found.nearer(libm::hypot(gap, apart), at, over.z[0]),
        Lateral::Meets => {
            let middle = over.low().bounds.low.lerp(over.low().bounds.high, 0.5);
            found.nearer(apart, middle, over.z[0]);
        }
    }
}
