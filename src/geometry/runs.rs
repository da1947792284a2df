//! Runs of edges that follow each other, with the box round each: most pairs of edges are told apart a run at a time.

use std::ops::Range;

use super::point::{Bounds, Point};

/// Edges of a run: its box is about as long as wide, and a loop of teeth makes some dozens of runs.
const LENGTH: usize = 12;

/// Consecutive edges of one loop.
#[derive(Clone, Debug)]
pub(crate) struct Run {
    pub edges: Range<usize>,
    pub bounds: Bounds,
}

impl Run {
    /// Adds the runs of a loop whose edges have these boxes and begin at `first`.
    pub(crate) fn add_loop(runs: &mut Vec<Run>, first: usize, boxes: impl Iterator<Item = Bounds>) {
        let begun = runs.len();
        for (at, bounds) in (first..).zip(boxes) {
            match runs.last_mut() {
                Some(run) if !(at - first).is_multiple_of(LENGTH) => {
                    run.edges.end = at + 1;
                    run.bounds = run.bounds.merged(bounds);
                }
                _ => runs.push(Run { edges: at..at + 1, bounds }),
            }
        }
        debug_assert!(runs.get(begun).is_none_or(|run| run.edges.start == first));
    }

    /// The same run where its section's edges begin so much later.
    pub(crate) fn moved(&self, by: usize, from: usize) -> Run {
        Run { edges: self.edges.start - from + by..self.edges.end - from + by, bounds: self.bounds }
    }

    /// Whether a ray from the point towards +x can't reach any of its edges.
    pub(crate) fn is_missed_from(&self, point: Point, rounding: f64) -> bool {
        let (low, high) = (self.bounds.low, self.bounds.high);
        point.y < low.y - rounding || point.y > high.y + rounding || point.x > high.x + rounding
    }
}
