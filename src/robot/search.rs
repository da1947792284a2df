//! Actuators for the joints of a robot: each pair of motor and output bearing searched by itself, so that a choice that is
//! good for sharing is found even where another pair beats it at that joint.
//!
//! The search of a pair is [`crate::search`]'s, made and judged in full; of its choices those count of which none is both
//! lighter and cheaper, its resolution (3 %) included. `[search] made` and `laid_out` are a joint's and shared among its pairs.
//!
//! Counts may end a pair's search early. So the robot is combined twice: the second time, what the first found for a pair at
//! any joint and load is tried at every other one too, by the same checks.

use std::collections::BTreeMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use crate::design;
use crate::gears::Stage;
use crate::layout::stage_input;
use crate::search::candidates::{self, Candidate};
use crate::search::rate::{self, Choice, Fate};
use crate::search::requirement::OutputChoice;
use crate::search::text::{self, Choices};
use crate::search::{self, Found, Space, Watch};

use super::combine::{Chain, Combination, Market, Offer, Pair, combine};
use super::joint::Robot;

/// Fewest designs looked at for a pair: what lies behind a handful is seldom lighter, since small ones come first.
const LEAST_LAID_OUT: usize = 128;
const LEAST_MADE: usize = 4;

/// A choice and where it comes from.
#[derive(Clone, Debug)]
pub struct Good {
    pub choice: Arc<Choice>,
    /// Masses hung on the joint, by joint \[kg\].
    pub hung: Arc<Vec<f64>>,
    /// Whether every candidate of its pair was judged.
    pub is_complete: bool,
}

/// Who looks on.
pub struct Onlooker<'a> {
    pub stop: &'a AtomicBool,
    /// Is told how many pairs were searched, and the joint at hand.
    pub tell: &'a (dyn Fn(usize, &str) + Sync),
}

/// A kind of output bearing.
#[derive(Clone, Debug, PartialEq)]
pub struct BearingKind {
    pub designation: String,
    pub count: u32,
    pub spacing: f64,
}

impl BearingKind {
    fn of(output: &OutputChoice) -> BearingKind {
        BearingKind { designation: output.designation.clone(), count: output.count, spacing: output.spacing }
    }

    /// Total order: designation, then pairs.
    fn cmp(&self, other: &BearingKind) -> std::cmp::Ordering {
        self.designation
            .cmp(&other.designation)
            .then(self.count.cmp(&other.count))
            .then(self.spacing.total_cmp(&other.spacing))
    }

    pub fn words(&self) -> String {
        if self.count == 1 {
            self.designation.clone()
        } else {
            format!("{} x {}", self.count, self.designation)
        }
    }
}

/// All kinds that any joint may use, in an order that doesn't depend on the order of the joints.
#[derive(Clone, Debug)]
pub struct Kinds {
    /// Lines of `[motor]`.
    pub motors: Vec<String>,
    pub bearings: Vec<BearingKind>,
}

impl Kinds {
    fn of(spaces: &[Space]) -> Kinds {
        let mut motors: Vec<String> = spaces.iter().flat_map(|space| space.motors.iter().cloned()).collect();
        motors.sort();
        motors.dedup();
        let mut bearings: Vec<BearingKind> =
            spaces.iter().flat_map(|space| space.outputs.iter().map(BearingKind::of)).collect();
        bearings.sort_by(BearingKind::cmp);
        bearings.dedup();
        Kinds { motors, bearings }
    }
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
    pub sets: u64,
    pub filled: u64,
    pub cancelled: bool,
    /// Joints that nothing does, each with its space and what was found.
    pub stuck: Vec<(usize, Box<Space>, Box<Found>)>,
}

impl Sized {
    /// Whether every candidate of every choice's pairs was judged.
    pub fn is_complete(&self) -> bool {
        let good = |combination: &Combination<Good>| {
            combination.picks.iter().all(|pick| pick.offer.good.is_complete)
        };
        !self.cancelled && self.choices.iter().all(good)
    }
}

