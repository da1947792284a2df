//! The search, stage by stage.
//!
//! ```text
//! gearsets --planet bearings--> seated --motors--> groups, best first --waves--> rated --drawn, made--> front
//! ```
//!
//! A candidate is left out only where a bound that flatters it misses the requirement, or where the front already has
//! something as good as that bound in everything: what is taken into the front later only covers more. So the front is the
//! one that judging every candidate in the order of the groups would give. Groups are looked at in waves of a fixed size and
//! taken in in their order: the answer is the same on any number of threads. The search ends when nothing is left; counts
//! of `[search]` end it earlier, clocks never.

use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use super::bounds::{Bounds, Shadow};
use super::candidates::{self, Group, MotorBounds, Seated};
use super::front::enter;
use super::gearsets::{self, Counts};
use super::heat_bound;
use super::known_heat::KnownHeat;
use super::known_hubs::KnownHubs;
use super::motors::MotorWindow;
use super::near_miss::{Miss, Misses, Stage};
use super::rate::{self, Choice, Desk, Fate, Rated, Tally, Visit};
use super::requirement::Space;
use super::text::Choices;

/// Groups looked at at once.
const WAVE: usize = 64;
/// Of a wave's survivors, drawn and made at once: the front then sorts out the next ones.
const BATCH: usize = 8;

/// Who looks on: is told how far it is, and may end it.
pub struct Watch<'a> {
    pub stop: &'a AtomicBool,
    pub tell: &'a (dyn Fn(&Progress) + Sync),
}

impl Watch<'_> {
    fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}

/// How far the search is.
#[derive(Clone, Copy, Debug, Default)]
pub struct Progress {
    pub candidates: usize,
    /// Looked at, or left out by a bound.
    pub done: usize,
    pub made: usize,
    pub front: usize,
}

/// What was found.
#[derive(Clone, Debug, Default)]
pub struct Found {
    /// Best first.
    pub choices: Vec<Choice>,
    pub counts: Counts,
    /// Gearsets whose planets the layout takes.
    pub seated: usize,
    /// Motor, gearset, bearings and materials together that no bound on motor and gearset excluded.
    pub candidates: usize,
    /// Where they ended.
    pub tally: Tally,
    /// Candidates nobody looked at: the search was stopped, or a count of `[search]` was reached.
    pub left: usize,
    /// Rated, not covered by a choice, and not made for the same reasons.
    pub unmade: usize,
    pub cancelled: bool,
    pub misses: Misses,
}

impl Found {
    /// Whether every candidate was judged.
    pub fn is_complete(&self) -> bool {
        self.left == 0 && self.unmade == 0 && !self.cancelled
    }
}

/// Searches the whole space.
pub fn run(space: &Space, watch: &Watch) -> Found {
    run_with(space, watch, &Bounds::ALL)
}

/// Searches with some of the bounds only: dearer, and the same answer.
pub fn run_with(space: &Space, watch: &Watch, bounds: &Bounds) -> Found {
    let mut found = Found::default();
    prepared(space, bounds, &mut found, |stock, found| judge(space, stock, (watch, bounds), found));
    rank(&mut found.choices);
    found
}

/// Lays out and rates every candidate that no bound on the requirement excludes, and draws none: what ratings cost.
pub fn rate_all(space: &Space) -> Tally {
    let mut found = Found::default();
    let bounds = Bounds { front: false, ..Bounds::ALL };
    prepared(space, &bounds, &mut found, |stock, found| {
        let shadow = Shadow::default();
        let desk = stock.desk(space, &bounds, &shadow);
        let visits: Vec<Tally> =
            stock.groups.par_iter().map(|group| rate::visit(&desk, group).tally).collect();
        visits.iter().for_each(|tally| found.tally.add(tally));
    });
    found.tally
}

/// All that is searched, with its bounds.
struct Stock<'a> {
    motors: &'a [MotorBounds],
    seated: &'a [Seated],
    groups: &'a [Group],
    heat: KnownHeat,
    hubs: KnownHubs,
}

fn prepared(space: &Space, bounds: &Bounds, found: &mut Found, then: impl FnOnce(&Stock, &mut Found)) {
    let windows: Vec<MotorWindow> =
        space.bases.iter().filter_map(|bases| bases.first()).map(MotorWindow::of).collect();
    note_motors(space, &windows, &mut found.misses);
    let window = if bounds.motor {
        let least = windows.iter().map(|window| window.least_ratio).fold(f64::INFINITY, f64::min);
        [least, windows.iter().map(|window| window.most_ratio).fold(0.0, f64::max)]
    } else {
        [0.0, f64::INFINITY]
    };
    let (integers, counts) = gearsets::integers(space, window, bounds);
    found.counts = counts;
    let (strong, used) = gearsets::strong(space, &integers, &mut found.counts, bounds);
    if strong.is_empty() {
        note_teeth(space, used, &mut found.misses);
        return;
    }
    let motors: Vec<MotorBounds> = windows
        .into_iter()
        .enumerate()
        .map(|(motor, window)| {
            let holding = candidates::holding(space, motor, bounds, &mut found.misses);
            MotorBounds::of(space, window, holding)
        })
        .collect();
    let seated = candidates::seated(space, &strong, &mut found.misses);
    found.seated = seated.len();
    let groups = groups(space, &motors, &seated, bounds, &mut found.misses);
    let (heat, hubs) = (KnownHeat::default(), KnownHubs::default());
    let stock = Stock { motors: &motors, seated: &seated, groups: &groups, heat, hubs };
    then(&stock, found);
}

