//! Segments cut up at their points, points within a snap made one, and pieces that coincide made one.

use hashbrown::HashMap;
use smallvec::SmallVec;

use super::cuts::Cuts;
use super::inputs::Item;
use super::{Arrangement, Path, Source, Sources, Step, Sub};
use crate::geometry::intersect::SNAP;
use crate::geometry::point::Point;
use crate::geometry::segment::Segment;

impl Arrangement {
    /// Cuts every item at its points, snaps them, and merges pieces that coincide.
    pub(super) fn split(&mut self, items: &[Item], cuts: &[Cuts]) {
        let met = cuts.iter().filter(|cuts| cuts.met).count();
        let mut snapper = Snapper::with_capacity(2 * met);
        let mut known = KnownSubs::with_capacity(2 * met);
        let before = items_before(items);
        let mut starts = Vec::with_capacity(items.len());
        for ((item, before), own) in items.iter().zip(&before).zip(cuts) {
            // What no other segment comes near is no other's point, and needs no search; a loop that stays whole has none.
            let apart = |&before: &usize| !own.met && !cuts[before].met;
            starts.push(match before {
                _ if item.alone => 0,
                Some(before) if apart(before) => add_point(item.segment.from, &mut self.points),
                _ => snapper.id_of(item.segment.from, &mut self.points),
            });
        }
        let mut ends: Vec<Option<usize>> = vec![None; items.len()];
        for (index, before) in before.iter().enumerate() {
            if let Some(before) = before {
                ends[*before] = Some(starts[index]);
            }
        }
        for (index, (item, cuts)) in items.iter().zip(cuts).enumerate().filter(|(_, (item, _))| !item.alone) {
            // Mostly the next segment starts where this one ends.
            let end = ends[index].unwrap_or_else(|| snapper.id_of(item.segment.to, &mut self.points));
            let ids = self.points_along(item, [starts[index], end], &cuts.points, &mut snapper);
            let mut steps = Path::new();
            for pair in ids.windows(2) {
                let &[from, to] = pair else { continue };
                let segment =
                    Segment { from: self.points[from], to: self.points[to], curve: item.segment.curve };
                let found = cuts.met.then(|| known.find(from, to, segment.middle(), &self.subs)).flatten();
                let sub = found.unwrap_or_else(|| {
                    self.subs.push(Sub { from, to, segment, left: 0, right: 0, sources: Sources::new() });
                    if cuts.met {
                        known.add(from, to, self.subs.len() - 1);
                    }
                    self.subs.len() - 1
                });
                let forward = self.subs[sub].from == from;
                self.subs[sub].sources.push(Source { forward, ..item.source });
                steps.push(Step { sub, forward });
            }
            let source = item.source;
            self.paths[source.region][source.loop_index][source.segment] = steps;
        }
    }

    /// Ids of an item's start, cuts in order, and end; each id once.
    fn points_along(
        &mut self,
        item: &Item,
        [start, end]: [usize; 2],
        cuts: &[Point],
        snapper: &mut Snapper,
    ) -> SmallVec<[usize; 4]> {
        let segment = &item.segment;
        let mut ids = SmallVec::new();
        ids.push(start);
        let mut ordered: SmallVec<[(f64, Point); 4]> =
            cuts.iter().map(|point| (segment.fraction_of(*point), *point)).collect();
        ordered.sort_by(|a, b| a.0.total_cmp(&b.0));
        for (_, point) in ordered {
            let id = snapper.id_of(point, &mut self.points);
            if id != end && !ids.contains(&id) {
                ids.push(id);
            }
        }
        if start != end {
            ids.push(end);
        }
        ids
    }
}

/// Sub-segments by their ends: a hash map, only looked up, to the last one found and from each to the one before.
struct KnownSubs {
    last: HashMap<(usize, usize), usize>,
    before: HashMap<usize, usize>,
}

impl KnownSubs {
    fn with_capacity(count: usize) -> KnownSubs {
        KnownSubs { last: HashMap::with_capacity(count), before: HashMap::new() }
    }

    /// The one between these points that runs through this middle.
    fn find(&self, from: usize, to: usize, middle: Point, subs: &[Sub]) -> Option<usize> {
        let mut found = self.last.get(&ends(from, to)).copied();
        while let Some(sub) = found {
            if subs[sub].segment.middle().distance(middle) < 2.0 * SNAP {
                break;
            }
            found = self.before.get(&sub).copied();
        }
        found
    }

    fn add(&mut self, from: usize, to: usize, sub: usize) {
        if let Some(before) = self.last.insert(ends(from, to), sub) {
            self.before.insert(sub, before);
        }
    }
}

fn ends(from: usize, to: usize) -> (usize, usize) {
    (from.min(to), from.max(to))
}

/// Of each item the one of its loop that ends exactly where it starts.
fn items_before(items: &[Item]) -> Vec<Option<usize>> {
    let mut before = vec![None; items.len()];
    let mut first = 0;
    for index in 0..items.len() {
        let last = items.get(index + 1).is_none_or(|next| next.place() != items[index].place());
        let next = if last { first } else { index + 1 };
        if items[index].segment.to == items[next].segment.from {
            before[next] = Some(index);
        }
        if last {
            first = index + 1;
        }
    }
    before
}

fn add_point(point: Point, points: &mut Vec<Point>) -> usize {
    points.push(point);
    points.len() - 1
}

/// Gives points nearer than [`SNAP`] to each other one id. The hash map is only looked up, never walked.
struct Snapper {
    cells: HashMap<(i64, i64), SmallVec<[usize; 2]>>,
}

impl Snapper {
    /// Side of a cell \[mm\]: a hundred snap distances, so that most points have to look into one cell only.
    const CELL: f64 = 100.0 * SNAP;

    fn with_capacity(points: usize) -> Snapper {
        Snapper { cells: HashMap::with_capacity(points) }
    }

    fn id_of(&mut self, point: Point, points: &mut Vec<Point>) -> usize {
        // Rounded down: what a cast cuts off of a negative number rounds up.
        let cell = |value: f64| {
            let (cells, whole) = (value / Self::CELL, (value / Self::CELL) as i64);
            if (whole as f64) > cells { whole - 1 } else { whole }
        };
        let (home_x, home_y) = (cell(point.x), cell(point.y));
        for x in cell(point.x - SNAP)..=cell(point.x + SNAP) {
            for y in cell(point.y - SNAP)..=cell(point.y + SNAP) {
                let near = self.cells.get(&(x, y)).into_iter().flatten();
                for &id in near {
                    if points[id].distance(point) < SNAP {
                        return id;
                    }
                }
            }
        }
        let id = add_point(point, points);
        self.cells.entry((home_x, home_y)).or_default().push(id);
        id
    }
}
