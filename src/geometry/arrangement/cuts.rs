//! Where segments are cut: at crossings, and where one ends on another.

use smallvec::SmallVec;

use super::Crossings;
use super::inputs::{Inputs, Item, meet};
use crate::geometry::intersect::{SNAP, are_one, carrier_crossings, lies_inside};
use crate::geometry::point::Point;
use crate::geometry::runs::Run;
use crate::geometry::segment::Segment;

/// Of an item: the points at which it is cut, and whether another comes near it but the two that it joins.
#[derive(Clone, Default)]
pub(super) struct Cuts {
    pub points: SmallVec<[Point; 2]>,
    pub met: bool,
}

/// For each item, the points at which others cross or touch its interior: by runs of items, swept by their boxes along x.
pub(super) fn find_cuts(inputs: &Inputs, crossings: Crossings) -> Vec<Cuts> {
    let items = &inputs.items;
    let mut cuts = vec![Cuts::default(); items.len()];
    let mut runs: Vec<(usize, &Run)> = Vec::new();
    for (region, own) in inputs.runs.iter().enumerate() {
        runs.extend(own.iter().filter(|run| !items[run.edges.start].alone).map(|run| (region, run)));
    }
    runs.sort_by(|a, b| a.1.bounds.low.x.total_cmp(&b.1.bounds.low.x));
    for (place, (region, run)) in runs.iter().enumerate() {
        let end = run.bounds.high.x + SNAP;
        // A run is met with itself, too.
        for (other_region, other) in runs[place..].iter().take_while(|other| other.1.bounds.low.x <= end) {
            let asked = crossings == Crossings::Everywhere || region != other_region;
            if asked && meet(run.bounds, other.bounds) {
                cut_runs(run, other, items, &mut cuts);
            }
        }
    }
    cuts
}

fn cut_runs(run: &Run, other: &Run, items: &[Item], cuts: &mut [Cuts]) {
    let itself = run.edges.start == other.edges.start;
    for first in run.edges.clone().filter(|&first| meet(items[first].bounds, other.bounds)) {
        let from = if itself { first + 1 } else { other.edges.start };
        for second in from..other.edges.end {
            let (a, b) = (&items[first], &items[second]);
            if meet(a.bounds, b.bounds) && !follow(a, b) {
                (cuts[first].met, cuts[second].met) = (true, true);
                cut_pair(first, second, items, cuts);
            }
        }
    }
}

/// Whether one segment of a loop goes on where the other ends: they meet nowhere else.
fn follow(a: &Item, b: &Item) -> bool {
    a.place() == b.place() && (a.segment.to == b.segment.from) != (b.segment.to == a.segment.from)
}

fn cut_pair(first: usize, second: usize, items: &[Item], cuts: &mut [Cuts]) {
    let (a, b) = (&items[first].segment, &items[second].segment);
    if a.is_surely_beyond(b, SNAP) || a == b || *a == b.reversed() {
        return;
    }
    for point in [b.from, b.to] {
        if lies_inside(a, point) {
            cuts[first].points.push(point);
        }
    }
    for point in [a.from, a.to] {
        if lies_inside(b, point) {
            cuts[second].points.push(point);
        }
    }
    for point in carrier_crossings(a, b) {
        let (inside_a, inside_b) = (lies_inside(a, point), lies_inside(b, point));
        let near_end = |segment: &Segment| are_one(point, segment.from) || are_one(point, segment.to);
        if inside_a && (inside_b || near_end(b)) {
            cuts[first].points.push(point);
        }
        if inside_b && (inside_a || near_end(a)) {
            cuts[second].points.push(point);
        }
    }
}