/// All groups that no bound excludes, best first.
fn groups(
    space: &Space,
    motors: &[MotorBounds],
    seated: &[Seated],
    bounds: &Bounds,
    misses: &mut Misses,
) -> Vec<Group> {
    let of_motors: Vec<(Vec<Group>, Misses)> = motors
        .par_iter()
        .enumerate()
        .map(|(motor, of_motor)| {
            let (mut groups, mut misses) = candidates::groups(space, motor, bounds, of_motor, seated);
            let held = held_by_ratio(space, of_motor, seated, &mut groups);
            groups.retain_mut(|group| {
                group.least.continuous = held * group.ratio;
                let base = space.base(motor, 0, [0, 0]);
                !base.is_some_and(|base| {
                    candidates::misses_limits(
                        &base.requirement,
                        &group.least,
                        Stage::Bound,
                        bounds,
                        &mut misses,
                    )
                })
            });
            (groups, misses)
        })
        .collect();
    let mut all = Vec::new();
    for (groups, own) in of_motors {
        all.extend(groups);
        misses.merge(&own);
    }
    all.sort_by(|a, b| a.order.total_cmp(&b.order).then(a.motor.cmp(&b.motor)).then(a.seated.cmp(&b.seated)));
    all
}

/// Most that a motor's groups can hold a unit of ratio \[N m\]; sorts the groups, promising ones first, to find one that can
/// be laid out.
fn held_by_ratio(space: &Space, motor: &MotorBounds, seated: &[Seated], groups: &mut [Group]) -> f64 {
    /// Where as many can't be laid out, the bound isn't worth more.
    const MOST_TRIES: usize = 2000;
    // The current's limit is a bound too.
    let by_current = motor.window.torque_by_ratio;
    let size = |group: &Group| group.least.diameter * group.least.height * group.least.mass;
    groups.sort_by(|a, b| size(a).total_cmp(&size(b)).then(a.seated.cmp(&b.seated)));
    let service = groups.iter().map(|group| group.envelope.service).fold(0.0, f64::max);
    let candidates = groups.iter().flat_map(|group| motor.holding.iter().map(move |output| (group, *output)));
    let laid_out = candidates.take(MOST_TRIES).find_map(|(group, output)| {
        let seated = seated.get(group.seated)?;
        let design = rate::design(space, &choices(group, seated, output))?;
        if design.bearings.output.outer > seated.free_bore {
            return None;
        }
        crate::layout::lay_out(&design).ok()
    });
    let by_heat = laid_out.and_then(|actuator| heat_bound::held_by_ratio(&actuator, service));
    by_heat.map_or(by_current, |held| held.min(by_current))
}

fn choices(group: &Group, seated: &Seated, output: usize) -> Choices {
    let integers = &seated.gearset.integers;
    Choices {
        motor: group.motor,
        gears: integers.gears,
        teeth: integers.teeth,
        planets: integers.planets,
        face: seated.gearset.face,
        output,
        planet_bearing: seated.planet_bearing,
        planet_material: 0,
        ring_material: 0,
    }
}

impl Stock<'_> {
    fn desk<'a>(&'a self, space: &'a Space, bounds: &'a Bounds, shadow: &'a Shadow) -> Desk<'a> {
        Desk {
            space,
            seated: self.seated,
            bounds,
            motors: self.motors,
            shadow,
            heat: &self.heat,
            hubs: &self.hubs,
            tells_misses: true,
        }
    }
}

fn judge(space: &Space, stock: &Stock, (watch, bounds): (&Watch, &Bounds), found: &mut Found) {
    let materials = space.materials().count();
    let of_group =
        |group: &Group| stock.motors.get(group.motor).map_or(0, |motor| motor.holding.len() * materials);
    found.candidates = stock.groups.iter().map(of_group).sum();
    let mut done = 0;
    for wave in stock.groups.chunks(WAVE) {
        if found.tally.rated >= space.laid_out || found.tally.made >= space.made {
            break;
        }
        if watch.is_stopped() {
            found.cancelled = true;
            break;
        }
        let shadow = Shadow::of(found.choices.iter().map(|choice| &choice.objectives));
        let desk = stock.desk(space, bounds, &shadow);
        let visits: Vec<Visit> = wave.par_iter().map(|group| rate::visit(&desk, group)).collect();
        done += wave.iter().map(of_group).sum::<usize>();
        let mut rated = Vec::new();
        for visit in visits {
            found.tally.add(&visit.tally);
            found.misses.merge(&visit.misses);
            rated.extend(visit.rated);
        }
        settle(space, rated, (watch, bounds), found);
        (watch.tell)(&Progress {
            candidates: found.candidates,
            done,
            made: found.tally.made,
            front: found.choices.len(),
        });
    }
    found.left = found.candidates - done;
}

