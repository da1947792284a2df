//! Does a part print without supports? Read off its slabs, as they lie on the bed.
//!
//! - A wall that leans outwards going up may lean as far as the printer's overhang limit.
//! - A flat ceiling is a bridge when it is supported all round and has no hole: its span may be the printer's bridge.
//! - Any other downward face is a ledge: it may stand out by one line width, not more. So no counterbore opens on the
//!   bed, no head seat faces it, and no pad on the bed lifts the rest off it.

use rayon::prelude::*;

use crate::design::Printer;
use crate::geometry::{Curve, Point, Region, Section, Segment, ShapeError, Slab, Stack, Wall};

/// Which way a downward face fails to be supported.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    Slope,
    Bridge,
    Ledge,
}

/// A downward face, how far it reaches and how far it may.
#[derive(Clone, Debug, PartialEq)]
pub struct Overhang {
    pub kind: Kind,
    /// Height over the bed.
    pub z: f64,
    /// Slope: tangent of the angle from the vertical; bridge: span; ledge: how far it stands out \[mm\].
    pub reach: f64,
    pub limit: f64,
    /// A place on it.
    pub place: [f64; 2],
}

impl Overhang {
    /// Rounding in the layout's own numbers must not decide: a thousandth is in hand.
    pub fn holds(&self) -> bool {
        self.reach <= self.limit * 1.001
    }
}

/// Ceilings smaller than this are the slicer's own rounding \[mm2\].
const SPECK: f64 = 0.01;

/// All downward faces of a part that lies on the bed at its lowest height.
pub fn overhangs(stack: &Stack, printer: &Printer) -> Result<Vec<Overhang>, ShapeError> {
    let mut found = slopes(stack, printer);
    let ceilings: Vec<Vec<Overhang>> = stack
        .slabs
        .par_windows(2)
        .map(|pair| ceilings(&pair[0], &pair[1], printer))
        .collect::<Result<_, _>>()?;
    found.extend(ceilings.into_iter().flatten());
    Ok(found)
}

/// Walls that lean out on their way up.
fn slopes(stack: &Stack, printer: &Printer) -> Vec<Overhang> {
    let mut found = Vec::new();
    let steepest = libm::tan(printer.overhang);
    for slab in &stack.slabs {
        for one in slab.loops.iter().filter(|one| one.wall == Wall::Tapered) {
            for (bottom, top) in one.bottom.0.iter().zip(&one.top.0) {
                let reach = growth(bottom, top) / slab.height();
                if reach > 1e-6 {
                    let middle = bottom.middle();
                    found.push(Overhang {
                        kind: Kind::Slope,
                        z: slab.z[0],
                        reach,
                        limit: steepest,
                        place: [middle.x, middle.y],
                    });
                }
            }
        }
    }
    found
}

/// Flat downward faces where one slab begins on another.
fn ceilings(below: &Slab, above: &Slab, printer: &Printer) -> Result<Vec<Overhang>, ShapeError> {
    let (under, over, z) = (below.top(), above.bottom(), above.z[0]);
    let mut pieces = over.minus(&under)?.split()?;
    pieces.retain(|piece| piece.area() > SPECK);
    if pieces.is_empty() {
        return Ok(Vec::new());
    }
    let under = Section::of(under);
    pieces.iter().map(|piece| ceiling(piece, &under, z, printer)).collect()
}

/// How far a wall moves out of the material from bottom to top.
fn growth(bottom: &Segment, top: &Segment) -> f64 {
    match (bottom.curve, top.curve) {
        // Material lies to the left of a segment.
        (Curve::Line, _) => -(bottom.to - bottom.from).unit().left_normal().dot(top.from - bottom.from),
        (Curve::Arc { radius, ccw, .. }, Curve::Arc { radius: above, .. }) => {
            if ccw {
                above - radius
            } else {
                radius - above
            }
        }
        (Curve::Arc { .. }, Curve::Line) => 0.0,
    }
}

