//! The heart of the kernel: several regions laid over each other and cut at every crossing.
//!
//! ```text
//! regions --cut at crossings and touching ends, snap--> points and sub-segments
//!         --equal sub-segments merged-----------------> each with the regions on its left and on its right
//!         --extract(rule)-----------------------------> loops with the rule true on their left
//! ```
//!
//! Union, difference and the horizontal faces between two slabs are all read off the left and right sets.

mod cuts; // where segments cross and touch
mod inputs; // all segments, with boxes
mod members; // what lies left and right of each piece
mod split; // pieces between points
mod touching; // loops that meet none

use smallvec::{SmallVec, smallvec};

use super::error::{ShapeError, ShapeErrorKind};
use super::loops::Loop;
use super::point::Point;
use super::region::Region;
use super::segment::{Curve, Segment};
use cuts::find_cuts;
use inputs::Inputs;
use touching::{Twin, find_twins, near_loops};

/// Which regions a place belongs to: bit `i` stands for region `i`.
pub(crate) type Members = u128;

/// How many regions fit one arrangement.
pub(crate) const MOST_REGIONS: usize = Members::BITS as usize;

/// Which pairs of segments are cut at their crossings.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Crossings {
    /// Only segments of different regions; each region is known to be free of contacts with itself.
    BetweenRegions,
    /// All pairs: finds where a region touches itself.
    Everywhere,
}

/// The segment of an input a sub-segment is part of.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Source {
    pub region: usize,
    pub loop_index: usize,
    pub segment: usize,
    /// True when the sub-segment runs the way its source does.
    pub forward: bool,
}

/// A piece of boundary between two points, crossed by nothing.
#[derive(Clone, Debug)]
pub(crate) struct Sub {
    pub from: usize,
    pub to: usize,
    pub segment: Segment,
    pub left: Members,
    pub right: Members,
    pub sources: Sources,
}

/// Most pieces of boundary belong to one segment, or to one of each of two regions.
pub(crate) type Sources = SmallVec<[Source; 2]>;

/// Most segments are cut once at most.
pub(crate) type Path = SmallVec<[Step; 2]>;

/// A sub-segment walked forwards or backwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Step {
    pub sub: usize,
    pub forward: bool,
}

pub(crate) struct Arrangement {
    pub points: Vec<Point>,
    pub subs: Vec<Sub>,
    /// Loops that come near no other, and so are not cut and have no sub-segments.
    pub alone: Vec<Alone>,
    /// `paths[region][loop][segment]`: the sub-segments of an input segment, in its direction.
    pub paths: Vec<Vec<Vec<Path>>>,
}

/// A loop left as it is, by region and index.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Alone {
    pub region: usize,
    pub loop_index: usize,
    pub left: Members,
    pub right: Members,
}

/// Loops read off an arrangement.
pub(crate) struct Extract {
    pub loops: Vec<Vec<Step>>,
    /// Points where more than one loop, or one loop twice, passes.
    pub contacts: Vec<usize>,
}

/// A segment of a result with the segments of the inputs it is part of.
pub(crate) struct Piece {
    pub segment: Segment,
    pub sources: Sources,
}

/// The whole result.
pub(crate) struct Traced {
    pub loops: Vec<Vec<Piece>>,
    /// As of an [`Extract`].
    pub contacts: Vec<usize>,
}

impl Arrangement {
    /// Lays at most [`MOST_REGIONS`] regions over each other.
    pub(crate) fn of(regions: &[&Region], crossings: Crossings) -> Arrangement {
        Arrangement::cut(regions, &Inputs::of(regions), crossings)
    }

    /// The same, but loops that come near no other stay whole; two of two regions that are one and the same count as one.
    pub(crate) fn of_touching(regions: &[&Region], crossings: Crossings) -> Arrangement {
        let mut inputs = Inputs::of(regions);
        let twins = if regions.len() == 2 { find_twins(regions[0], regions[1]) } else { Vec::new() };
        let near = near_loops(regions, &inputs, &twins);
        for item in &mut inputs.items {
            item.alone = !near[item.source.region][item.source.loop_index];
        }
        let mut arrangement = Arrangement::cut(regions, &inputs, crossings);
        arrangement.join_twins(&twins);
        arrangement
    }

    /// Of twins that stay whole the first stands for both: nothing else of either region comes near.
    fn join_twins(&mut self, twins: &[Twin]) {
        for twin in twins {
            self.alone.retain(|one| (one.region, one.loop_index) != (1, twin.second));
            for one in self.alone.iter_mut().filter(|one| (one.region, one.loop_index) == (0, twin.first)) {
                (one.left, one.right) = if twin.reversed { (0b01, 0b10) } else { (0b11, 0b00) };
            }
        }
    }

    fn cut(regions: &[&Region], inputs: &Inputs, crossings: Crossings) -> Arrangement {
        debug_assert!(regions.len() <= MOST_REGIONS);
        let cuts = find_cuts(inputs, crossings);
        let mut arrangement = Arrangement {
            points: Vec::new(),
            subs: Vec::with_capacity(inputs.items.len() * 2),
            alone: Vec::new(),
            paths: regions
                .iter()
                .map(|region| region.loops.iter().map(|outline| vec![Path::new(); outline.0.len()]).collect())
                .collect(),
        };
        arrangement.split(&inputs.items, &cuts);
        arrangement.find_members(inputs);
        arrangement
    }

    pub(crate) fn start_of(&self, step: Step) -> usize {
        let sub = &self.subs[step.sub];
        if step.forward { sub.from } else { sub.to }
    }

    pub(crate) fn end_of(&self, step: Step) -> usize {
        self.start_of(Step { forward: !step.forward, ..step })
    }

