//! The search, stage by stage.
//!
//! Candidates are weighed in waves of a fixed size and taken into the front in their order, so that the answer is the same
//! on any number of threads. Counts end the search, not clocks.

use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use super::candidates::{Candidate, candidates};
use super::front::{covers, enter};
use super::gearsets::{self, Counts};
use super::motors::MotorWindow;
use super::near_miss::{Miss, Misses, Stage};
use super::rate::{self, Choice, Fate};
use super::requirement::Space;

/// Candidates weighed at once.
const WAVE: usize = 64;
/// Of a wave's survivors, made at once: the front then sorts out the next ones.
const BATCH: usize = 4;

/// Who looks on: is told how far it is, and may end it.
pub struct Watch<'a> {
    pub stop: &'a AtomicBool,
    pub tell: &'a (dyn Fn(&Progress) + Sync),
}

/// How far the search is.
#[derive(Clone, Copy, Debug, Default)]
pub struct Progress {
    pub candidates: usize,
    pub laid_out: usize,
    pub made: usize,
    pub front: usize,
}

/// What was found.
#[derive(Clone, Debug, Default)]
pub struct Found {
    /// Best first.
    pub choices: Vec<Choice>,
    pub counts: Counts,
    /// Motor, gearset, bearings and materials together that no bound excluded.
    pub candidates: usize,
    pub laid_out: usize,
    pub made: usize,
    /// Candidates nobody looked at, because a count of `[search]` was reached.
    pub left: usize,
    /// Weighed, not covered by a choice, and not made because `search.made` was reached.
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
    let mut found = Found::default();
    let windows: Vec<MotorWindow> =
        space.bases.iter().filter_map(|bases| bases.first()).map(MotorWindow::of).collect();
    let least = windows.iter().map(|window| window.least_ratio).fold(f64::INFINITY, f64::min);
    let most = windows.iter().map(|window| window.most_ratio).fold(0.0, f64::max);
    note_motors(space, &windows, &mut found.misses);
    let (integers, counts) = gearsets::integers(space, [least, most]);
    found.counts = counts;
    let (strong, used) = gearsets::strong(space, &integers, &mut found.counts);
    if strong.is_empty() {
        note_teeth(space, used, &mut found.misses);
        return found;
    }
    let (all, count) = candidates(space, &strong, &windows, &mut found.misses);
    found.candidates = count;
    judge(space, &all, watch, &mut found);
    rank(&mut found.choices);
    found
}

fn judge(space: &Space, all: &[Candidate], watch: &Watch, found: &mut Found) {
    for wave in all.chunks(WAVE) {
        if found.laid_out >= space.laid_out || found.made >= space.made {
            break;
        }
        if watch.stop.load(Ordering::Relaxed) {
            found.cancelled = true;
            break;
        }
        let fates: Vec<Fate> = wave.par_iter().map(|candidate| rate::weigh(space, candidate)).collect();
        found.laid_out += wave.len();
        let mut weighed: Vec<_> = Vec::new();
        for (candidate, fate) in wave.iter().zip(fates) {
            match fate {
                Fate::Refused(why) => found.misses.refuse("refused", &why),
                Fate::NoLayout(faults) => {
                    faults.iter().for_each(|fault| found.misses.refuse(fault.id, &fault.message))
                }
                Fate::Short(key, miss) => found.misses.note(key, miss),
                Fate::Weighed(objectives) => weighed.push((*candidate, objectives)),
            }
        }
        while !weighed.is_empty() {
            weighed.retain(|(_, objectives)| {
                !found.choices.iter().any(|choice| covers(&choice.objectives, objectives))
            });
            if found.made >= space.made {
                found.unmade += weighed.len();
                break;
            }
            let batch: Vec<_> = weighed.drain(..weighed.len().min(BATCH)).collect();
            let made: Vec<_> = batch
                .par_iter()
                .map(|(candidate, objectives)| rate::make(space, candidate, *objectives))
                .collect();
            found.made += made.len();
            for made in made {
                match made {
                    Ok(choice) => {
                        enter(&mut found.choices, choice, |choice| choice.objectives);
                    }
                    // Several at once say nothing about one of them.
                    Err(failing) => {
                        let alone = failing.len() == 1;
                        for (key, miss) in failing {
                            let stage = if alone { Stage::OnlyCheck } else { Stage::Rated };
                            found.misses.note(&format!("check {key}"), Miss { stage, ..miss });
                        }
                    }
                }
            }
        }
        (watch.tell)(&Progress {
            candidates: found.candidates,
            laid_out: found.laid_out,
            made: found.made,
            front: found.choices.len(),
        });
    }
    found.left = found.candidates.saturating_sub(found.laid_out);
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