/// A face that hangs over air: a ceiling supported all round, a strip between two supports, or a ledge.
fn ceiling(piece: &Region, below: &Section, z: f64, printer: &Printer) -> Result<Overhang, ShapeError> {
    let held: Vec<Vec<bool>> = piece
        .loops
        .iter()
        .map(|one| one.0.iter().map(|segment| supported(segment, below)).collect())
        .collect();
    let place =
        piece.segments().next().map_or([0.0, 0.0], |segment| [segment.middle().x, segment.middle().y]);
    let bridge = |reach| Overhang { kind: Kind::Bridge, z, reach, limit: printer.bridge, place };
    if piece.loops.len() == 1 && held.iter().flatten().all(|&held| held) {
        return Ok(bridge(widest(piece)?));
    }
    if let [one] = piece.loops.as_slice() {
        let runs = free_runs(&held[0]);
        if runs.len() >= 2 {
            // Free edges between two different supports: lines are laid across from one to the other.
            let ends = |run: &[usize; 2]| one.0[run[0]].from.distance(one.0[run[1]].to);
            return Ok(bridge(runs.iter().map(ends).fold(0.0, f64::max)));
        }
    }
    let supports: Vec<&Segment> =
        piece.segments().zip(held.iter().flatten()).filter(|(_, held)| **held).map(|(s, _)| s).collect();
    let free = piece.segments().zip(held.iter().flatten()).filter(|(_, held)| !**held).map(|(s, _)| s);
    let reach = farthest(free.flat_map(|segment| [segment.from, segment.middle(), segment.to]), &supports);
    Ok(Overhang { kind: Kind::Ledge, z, reach, limit: printer.line_width, place })
}

/// Greatest distance of the points from their nearest supports; infinite without supports.
fn farthest(points: impl Iterator<Item = Point>, supports: &[&Segment]) -> f64 {
    let mut farthest = 0.0;
    // Points follow each other along an outline: the support near one is near the next, and one within reach of the
    // farthest found settles a point.
    let mut near = 0;
    for point in points {
        let mut nearest = f64::INFINITY;
        let start = near;
        for step in 0..supports.len() {
            // To both sides by turns: the two outlines may run against each other.
            let away = step.div_ceil(2);
            let index = (start + if step % 2 == 0 { away } else { supports.len() - away }) % supports.len();
            let distance = supports[index].nearest(point).distance(point);
            if distance < nearest {
                nearest = distance;
                near = index;
            }
            if nearest <= farthest {
                break;
            }
        }
        farthest = f64::max(farthest, nearest);
    }
    farthest
}

/// First and last index of every run of edges without support, around the loop.
fn free_runs(held: &[bool]) -> Vec<[usize; 2]> {
    let count = held.len();
    let starts = (0..count).filter(|&i| !held[i] && held[(i + count - 1) % count]);
    starts
        .map(|start| {
            let length = (0..count).take_while(|offset| !held[(start + offset) % count]).count();
            [start, (start + length - 1) % count]
        })
        .collect()
}

/// Material of the layer below just outside the piece, across this edge.
fn supported(segment: &Segment, below: &Section) -> bool {
    // Farther than the kernel's snapping, nearer than any line.
    const ACROSS: f64 = 0.02;
    let middle = segment.middle();
    let outwards = segment.tangent_at(middle).left_normal() * -ACROSS;
    below.contains(middle + outwards)
}

/// Diameter of the largest circle that fits: the span across the narrow way.
fn widest(piece: &Region) -> Result<f64, ShapeError> {
    if let [one] = piece.loops.as_slice()
        && let Some((_, radius, _)) = one.as_circle()
    {
        return Ok(2.0 * radius);
    }
    let bounds = piece.bounds();
    let mut fits = 0.0;
    let mut too_much = f64::min(bounds.high.x - bounds.low.x, bounds.high.y - bounds.low.y) / 2.0 + 1e-6;
    while too_much - fits > 0.01 {
        let middle = (fits + too_much) / 2.0;
        if piece.offset(-middle)?.is_empty() {
            too_much = middle;
        } else {
            fits = middle;
        }
    }
    Ok(2.0 * fits)
}
