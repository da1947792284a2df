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
use std::sync::atomic::Ordering;

use rayon::prelude::*;

use super::alike::fewest;
use super::combine::{Chain, Combination, Market, Offer, Pair};
use super::joint::Robot;
use super::kinds::{BearingKind, Kinds};
use super::known::tried;
use super::size::Onlooker;
use crate::search::rate::Choice;
use crate::search::text::Choices;
use crate::search::{self, Space, Watch};

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

/// The market of a robot.
pub struct Searches<'a> {
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
    /// By pair and shelf, and what they weighed \[kg\].
    known: BTreeMap<(Pair, usize), Vec<(Choices, f64)>>,
    /// By joint: alike where all lists are, so that a place in them means the same.
    shelves: Vec<usize>,
}

/// The first joint that has the same gears, planet bearings and materials on hand, and makes gears the same way.
fn shelf(bare: &[Space], joint: usize) -> usize {
    let same = |a: &Space, b: &Space| {
        let rows = |space: &Space| space.gears.iter().map(|row| (row.module, row.helix)).collect::<Vec<_>>();
        rows(a) == rows(b)
            && a.planet_bearings == b.planet_bearings
            && a.planet_materials == b.planet_materials
            && a.ring_materials == b.ring_materials
            && (a.sun_made, a.planet_made, a.ring_made) == (b.sun_made, b.planet_made, b.ring_made)
    };
    bare.iter().position(|other| same(other, &bare[joint])).unwrap_or(joint)
}

/// A joint, a pair, and what hangs on the joint.
type Asking = (usize, Pair, Vec<u32>);

impl<'a> Searches<'a> {
    pub fn new(
        robot: &'a Robot,
        chain: &'a Chain,
        kinds: &'a Kinds,
        bare: &'a [Space],
        is_priced: bool,
        onlooker: &'a Onlooker<'a>,
    ) -> Searches<'a> {
        Searches {
            robot,
            chain,
            kinds,
            bare,
            is_priced,
            onlooker,
            spaces: BTreeMap::new(),
            searched: BTreeMap::new(),
            tried: BTreeMap::new(),
            known: BTreeMap::new(),
            shelves: (0..bare.len()).map(|joint| shelf(bare, joint)).collect(),
        }
    }

    /// Pairs searched so far, at all loads.
    pub fn count(&self) -> usize {
        self.searched.len()
    }
}

impl Searches<'_> {
    fn masses(&self, joint: usize, hung: &[u32]) -> Vec<f64> {
        let mut masses = vec![0.0; self.robot.joints.len()];
        for (other, steps) in self.chain.beyond[joint].iter().zip(hung) {
            masses[*other] = f64::from(*steps) * self.chain.mass_step;
        }
        masses
    }

    /// A joint's space with steps of mass hanging on it; none where that asks more than any file may.
    pub fn space(&mut self, joint: usize, hung: &[u32]) -> Option<Arc<Space>> {
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
        let known = self.known.get(&(pair, self.shelves[joint])).cloned().unwrap_or_default();
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
    pub fn remember(&mut self) {
        for ((joint, pair, _), offers) in &self.searched {
            let known = self.known.entry((*pair, self.shelves[*joint])).or_default();
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

impl Searches<'_> {
    /// Gives joints of the same pair the same gearset where that costs no step of mass.
    pub fn make_alike(&mut self, one: &mut Combination<Good>) {
        let mut kinds: Vec<(Pair, usize)> =
            one.picks.iter().zip(&self.shelves).map(|(pick, shelf)| (pick.pair, *shelf)).collect();
        kinds.sort_unstable();
        kinds.dedup();
        for alike in kinds {
            let joints =
                (0..one.picks.len()).filter(|joint| (one.picks[*joint].pair, self.shelves[*joint]) == alike);
            let mut joints: Vec<usize> = joints.collect();
            joints.sort_by_key(|joint| self.chain.places[*joint]);
            self.make_alike_within(one, alike.0, &joints);
        }
        // In the order in which it was summed before: the same for any order of the joints in the file.
        let order = self.chain.order();
        let sum = |of: fn(&Offer<Good>) -> f64| -> f64 {
            order
                .iter()
                .map(|joint| f64::from(self.chain.counts[*joint]) * of(&one.picks[*joint].offer))
                .sum()
        };
        (one.mass, one.cost) = (sum(|offer| offer.mass), sum(|offer| offer.cost));
    }

    fn make_alike_within(&mut self, one: &mut Combination<Good>, pair: Pair, joints: &[usize]) {
        let mut gearsets: Vec<Choices> = Vec::new();
        for joint in joints {
            let choices = one.picks[*joint].offer.good.choice.candidate.choices;
            if !gearsets.contains(&choices) {
                gearsets.push(choices);
            }
        }
        if gearsets.len() < 2 {
            return;
        }
        let offers: Vec<Vec<Option<Offer<Good>>>> = joints
            .iter()
            .map(|joint| {
                let own = one.picks[*joint].offer.clone();
                self.with_gearsets(*joint, pair, &own, &gearsets)
            })
            .collect();
        let masses: Vec<Vec<Option<f64>>> = offers
            .iter()
            .map(|offers| offers.iter().map(|offer| offer.as_ref().map(|offer| offer.mass)).collect())
            .collect();
        for ((joint, offers), taken) in joints.iter().zip(offers).zip(fewest(&masses)) {
            if let Some(offer) = offers.into_iter().nth(taken).flatten() {
                one.picks[*joint].offer = offer;
            }
        }
    }

    /// A joint's actuator with each gearset; none where it doesn't hold or a step of mass is added.
    fn with_gearsets(
        &mut self,
        joint: usize,
        pair: Pair,
        own: &Offer<Good>,
        gearsets: &[Choices],
    ) -> Vec<Option<Offer<Good>>> {
        let hung: Vec<u32> =
            self.chain.beyond[joint].iter().map(|other| self.chain.steps(own.good.hung[*other])).collect();
        let space = self.space(joint, &hung).and_then(|space| restricted(&space, self.kinds, pair));
        let most = self.chain.steps(own.mass);
        gearsets
            .par_iter()
            .map(|choices| {
                if *choices == own.good.choice.candidate.choices {
                    return Some(own.clone());
                }
                let choice = tried(space.as_ref()?, *choices)?;
                let mass = choice.objectives.mass;
                let cost = if self.is_priced { choice.objectives.cost.unwrap_or(0.0) } else { 0.0 };
                let good = Good { choice: Arc::new(choice), ..own.good.clone() };
                (self.chain.steps(mass) <= most).then_some(Offer { mass, cost, good })
            })
            .collect()
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
