//! What a body sweeps: slab by slab, the ranges of radius its material covers when turned about an axis.
//!
//! Where one of two bodies makes a full turn, they meet exactly where their swept sections do: at one radius and height each has
//! material at some angle, and every angle comes round. Tapered slabs count with the radii of both ends over their whole height,
//! which errs on the safe side.

use crate::geometry::{Point, Region, ShapeError, Stack, Wall};

/// Heights and radii that are swept.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SweptRing {
    pub z: [f64; 2],
    pub radius: [f64; 2],
}

impl SweptRing {
    /// What a body turning about its own axis covers when it is carried round at this distance.
    #[must_use]
    pub fn carried(self, distance: f64) -> SweptRing {
        SweptRing { z: self.z, radius: [(distance - self.radius[1]).max(0.0), distance + self.radius[1]] }
    }
}

/// Radii the material of each slab covers about `axis`, merged where they overlap.
///
/// # Errors
/// A section that can't be formed.
pub fn rings(stack: &Stack, axis: Point) -> Result<Vec<SweptRing>, ShapeError> {
    let own_axis = axis == Point::ORIGIN;
    let mut rings = Vec::new();
    for slab in &stack.slabs {
        // A tapered wall reaches farthest at one of its ends; a straight one, or one that turns about this axis, is alike at both.
        let alike = slab.loops.iter().all(|one| match one.wall {
            Wall::Straight => true,
            Wall::Twisted { .. } => own_axis,
            Wall::Tapered => false,
        });
        let top = if alike { Region::empty() } else { slab.top() };
        let mut ranges: Vec<(f64, f64)> = Vec::new();
        for region in [slab.bottom(), top] {
            let region = if own_axis { region } else { region.translated(-axis) };
            if region.loops.iter().filter(|one| one.runs_ccw()).count() > 1 {
                ranges.extend(region.split()?.iter().filter_map(Region::radial_extent));
            } else {
                ranges.extend(region.radial_extent());
            }
        }
        ranges.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut merged: Vec<[f64; 2]> = Vec::new();
        for range in ranges {
            match merged.last_mut() {
                Some(last) if range.0 <= last[1] => last[1] = last[1].max(range.1),
                _ => merged.push([range.0, range.1]),
            }
        }
        rings.extend(merged.into_iter().map(|radius| SweptRing { z: slab.z, radius }));
    }
    Ok(rings)
}

/// Gap between two ranges; negative where they overlap by more than rounding.
pub fn separation(a: [f64; 2], b: [f64; 2]) -> f64 {
    const ROUNDING: f64 = 1e-6;
    let gap = f64::max(b[0] - a[1], a[0] - b[1]);
    if gap > -ROUNDING { gap.max(0.0) } else { gap }
}
