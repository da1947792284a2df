//! Which motor and which bearing at which joint, over the whole robot: all combinations that no other beats in mass, cost,
//! kinds of motors and kinds of output bearings at once.
//!
//! Every set of kinds is looked at (so many motors, so many bearings). Within a set, joints are chosen from the outermost
//! inwards, since a joint's load is what hangs on it; of two ways to fill the outer joints the one that is no lighter
//! anywhere and no cheaper is dropped. That loses nothing as long as a joint that holds under more load holds, at no more
//! mass and cost, under less.
//!
//! Actuators are dear to find, what they weigh and cost at least is not: a pair has a *floor*. A set is skipped, and joints
//! filled so far are dropped, where floors for all joints still open (as if the lightest things hung on them) are no better
//! than what fewer kinds, or as many, have reached. At a joint pairs are asked in the order of their floors, until one found
//! is as good as the floor of the next.

use std::cmp::Ordering;

/// Sums of the same masses or prices in another order are equal within this: a microgram, a millionth of a currency.
const ALIKE: f64 = 1e-9;

fn no_more(a: f64, b: f64) -> bool {
    a <= b + ALIKE
}

/// A kind of motor and a kind of output bearing, by their places in the lists of kinds.
pub type Pair = (usize, usize);

/// An actuator that does what a joint asks.
#[derive(Clone, Debug, PartialEq)]
pub struct Offer<G> {
    /// \[kg\]
    pub mass: f64,
    /// 0 where prices don't count.
    pub cost: f64,
    pub good: G,
}

/// Who knows actuators.
pub trait Market {
    type Good: Clone;
    /// What a joint may be made of.
    fn pairs(&self, joint: usize) -> Vec<Pair>;
    /// What no actuator of a pair undercuts with these steps of mass hanging on the joint: mass \[kg\] and cost; none where it
    /// can't have any.
    fn floor(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Option<[f64; 2]>;
    /// Actuators of a pair that hold with these steps of mass hanging on the joint, an entry for each joint beyond it; those
    /// of which none is both lighter and cheaper.
    fn offers(&mut self, joint: usize, pair: Pair, hung: &[u32]) -> Vec<Offer<Self::Good>>;
    /// Whether to go on.
    fn goes_on(&self) -> bool {
        true
    }
}

/// Joints as they hang on each other.
#[derive(Clone, Debug)]
pub struct Chain {
    /// Joints beyond each joint.
    pub beyond: Vec<Vec<usize>>,
    pub counts: Vec<u32>,
    /// \[kg\]
    pub mass_step: f64,
    /// Alphabetical place of each joint: what is equal is decided by it, not by the order in the file.
    pub places: Vec<usize>,
}

impl Chain {
    /// Outermost joints first.
    pub fn order(&self) -> Vec<usize> {
        let mut order: Vec<usize> = (0..self.counts.len()).collect();
        order.sort_by_key(|joint| (self.beyond[*joint].len(), self.places[*joint]));
        order
    }

    pub fn steps(&self, mass: f64) -> u32 {
        // Masses are some kilograms and steps at least a gram: far below the largest number. A hair less first, so that
        // a whole number of steps stays one.
        (mass / self.mass_step - 1e-9).ceil().max(0.0) as u32
    }

    /// What hangs on a joint, by the masses chosen so far.
    fn hung<G>(&self, joint: usize, picks: &[Option<Pick<G>>]) -> Vec<u32> {
        let mass = |other: &usize| picks[*other].as_ref().map_or(0.0, |pick| pick.offer.mass);
        self.beyond[joint].iter().map(|other| self.steps(mass(other))).collect()
    }
}

/// What was chosen for a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Pick<G> {
    pub pair: Pair,
    pub offer: Offer<G>,
}

/// A robot.
#[derive(Clone, Debug, PartialEq)]
pub struct Combination<G> {
    /// By joint.
    pub picks: Vec<Pick<G>>,
    /// Of all actuators \[kg\].
    pub mass: f64,
    pub cost: f64,
    /// Kinds.
    pub motors: usize,
    /// Kinds.
    pub bearings: usize,
}

impl<G> Combination<G> {
    fn key(&self) -> [f64; 4] {
        [self.mass, self.cost, self.motors as f64, self.bearings as f64]
    }
}

