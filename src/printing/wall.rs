//! The thinnest wall of a part: in every section, the least distance across material between two edges that face each other.
//!
//! Two edges face each other when the line between their nearest points runs into the material at both ends, within 37 degrees of
//! square. Teeth are left out: their tips have a check of their own. Range: sections at half height of every slab (a countersink
//! leaves less over its first layers); walls over [`REACH`] aren't looked for.

use crate::geometry::{Bounds, Point, Region, Segment, ShapeError, Stack};
use crate::parts::solid_section;

/// Thicker walls need no looking at \[mm\].
pub const REACH: f64 = 4.0;
/// Cosine between wall and the line across it: a chamfer or a fillet, whose ends are near each other, is no wall.
const SQUARE: f64 = 0.8;
/// Nearer points belong to one corner \[mm\].
const CORNER: f64 = 1e-3;

/// A wall.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    /// \[mm\]
    pub thickness: f64,
    /// Over the bed.
    pub z: f64,
    /// Its middle.
    pub place: Point,
}

/// The thinnest wall of a part as it lies; none under [`REACH`].
///
/// # Errors
/// If a section can't be formed.
pub fn thinnest(stack: &Stack) -> Result<Option<Wall>, ShapeError> {
    let mut thinnest: Option<Wall> = None;
    for slab in &stack.slabs {
        let z = (slab.z[0] + slab.z[1]) / 2.0;
        let section = solid_section(slab)?;
        let limit = thinnest.map_or(REACH, |wall| wall.thickness);
        if let Some((thickness, place)) = in_section(&section, limit) {
            thinnest = Some(Wall { thickness, z, place });
        }
    }
    Ok(thinnest)
}

/// The thinnest wall of a region under `limit`, and its middle.
fn in_section(region: &Region, limit: f64) -> Option<(f64, Point)> {
    let edges: Vec<(Segment, Bounds)> =
        region.segments().map(|segment| (*segment, segment.bounds())).collect();
    let mut found: Option<(f64, Point)> = None;
    for (index, (a, a_box)) in edges.iter().enumerate() {
        for (b, b_box) in &edges[index + 1..] {
            let least = found.map_or(limit, |(thickness, _)| thickness);
            if a_box.gap_to(*b_box) >= least || a.is_surely_beyond(b, least) {
                continue;
            }
            let [p, q] = a.nearest_points(b);
            let across = q - p;
            let thickness = across.norm();
            if thickness <= CORNER || thickness >= least {
                continue;
            }
            let direction = across * (1.0 / thickness);
            // Material lies to the left of a segment.
            let into = |segment: &Segment, at: Point| segment.tangent_at(at).left_normal();
            let faces = into(a, p).dot(direction) > SQUARE && into(b, q).dot(direction) < -SQUARE;
            let middle = (p + q) * 0.5;
            if faces && region.contains(middle) {
                found = Some((thickness, middle));
            }
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Body;

    fn part(outline: Region, hole: Region) -> Stack {
        let mut body = Body::new();
        body.add("plate", [0.0, 5.0], outline);
        body.cut("hole", [0.0, 5.0], hole);
        body.stack().expect("sound")
    }

    #[test]
    fn a_ring_and_an_eccentric_ring() {
        let ring = part(Region::disc(Point::ORIGIN, 10.0), Region::disc(Point::ORIGIN, 8.5));
        let wall = thinnest(&ring).expect("sections").expect("thin");
        assert!((wall.thickness - 1.5).abs() < 1e-9, "{wall:?}");
        let off = part(Region::disc(Point::ORIGIN, 10.0), Region::disc(Point::new(0.7, 0.0), 8.5));
        let wall = thinnest(&off).expect("sections").expect("thin");
        assert!((wall.thickness - 0.8).abs() < 1e-9, "{wall:?}");
        assert!((wall.place - Point::new(9.6, 0.0)).norm() < 1e-6);
    }

    #[test]
    fn a_hole_near_an_edge_of_a_plate() {
        let plate = part(
            Region::rectangle(Point::new(0.0, 0.0), Point::new(40.0, 30.0)),
            Region::disc(Point::new(5.0, 15.0), 4.0),
        );
        let wall = thinnest(&plate).expect("sections").expect("thin");
        assert!((wall.thickness - 1.0).abs() < 1e-9, "{wall:?}");
    }

    /// Short edges of a chamfered corner lie near each other, but nothing is thin there.
    #[test]
    fn a_chamfered_corner_is_no_wall() {
        let corners = [(0.0, 0.0), (40.0, 0.0), (40.0, 29.5), (39.5, 30.0), (0.0, 30.0)];
        let outline = Region::polygon(&corners.map(|(x, y)| Point::new(x, y)));
        let mut body = Body::new();
        body.add("plate", [0.0, 5.0], outline);
        assert_eq!(thinnest(&body.stack().expect("sound")).expect("sections"), None);
    }
}