/// The market of a robot.
struct Searches<'a> {
    robot: &'a Robot,
    chain: &'a Chain,
    kinds: &'a Kinds,
    /// Of each joint, nothing hanging on it.
    bare: &'a [Space],
    is_priced: bool,
    onlooker: &'a Onlooker<'a>,
    spaces: BTreeMap<(usize, Vec<u32>), Option<Arc<Space>>>,
    searched: BTreeMap<Asking, Vec<Offer<Good>>>,
    /// With what was known of other joints.
    tried: BTreeMap<Asking, Vec<Offer<Good>>>,
    /// Of each pair, and what they weighed \[kg\].
    known: BTreeMap<Pair, Vec<(Choices, f64)>>,
}

/// A joint, a pair, and what hangs on the joint.
type Asking = (usize, Pair, Vec<u32>);

impl Searches<'_> {
    fn masses(&self, joint: usize, hung: &[u32]) -> Vec<f64> {
        let mut masses = vec![0.0; self.robot.joints.len()];
        for (other, steps) in self.chain.beyond[joint].iter().zip(hung) {
            masses[*other] = f64::from(*steps) * self.chain.mass_step;
        }
        masses
    }

    fn space(&mut self, joint: usize, hung: &[u32]) -> Option<Arc<Space>> {
        let masses = self.masses(joint, hung);
        let robot = self.robot;
        self.spaces
            .entry((joint, hung.to_vec()))
            // A demand beyond every limit of the file: nothing on hand holds it.
            .or_insert_with(|| robot.space(joint, &masses).ok().map(Arc::new))
            .clone()
    }

    fn search(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Vec<Offer<Good>> {
        let Some(whole) = self.space(joint, hung) else { return Vec::new() };
        let Some(space) = restricted(&whole, self.kinds, pair) else { return Vec::new() };
        let name = self.robot.joints.get(joint).map_or("", |joint| joint.name.as_str());
        (self.onlooker.tell)(self.searched.len(), name);
        let found = search::run(&space, &Watch { stop: self.onlooker.stop, tell: &|_| {} });
        let is_complete = found.is_complete();
        let masses = Arc::new(self.masses(joint, hung));
        let mut offers = Vec::new();
        for choice in found.choices {
            self.enter(&mut offers, choice, &masses, is_complete);
        }
        offers
    }

    /// Takes a choice in unless one there is as light and as cheap; throws out what it is as good as.
    fn enter(&self, offers: &mut Vec<Offer<Good>>, choice: Choice, hung: &Arc<Vec<f64>>, is_complete: bool) {
        let cost = if self.is_priced { choice.objectives.cost.unwrap_or(0.0) } else { 0.0 };
        let mass = choice.objectives.mass;
        if offers.iter().any(|other| other.mass <= mass && other.cost <= cost) {
            return;
        }
        offers.retain(|other| other.mass < mass || other.cost < cost);
        let good = Good { choice: Arc::new(choice), hung: Arc::clone(hung), is_complete };
        offers.push(Offer { mass, cost, good });
    }

    /// The search's offers with those known of the same pair elsewhere that hold here and are lighter.
    fn with_known(
        &mut self,
        joint: usize,
        pair: Pair,
        hung: &[u32],
        mut offers: Vec<Offer<Good>>,
    ) -> Vec<Offer<Good>> {
        let known = self.known.get(&pair).cloned().unwrap_or_default();
        let lightest = offers.iter().map(|offer| offer.mass).fold(f64::INFINITY, f64::min);
        let lighter: Vec<Choices> =
            known.into_iter().filter(|(_, mass)| *mass < lightest).map(|(choices, _)| choices).collect();
        let Some(space) = self.space(joint, hung).filter(|_| !lighter.is_empty()) else { return offers };
        let Some(space) = restricted(&space, self.kinds, pair) else { return offers };
        let masses = Arc::new(self.masses(joint, hung));
        let held: Vec<Option<Choice>> = lighter.par_iter().map(|choices| tried(&space, *choices)).collect();
        for choice in held.into_iter().flatten() {
            // Tried beside a search that says itself whether it was complete.
            self.enter(&mut offers, choice, &masses, false);
        }
        offers
    }

    /// Keeps every choice found so far for its pair, wherever it was found; forgets which joint had which.
    fn remember(&mut self) {
        for ((_, pair, _), offers) in &self.searched {
            let known = self.known.entry(*pair).or_default();
            for offer in offers {
                let choices = offer.good.choice.candidate.choices;
                if !known.iter().any(|(other, _)| *other == choices) {
                    known.push((choices, offer.mass));
                }
            }
        }
        self.tried.clear();
    }
}