/// What was found.
#[derive(Clone, Debug)]
pub struct Combinations<G> {
    /// Lightest first.
    pub front: Vec<Combination<G>>,
    /// Sets of kinds there are, and how many were filled joint by joint.
    pub sets: u64,
    pub filled: u64,
    /// A joint that nothing on hand does with the lightest things hanging on it, and those.
    pub stuck: Vec<(usize, Vec<u32>)>,
}

/// Outer joints chosen, the others open.
#[derive(Clone)]
struct Partial<G> {
    picks: Vec<Option<Pick<G>>>,
    mass: f64,
    cost: f64,
}

/// A pair with the least it weighs and costs at a joint.
#[derive(Clone, Copy)]
struct Least {
    pair: Pair,
    mass: f64,
    cost: f64,
}

/// All combinations that none beats.
pub fn combine<M: Market>(chain: &Chain, market: &mut M) -> Combinations<M::Good> {
    let mut found = Combinations { front: Vec::new(), sets: 0, filled: 0, stuck: Vec::new() };
    let order = chain.order();
    let least = least(chain, &order, market, &mut found.stuck);
    if !found.stuck.is_empty() || !market.goes_on() {
        return found;
    }
    let sets = sets(chain, &order, &least);
    found.sets = sets.len() as u64;
    for set in sets {
        if is_beaten(&found.front, &set, [set.mass, set.cost]) {
            continue;
        }
        if !market.goes_on() {
            break;
        }
        found.filled += 1;
        for partial in fill(chain, &order, &least, (&set, &found.front), market) {
            if let Some(whole) = whole(partial) {
                enter(&mut found.front, whole);
            }
        }
    }
    if found.front.is_empty() && market.goes_on() {
        found.stuck = stuck(chain, &order, market);
    }
    found.front.sort_by(|a, b| {
        let keys = a.key().into_iter().zip(b.key());
        keys.map(|(a, b)| a.total_cmp(&b)).find(|order| *order != Ordering::Equal).unwrap_or(Ordering::Equal)
    });
    found
}

/// Whether something found is as good as a set of kinds can be that weighs and costs so much at least.
fn is_beaten<G>(front: &[Combination<G>], set: &Set, [mass, cost]: [f64; 2]) -> bool {
    front.iter().any(|other| {
        other.motors <= set.kinds[0]
            && other.bearings <= set.kinds[1]
            && no_more(other.mass, mass)
            && no_more(other.cost, cost)
    })
}

/// Every pair's floor at every joint, the lightest hanging on it; joints without any are noted.
fn least<M: Market>(
    chain: &Chain,
    order: &[usize],
    market: &mut M,
    stuck: &mut Vec<(usize, Vec<u32>)>,
) -> Vec<Vec<Least>> {
    let mut least: Vec<Vec<Least>> = vec![Vec::new(); order.len()];
    let mut lightest = vec![0.0; order.len()];
    for &joint in order {
        let hung: Vec<u32> = chain.beyond[joint].iter().map(|other| chain.steps(lightest[*other])).collect();
        least[joint] = floors(joint, &market.pairs(joint), &hung, market);
        lightest[joint] = least[joint].first().map_or(0.0, |least| least.mass);
        if least[joint].is_empty() {
            stuck.push((joint, hung));
        }
    }
    least
}

/// Floors of pairs, lightest first: they shut out what can't be better.
fn floors<M: Market>(joint: usize, pairs: &[Pair], hung: &[u32], market: &mut M) -> Vec<Least> {
    let mut floors: Vec<Least> = Vec::new();
    for &pair in pairs {
        if let Some([mass, cost]) = market.floor(joint, pair, hung) {
            floors.push(Least { pair, mass, cost });
        }
    }
    floors
        .sort_by(|a, b| a.mass.total_cmp(&b.mass).then(a.cost.total_cmp(&b.cost)).then(a.pair.cmp(&b.pair)));
    floors
}

