//! A part as slabs along z: between two heights every loop goes straight up, turns, or tapers.

use super::corner::loop_between;
use super::error::{ShapeError, ShapeErrorKind};
use super::loops::Loop;
use super::moments::Moments;
use super::point::{Bounds, Point};
use super::region::Region;

/// How a loop's wall rises.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Wall {
    Straight,
    /// Turns about the z axis by so much a millimetre \[rad/mm\]: helical teeth.
    Twisted {
        per_mm: f64,
    },
    /// From the bottom outline to a top one of the same topology: planes and cones.
    Tapered,
}

/// One outline of a slab.
#[derive(Clone, Debug, PartialEq)]
pub struct SlabLoop {
    pub bottom: Loop,
    pub top: Loop,
    pub wall: Wall,
    /// Follows the teeth of a gear, straight ones too.
    pub toothed: bool,
}

impl SlabLoop {
    pub fn straight(outline: Loop) -> SlabLoop {
        SlabLoop { bottom: outline.clone(), top: outline, wall: Wall::Straight, toothed: false }
    }

    fn at(&self, fraction: f64, height: f64) -> Result<Loop, ShapeError> {
        match self.wall {
            Wall::Straight => Ok(self.bottom.clone()),
            Wall::Twisted { per_mm } => Ok(self.bottom.rotated(per_mm * height * fraction)),
            Wall::Tapered => loop_between(&self.bottom, &self.top, fraction),
        }
    }

    fn area_at(&self, fraction: f64, height: f64) -> Result<f64, ShapeError> {
        match self.wall {
            Wall::Straight | Wall::Twisted { .. } => Ok(self.bottom.signed_area()),
            Wall::Tapered => self.at(fraction, height).map(|outline| outline.signed_area()),
        }
    }
}

/// Gauss-Legendre, five points: exact to degree nine. Abramowitz and Stegun, table 25.4.
const GAUSS: [(f64, f64); 5] = [
    (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    (-0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.0, 0.568_888_888_888_888_9),
    (0.538_469_310_105_683_1, 0.478_628_670_499_366_47),
    (0.906_179_845_938_664, 0.236_926_885_056_189_1),
];

/// Between two heights.
#[derive(Clone, Debug, PartialEq)]
pub struct Slab {
    pub z: [f64; 2],
    pub loops: Vec<SlabLoop>,
}

impl Slab {
    pub fn height(&self) -> f64 {
        self.z[1] - self.z[0]
    }

    pub fn bottom(&self) -> Region {
        Region { loops: self.loops.iter().map(|one| one.bottom.clone()).collect() }
    }

    pub fn top(&self) -> Region {
        Region { loops: self.loops.iter().map(|one| one.top.clone()).collect() }
    }

    /// Section at height `z` of the slab.
    pub fn region_at(&self, z: f64) -> Result<Region, ShapeError> {
        let loops = self.loops.iter().map(|one| self.loop_at(one, z)).collect::<Result<_, _>>()?;
        Ok(Region { loops })
    }

    /// One of its outlines at height `z`.
    pub fn loop_at(&self, one: &SlabLoop, z: f64) -> Result<Loop, ShapeError> {
        one.at(self.fraction_of(z), self.height())
    }

    fn fraction_of(&self, z: f64) -> f64 {
        ((z - self.z[0]) / self.height()).clamp(0.0, 1.0)
    }

    /// Of the section at height `z` \[mm2\]; turning changes no area.
    pub fn area_at(&self, z: f64) -> Result<f64, ShapeError> {
        let fraction = self.fraction_of(z);
        self.loops.iter().try_fold(0.0, |sum, one| Ok(sum + one.area_at(fraction, self.height())?))
    }

    /// Integral over the height of the section's moments, each weighted by 1 and by z: exact for prisms, planes and
    /// cones (sections quadratic in height), to about 1e-10 where corners run along conics.
    fn moments(&self) -> Result<(Moments, f64), ShapeError> {
        let (mut sum, mut first) = (Moments::default(), 0.0);
        for one in &self.loops {
            let (moments, z_moment) = self.loop_moments(one)?;
            sum = sum + moments;
            first += z_moment;
        }
        Ok((sum, first))
    }

    fn loop_moments(&self, one: &SlabLoop) -> Result<(Moments, f64), ShapeError> {
        let height = self.height();
        // Of what doesn't taper, one height tells all.
        let own = if one.wall == Wall::Tapered { Moments::default() } else { one.bottom.moments() };
        if one.wall == Wall::Straight {
            return Ok((own.scaled(height), own.area * height * (self.z[0] + self.z[1]) / 2.0));
        }
        let (mut sum, mut first) = (Moments::default(), 0.0);
        for (node, weight) in GAUSS {
            let fraction = (node + 1.0) / 2.0;
            let section = match one.wall {
                Wall::Twisted { per_mm } => own.rotated(per_mm * height * fraction),
                _ => one.at(fraction, height)?.moments(),
            };
            let section = section.scaled(weight * height / 2.0);
            sum = sum + section;
            first += section.area * (self.z[0] + height * fraction);
        }
        Ok((sum, first))
    }

    /// \[mm3\], as [`moments`](Slab::moments).
    fn volume(&self) -> Result<f64, ShapeError> {
        let height = self.height();
        let of = |one: &SlabLoop| -> Result<f64, ShapeError> {
            if one.wall != Wall::Tapered {
                return Ok(one.bottom.signed_area() * height);
            }
            GAUSS.iter().try_fold(0.0, |sum, (node, weight)| {
                Ok(sum + one.area_at((node + 1.0) / 2.0, height)? * weight * height / 2.0)
            })
        };
        self.loops.iter().try_fold(0.0, |sum, one| Ok(sum + of(one)?))
    }

    fn map(&self, z: [f64; 2], outline: impl Fn(&SlabLoop) -> SlabLoop) -> Slab {
        Slab { z, loops: self.loops.iter().map(outline).collect() }
    }
}

/// A whole part.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stack {
    pub slabs: Vec<Slab>,
}

