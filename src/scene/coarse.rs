//! A body with teeth of few straight edges, to be drawn while values change.

use crate::geometry::{Loop, Point, Segment, Slab, SlabLoop, Stack};

/// The body with every toothed outline followed by chords that stay this near to it \[mm\]; the rest as it is. Outlines of slabs that
/// lie on each other are alike but for a turn, and so are their chords.
pub fn with_coarse_teeth(stack: &Stack, tolerance: f64) -> Stack {
    let coarse = |one: &SlabLoop| {
        if !one.toothed {
            return one.clone();
        }
        let corners = corners(&one.bottom, tolerance);
        SlabLoop { bottom: chords(&one.bottom, &corners), top: chords(&one.top, &corners), ..*one }
    };
    let slabs = stack
        .slabs
        .iter()
        .map(|slab| Slab { z: slab.z, loops: slab.loops.iter().map(coarse).collect() })
        .collect();
    Stack { slabs }
}

/// Segments at whose start a chord begins.
fn corners(outline: &Loop, tolerance: f64) -> Vec<usize> {
    let segments = &outline.0;
    // A chord never spans more: the loop keeps its shape, whatever the tolerance.
    let longest = (segments.len() / 8).max(1);
    let mut found = Vec::new();
    let mut start = 0;
    while start < segments.len() {
        found.push(start);
        let mut end = start + 1;
        while end < segments.len() && end - start < longest && follows(&segments[start..=end], tolerance) {
            end += 1;
        }
        start = end;
    }
    found
}

/// Whether the chord from the first segment's start to the last one's end stays near all of them.
fn follows(run: &[Segment], tolerance: f64) -> bool {
    let (Some(first), Some(last)) = (run.first(), run.last()) else { return false };
    let along = (last.to - first.from).unit();
    let off = |point: Point| (point - first.from).cross(along).abs();
    run.iter().all(|segment| off(segment.from) <= tolerance && off(segment.middle()) <= tolerance)
}

fn chords(outline: &Loop, corners: &[usize]) -> Loop {
    let at = |index: usize| outline.0.get(index).map_or(Point::ORIGIN, |segment| segment.from);
    let next = corners.iter().skip(1).chain(corners.first());
    Loop(corners.iter().zip(next).map(|(from, to)| Segment::line(at(*from), at(*to))).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn chords_stay_near() {
        let circle = Loop::circle(Point::ORIGIN, 10.0);
        let fine = Loop::polygon(
            &(0..720).map(|k| Point::polar(10.0, f64::from(k).to_radians() / 2.0)).collect::<Vec<_>>(),
        );
        let coarse = chords(&fine, &corners(&fine, 0.05));
        // Sagitta of a chord over the angle a: r (1 - cos(a / 2)); 0.05 on 10 gives 11.5 degrees, 32 chords.
        assert!((30..=36).contains(&coarse.0.len()), "{}", coarse.0.len());
        assert!(coarse.signed_area() > circle.signed_area() * (1.0 - 2.0 * 0.05 / 10.0));
    }
}
