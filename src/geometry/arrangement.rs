//! The heart of the kernel: several regions laid over each other and cut at every crossing.
//!
//! ```text
//! regions --cut at crossings and touching ends, snap--> points and sub-segments
//!         --equal sub-segments merged-----------------> each with the regions on its left and on its right
//!         --extract(rule)-----------------------------> loops with the rule true on their left
//! ```
//!
//! Union, difference and the horizontal faces between two slabs are all read off the left and right sets.

use hashbrown::HashMap;
use smallvec::{SmallVec, smallvec};

use super::error::{ShapeError, ShapeErrorKind};
use super::intersect::{SNAP, are_one, carrier_crossings, lies_inside};
use super::loops::Loop;
use super::point::{Bounds, Point};
use super::region::Region;
use super::runs::Run;
use super::segment::{Curve, Segment};

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

/// An input segment with its box.
struct Item {
    source: Source,
    /// Of a loop that stays whole.
    alone: bool,
    segment: Segment,
    bounds: Bounds,
}

impl Arrangement {
    /// Lays at most [`MOST_REGIONS`] regions over each other.
    pub(crate) fn of(regions: &[&Region], crossings: Crossings) -> Arrangement {
        let (items, runs) = collect_items(regions);
        Arrangement::cut(regions, &items, runs, crossings)
    }

    /// The same, but loops that come near no other stay whole; two of two regions that are one and the same count as one.
    pub(crate) fn of_touching(regions: &[&Region], crossings: Crossings) -> Arrangement {
        let (mut items, mut runs) = collect_items(regions);
        let twins = if regions.len() == 2 { find_twins(regions[0], regions[1]) } else { Vec::new() };
        let near = near_loops(regions, &items, &runs, &twins);
        for item in &mut items {
            item.alone = !near[item.source.region][item.source.loop_index];
        }
        runs.retain(|(_, run)| !items[run.edges.start].alone);
        let mut arrangement = Arrangement::cut(regions, &items, runs, crossings);
        arrangement.join_twins(&twins);
        arrangement
    }

    /// Of twins that stay whole the first stands for both: what is in one is in the other.
    fn join_twins(&mut self, twins: &[[usize; 2]]) {
        for &[first, second] in twins {
            self.alone.retain(|one| (one.region, one.loop_index) != (1, second));
            for one in self.alone.iter_mut().filter(|one| (one.region, one.loop_index) == (0, first)) {
                (one.left, one.right) = (0b11, 0);
            }
        }
    }

