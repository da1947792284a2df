//! The lightest of one motor with one output bearing, for a robot whose joints share both.
//!
//! The search of [`run`](super::run), but for what it weighs: mass alone, small ones first. What a bound on its mass shows to be
//! no lighter than the best isn't looked at. A robot asks for many pairs at many loads, so that a search ends after some
//! candidates, fewer once it has one, and says so: heat and checks of each take milliseconds.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use super::bounds::{Bounds, Shadow};
use super::candidates::{self, Group, MotorBounds};
use super::front::Objectives;
use super::gearsets::{self, Counts, Gearset};
use super::known_heat::KnownHeat;
use super::motors::MotorWindow;
use super::near_miss::Misses;
use super::rate::{self, Choice, Desk, Fate, Rated, Visit};
use super::requirement::Space;

/// Ratio of two masses that count as alike: print masses are known to some percent.
pub const RESOLUTION: f64 = 1.01;
/// Candidates rated at most, while none holds and after the first that does. Small ones come first and are light: on the
/// demo's joints the lightest was among the first hundred.
const MOST_RATED: [usize; 2] = [1000, 200];
/// Designs made at most, in the same way: a pair whose first dozen fail when drawn fails for a reason they share.
const MOST_MADE: [usize; 2] = [12, 6];
/// Groups looked at at once.
const WAVE: usize = 64;
/// Of a wave's survivors, drawn at once.
const BATCH: usize = 4;

/// What was found.
#[derive(Clone, Debug, Default)]
pub struct Lightest {
    pub choice: Option<Choice>,
    /// Whether nothing lighter can be left.
    pub is_complete: bool,
}

/// The gearsets whose teeth bear the peak torque, within what any motor of the space can work with.
pub fn strong(space: &Space) -> Vec<Gearset> {
    let windows = space.bases.iter().filter_map(|bases| bases.first()).map(MotorWindow::of);
    let window = windows.fold([f64::INFINITY, 0.0], |[least, most], window| {
        [f64::min(least, window.least_ratio), f64::max(most, window.most_ratio)]
    });
    let (integers, _) = gearsets::integers(space, window, &Bounds::ALL);
    gearsets::strong(space, &integers, &mut Counts::default(), &Bounds::ALL).0
}

/// The lightest actuator of a motor and an output bearing, by their places in the space's lists, that holds; `strong` are the
/// space's gearsets.
pub fn lightest(
    space: &Space,
    strong: &[Gearset],
    [motor, output]: [usize; 2],
    stop: &AtomicBool,
) -> Lightest {
    // What comes closest is told by a search of all pairs, when none has anything.
    let misses = &mut Misses::default();
    let nothing = Lightest { choice: None, is_complete: true };
    let bounds = &Bounds::ALL;
    let Some(base) = space.bases.get(motor).and_then(|bases| bases.first()) else { return nothing };
    if !candidates::holding(space, motor, bounds, misses).contains(&output) {
        return nothing;
    }
    let motors: Vec<MotorBounds> = space
        .bases
        .iter()
        .map(|bases| MotorBounds::of(space, MotorWindow::of(bases.first().unwrap_or(base)), vec![output]))
        .collect();
    let Some(own) = motors.get(motor) else { return nothing };
    let seated = candidates::seated(space, strong, misses);
    let (mut groups, _) = candidates::groups(space, motor, bounds, own, &seated);
    let size = |group: &Group| group.least.diameter * group.least.height * group.least.mass;
    groups.sort_by(|a, b| size(a).total_cmp(&size(b)).then(a.seated.cmp(&b.seated)));
    let mut found = Lightest { choice: None, is_complete: true };
    let (mut rated_count, mut made) = (0, 0);
    let heat = KnownHeat::default();
    for wave in groups.chunks(WAVE) {
        let shadow = shadow(found.choice.as_ref());
        let is_over = rated_count >= most(space.laid_out, MOST_RATED, &found)
            || made >= most(space.made, MOST_MADE, &found)
            || stop.load(Ordering::Relaxed);
        if is_over && wave.iter().any(|group| !shadow.covers(&group.least)) {
            found.is_complete = false;
            return found;
        }
        let desk = Desk { space, seated: &seated, bounds, motors: &motors, shadow: &shadow, heat: &heat };
        let visits: Vec<Visit> = wave.par_iter().map(|group| rate::visit(&desk, group)).collect();
        let mut rated: Vec<Rated> = Vec::new();
        for visit in visits {
            rated_count += visit.tally.rated;
            rated.extend(visit.rated);
        }
        rated.sort_by(|a, b| a.least.mass.total_cmp(&b.least.mass));
        settle(space, rated.into(), &mut made, &mut found);
    }
    found
}

/// The file's count, or the own one if that is less.
fn most(asked: usize, own: [usize; 2], found: &Lightest) -> usize {
    asked.min(own[usize::from(found.choice.is_some())])
}

/// Draws and makes what is rated, lightest first, as long as it may be lighter and the counts go on.
fn settle(space: &Space, mut rated: VecDeque<Rated>, made: &mut usize, found: &mut Lightest) {
    loop {
        let shadow = shadow(found.choice.as_ref());
        rated.retain(|one| !shadow.covers(&one.least));
        if rated.is_empty() {
            return;
        }
        if *made >= most(space.made, MOST_MADE, found) {
            found.is_complete = false;
            return;
        }
        let batch: Vec<Rated> = rated.drain(..rated.len().min(BATCH)).collect();
        let fates: Vec<Fate> =
            batch.par_iter().map(|one| rate::draw(space, one, &Bounds::ALL, &shadow)).collect();
        for fate in fates {
            match fate {
                Fate::Chosen(choice) => {
                    *made += 1;
                    let best = found.choice.as_ref().map_or(f64::INFINITY, |best| best.objectives.mass);
                    if choice.objectives.mass < best {
                        found.choice = Some(*choice);
                    }
                }
                Fate::Failing(_) => *made += 1,
                Fate::Heavy(_) | Fate::Covered => {}
            }
        }
    }
}

/// Covers what isn't lighter than the best by more than the resolution: in everything else it is beyond reach.
fn shadow(best: Option<&Choice>) -> Shadow {
    let floor = best.map(|best| Objectives {
        // The front's own resolution is taken off.
        mass: best.objectives.mass * (1.0 + super::front::ALIKE) / RESOLUTION,
        diameter: 0.0,
        height: 0.0,
        continuous: f64::INFINITY,
        backdrive: 0.0,
        cost: Some(0.0),
    });
    Shadow::of(floor.iter())
}
