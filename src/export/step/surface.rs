//! The surface of a face: plane, cylinder, cone or helical B-spline.

use std::f64::consts::FRAC_PI_2;

use super::entities::{Entities, Frame, Id, Length, Number};
use super::helix::Helix;
use super::spline::{Knots, SplineSurface};
use crate::geometry::{Curve, Point, Segment, Surface, norm};

/// A cone whose radii differ by less is a cylinder \[mm\]: rounding of equal ones.
const SAME_RADIUS: f64 = 1e-8;

/// Adds the surface; true if its own normal points out of the material.
pub(super) fn surface(surface: &Surface, entities: &mut Entities) -> (Id, bool) {
    match surface {
        Surface::Level { z, up } => {
            let frame = upright(Point::ORIGIN, *z, *up, Point::new(1.0, 0.0));
            (plane(&frame, entities), true)
        }
        Surface::Ruled { bottom, top, z } => match (bottom.curve, top.curve) {
            (Curve::Arc { centre, radius, ccw }, Curve::Arc { radius: above, .. }) => {
                // Its seam lies where the wall begins; counter-clockwise walls look away from the axis.
                let seam = if ccw { bottom.from } else { bottom.to };
                (round([radius, above], *z, centre, (seam - centre).unit(), entities), ccw)
            }
            _ => (plane(&leaning(bottom, top, *z), entities), true),
        },
        Surface::Twisted { bottom, z, per_mm } => {
            (flank(bottom, *z, per_mm * (z[1] - z[0])).add_to(entities), true)
        }
    }
}

/// About an upright axis, which points up or down.
fn upright(centre: Point, height: f64, up: bool, x: Point) -> Frame {
    let z = [0.0, 0.0, if up { 1.0 } else { -1.0 }];
    Frame { origin: [centre.x, centre.y, height], z, x: [x.x, x.y, 0.0] }
}

fn plane(frame: &Frame, entities: &mut Entities) -> Id {
    let frame = entities.frame(frame);
    entities.add(format_args!("PLANE('',{frame})"))
}

/// A cylinder, or a cone placed at its narrow end with its axis pointing to the wide one.
fn round(radii: [f64; 2], z: [f64; 2], centre: Point, x: Point, entities: &mut Entities) -> Id {
    let growth = radii[1] - radii[0];
    if growth.abs() < SAME_RADIUS {
        let frame = entities.frame(&upright(centre, z[0], true, x));
        return entities.add(format_args!("CYLINDRICAL_SURFACE('',{frame},{})", Length(radii[0])));
    }
    let (height, radius) = if growth > 0.0 { (z[0], radii[0]) } else { (z[1], radii[1]) };
    let half_angle = libm::atan2(growth.abs(), z[1] - z[0]);
    let frame = entities.frame(&upright(centre, height, growth > 0.0, x));
    entities.add(format_args!("CONICAL_SURFACE('',{frame},{},{})", Length(radius), Number(half_angle)))
}

/// The plane of an upright or leaning wall, its normal to the right of the segment: out of the material.
fn leaning(bottom: &Segment, top: &Segment, z: [f64; 2]) -> Frame {
    let longer = if bottom.length() >= top.length() { bottom } else { top };
    let along = (longer.to - longer.from).unit();
    let right = -along.left_normal();
    let height = z[1] - z[0];
    let normal = [right.x * height, right.y * height, -right.dot(top.from - bottom.from)];
    let length = norm(normal);
    Frame {
        origin: [bottom.from.x, bottom.from.y, z[0]],
        z: normal.map(|component| component / length),
        x: [along.x, along.y, 0.0],
    }
}

/// The segment's control points, each turned by the helix.
fn flank(bottom: &Segment, z: [f64; 2], angle: f64) -> SplineSurface {
    let helix = Helix::new(angle, bottom.radius_range(Point::ORIGIN).1);
    let Outline { knots, points, weights } = outline(bottom);
    let turned = |point: &Point| {
        let place = |control: &super::helix::Control| {
            let point = control.apply(*point);
            [point.x, point.y, z[0] + (z[1] - z[0]) * control.rise]
        };
        helix.controls.iter().map(place).collect()
    };
    SplineSurface { rows: points.iter().map(turned).collect(), across: knots, along: helix.knots, weights }
}

/// A plane curve as a spline.
struct Outline {
    knots: Knots,
    points: Vec<Point>,
    weights: Option<Vec<f64>>,
}

/// A line as it is, an arc as rational quadratic pieces of a quarter turn at most.
fn outline(segment: &Segment) -> Outline {
    let Curve::Arc { centre, .. } = segment.curve else {
        let knots = Knots::clamped(1, vec![0.0, 1.0], 0);
        return Outline { knots, points: vec![segment.from, segment.to], weights: None };
    };
    let sweep = segment.sweep();
    let pieces = (sweep.abs() / FRAC_PI_2).ceil().max(1.0) as usize;
    let half = 2 * pieces;
    let middle_weight = libm::cos(sweep / half as f64);
    // Ends of the pieces lie on the arc, the control points between where the tangents meet.
    let weights: Vec<f64> = (0..=half).map(|step| if step % 2 == 0 { 1.0 } else { middle_weight }).collect();
    let points = weights.iter().enumerate().map(|(step, weight)| match step {
        0 => segment.from,
        last if last == half => segment.to,
        _ => centre + (segment.at(step as f64 / half as f64) - centre) * (1.0 / weight),
    });
    let knots = (0..=pieces).map(|piece| piece as f64 / pieces as f64).collect();
    Outline { points: points.collect(), weights: Some(weights), knots: Knots::clamped(2, knots, 2) }
}
