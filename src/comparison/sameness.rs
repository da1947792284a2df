//! Whether two printed shapes are one: every boundary of every section of either lies near one of the other, and every face at its
//! height.
//!
//! Sections are compared between the heights where either shape changes, at both ends and in the middle of each interval: walls go
//! straight, turn or taper there, so that two of them are farthest apart at an end. An interval thinner than the tolerance is a face
//! that lies at two heights: it counts with its thickness.

use crate::geometry::{Bounds, Region, Segment, ShapeError, Stack};

/// How far two printed surfaces may lie apart and still be the same print \[mm\]: a fifth of the finest step between two fits, and how
/// far the triangles of one STL may lie from its own surface.
pub const TOLERANCE: f64 = 0.01;
/// Nearer than this is equal \[mm\]: rounding of heights and angles.
const EQUAL: f64 = 1e-6;
/// From a height where a shape changes into the interval beside it \[mm\]: beyond all heights that count as equal to it.
const INSIDE: f64 = 2.0 * EQUAL;

/// How two shapes compare.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Sameness {
    /// No surface farther from the other than this \[mm\], within the tolerance.
    Within(f64),
    /// They differ between these heights on the bed \[mm\].
    Differs { from: f64, to: f64 },
}

impl Sameness {
    pub fn is_same(self) -> bool {
        matches!(self, Sameness::Within(_))
    }
}

/// Two shapes in the same frame, unturned; `tolerance` \[mm\].
///
/// # Errors
/// A section that can't be formed.
pub fn sameness(a: &Stack, b: &Stack, tolerance: f64) -> Result<Sameness, ShapeError> {
    let heights = heights(a, b);
    let mut spans = Vec::with_capacity(heights.len());
    for pair in heights.windows(2) {
        if let [low, high] = *pair {
            spans.push(Span::between(a, b, [low, high], tolerance)?);
        }
    }
    Ok(judged(&spans, tolerance))
}

/// Where either changes, rising, each once.
fn heights(a: &Stack, b: &Stack) -> Vec<f64> {
    let mut all: Vec<f64> = [a, b].iter().flat_map(|stack| &stack.slabs).flat_map(|slab| slab.z).collect();
    all.sort_by(f64::total_cmp);
    all.dedup_by(|next, kept| *next - *kept <= EQUAL);
    all
}

/// An interval of height and how far the sections in it lie apart; none for more than the tolerance.
struct Span {
    z: [f64; 2],
    apart: Option<f64>,
}

impl Span {
    fn between(a: &Stack, b: &Stack, z: [f64; 2], tolerance: f64) -> Result<Span, ShapeError> {
        let [low, high] = z;
        let inside = INSIDE.min((high - low) / 2.0);
        let mut apart = Some(0.0_f64);
        for at in [low + inside, (low + high) / 2.0, high - inside] {
            let here = apart_within(&a.region_at(at)?, &b.region_at(at)?, tolerance);
            apart = apart.zip(here).map(|(most, here)| most.max(here));
            if apart.is_none() {
                break;
            }
        }
        Ok(Span { z, apart })
    }

    fn thickness(&self) -> f64 {
        self.z[1] - self.z[0]
    }
}

/// Neighbouring spans that differ are one displaced face as long as all of them together are thinner than the tolerance.
fn judged(spans: &[Span], tolerance: f64) -> Sameness {
    let mut worst = 0.0_f64;
    let mut differs: Option<[f64; 2]> = None;
    for group in spans.chunk_by(|one, next| one.apart.is_none() == next.apart.is_none()) {
        let (Some(first), Some(last)) = (group.first(), group.last()) else { continue };
        let thickness: f64 = group.iter().map(Span::thickness).sum();
        if first.apart.is_some() {
            worst = group.iter().filter_map(|span| span.apart).fold(worst, f64::max);
        } else if thickness <= tolerance + EQUAL {
            worst = worst.max(thickness);
        } else {
            let from = differs.map_or(first.z[0], |[from, _]| from);
            differs = Some([from, last.z[1]]);
        }
    }
    match differs {
        Some([from, to]) => Sameness::Differs { from, to },
        None => Sameness::Within(worst),
    }
}

/// Greatest distance of either boundary from the other, if it is within the tolerance.
fn apart_within(a: &Region, b: &Region, tolerance: f64) -> Option<f64> {
    if a.is_empty() && b.is_empty() {
        return Some(0.0);
    }
    // Two boundaries may lie on each other with material on opposite sides: then the areas tell.
    let rim = f64::max(a.perimeter(), b.perimeter());
    if (a.area() - b.area()).abs() > (tolerance + EQUAL) * rim {
        return None;
    }
    Some(f64::max(reach(a, b, tolerance)?, reach(b, a, tolerance)?))
}