/// Draws and makes what is rated, in order, as long as the front has nothing as good.
fn settle(space: &Space, mut rated: Vec<Rated>, (watch, bounds): (&Watch, &Bounds), found: &mut Found) {
    while !rated.is_empty() {
        let shadow = Shadow::of(found.choices.iter().map(|choice| &choice.objectives));
        let before = rated.len();
        rated.retain(|one| !(bounds.front && shadow.covers(&one.least)));
        found.tally.covered += before - rated.len();
        found.cancelled |= watch.is_stopped();
        if found.tally.made >= space.made || found.cancelled {
            found.unmade += rated.len();
            return;
        }
        let batch: Vec<Rated> = rated.drain(..rated.len().min(BATCH)).collect();
        let fates: Vec<Fate> = batch.par_iter().map(|one| rate::draw(space, one, bounds, &shadow)).collect();
        found.tally.drawn += fates.len();
        for fate in fates {
            take(fate, found);
        }
    }
}

fn take(fate: Fate, found: &mut Found) {
    match fate {
        Fate::Heavy(miss) => {
            found.tally.failing += 1;
            found.misses.note("requirement.mass_limit", miss);
        }
        Fate::Covered => found.tally.covered += 1,
        Fate::Failing(failing) => {
            found.tally.made += 1;
            found.tally.failing += 1;
            rate::note_failing(failing, Stage::OnlyCheck, &mut found.misses);
        }
        Fate::Chosen(choice) => {
            found.tally.made += 1;
            if !enter(&mut found.choices, *choice, |choice| choice.objectives) {
                found.tally.covered += 1;
            }
        }
    }
}

fn rank(choices: &mut Vec<Choice>) {
    let objectives: Vec<_> = choices.iter().map(|choice| choice.objectives).collect();
    let ranks = super::front::ranks(&objectives);
    let mut order: Vec<(f64, Choice)> =
        ranks.into_iter().map(|(rank, _)| rank).zip(choices.drain(..)).collect();
    // Equal ranks keep the order of the search.
    order.sort_by(|a, b| a.0.total_cmp(&b.0));
    *choices = order.into_iter().map(|(_, choice)| choice).collect();
}

/// Torque and speed that no motor reaches with any ratio of the search.
fn note_motors(space: &Space, windows: &[MotorWindow], misses: &mut Misses) {
    let [least, most] = space.ratio;
    let Some(requirement) = space.bases.first().and_then(|bases| bases.first()).map(|base| &base.requirement)
    else {
        return;
    };
    let torque = windows.iter().map(|window| window.torque_by_ratio * most).fold(0.0, f64::max);
    if torque < requirement.peak_torque {
        let miss = Miss { stage: Stage::Bound, value: torque, limit: requirement.peak_torque, unit: "N m" };
        misses.note("requirement.peak_torque", miss);
    }
    let Some(speed) = requirement.speed else { return };
    let reached = windows.iter().map(|window| window.rotor_speed / least).fold(0.0, f64::max);
    // A turn a minute is pi / 30 rad/s.
    let rpm = 30.0 / std::f64::consts::PI;
    if reached < speed {
        misses.note(
            "requirement.speed",
            Miss { stage: Stage::Bound, value: reached * rpm, limit: speed * rpm, unit: "rpm" },
        );
    }
    let together =
        windows.iter().any(|window| f64::max(window.least_ratio, least) <= f64::min(window.most_ratio, most));
    if !together && torque >= requirement.peak_torque && reached >= speed {
        // Each motor has its torque at one ratio and its speed at another: the speed left at the torque's ratio.
        let best = windows
            .iter()
            .map(|window| window.rotor_speed / f64::max(window.least_ratio, least))
            .fold(0.0, f64::max);
        misses.note(
            "requirement.speed",
            Miss { stage: Stage::Bound, value: best * rpm, limit: speed * rpm, unit: "rpm" },
        );
    }
}

/// Torque at which the strongest teeth would have held: stress goes with it.
fn note_teeth(space: &Space, used: Option<f64>, misses: &mut Misses) {
    let requirement = space.bases.first().and_then(|bases| bases.first()).map(|base| &base.requirement);
    if let (Some(requirement), Some(used)) = (requirement, used.filter(|used| *used > 1.0)) {
        let limit = requirement.peak_torque;
        misses.note(
            "requirement.peak_torque",
            Miss { stage: Stage::Rated, value: limit / used, limit, unit: "N m" },
        );
    }
}