/// Joints that nothing does with the lightest hanging on them that holds: where no robot was found.
fn stuck<M: Market>(chain: &Chain, order: &[usize], market: &mut M) -> Vec<(usize, Vec<u32>)> {
    let mut stuck = Vec::new();
    let mut lightest = vec![0.0; order.len()];
    for &joint in order {
        let hung: Vec<u32> = chain.beyond[joint].iter().map(|other| chain.steps(lightest[*other])).collect();
        let pairs = market.pairs(joint);
        let mut best = f64::INFINITY;
        for one in floors(joint, &pairs, &hung, market) {
            if one.mass >= best {
                break;
            }
            best = market.offers(joint, one.pair, &hung).iter().map(|offer| offer.mass).fold(best, f64::min);
        }
        if best.is_finite() {
            lightest[joint] = best;
        } else {
            stuck.push((joint, hung));
        }
    }
    stuck
}

/// Kinds that may be used, and the least a robot of them weighs and costs.
struct Set {
    motors: u64,
    bearings: u64,
    kinds: [usize; 2],
    mass: f64,
    cost: f64,
}

impl Set {
    /// Mass and cost of some joints at least.
    fn least_of(&self, chain: &Chain, joints: &[usize], least: &[Vec<Least>]) -> [f64; 2] {
        joints.iter().fold([0.0, 0.0], |[mass, cost], &joint| {
            let within = || least[joint].iter().filter(|one| self.has(one.pair));
            let least = |of: fn(&Least) -> f64| within().map(of).fold(f64::INFINITY, f64::min);
            let count = f64::from(chain.counts[joint]);
            [mass + count * least(|one| one.mass), cost + count * least(|one| one.cost)]
        })
    }

    fn has(&self, pair: Pair) -> bool {
        self.motors >> pair.0 & 1 == 1 && self.bearings >> pair.1 & 1 == 1
    }
}

/// Every set of kinds with which each joint can be made, fewest kinds first, then lightest.
fn sets(chain: &Chain, order: &[usize], least: &[Vec<Least>]) -> Vec<Set> {
    let used = |of: fn(&Least) -> usize| {
        let mut kinds: Vec<usize> = least.iter().flatten().map(of).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds
    };
    let (motors, bearings) = (used(|one| one.pair.0), used(|one| one.pair.1));
    // More kinds than joints are never used.
    let joints = least.len();
    let mut sets = Vec::new();
    for motors in subsets(&motors, joints) {
        for bearings in subsets(&bearings, joints) {
            let kinds = [motors.count_ones() as usize, bearings.count_ones() as usize];
            let mut set = Set { motors, bearings, kinds, mass: 0.0, cost: 0.0 };
            // In the order in which robots are summed, so that equal sums are equal to the last digit.
            [set.mass, set.cost] = set.least_of(chain, order, least);
            if set.mass.is_finite() {
                sets.push(set);
            }
        }
    }
    sets.sort_by(|a, b| {
        let kinds = |set: &Set| set.kinds[0] + set.kinds[1];
        kinds(a)
            .cmp(&kinds(b))
            .then(a.mass.total_cmp(&b.mass))
            .then(a.cost.total_cmp(&b.cost))
            .then((a.motors, a.bearings).cmp(&(b.motors, b.bearings)))
    });
    sets
}

/// Subsets of one to `most` kinds as bits; kinds are below 64.
fn subsets(kinds: &[usize], most: usize) -> Vec<u64> {
    let mut all = vec![0_u64];
    for kind in kinds {
        let with: Vec<u64> =
            all.iter().filter(|set| (set.count_ones() as usize) < most).map(|set| set | 1 << kind).collect();
        all.extend(with);
    }
    all.retain(|set| *set != 0);
    all
}