    pub(crate) fn segment_of(&self, step: Step) -> Segment {
        let segment = self.subs[step.sub].segment;
        if step.forward { segment } else { segment.reversed() }
    }

    pub(crate) fn region_of(&self, loops: &[Vec<Step>]) -> Region {
        let outline = |steps: &Vec<Step>| Loop(steps.iter().map(|step| self.segment_of(*step)).collect());
        Region { loops: loops.iter().map(outline).collect() }
    }

    /// The loops that have `rule` true on their left and false on their right.
    ///
    /// # Errors
    /// [`ShapeErrorKind::OpenBoundary`] when the pieces do not close, which only rounding can cause.
    pub(crate) fn extract(&self, rule: impl Fn(Members) -> bool) -> Result<Extract, ShapeError> {
        let mut outgoing: Vec<Vec<Step>> = vec![Vec::new(); self.points.len()];
        let mut starts = Vec::new();
        for (index, sub) in self.subs.iter().enumerate() {
            let (left, right) = (rule(sub.left), rule(sub.right));
            if left != right {
                let step = Step { sub: index, forward: left };
                outgoing[self.start_of(step)].push(step);
                starts.push(step);
            }
        }
        let contacts = (0..outgoing.len()).filter(|&point| outgoing[point].len() > 1).collect();
        let mut used = vec![false; self.subs.len()];
        let mut loops = Vec::new();
        for start in starts {
            if used[start.sub] {
                continue;
            }
            let mut steps = vec![start];
            used[start.sub] = true;
            let mut step = start;
            loop {
                let here = self.end_of(step);
                let next = self.next_step(step, &outgoing[here], |s| !used[s.sub] || s == start);
                let Some(next) = next else {
                    return Err(ShapeError::new(ShapeErrorKind::OpenBoundary).at_point(self.points[here]));
                };
                if next == start {
                    break;
                }
                used[next.sub] = true;
                steps.push(next);
                step = next;
            }
            loops.push(steps);
        }
        Ok(Extract { loops, contacts })
    }

    /// As [`extract`](Arrangement::extract), the loops that stay whole among the rest, in the order of the loops they begin on.
    ///
    /// # Errors
    /// As [`extract`](Arrangement::extract).
    pub(crate) fn traced(
        &self,
        regions: &[&Region],
        rule: impl Fn(Members) -> bool,
    ) -> Result<Traced, ShapeError> {
        let Extract { loops, contacts } = self.extract(&rule)?;
        let piece = |step: &Step| Piece {
            segment: self.segment_of(*step),
            sources: self.subs[step.sub].sources.clone(),
        };
        let mut traced: Vec<Vec<Piece>> =
            loops.iter().map(|steps| steps.iter().map(piece).collect()).collect();
        for alone in &self.alone {
            let (left, right) = (rule(alone.left), rule(alone.right));
            if left != right {
                traced.push(whole(&regions[alone.region].loops[alone.loop_index], alone, left));
            }
        }
        let begins = |pieces: &Vec<Piece>| {
            pieces
                .first()
                .and_then(|piece| piece.sources.first())
                .map(|source| (source.region, source.loop_index))
        };
        traced.sort_by_key(begins);
        Ok(Traced { loops: traced, contacts })
    }

    /// Of several ways on, the first clockwise from the way back: it keeps loops that touch apart.
    fn next_step(&self, arriving: Step, ways: &[Step], free: impl Fn(Step) -> bool) -> Option<Step> {
        let mut free_ways = ways.iter().copied().filter(|way| free(*way));
        let first = free_ways.next()?;
        if ways.len() == 1 {
            return Some(first);
        }
        let back = self.segment_of(arriving).reversed();
        // Compared on a small circle round the point, where tangent curves have separated but nothing crosses.
        let shortest =
            ways.iter().map(|way| chord_of(&self.segment_of(*way))).fold(chord_of(&back), f64::min);
        let reach = 0.3 * shortest;
        let back_direction = direction_at(&back, reach);
        let turn = |way: &Step| {
            let direction = direction_at(&self.segment_of(*way), reach);
            let clockwise = libm::atan2(direction.cross(back_direction), direction.dot(back_direction));
            if clockwise <= 1e-12 { clockwise + std::f64::consts::TAU } else { clockwise }
        };
        std::iter::once(first).chain(free_ways).min_by(|a, b| turn(a).total_cmp(&turn(b)))
    }
}

/// A loop that stays whole, or the same run the other way from the end of its first segment.
fn whole(outline: &Loop, alone: &Alone, forward: bool) -> Vec<Piece> {
    let count = outline.0.len();
    (0..count)
        .map(|place| {
            let segment = if forward { place } else { (count - place) % count };
            let own = outline.0[segment];
            let source = Source { region: alone.region, loop_index: alone.loop_index, segment, forward };
            Piece { segment: if forward { own } else { own.reversed() }, sources: smallvec![source] }
        })
        .collect()
}

fn chord_of(segment: &Segment) -> f64 {
    match segment.curve {
        Curve::Line => segment.from.distance(segment.to),
        Curve::Arc { radius, .. } => segment.from.distance(segment.to).max(segment.length().min(radius)),
    }
}

/// Direction from the segment's start to its point at distance `reach`.
fn direction_at(segment: &Segment, reach: f64) -> Point {
    let tangent = segment.start_tangent();
    // On an arc the chord of length `reach` leaves the tangent by the angle whose sine is reach * curvature / 2.
    let sine = (0.5 * reach * segment.curvature()).clamp(-1.0, 1.0);
    let cosine = (1.0 - sine * sine).sqrt();
    tangent * cosine + tangent.left_normal() * sine
}