    fn cut(
        regions: &[&Region],
        items: &[Item],
        mut runs: Vec<(usize, Run)>,
        crossings: Crossings,
    ) -> Arrangement {
        debug_assert!(regions.len() <= MOST_REGIONS);
        let cuts = find_cuts(items, &mut runs, crossings);
        let mut arrangement = Arrangement {
            points: Vec::new(),
            subs: Vec::with_capacity(items.len() * 2),
            alone: Vec::new(),
            paths: regions
                .iter()
                .map(|region| region.loops.iter().map(|outline| vec![Path::new(); outline.0.len()]).collect())
                .collect(),
        };
        arrangement.split(items, &cuts);
        arrangement.find_members(items, regions.len());
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

    /// Cuts every item at its points, snaps them, and merges pieces that coincide.
    fn split(&mut self, items: &[Item], cuts: &[Cuts]) {
        let mut snapper = Snapper::with_capacity(items.len());
        // A loop that stays whole has no points; its number is not used.
        let start = |item: &Item| match item.alone {
            true => 0,
            false => snapper.id_of(item.segment.from, &mut self.points),
        };
        let starts: Vec<usize> = items.iter().map(start).collect();
        let mut known = KnownSubs::with_capacity(items.len() * 2);
        for (index, (item, cuts)) in items.iter().zip(cuts).enumerate().filter(|(_, (item, _))| !item.alone) {
            // Mostly the next segment starts where this one ends.
            let end = match items.get(index + 1) {
                Some(next) if next.segment.from == item.segment.to => starts[index + 1],
                _ => snapper.id_of(item.segment.to, &mut self.points),
            };
            let ids = self.points_along(item, [starts[index], end], cuts, &mut snapper);
            let mut steps = Path::new();
            for pair in ids.windows(2) {
                let &[from, to] = pair else { continue };
                let segment =
                    Segment { from: self.points[from], to: self.points[to], curve: item.segment.curve };
                let sub = known.find(from, to, segment.middle(), &self.subs).unwrap_or_else(|| {
                    self.subs.push(Sub { from, to, segment, left: 0, right: 0, sources: Sources::new() });
                    known.add(from, to);
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

    /// Fills in the left and right sets.
    fn find_members(&mut self, items: &[Item], region_count: usize) {
        let mut regions: Vec<Vec<&Item>> = vec![Vec::new(); region_count];
        for item in items {
            regions[item.source.region].push(item);
        }
        self.alone = items.iter().filter_map(|item| alone(item, &regions)).collect();
        let on_boundary: Vec<Members> =
            self.subs.iter().map(|sub| sub.sources.iter().fold(0, |set, s| set | 1 << s.region)).collect();
        let mut touching: Vec<Members> = vec![0; self.points.len()];
        for (sub, on) in self.subs.iter().zip(&on_boundary) {
            touching[sub.from] |= on;
            touching[sub.to] |= on;
        }
        for sub in &mut self.subs {
            set_own_sides(sub, &regions);
        }
        let mut known = vec![false; self.subs.len()];
        let chains: Vec<Vec<Step>> = self.paths.iter().flatten().map(|segments| segments.concat()).collect();
        for chain in &chains {
            // Along a chain, membership in a region changes only at a point that region's boundary passes.
            let (mut inherited, mut valid): (Members, Members) = (0, 0);
            for step in chain {
                let on = on_boundary[step.sub];
                valid &= !touching[self.start_of(*step)];
                let middle = self.subs[step.sub].segment.middle();
                let inside = if known[step.sub] {
                    self.subs[step.sub].left & !on
                } else {
                    let mut inside = inherited & valid;
                    for (region, segments) in regions.iter().enumerate() {
                        if (on | valid) & (1 << region) == 0 && winding(segments, middle) > 0 {
                            inside |= 1 << region;
                        }
                    }
                    inside &= !on;
                    self.subs[step.sub].left |= inside;
                    self.subs[step.sub].right |= inside;
                    known[step.sub] = true;
                    inside
                };
                (inherited, valid) = (inside, !on);
            }
        }
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

/// All segments, and the runs of them with their regions.
fn collect_items(regions: &[&Region]) -> (Vec<Item>, Vec<(usize, Run)>) {
    let mut items: Vec<Item> = Vec::with_capacity(regions.iter().map(|region| region.segment_count()).sum());
    let mut all = Vec::new();
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
        all.extend(runs.into_iter().map(|run| (region, run)));
    }
    (items, all)
}

/// Loops of the first region that the second one has, too, by index.
fn find_twins(first: &Region, second: &Region) -> Vec<[usize; 2]> {
    let mut twins: Vec<[usize; 2]> = Vec::new();
    for (index, outline) in first.loops.iter().enumerate() {
        let same = |with: &usize| outline.same_as(&second.loops[*with]);
        let free = |with: &usize| twins.iter().all(|[_, taken]| taken != with);
        if let Some(with) = (0..second.loops.len()).filter(free).find(same) {
            twins.push([index, with]);
        }
    }
    twins
}

/// Which loops come near another one that is no twin, by region and index: by the boxes of their runs and the radii between
/// which those lie.
fn near_loops(
    regions: &[&Region],
    items: &[Item],
    runs: &[(usize, Run)],
    twins: &[[usize; 2]],
) -> Vec<Vec<bool>> {
    let mut near: Vec<Vec<bool>> = regions.iter().map(|region| vec![false; region.loops.len()]).collect();
    let radii = |run: &Run| {
        let ranges = items[run.edges.clone()].iter().map(|item| item.segment.radius_range(Point::ORIGIN));
        ranges.fold((f64::INFINITY, 0.0), |sum, range| (f64::min(sum.0, range.0), f64::max(sum.1, range.1)))
    };
    // Twins go by the first one's place.
    let place_of =
        |source: Source| match twins.iter().find(|twin| source.region == 1 && twin[1] == source.loop_index) {
            Some([first, _]) => (0, *first),
            None => (source.region, source.loop_index),
        };
    let mut swept: Vec<(&Run, (f64, f64), (usize, usize))> =
        runs.iter().map(|(_, run)| (run, radii(run), place_of(items[run.edges.start].source))).collect();
    swept.sort_by(|a, b| a.0.bounds.low.x.total_cmp(&b.0.bounds.low.x));
    for (index, (run, radii, place)) in swept.iter().enumerate() {
        for (other, other_radii, other_place) in &swept[index + 1..] {
            if other.bounds.low.x > run.bounds.high.x + SNAP {
                break;
            }
            let apart = radii.1 + SNAP < other_radii.0 || other_radii.1 + SNAP < radii.0;
            if place != other_place && !apart && meet(run.bounds, other.bounds) {
                near[place.0][place.1] = true;
                near[other_place.0][other_place.1] = true;
            }
        }
    }
    for &[first, second] in twins {
        near[1][second] = near[0][first];
    }
    near
}

/// Points at which an item is cut.
type Cuts = SmallVec<[Point; 2]>;

/// For each item, the points at which others cross or touch its interior: by runs of items, swept by their boxes along x.
fn find_cuts(items: &[Item], runs: &mut [(usize, Run)], crossings: Crossings) -> Vec<Cuts> {
    let mut cuts = vec![Cuts::new(); items.len()];
    runs.sort_by(|a, b| a.1.bounds.low.x.total_cmp(&b.1.bounds.low.x));
    for (place, (region, run)) in runs.iter().enumerate() {
        let reaching = |other: &&(usize, Run)| other.1.bounds.low.x <= run.bounds.high.x + SNAP;
        // A run is met with itself, too.
        for (other_region, other) in runs[place..].iter().take_while(reaching) {
            if crossings == Crossings::BetweenRegions && region == other_region
                || !meet(run.bounds, other.bounds)
            {
                continue;
            }
            let own = run.edges.start == other.edges.start;
            for first in run.edges.clone().filter(|&first| meet(items[first].bounds, other.bounds)) {
                let from = if own { first + 1 } else { other.edges.start };
                for second in from..other.edges.end {
                    if meet(items[first].bounds, items[second].bounds)
                        && !follow(&items[first], &items[second])
                    {
                        cut_pair(first, second, items, &mut cuts);
                    }
                }
            }
        }
    }
    cuts
}

/// Whether one segment of a loop goes on where the other ends: they meet nowhere else.
fn follow(a: &Item, b: &Item) -> bool {
    (a.source.region, a.source.loop_index) == (b.source.region, b.source.loop_index)
        && (a.segment.to == b.segment.from) != (b.segment.to == a.segment.from)
}

/// Whether boxes come within [`SNAP`] along both axes.
fn meet(a: Bounds, b: Bounds) -> bool {
    a.low.x <= b.high.x + SNAP
        && b.low.x <= a.high.x + SNAP
        && a.low.y <= b.high.y + SNAP
        && b.low.y <= a.high.y + SNAP
}

fn cut_pair(first: usize, second: usize, items: &[Item], cuts: &mut [Cuts]) {
    let (a, b) = (&items[first].segment, &items[second].segment);
    if a == b || *a == b.reversed() {
        return;
    }
    for point in [b.from, b.to] {
        if lies_inside(a, point) {
            cuts[first].push(point);
        }
    }
    for point in [a.from, a.to] {
        if lies_inside(b, point) {
            cuts[second].push(point);
        }
    }
    for point in carrier_crossings(a, b) {
        let (inside_a, inside_b) = (lies_inside(a, point), lies_inside(b, point));
        let near_end = |segment: &Segment| are_one(point, segment.from) || are_one(point, segment.to);
        if inside_a && (inside_b || near_end(b)) {
            cuts[first].push(point);
        }
        if inside_b && (inside_a || near_end(a)) {
            cuts[second].push(point);
        }
    }
}

/// Sides of the regions whose boundary the sub-segment is.
fn set_own_sides(sub: &mut Sub, regions: &[Vec<&Item>]) {
    let mut sources = sub.sources.as_slice();
    while let Some(first) = sources.first() {
        // Sources come grouped by region, since items do.
        let count = sources.iter().take_while(|source| source.region == first.region).count();
        let (own, rest) = sources.split_at(count);
        let net: i32 = own.iter().map(|source| if source.forward { 1 } else { -1 }).sum();
        let bit: Members = 1 << first.region;
        match net {
            0 => {
                // The region runs along here both ways: both sides are alike; look a little to the left.
                let aside = sub.segment.tangent_at(sub.segment.middle()).left_normal() * (10.0 * SNAP);
                if winding(&regions[first.region], sub.segment.middle() + aside) > 0 {
                    sub.left |= bit;
                    sub.right |= bit;
                }
            }
            1.. => sub.left |= bit,
            _ => sub.right |= bit,
        }
        sources = rest;
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

/// What lies on both sides of a loop that stays whole, told from its first segment.
fn alone(item: &Item, regions: &[Vec<&Item>]) -> Option<Alone> {
    let Source { region, loop_index, segment, .. } = item.source;
    if !item.alone || segment != 0 {
        return None;
    }
    let middle = item.segment.middle();
    let around = (0..regions.len())
        .filter(|&other| other != region && winding(&regions[other], middle) > 0)
        .fold(0, |set: Members, other| set | 1 << other);
    Some(Alone { region, loop_index, left: around | 1 << region, right: around })
}

fn winding(items: &[&Item], point: Point) -> i32 {
    items
        .iter()
        .filter(|item| {
            item.bounds.high.x >= point.x
                && item.bounds.low.y <= point.y + SNAP
                && item.bounds.high.y + SNAP >= point.y
        })
        .map(|item| item.segment.crossing(point))
        .sum()
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

/// Sub-segments by their ends: a hash map, only looked up, to the last one found and from each to the one before.
struct KnownSubs {
    last: HashMap<(usize, usize), usize>,
    before: Vec<Option<usize>>,
}

impl KnownSubs {
    fn with_capacity(count: usize) -> KnownSubs {
        KnownSubs { last: HashMap::with_capacity(count), before: Vec::with_capacity(count) }
    }

    /// The one between these points that runs through this middle.
    fn find(&self, from: usize, to: usize, middle: Point, subs: &[Sub]) -> Option<usize> {
        let mut found = self.last.get(&ends(from, to)).copied();
        while let Some(sub) = found {
            if subs[sub].segment.middle().distance(middle) < 2.0 * SNAP {
                break;
            }
            found = self.before[sub];
        }
        found
    }

    /// Notes the next sub-segment.
    fn add(&mut self, from: usize, to: usize) {
        self.before.push(self.last.insert(ends(from, to), self.before.len()));
    }
}

fn ends(from: usize, to: usize) -> (usize, usize) {
    (from.min(to), from.max(to))
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
        let cell = |value: f64| (value / Self::CELL).floor() as i64;
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
        points.push(point);
        self.cells.entry((home_x, home_y)).or_default().push(points.len() - 1);
        points.len() - 1
    }
}