/// Volume, centre of mass and inertia of a solid of density one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MassProperties {
    /// \[mm3\]
    pub volume: f64,
    /// \[mm\]
    pub centroid: [f64; 3],
    /// About the z axis \[mm5\].
    pub inertia_z: f64,
}

impl Stack {
    /// Section at height `z`; empty outside the part. At an interface, the slab above.
    pub fn region_at(&self, z: f64) -> Result<Region, ShapeError> {
        match self.slabs.iter().find(|slab| z >= slab.z[0] && z < slab.z[1]) {
            Some(slab) => slab.region_at(z),
            None => Ok(Region::default()),
        }
    }

    /// Box round it, seen along z. A twisted outline counts with the circle it sweeps: a little more than its own box unless a
    /// tip sweeps past the axes.
    pub fn bounds(&self) -> Bounds {
        let extent = |bounds: Bounds, one: &SlabLoop| match one.wall {
            Wall::Twisted { .. } => {
                let radius = one.bottom.max_radius(Point::ORIGIN);
                bounds.merged(Bounds::of(Point::new(-radius, -radius), Point::new(radius, radius)))
            }
            Wall::Straight | Wall::Tapered => bounds.merged(one.bottom.bounds()).merged(one.top.bounds()),
        };
        self.slabs.iter().flat_map(|slab| &slab.loops).fold(Bounds::EMPTY, extent)
    }

    /// Extent along x, y and z \[mm\]: of its [`bounds`](Stack::bounds) and its height.
    pub fn size(&self) -> [f64; 3] {
        let bounds = self.bounds();
        let [bottom, top] = self.z_range();
        // An empty stack has no box.
        let across = |low: f64, high: f64| f64::max(0.0, high - low);
        [across(bounds.low.x, bounds.high.x), across(bounds.low.y, bounds.high.y), top - bottom]
    }

    /// Lowest and highest z; both 0 for an empty stack.
    pub fn z_range(&self) -> [f64; 2] {
        match (self.slabs.first(), self.slabs.last()) {
            (Some(first), Some(last)) => [first.z[0], last.z[1]],
            _ => [0.0, 0.0],
        }
    }

    /// Turned over about the x axis: (x, y, z) to (x, -y, -z). A rotation, so helices keep their hand.
    #[must_use]
    pub fn flipped(&self) -> Stack {
        let turn = |slab: &Slab| {
            slab.map([-slab.z[1], -slab.z[0]], |one| SlabLoop {
                bottom: one.top.mirrored(),
                top: one.bottom.mirrored(),
                ..*one
            })
        };
        Stack { slabs: self.slabs.iter().rev().map(turn).collect() }
    }

    #[must_use]
    pub fn translated_z(&self, by: f64) -> Stack {
        Stack {
            slabs: self
                .slabs
                .iter()
                .map(|slab| slab.map([slab.z[0] + by, slab.z[1] + by], SlabLoop::clone))
                .collect(),
        }
    }

    /// Turned about the z axis.
    #[must_use]
    pub fn rotated(&self, angle: f64) -> Stack {
        let turn = |one: &SlabLoop| SlabLoop {
            bottom: one.bottom.rotated(angle),
            top: one.top.rotated(angle),
            ..*one
        };
        Stack { slabs: self.slabs.iter().map(|slab| slab.map(slab.z, turn)).collect() }
    }

    /// Larger or smaller in all directions, about the origin.
    #[must_use]
    pub fn scaled(&self, by: f64) -> Stack {
        let outline = |one: &SlabLoop| SlabLoop {
            bottom: one.bottom.scaled(by),
            top: one.top.scaled(by),
            wall: match one.wall {
                Wall::Twisted { per_mm } => Wall::Twisted { per_mm: per_mm / by },
                other => other,
            },
            ..*one
        };
        Stack { slabs: self.slabs.iter().map(|slab| slab.map(slab.z.map(|z| z * by), outline)).collect() }
    }

    pub fn mass_properties(&self) -> Result<MassProperties, ShapeError> {
        let mut sum = Moments::default();
        let mut first = 0.0;
        for slab in &self.slabs {
            let (moments, z_moment) = slab.moments()?;
            sum = sum + moments;
            first += z_moment;
        }
        if sum.area <= 0.0 {
            return Err(ShapeError::new(ShapeErrorKind::Empty));
        }
        let centre = sum.centroid().unwrap_or(Point::ORIGIN);
        Ok(MassProperties {
            volume: sum.area,
            centroid: [centre.x, centre.y, first / sum.area],
            inertia_z: sum.polar(),
        })
    }

    /// \[mm3\]
    pub fn volume(&self) -> Result<f64, ShapeError> {
        let volume =
            self.slabs.iter().try_fold(0.0, |sum, slab| Ok::<_, ShapeError>(sum + slab.volume()?))?;
        if volume > 0.0 { Ok(volume) } else { Err(ShapeError::new(ShapeErrorKind::Empty)) }
    }
}
