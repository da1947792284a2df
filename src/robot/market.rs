//! Actuators for the joints of a robot: each pair of motor and output bearing searched by itself, so that a choice that is
//! good for sharing is found even where another pair beats it at that joint.
//!
//! The search of a pair is [`Weighed::lightest`]: made and judged in full. Within a pair motor, board and bearing are the same; what else
//! differs in cost is filament, so the lightest stands for the pair.

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
use crate::search::Space;
use crate::search::candidates::least_cost;
use crate::search::lightest::{Ground, Weighed};
use crate::search::rate::Choice;
use crate::search::text::Choices;

/// A choice and where it comes from.
#[derive(Clone, Debug)]
pub struct Good {
    pub choice: Arc<Choice>,
    /// Masses hung on the joint, by joint \[kg\].
    pub hung: Arc<Vec<f64>>,
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
    grounds: BTreeMap<(usize, Vec<u32>), Arc<Ground>>,
    weighed: BTreeMap<Asking, Option<Arc<Weighed>>>,
    searched: BTreeMap<Asking, Vec<Offer<Good>>>,
    /// Searches that a count ended.
    cut: usize,
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
            grounds: BTreeMap::new(),
            weighed: BTreeMap::new(),
            searched: BTreeMap::new(),
            cut: 0,
            shelves: (0..bare.len()).map(|joint| shelf(bare, joint)).collect(),
        }
    }

    /// Pairs searched so far, at all loads.
    pub fn count(&self) -> usize {
        self.searched.len()
    }

    /// Of these, how many a count of the file ended.
    pub fn cut(&self) -> usize {
        self.cut
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

    /// What a joint's pairs share at a load.
    fn ground(&mut self, joint: usize, hung: &[u32], space: &Space) -> Arc<Ground> {
        let found = self.grounds.entry((joint, hung.to_vec()));
        Arc::clone(found.or_insert_with(|| Arc::new(Ground::of(space))))
    }

    /// A pair's groups by mass; none where the joint can't have it.
    fn weighed(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Option<Arc<Weighed>> {
        let key = (joint, pair, hung.to_vec());
        if let Some(known) = self.weighed.get(&key) {
            return known.clone();
        }
        let found = self.space(joint, hung).and_then(|space| {
            let places = self.places(&space, pair)?;
            let ground = self.ground(joint, hung, &space);
            Some(Arc::new(Weighed::of(&space, &ground, places)))
        });
        self.weighed.insert(key, found.clone());
        found
    }

    fn search(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Option<Offer<Good>> {
        let name = self.robot.joints.get(joint).map_or("", |joint| joint.name.as_str());
        (self.onlooker.tell)(self.searched.len(), name);
        let weighed = self.weighed(joint, pair, hung)?;
        let space = self.space(joint, hung)?;
        let ground = self.ground(joint, hung, &space);
        let found = weighed.lightest(&space, &ground, self.onlooker.stop);
        self.cut += usize::from(!found.is_complete);
        let hung = Arc::new(self.masses(joint, hung));
        let choice = Arc::new(found.choice?);
        Some(self.offer(Good { choice, hung }))
    }

    fn offer(&self, good: Good) -> Offer<Good> {
        let one = good.choice.objectives;
        Offer { mass: one.mass, cost: if self.is_priced { one.cost.unwrap_or(0.0) } else { 0.0 }, good }
    }

    /// Places of a pair in the lists of a joint's space.
    fn places(&self, space: &Space, pair: Pair) -> Option<[usize; 2]> {
        let motor = space.motors.iter().position(|motor| Some(motor) == self.kinds.motors.get(pair.0))?;
        let bearing = self.kinds.bearings.get(pair.1);
        let output = space.outputs.iter().position(|one| Some(&BearingKind::of(one)) == bearing)?;
        Some([motor, output])
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

    fn floor(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Option<[f64; 2]> {
        if !self.goes_on() {
            return None;
        }
        let mass = self.weighed(joint, pair, hung)?.floor()?;
        let space = self.bare.get(joint).filter(|_| self.is_priced);
        let motor = space.and_then(|space| self.places(space, pair)).map_or(0, |[motor, _]| motor);
        // Filament, the only other thing with a price, may cost nothing.
        let cost = space.and_then(|space| least_cost(space.base(motor, 0, [0, 0])?)).unwrap_or(0.0);
        Some([mass, cost])
    }

    fn offers(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Vec<Offer<Good>> {
        if !self.goes_on() {
            return Vec::new();
        }
        let key = (joint, pair, hung.to_vec());
        if let Some(found) = self.searched.get(&key) {
            return found.clone();
        }
        let offers: Vec<Offer<Good>> = self.search(joint, pair, hung).into_iter().collect();
        self.searched.insert(key, offers.clone());
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
            // The pair is the same; its places in the joints' lists may differ.
            let own = one.picks[*joint].offer.good.choice.candidate.choices;
            let choices = Choices { motor: 0, output: 0, ..own };
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
        let Some(space) = self.space(joint, &hung) else { return Vec::new() };
        let Some([motor, output]) = self.places(&space, pair) else { return Vec::new() };
        let most = self.chain.steps(own.mass);
        gearsets
            .par_iter()
            .map(|gearset| {
                let choices = Choices { motor, output, ..*gearset };
                if choices == own.good.choice.candidate.choices {
                    return Some(own.clone());
                }
                let choice = Arc::new(tried(&space, choices)?);
                let offer = self.offer(Good { choice, ..own.good.clone() });
                (self.chain.steps(offer.mass) <= most).then_some(offer)
            })
            .collect()
    }
}
