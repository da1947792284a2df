//! What is laid over each other: all segments of all regions, with the boxes of their runs.

use super::Source;
use crate::geometry::intersect::SNAP;
use crate::geometry::point::{Bounds, Point};
use crate::geometry::region::Region;
use crate::geometry::runs::Run;
use crate::geometry::segment::Segment;

/// An input segment with its box.
pub(super) struct Item {
    pub source: Source,
    /// Of a loop that stays whole.
    pub alone: bool,
    pub segment: Segment,
    pub bounds: Bounds,
}

impl Item {
    /// Its region and loop.
    pub fn place(&self) -> (usize, usize) {
        (self.source.region, self.source.loop_index)
    }
}

pub(super) struct Inputs {
    /// Region by region, loop by loop.
    pub items: Vec<Item>,
    /// By region.
    pub runs: Vec<Vec<Run>>,
}

impl Inputs {
    pub fn of(regions: &[&Region]) -> Inputs {
        let count = regions.iter().map(|region| region.segment_count()).sum();
        let mut items: Vec<Item> = Vec::with_capacity(count);
        let mut all = Vec::with_capacity(regions.len());
        for (region, shape) in regions.iter().enumerate() {
            let mut runs = Vec::new();
            for (loop_index, outline) in shape.loops.iter().enumerate() {
                let first = items.len();
                for (segment, piece) in outline.0.iter().enumerate() {
                    let source = Source { region, loop_index, segment, forward: true };
                    items.push(Item { source, alone: false, segment: *piece, bounds: piece.bounds() });
                }
                Run::add_loop(&mut runs, first, items[first..].iter().map(|item| item.bounds));
            }
            all.push(runs);
        }
        Inputs { items, runs: all }
    }

    pub fn of_run(&self, run: &Run) -> &[Item] {
        &self.items[run.edges.clone()]
    }

    /// Whether a region covers a point that is not on its boundary.
    pub fn covers(&self, region: usize, point: Point) -> bool {
        let met = self.runs[region].iter().filter(|run| !run.is_missed_from(point, SNAP));
        let winding: i32 = met
            .flat_map(|run| self.of_run(run))
            .filter(|item| {
                item.bounds.high.x >= point.x
                    && item.bounds.low.y <= point.y + SNAP
                    && item.bounds.high.y + SNAP >= point.y
            })
            .map(|item| item.segment.crossing(point))
            .sum();
        winding > 0
    }
}

/// Whether boxes come within [`SNAP`] along both axes.
pub(super) fn meet(a: Bounds, b: Bounds) -> bool {
    a.low.x <= b.high.x + SNAP
        && b.low.x <= a.high.x + SNAP
        && a.low.y <= b.high.y + SNAP
        && b.low.y <= a.high.y + SNAP
}
