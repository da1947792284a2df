//! A part seen from the output along the axis: every edge that nothing in front of it hides.

use crate::geometry::{Point, Region, Segment, ShapeError, Stack, Wall};

/// Edges are looked at in pieces of this length \[mm\].
const PIECE: f64 = 1.5;
const MOST_PIECES: f64 = 48.0;
/// To either side of an edge \[mm\].
const BESIDE: f64 = 5e-3;
/// Outlines with more segments are teeth: one look a segment.
const MANY: usize = 120;

/// Pieces of edges that are seen.
///
/// # Errors
/// A tapered wall without a shape between its ends.
pub fn visible(stack: &Stack) -> Result<Vec<Segment>, ShapeError> {
    let middles: Vec<(Region, f64)> = stack
        .slabs
        .iter()
        .map(|slab| {
            let region = slab.region_at((slab.z[0] + slab.z[1]) / 2.0)?;
            let reach = region.radial_extent().map_or(0.0, |extent| extent.1);
            Ok((region, reach))
        })
        .collect::<Result<_, ShapeError>>()?;
    let mut seen = Vec::new();
    for (index, slab) in stack.slabs.iter().enumerate() {
        let over = middles.get(index + 1..).unwrap_or(&[]);
        let next = stack.slabs.get(index + 1);
        for one in &slab.loops {
            let goes_on = next.is_some_and(|next| {
                next.loops.iter().any(|other| {
                    other.wall == one.wall && one.wall != Wall::Tapered && other.bottom.same_as(&one.top)
                })
            });
            if !goes_on {
                look(&one.top.0, over, &mut seen);
            }
            if one.wall == Wall::Tapered {
                let own = middles.get(index..).unwrap_or(&[]);
                look(&one.bottom.0, own, &mut seen);
            }
        }
    }
    Ok(seen)
}

/// Adds the pieces of an outline that the sections over it leave open.
fn look(outline: &[Segment], over: &[(Region, f64)], seen: &mut Vec<Segment>) {
    for segment in outline {
        let count = if outline.len() > MANY {
            1.0
        } else {
            (segment.length() / PIECE).ceil().clamp(1.0, MOST_PIECES)
        };
        let mut open: Option<Segment> = None;
        for index in 0..count as usize {
            let (from, to) = (index as f64 / count, (index + 1) as f64 / count);
            let middle = segment.at((from + to) / 2.0);
            let aside = segment.tangent_at(middle).left_normal() * BESIDE;
            if hidden([middle + aside, middle - aside], over) {
                seen.extend(open.take());
                continue;
            }
            let piece = Segment { from: segment.at(from), to: segment.at(to), curve: segment.curve };
            open = Some(match open {
                // A segment is at most half a turn, so are its pieces together.
                Some(before) => Segment { to: piece.to, ..before },
                None => piece,
            });
        }
        seen.extend(open);
    }
}

fn hidden(sides: [Point; 2], over: &[(Region, f64)]) -> bool {
    let covered =
        |point: Point| over.iter().any(|(region, reach)| point.norm() <= *reach && region.contains(point));
    sides.into_iter().all(covered)
}
