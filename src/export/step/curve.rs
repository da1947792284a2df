//! The curve of an edge: line, circle, conic or helix.

use super::conic::conic;
use super::entities::{Entities, Frame, Id, Length};
use super::helix::Helix;
use super::spline::{Knots, SplineCurve};
use crate::geometry::{Brep, Edge, EdgeCurve, Point, ShapeError, Vertex, norm};

/// Adds the curve, which runs from the edge's first vertex to its last.
pub(super) fn curve(brep: &Brep, edge: &Edge, entities: &mut Entities) -> Result<Id, ShapeError> {
    let ends = [brep.vertices[edge.from], brep.vertices[edge.to]];
    Ok(match &edge.curve {
        EdgeCurve::Line => line(ends, entities),
        EdgeCurve::Arc { centre, radius, ccw } => {
            // The direction of travel is in the axis.
            let frame = Frame {
                origin: [centre.x, centre.y, ends[0][2]],
                z: [0.0, 0.0, if *ccw { 1.0 } else { -1.0 }],
                x: [1.0, 0.0, 0.0],
            };
            let frame = entities.frame(&frame);
            entities.add(format_args!("CIRCLE('',{frame},{})", Length(*radius)))
        }
        EdgeCurve::Helix { angle } => helix(*angle, ends).add_to(entities),
        EdgeCurve::Conic(corner) => match conic(corner, ends)? {
            None => line(ends, entities),
            Some(conic) => {
                let knots = Knots::clamped(2, vec![0.0, 1.0], 0);
                let weights = Some(vec![1.0, conic.weight, 1.0]);
                SplineCurve { knots, points: vec![ends[0], conic.control, ends[1]], weights }.add_to(entities)
            }
        },
    })
}

fn line([from, to]: [Vertex; 2], entities: &mut Entities) -> Id {
    let way = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
    let length = norm(way);
    let (point, direction) =
        (entities.point(from), entities.direction(way.map(|component| component / length)));
    let vector = entities.add(format_args!("VECTOR('',{direction},{})", Length(length)));
    entities.add(format_args!("LINE('',{point},{vector})"))
}

fn helix(angle: f64, [from, to]: [Vertex; 2]) -> SplineCurve {
    let start = Point::new(from[0], from[1]);
    let helix = Helix::new(angle, start.norm());
    let points = helix.controls.iter().map(|control| {
        let point = control.apply(start);
        [point.x, point.y, from[2] + (to[2] - from[2]) * control.rise]
    });
    SplineCurve { points: points.collect(), knots: helix.knots, weights: None }
}