/// A candidate by the same steps as the search's; none unless all its checks hold.
fn tried(space: &Space, choices: Choices) -> Option<Choice> {
    let design = design::load_text(&space.path, &text::design(space, &choices)).ok()?.design;
    let stage = Stage::solve(&stage_input(&design)).ok()?;
    let backdrive = candidates::backdrive(&stage, &design)?;
    if space.backdrive_limit.is_some_and(|limit| backdrive > limit) {
        return None;
    }
    let candidate = Candidate { choices, size: 0.0, backdrive };
    match rate::weigh(space, &candidate) {
        Fate::Weighed(objectives) => rate::make(space, &candidate, objectives).ok(),
        _ => None,
    }
}

impl Market for Searches<'_> {
    type Good = Good;

    fn pairs(&self, joint: usize) -> Vec<Pair> {
        let Some(space) = self.bare.get(joint) else { return Vec::new() };
        let motors = self.kinds.motors.iter().enumerate().filter(|(_, motor)| space.motors.contains(motor));
        let has = |kind: &BearingKind| space.outputs.iter().any(|output| BearingKind::of(output) == *kind);
        motors
            .flat_map(|(motor, _)| {
                let bearings = self.kinds.bearings.iter().enumerate().filter(|(_, kind)| has(kind));
                bearings.map(move |(bearing, _)| (motor, bearing))
            })
            .collect()
    }

    fn offers(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Vec<Offer<Good>> {
        if !self.goes_on() {
            return Vec::new();
        }
        let key = (joint, pair, hung.to_vec());
        if let Some(found) = self.tried.get(&key) {
            return found.clone();
        }
        let searched = match self.searched.get(&key) {
            Some(searched) => searched.clone(),
            None => self.search(joint, pair, hung),
        };
        self.searched.insert(key.clone(), searched.clone());
        let offers = self.with_known(joint, pair, hung, searched);
        self.tried.insert(key, offers.clone());
        offers
    }

    fn goes_on(&self) -> bool {
        !self.onlooker.stop.load(Ordering::Relaxed)
    }
}

/// The same space with one motor and one output bearing.
fn restricted(space: &Space, kinds: &Kinds, pair: Pair) -> Option<Space> {
    let pairs = (space.motors.len() * space.outputs.len()).max(1);
    let motor = space.motors.iter().position(|motor| Some(motor) == kinds.motors.get(pair.0))?;
    let output =
        space.outputs.iter().position(|one| Some(&BearingKind::of(one)) == kinds.bearings.get(pair.1))?;
    let mut one = space.clone();
    one.motors = vec![space.motors.get(motor)?.clone()];
    one.bases = vec![space.bases.get(motor)?.clone()];
    one.outputs = vec![space.outputs.get(output)?.clone()];
    one.laid_out = (space.laid_out / pairs).max(LEAST_LAID_OUT.min(space.laid_out));
    one.made = (space.made / pairs).max(LEAST_MADE.min(space.made));
    Some(one)
}

/// Sizes all joints together.
///
/// # Errors
/// What a joint's own keys have against them; the file's reader has looked at that already.
pub fn size(robot: &Robot, onlooker: &Onlooker) -> Result<Sized, crate::diagnostic::Problems> {
    let bare: Vec<Space> =
        (0..robot.joints.len()).map(|joint| robot.space(joint, &[])).collect::<Result<_, _>>()?;
    let kinds = Kinds::of(&bare);
    let is_priced =
        bare.iter().flat_map(|space| &space.bases).flatten().all(|design| design.motor.cost.is_some());
    let chain = chain(robot);
    let mut searches = Searches {
        robot,
        chain: &chain,
        kinds: &kinds,
        bare: &bare,
        is_priced,
        onlooker,
        spaces: BTreeMap::new(),
        searched: BTreeMap::new(),
        tried: BTreeMap::new(),
        known: BTreeMap::new(),
    };
    combine(&chain, &mut searches);
    searches.remember();
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
    let searched = searches.searched.len();
    let mut choices = found.front;
    let score = |one: &Combination<Good>| robot.worth.score(one);
    choices.sort_by(|a, b| score(a).total_cmp(&score(b)));
    Ok(Sized {
        choices,
        kinds,
        is_priced,
        searched,
        sets: found.sets,
        filled: found.filled,
        cancelled,
        stuck,
    })
}

impl super::joint::Worth {
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