/// Places along a segment that are looked at besides its start: no line or arc bends between them.
const ALONG: [f64; 3] = [0.25, 0.5, 0.75];

/// Greatest distance of a region's boundary from another's; none beyond the tolerance.
fn reach(of: &Region, to: &Region, tolerance: f64) -> Option<f64> {
    let edges: Vec<(Segment, Bounds)> = to.segments().map(|one| (*one, one.bounds())).collect();
    let mut worst = 0.0_f64;
    // Outlines run alike: what is near one point is near the next.
    let mut near = 0;
    for segment in of.segments() {
        let points = std::iter::once(segment.from).chain(ALONG.map(|share| segment.at(share)));
        for point in points {
            let at = Bounds::of(point, point);
            let mut best: Option<(f64, usize)> = None;
            for step in 0..edges.len() {
                let index = (near + step) % edges.len();
                let Some((edge, bounds)) = edges.get(index) else { continue };
                if bounds.gap_to(at) > best.map_or(tolerance + EQUAL, |(distance, _)| distance) {
                    continue;
                }
                let distance = edge.nearest(point).distance(point);
                if best.is_none_or(|(least, _)| distance < least) {
                    best = Some((distance, index));
                }
                if distance <= EQUAL {
                    break;
                }
            }
            let (distance, index) = best.filter(|(distance, _)| *distance <= tolerance + EQUAL)?;
            near = index;
            worst = worst.max(if distance <= EQUAL { 0.0 } else { distance });
        }
    }
    Some(worst)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::{Body, Point};

    /// A flanged bush with a bore, moved and lengthened.
    fn bush(shift: f64, grown: f64, length: f64) -> Stack {
        let mut body = Body::new();
        let place = Point::new(shift, 0.0);
        body.add("flange", [0.0, 3.0], Region::disc(place, 12.0));
        body.add("tube", [3.0, length], Region::disc(place, 8.0 + grown));
        body.cut("bore", [0.0, length], Region::disc(place, 5.0));
        body.stack().expect("a shape")
    }

    fn compared(other: &Stack) -> Sameness {
        let one = bush(0.0, 0.0, 10.0);
        let found = sameness(&one, other, TOLERANCE).expect("sections");
        // Either way round.
        assert_eq!(found.is_same(), sameness(other, &one, TOLERANCE).expect("sections").is_same());
        found
    }

    #[test]
    fn a_shape_is_itself() {
        assert_eq!(compared(&bush(0.0, 0.0, 10.0)), Sameness::Within(0.0));
    }

    #[test]
    fn moved_grown_or_lengthened_within_the_tolerance_and_beyond() {
        for (label, make) in [
            ("moved", (|by| bush(by, 0.0, 10.0)) as fn(f64) -> Stack),
            ("grown", |by| bush(0.0, by, 10.0)),
            ("lengthened", |by| bush(0.0, 0.0, 10.0 + by)),
            ("shortened", |by| bush(0.0, 0.0, 10.0 - by)),
        ] {
            match compared(&make(0.008)) {
                Sameness::Within(apart) => assert!((apart - 0.008).abs() < 1e-6, "{label}: {apart}"),
                other => panic!("{label}: {other:?}"),
            }
            assert!(!compared(&make(0.012)).is_same(), "{label}");
        }
    }

    #[test]
    fn the_heights_that_differ_are_told() {
        let Sameness::Differs { from, to } = compared(&bush(0.0, 0.5, 10.0)) else { panic!("same") };
        assert_eq!([from, to], [3.0, 10.0]);
        let Sameness::Differs { from, to } = compared(&bush(0.0, 0.0, 12.0)) else { panic!("same") };
        assert_eq!([from, to], [10.0, 12.0]);
    }

    #[test]
    fn a_small_hole_more_is_another_part() {
        let mut body = Body::new();
        body.add("plate", [0.0, 4.0], Region::rectangle(Point::new(-20.0, -20.0), Point::new(20.0, 20.0)));
        let plain = body.stack().expect("a shape");
        // On an edge's middle between the places looked at along it; a notch shows from its own corners.
        body.cut("notch", [1.0, 2.0], Region::rectangle(Point::new(19.9, 3.0), Point::new(21.0, 3.2)));
        let notched = body.stack().expect("a shape");
        assert_eq!(
            sameness(&plain, &notched, TOLERANCE).expect("sections"),
            Sameness::Differs { from: 1.0, to: 2.0 }
        );
    }

    #[test]
    fn material_on_the_other_side_of_one_boundary_is_another_part() {
        let ring = Region::annulus(Point::ORIGIN, 4.0, 9.0);
        let mut plug = Region::disc(Point::ORIGIN, 9.0);
        plug.loops.extend(Region::disc(Point::ORIGIN, 4.0).loops);
        assert!(apart_within(&ring, &plug, TOLERANCE).is_none());
    }
}