/// Fills the joints from the outermost inwards, as long as what is found so far isn't as good.
fn fill<M: Market>(
    chain: &Chain,
    order: &[usize],
    least: &[Vec<Least>],
    (set, front): (&Set, &[Combination<M::Good>]),
    market: &mut M,
) -> Vec<Partial<M::Good>> {
    let mut partials = vec![Partial { picks: vec![None; order.len()], mass: 0.0, cost: 0.0 }];
    for (index, &joint) in order.iter().enumerate() {
        let open = &order[index + 1..];
        let [mass, cost] = set.least_of(chain, open, least);
        let pairs: Vec<Pair> =
            least[joint].iter().map(|one| one.pair).filter(|pair| set.has(*pair)).collect();
        let mut longer: Vec<Partial<M::Good>> = Vec::new();
        for partial in &partials {
            let hung = chain.hung(joint, &partial.picks);
            let count = f64::from(chain.counts[joint]);
            let whole = |pick: [f64; 2]| {
                [partial.mass + count * pick[0] + mass, partial.cost + count * pick[1] + cost]
            };
            let worth = |pick: [f64; 2]| !is_beaten(front, set, whole(pick));
            for pick in picks(joint, &pairs, &hung, worth, market) {
                let mut next = partial.clone();
                next.mass += count * pick.offer.mass;
                next.cost += count * pick.offer.cost;
                next.picks[joint] = Some(pick);
                longer.push(next);
            }
        }
        partials = undominated(chain, open, longer);
    }
    partials
}

/// What may be put at a joint, from some pairs, as far as its mass and cost are worth it.
fn picks<M: Market>(
    joint: usize,
    pairs: &[Pair],
    hung: &[u32],
    worth: impl Fn([f64; 2]) -> bool,
    market: &mut M,
) -> Vec<Pick<M::Good>> {
    let mut picks: Vec<Pick<M::Good>> = Vec::new();
    for one in floors(joint, pairs, hung, market) {
        // What it weighs and costs at least is matched already, or too much.
        if picks.iter().any(|pick| pick.offer.mass <= one.mass && pick.offer.cost <= one.cost)
            || !worth([one.mass, one.cost])
        {
            continue;
        }
        for offer in market.offers(joint, one.pair, hung) {
            let matched =
                |pick: &Pick<M::Good>| pick.offer.mass <= offer.mass && pick.offer.cost <= offer.cost;
            if worth([offer.mass, offer.cost]) && !picks.iter().any(matched) {
                picks.retain(|pick| pick.offer.mass < offer.mass || pick.offer.cost < offer.cost);
                picks.push(Pick { pair: one.pair, offer });
            }
        }
    }
    picks
}

/// Those that no other is as good as: in mass, in cost and in every mass that still hangs on an open joint.
fn undominated<G>(chain: &Chain, open: &[usize], partials: Vec<Partial<G>>) -> Vec<Partial<G>> {
    let mut hanging: Vec<usize> =
        open.iter().flat_map(|joint| chain.beyond[*joint].iter().copied()).collect();
    hanging.sort_unstable();
    hanging.dedup();
    let steps = |partial: &Partial<G>, joint: usize| {
        partial.picks[joint].as_ref().map_or(0, |pick| chain.steps(pick.offer.mass))
    };
    let as_good = |a: &Partial<G>, b: &Partial<G>| {
        no_more(a.mass, b.mass)
            && no_more(a.cost, b.cost)
            && hanging.iter().all(|joint| steps(a, *joint) <= steps(b, *joint))
    };
    let mut kept: Vec<Partial<G>> = Vec::new();
    for partial in partials {
        if kept.iter().any(|other| as_good(other, &partial)) {
            continue;
        }
        kept.retain(|other| !as_good(&partial, other));
        kept.push(partial);
    }
    kept
}

/// A robot whose joints are all chosen.
fn whole<G>(partial: Partial<G>) -> Option<Combination<G>> {
    let picks: Vec<Pick<G>> = partial.picks.into_iter().collect::<Option<_>>()?;
    let kinds = |of: fn(Pair) -> usize| {
        let mut kinds: Vec<usize> = picks.iter().map(|pick| of(pick.pair)).collect();
        kinds.sort_unstable();
        kinds.dedup();
        kinds.len()
    };
    let (motors, bearings) = (kinds(|pair| pair.0), kinds(|pair| pair.1));
    Some(Combination { picks, mass: partial.mass, cost: partial.cost, motors, bearings })
}

/// Takes a robot in unless one there is as good in everything; throws out what it is as good as.
fn enter<G>(front: &mut Vec<Combination<G>>, new: Combination<G>) {
    let as_good =
        |a: &Combination<G>, b: &Combination<G>| a.key().iter().zip(b.key()).all(|(a, b)| no_more(*a, b));
    if front.iter().any(|old| as_good(old, &new)) {
        return;
    }
    front.retain(|old| !as_good(&new, old));
    front.push(new);
}
