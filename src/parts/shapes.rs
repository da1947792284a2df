//! 2D shapes and small features that several parts share. Diameters, as on a drawing.

use std::f64::consts::TAU;

use crate::geometry::{Body, Point, Region, ShapeError};
use crate::layout::{Actuator, Bolting};

/// Lead-in at the mouth of pockets that take an insert: 0.4 on the radius (practice).
pub const LEAD_IN: f64 = 0.4;
/// Sector bosses that grow out of a round wall start this far outside it, so that no edge is a knife's.
pub const START: f64 = 0.2;

pub fn disc(diameter: f64) -> Region {
    Region::disc(Point::ORIGIN, diameter / 2.0)
}

pub fn ring(outer: f64, inner: f64) -> Region {
    Region::annulus(Point::ORIGIN, inner / 2.0, outer / 2.0)
}

pub fn disc_at(distance: f64, angle: f64, diameter: f64) -> Region {
    Region::disc(Point::polar(distance, angle), diameter / 2.0)
}

/// Sector between two radii, `half` to either side of `angle`.
pub fn sector(inner: f64, outer: f64, angle: f64, half: f64) -> Region {
    Region::sector(inner, outer, angle - half, angle + half)
}

/// Equal angles, the first at `first`.
pub fn spread(count: u32, first: f64) -> impl Iterator<Item = f64> {
    let step = TAU / f64::from(count.max(1));
    (0..count).map(move |k| first + step * f64::from(k))
}

/// A disc and what stands out of it, as one outline.
pub fn lobed(diameter: f64, lobes: impl IntoIterator<Item = Region>) -> Result<Region, ShapeError> {
    let all: Vec<Region> = std::iter::once(disc(diameter)).chain(lobes).collect();
    Region::union_of(&all)
}

/// Clearance holes of a joint through a height.
pub fn clearance_holes(body: &mut Body, name: &str, joint: &Bolting, z: [f64; 2]) {
    for angle in joint.angles() {
        body.cut(name, z, disc_at(joint.radius(), angle, joint.clearance));
    }
}

/// Which way a blind hole opens.
#[derive(Clone, Copy, PartialEq)]
pub enum Opening {
    Back,
    Front,
}

/// Blind insert holes of a joint with their lead-in, opening at height `at`.
pub fn insert_holes(
    body: &mut Body,
    name: &str,
    actuator: &Actuator,
    joint: &Bolting,
    at: f64,
    depth: f64,
    opening: Opening,
) {
    let diameter = actuator.insert_hole(joint);
    for angle in joint.angles() {
        insert_hole(body, name, Point::polar(joint.radius(), angle), diameter, at, depth, opening);
    }
}

/// One blind insert hole with its lead-in.
pub fn insert_hole(
    body: &mut Body,
    name: &str,
    centre: Point,
    diameter: f64,
    at: f64,
    depth: f64,
    opening: Opening,
) {
    let narrow = Region::disc(centre, diameter / 2.0);
    let wide = Region::disc(centre, diameter / 2.0 + LEAD_IN);
    match opening {
        Opening::Back => {
            body.cut(name, [at, at + depth], narrow.clone());
            body.cut_taper(format!("{name} lead-in"), [at, at + LEAD_IN], wide, narrow);
        }
        Opening::Front => {
            body.cut(name, [at - depth, at], narrow.clone());
            body.cut_taper(format!("{name} lead-in"), [at - LEAD_IN, at], narrow, wide);
        }
    }
}

/// 90 degree countersinks of a joint whose heads end flush at height `at`.
pub fn countersinks(body: &mut Body, name: &str, joint: &Bolting, at: f64, opening: Opening) {
    let depth = (joint.head_diameter - joint.clearance) / 2.0;
    for angle in joint.angles() {
        let narrow = disc_at(joint.radius(), angle, joint.clearance);
        let wide = disc_at(joint.radius(), angle, joint.head_diameter);
        match opening {
            Opening::Back => body.cut_taper(name, [at, at + depth], wide, narrow),
            Opening::Front => body.cut_taper(name, [at - depth, at], narrow, wide),
        };
    }
}

/// Adds an outline with a chamfer on the bed edge: `bed` is the end of `z` that lies on the bed.
pub fn add_chamfered(
    body: &mut Body,
    name: &str,
    z: [f64; 2],
    outline: Region,
    chamfer: f64,
    bed: Opening,
) -> Result<(), ShapeError> {
    if chamfer <= 0.0 {
        body.add(name, z, outline);
        return Ok(());
    }
    let small = outline.inset(chamfer)?;
    match bed {
        Opening::Back => {
            body.add_taper(format!("{name} chamfer"), [z[0], z[0] + chamfer], small, outline.clone());
            body.add(name, [z[0] + chamfer, z[1]], outline);
        }
        Opening::Front => {
            body.add(name, [z[0], z[1] - chamfer], outline.clone());
            body.add_taper(format!("{name} chamfer"), [z[1] - chamfer, z[1]], outline, small);
        }
    }
    Ok(())
}

/// Widens a round bore at its end by a chamfer of `by` on the radius.
pub fn bore_chamfer(body: &mut Body, name: &str, diameter: f64, at: f64, by: f64, opening: Opening) {
    if by <= 0.0 {
        return;
    }
    let (narrow, wide) = (disc(diameter), disc(diameter + 2.0 * by));
    match opening {
        Opening::Back => body.cut_taper(name, [at, at + by], wide, narrow),
        Opening::Front => body.cut_taper(name, [at - by, at], narrow, wide),
    };
}
