//! Union, difference and intersection of regions, read off one arrangement.

use super::arrangement::{Alone, Arrangement, Members, Step};
use super::error::ShapeError;
use super::loops::Loop;
use super::region::Region;

const FIRST: Members = 1;
const SECOND: Members = 2;

impl Region {
    /// The points of either region.
    ///
    /// # Errors
    /// [`ShapeErrorKind::OpenBoundary`](super::ShapeErrorKind::OpenBoundary) when rounding defeats the tracing.
    pub fn union(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combined(other, |members| members != 0)
    }

    /// The points of this region that are not in `other`.
    ///
    /// # Errors
    /// As [`Region::union`].
    pub fn minus(&self, other: &Region) -> Result<Region, ShapeError> {
        // A slab that goes on as the one below: nothing is left, and teeth would take long to say so.
        let same = |outline: &Loop| other.loops.iter().any(|theirs| outline.same_as(theirs));
        if self.loops.len() == other.loops.len() && self.loops.iter().all(same) {
            return Ok(Region::empty());
        }
        match self.without_shared_holes(other) {
            Some([first, second]) => first.combined(&second, |members| members == FIRST),
            None => self.combined(other, |members| members == FIRST),
        }
    }

    /// Both regions without the holes they have in common, which change nothing in a difference: teeth that go on from
    /// slab to slab. None if there are none, or something of either lies in one.
    fn without_shared_holes(&self, other: &Region) -> Option<[Region; 2]> {
        let holes = |region: &Region| -> Vec<usize> {
            (0..region.loops.len()).filter(|&index| region.loops[index].signed_area() < 0.0).collect()
        };
        let theirs = holes(other);
        let (mut own, mut others) = (Vec::new(), Vec::new());
        for index in holes(self) {
            let same = |&&with: &&usize| self.loops[index].same_as(&other.loops[with]);
            if let Some(&with) = theirs.iter().find(same) {
                own.push(index);
                others.push(with);
            }
        }
        let inside = |hole: &usize, outline: &Loop| {
            outline.0.first().is_some_and(|segment| self.loops[*hole].winding(segment.middle()) != 0)
        };
        let islands = self
            .loops
            .iter()
            .chain(&other.loops)
            .filter(|outline| outline.signed_area() > 0.0)
            .any(|outline| own.iter().any(|hole| inside(hole, outline)));
        let without = |region: &Region, dropped: &[usize]| Region {
            loops: (0..region.loops.len())
                .filter(|index| !dropped.contains(index))
                .map(|index| region.loops[index].clone())
                .collect(),
        };
        (!own.is_empty() && !islands).then(|| [without(self, &own), without(other, &others)])
    }

    /// The points of both regions.
    ///
    /// # Errors
    /// As [`Region::union`].
    pub fn intersection(&self, other: &Region) -> Result<Region, ShapeError> {
        self.combined(other, |members| members == FIRST | SECOND)
    }

    /// The union of any number of regions.
    ///
    /// # Errors
    /// As [`Region::union`].
    pub fn union_of<'a>(regions: impl IntoIterator<Item = &'a Region>) -> Result<Region, ShapeError> {
        regions.into_iter().try_fold(Region::empty(), |sum, region| sum.union(region))
    }

    fn combined(&self, other: &Region, rule: impl Fn(Members) -> bool) -> Result<Region, ShapeError> {
        let regions = [self, other];
        let arrangement = Arrangement::of_touching(&regions);
        let traced = arrangement.extract(&rule)?.loops;
        // In the order of the loops that they begin on.
        let begins = |steps: &Vec<Step>| {
            let source =
                steps.first().and_then(|step| arrangement.subs.get(step.sub)?.sources.first().copied());
            source.map_or((0, 0), |source| (source.region, source.loop_index))
        };
        let mut loops: Vec<((usize, usize), Loop)> =
            traced.iter().map(|steps| (begins(steps), arrangement.outline_of(steps))).collect();
        for Alone { region, loop_index, left, right } in arrangement.alone.iter().copied() {
            let Some(outline) = regions.get(region).and_then(|region| region.loops.get(loop_index)) else {
                continue;
            };
            match (rule(left), rule(right)) {
                (true, false) => loops.push(((region, loop_index), outline.clone())),
                (false, true) => loops.push(((region, loop_index), outline.turned_back())),
                _ => {}
            }
        }
        loops.sort_by_key(|(begins, _)| *begins);
        Ok(Region { loops: loops.into_iter().map(|(_, outline)| outline.simplified()).collect() })
    }
}
