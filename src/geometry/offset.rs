//! General offsets through `cavalier_contours`: outlines may split, merge or vanish.

use cavalier_contours::polyline::{PlineSource, PlineSourceMut, Polyline};
use cavalier_contours::shape_algorithms::{Shape, ShapeOffsetOptions};

use super::error::ShapeError;
use super::loops::Loop;
use super::point::Point;
use super::region::Region;
use super::segment::{Curve, Segment};

impl Region {
    /// The region grown by `distance` (negative: shrunk), rounded where it grows round corners.
    pub fn offset(&self, distance: f64) -> Result<Region, ShapeError> {
        if distance == 0.0 || self.is_empty() {
            return Ok(self.clone());
        }
        let polylines = self.loops.iter().map(polyline);
        // The library offsets counter-clockwise loops inwards for positive distances; holes the other way.
        let shape = Shape::from_plines(polylines).parallel_offset(-distance, &ShapeOffsetOptions::default());
        let outlines =
            shape.ccw_plines.iter().chain(&shape.cw_plines).map(|indexed| outline(&indexed.polyline));
        Ok(Region::from_loops(outlines.filter(|one| !one.0.is_empty()).collect()))
    }
}

fn polyline(outline: &Loop) -> Polyline<f64> {
    let mut line = Polyline::new_closed();
    for segment in &outline.0 {
        // The bulge is the tangent of a quarter of the sweep; arcs past half a turn lose precision, so they are halved.
        let pieces = if segment.sweep().abs() > std::f64::consts::PI { 2 } else { 1 };
        for piece in 0..pieces {
            let from = segment.at(f64::from(piece) / f64::from(pieces));
            line.add(from.x, from.y, libm::tan(segment.sweep() / f64::from(pieces) / 4.0));
        }
    }
    line
}

fn outline(line: &Polyline<f64>) -> Loop {
    let count = line.vertex_count();
    let segments = (0..count).map(|index| {
        let (a, b) = (line.at(index), line.at((index + 1) % count));
        let (from, to) = (Point::new(a.x, a.y), Point::new(b.x, b.y));
        segment(from, to, a.bulge)
    });
    Loop(segments.filter(|one| one.from.distance(one.to) > 1e-9).collect())
}

/// A line, or the arc of a bulge.
fn segment(from: Point, to: Point, bulge: f64) -> Segment {
    if bulge.abs() < 1e-9 {
        return Segment::line(from, to);
    }
    let chord = to - from;
    // Centre on the chord's bisector: its height over the chord is (1 - b^2) / (4 b) of the chord, to the left.
    let centre = (from + to) * 0.5 + chord.left_normal() * ((1.0 - bulge * bulge) / (4.0 * bulge));
    Segment { from, to, curve: Curve::Arc { centre, radius: from.distance(centre), ccw: bulge > 0.0 } }
}
