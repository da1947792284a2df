//! The lightest of one motor with one output bearing, for a robot whose joints share both.
//!
//! The search of [`run`](super::run), but for what it weighs: mass alone. Every group is laid out as far as its shell, which
//! tells most of its mass; the lightest come first, and where the next is no lighter than the best nothing is left.

use std::collections::VecDeque;
use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use super::bounds::{Bounds, Shadow};
use super::candidates::{self, Group, MotorBounds, Seated};
use super::front::Objectives;
use super::gearsets::{self, Counts};
use super::known_heat::KnownHeat;
use super::known_hubs::KnownHubs;
use super::motors::MotorWindow;
use super::near_miss::Misses;
use super::rate::{self, Choice, Desk, Fate, Rated, Visit};
use super::requirement::Space;

/// Ratio of two masses that count as alike: print masses are known to some percent.
pub const RESOLUTION: f64 = 1.01;
/// Groups looked at at once.
const WAVE: usize = 16;
/// Of a wave's survivors, drawn at once.
const BATCH: usize = 2;

/// What was found.
#[derive(Clone, Debug, Default)]
pub struct Lightest {
    pub choice: Option<Choice>,
    /// Whether nothing lighter can be left: the file's own counts may end a search.
    pub is_complete: bool,
}

/// What all pairs of a space share: the gearsets that bear the peak torque on their planet bearings, and solved heat.
pub struct Ground {
    seated: Vec<Seated>,
    heat: KnownHeat,
    hubs: KnownHubs,
}

impl Ground {
    pub fn of(space: &Space) -> Ground {
        let windows = space.bases.iter().filter_map(|bases| bases.first()).map(MotorWindow::of);
        let window = windows.fold([f64::INFINITY, 0.0], |[least, most], window| {
            [f64::min(least, window.least_ratio), f64::max(most, window.most_ratio)]
        });
        let (integers, _) = gearsets::integers(space, window, &Bounds::ALL);
        let (strong, _) = gearsets::strong(space, &integers, &mut Counts::default(), &Bounds::ALL);
        // What comes closest is told by a search of all pairs, when none has anything.
        let seated = candidates::seated(space, &strong, &mut Misses::default());
        Ground { seated, heat: KnownHeat::default(), hubs: KnownHubs::default() }
    }
}

/// The groups of a pair, lightest first: none of its candidates is lighter than its group says.
pub struct Weighed {
    motors: Vec<MotorBounds>,
    groups: Vec<Group>,
}

impl Weighed {
    /// Of a motor and an output bearing, by their places in the space's lists.
    pub fn of(space: &Space, ground: &Ground, [motor, output]: [usize; 2]) -> Weighed {
        let misses = &mut Misses::default();
        let mut weighed = Weighed { motors: Vec::new(), groups: Vec::new() };
        if !candidates::holding(space, motor, &Bounds::ALL, misses).contains(&output) {
            return weighed;
        }
        let windows = space.bases.iter().filter_map(|bases| bases.first()).map(MotorWindow::of);
        weighed.motors = windows.map(|window| MotorBounds::of(space, window, vec![output])).collect();
        let Some(own) = weighed.motors.get(motor) else { return weighed };
        let (groups, _) = candidates::groups(space, motor, &Bounds::ALL, own, &ground.seated);
        let shadow = Shadow::default();
        let desk = weighed.desk(space, ground, &shadow);
        let lighter = groups.into_par_iter().filter_map(|mut group| {
            group.least.mass = rate::least_mass(&desk, &group)?;
            Some(group)
        });
        let mut groups: Vec<Group> = lighter.collect();
        groups.sort_by(|a, b| a.least.mass.total_cmp(&b.least.mass).then(a.seated.cmp(&b.seated)));
        weighed.groups = groups;
        weighed
    }

    /// What no actuator of the pair undercuts \[kg\]; none if there is none.
    pub fn floor(&self) -> Option<f64> {
        self.groups.first().map(|group| group.least.mass)
    }

    fn desk<'a>(&'a self, space: &'a Space, ground: &'a Ground, shadow: &'a Shadow) -> Desk<'a> {
        let Ground { seated, heat, hubs } = ground;
        Desk {
            space,
            seated,
            bounds: &Bounds::ALL,
            motors: &self.motors,
            shadow,
            heat,
            hubs,
            tells_misses: false,
        }
    }

    /// The lightest that holds.
    pub fn lightest(&self, space: &Space, ground: &Ground, stop: &AtomicBool) -> Lightest {
        let mut found = Lightest { choice: None, is_complete: true };
        let (mut rated_count, mut made) = (0, 0);
        for wave in self.groups.chunks(WAVE) {
            let shadow = shadow(found.choice.as_ref());
            if wave.iter().all(|group| shadow.covers(&group.least)) {
                break;
            }
            if rated_count >= space.laid_out || made >= space.made || stop.load(Ordering::Relaxed) {
                found.is_complete = false;
                break;
            }
            let desk = self.desk(space, ground, &shadow);
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
}

/// Draws and makes what is rated, lightest first, as long as it may be lighter and the file's count goes on.
fn settle(space: &Space, mut rated: VecDeque<Rated>, made: &mut usize, found: &mut Lightest) {
    loop {
        let shadow = shadow(found.choice.as_ref());
        rated.retain(|one| !shadow.covers(&one.least));
        if rated.is_empty() {
            return;
        }
        if *made >= space.made {
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
