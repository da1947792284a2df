//! Which loops come near others; the rest need no cutting.

use super::inputs::{Inputs, Item, meet};
use crate::geometry::intersect::SNAP;
use crate::geometry::point::Point;
use crate::geometry::region::Region;
use crate::geometry::runs::Run;

/// A loop that both of two regions have, by index.
#[derive(Clone, Copy, Debug)]
pub(super) struct Twin {
    pub first: usize,
    pub second: usize,
    /// The second runs the other way: a hole and what fills it.
    pub reversed: bool,
}

pub(super) fn find_twins(first: &Region, second: &Region) -> Vec<Twin> {
    let mut twins: Vec<Twin> = Vec::new();
    for (index, outline) in first.loops.iter().enumerate() {
        let free = |with: &usize| twins.iter().all(|twin| twin.second != *with);
        let twin = (0..second.loops.len()).filter(free).find_map(|with| {
            let other = &second.loops[with];
            let reversed = outline.is_reverse_of(other);
            (reversed || outline.same_as(other)).then_some(Twin { first: index, second: with, reversed })
        });
        twins.extend(twin);
    }
    twins
}

/// A run with the radii from the origin between which it lies, and its loop.
struct Swept<'a> {
    run: &'a Run,
    radius: [f64; 2],
    place: (usize, usize),
}

impl Swept<'_> {
    fn comes_near(&self, other: &Swept) -> bool {
        let apart = self.radius[1] + SNAP < other.radius[0] || other.radius[1] + SNAP < self.radius[0];
        self.place != other.place && !apart && meet(self.run.bounds, other.run.bounds)
    }
}

/// Whether any edge of one run may come within a snap of one of the other.
fn edges_meet(inputs: &Inputs, run: &Run, other: &Run) -> bool {
    let meets = |item: &Item| {
        inputs
            .of_run(other)
            .iter()
            .any(|with| meet(item.bounds, with.bounds) && !item.segment.is_surely_beyond(&with.segment, SNAP))
    };
    inputs.of_run(run).iter().any(|item| meet(item.bounds, other.bounds) && meets(item))
}

/// Which loops come near another one that is no twin, by region and index: by the boxes of their runs and the radii between
/// which those lie, then by their edges.
pub(super) fn near_loops(regions: &[&Region], inputs: &Inputs, twins: &[Twin]) -> Vec<Vec<bool>> {
    let mut near: Vec<Vec<bool>> = regions.iter().map(|region| vec![false; region.loops.len()]).collect();
    // Twins go by the first one's place.
    let place_of = |run: &Run| {
        let (region, loop_index) = inputs.items[run.edges.start].place();
        let twin = twins.iter().find(|twin| region == 1 && twin.second == loop_index);
        twin.map_or((region, loop_index), |twin| (0, twin.first))
    };
    let radius = |run: &Run| {
        let ranges = inputs.of_run(run).iter().map(|item| item.segment.radius_range(Point::ORIGIN));
        ranges.fold([f64::INFINITY, 0.0], |sum: [f64; 2], range| [sum[0].min(range.0), sum[1].max(range.1)])
    };
    let mut swept: Vec<Swept> = inputs
        .runs
        .iter()
        .flatten()
        .map(|run| Swept { run, radius: radius(run), place: place_of(run) })
        .collect();
    swept.sort_by(|a, b| a.run.bounds.low.x.total_cmp(&b.run.bounds.low.x));
    for (index, one) in swept.iter().enumerate() {
        let end = one.run.bounds.high.x + SNAP;
        for other in swept[index + 1..].iter().take_while(|other| other.run.bounds.low.x <= end) {
            let known = near[one.place.0][one.place.1] && near[other.place.0][other.place.1];
            if !known && one.comes_near(other) && edges_meet(inputs, one.run, other.run) {
                near[one.place.0][one.place.1] = true;
                near[other.place.0][other.place.1] = true;
            }
        }
    }
    for twin in twins {
        near[1][twin.second] = near[0][twin.first];
    }
    near
}
