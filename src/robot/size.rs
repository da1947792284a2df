//! All joints of a robot sized together: the market asked, combinations ranked.

use std::sync::atomic::AtomicBool;

use super::combine::{Chain, Combination, Market, combine};
use super::joint::{Robot, Worth};
use super::kinds::Kinds;
use super::market::{Good, Searches};
use crate::diagnostic::Problems;
use crate::search::{self, Found, Space, Watch};

/// Who looks on.
pub struct Onlooker<'a> {
    pub stop: &'a AtomicBool,
    /// Is told how many pairs were searched, and the joint at hand.
    pub tell: &'a (dyn Fn(usize, &str) + Sync),
}

/// What was found of a robot.
pub struct Sized {
    /// The robots to choose from, best first.
    pub choices: Vec<Combination<Good>>,
    pub kinds: Kinds,
    /// Whether every motor on hand has its price, so that cost counts.
    pub is_priced: bool,
    /// Pairs of motor and bearing searched, at all loads.
    pub searched: usize,
    /// Of these, ended by a count of `[search]`.
    pub cut: usize,
    pub sets: u64,
    pub filled: u64,
    pub cancelled: bool,
    /// Joints that nothing does, each with its space and what was found.
    pub stuck: Vec<(usize, Box<Space>, Box<Found>)>,
}

impl Sized {
    /// Whether nothing is left that could be better.
    pub fn is_complete(&self) -> bool {
        !self.cancelled && self.cut == 0
    }
}

/// Sizes all joints together.
///
/// # Errors
/// What a joint's own keys have against them; the file's reader has looked at that already.
pub fn size(robot: &Robot, onlooker: &Onlooker) -> Result<Sized, Problems> {
    let bare: Vec<Space> =
        (0..robot.joints.len()).map(|joint| robot.space(joint, &[])).collect::<Result<_, _>>()?;
    let kinds = Kinds::of(&bare);
    let is_priced =
        bare.iter().flat_map(|space| &space.bases).flatten().all(|design| design.motor.cost.is_some());
    let chain = chain(robot);
    let mut searches = Searches::new(robot, &chain, &kinds, &bare, is_priced, onlooker);
    let found = combine(&chain, &mut searches);
    let cancelled = !searches.goes_on();
    let mut stuck = Vec::new();
    if !cancelled {
        for (joint, hung) in &found.stuck {
            // What came closest with all that is on hand.
            if let Some(space) = searches.space(*joint, hung) {
                let misses = search::run(&space, &Watch { stop: onlooker.stop, tell: &|_| {} });
                stuck.push((*joint, Box::new((*space).clone()), Box::new(misses)));
            }
        }
    }
    let (searched, cut) = (searches.count(), searches.cut());
    let mut choices = found.front;
    if !cancelled {
        choices.iter_mut().for_each(|one| searches.make_alike(one));
    }
    let score = |one: &Combination<Good>| robot.worth.score(one);
    choices.sort_by(|a, b| score(a).total_cmp(&score(b)));
    Ok(Sized {
        choices,
        kinds,
        is_priced,
        searched,
        cut,
        sets: found.sets,
        filled: found.filled,
        cancelled,
        stuck,
    })
}

impl Worth {
    /// Mass of a robot, and what its kinds and its price are worth as mass \[kg\].
    pub fn score<G>(&self, one: &Combination<G>) -> f64 {
        one.mass
            + self.motor * one.motors as f64
            + self.bearing * one.bearings as f64
            + self.kilogram_price.map_or(0.0, |price| one.cost / price)
    }
}

/// The robot's joints as the combinations see them.
fn chain(robot: &Robot) -> Chain {
    let mut alphabetical: Vec<usize> = (0..robot.joints.len()).collect();
    alphabetical.sort_by(|a, b| robot.joints[*a].name.cmp(&robot.joints[*b].name));
    let mut places = vec![0; robot.joints.len()];
    for (place, joint) in alphabetical.iter().enumerate() {
        places[*joint] = place;
    }
    let by_place = |mut joints: Vec<usize>| {
        joints.sort_by_key(|joint| places[*joint]);
        joints
    };
    Chain {
        beyond: (0..robot.joints.len()).map(|joint| by_place(robot.beyond(joint))).collect(),
        counts: robot.joints.iter().map(|joint| joint.count).collect(),
        mass_step: robot.mass_step,
        places,
    }
}
