//! Torque held for hours and the rest of heat, solved once for every network: many candidates of a motor differ in nothing
//! that heat asks for.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use crate::layout::Actuator;
use crate::product::HeatCase;
use crate::ratings::heat::continuous::{Continuous, Holder, NothingHeld};
use crate::ratings::heat::transient::Unsolved;
use crate::ratings::heat::{Network, Rating};

/// What of a network differs between candidates of a search, by its bits: motor, plastics, walls, openings.
type Key = [u64; 12];
type Held = Result<Continuous, NothingHeld>;
/// And ratio and efficiency, on which the currents of the torques asked for hang.
type Driven = (Key, [u64; 2]);

const SHARDS: usize = 16;

/// 2^64 over the golden ratio: a multiplier that spreads neighbours (Knuth, The Art of Computer Programming 3, 6.4; from memory).
const ODD: u64 = 0x9E37_79B9_7F4A_7C15;

/// What is known so far. The same whoever asks first: an answer follows from its key alone.
#[derive(Debug, Default)]
pub struct KnownHeat {
    held: Known<Key, Held>,
    rated: Known<Driven, Result<Rating, Unsolved>>,
}

impl KnownHeat {
    /// As [`Holder::continuous`] at rest; none, without solving for it, where that is no more than `enough` \[N m\].
    pub fn beyond(
        &self,
        motor: usize,
        (network, holder): (&Network, &Holder),
        enough: Option<f64>,
    ) -> Option<Held> {
        /// What is held is found far closer than this.
        const CLEARLY: f64 = 1.0 - 1e-6;
        let key = key(motor, network);
        let shard = self.held.shard(&key);
        let held = match shard.known(&key) {
            Some(held) => held,
            None if enough.is_some_and(|enough| holder.is_too_much(network, enough * CLEARLY)) => {
                return None;
            }
            None => shard.keep(key, holder.continuous(network, 0.0)),
        };
        // At rest the torque alone knows of the reduction.
        Some(held.map(|held| Continuous { torque: holder.torque(held.current, 0.0), ..held }))
    }

    /// As [`HeatCase::judged`]; what is demanded is the search's, the same for all.
    ///
    /// # Errors
    /// As there.
    pub fn judged(
        &self,
        motor: usize,
        (case, held): (HeatCase, Held),
        actuator: &Actuator,
    ) -> Result<Rating, Unsolved> {
        let network = key(motor, &case.network);
        let driven = (network, [case.reduction.ratio, case.reduction.efficiency].map(f64::to_bits));
        let shard = self.rated.shard(&network);
        shard.known(&driven).unwrap_or_else(|| shard.keep(driven, case.judged(held, actuator)))
    }
}

/// Answers by their keys. Locks share the work: two threads seldom want the same.
#[derive(Debug)]
struct Known<K, V>([Shard<K, V>; SHARDS]);

impl<K, V> Default for Known<K, V> {
    fn default() -> Known<K, V> {
        Known(std::array::from_fn(|_| Shard(Mutex::new(BTreeMap::new()))))
    }
}

impl<K, V> Known<K, V> {
    fn shard(&self, key: &Key) -> &Shard<K, V> {
        // The upper bits of a product are mixed best.
        let mixed = key.iter().fold(0u64, |mixed, bits| (mixed ^ bits).wrapping_mul(ODD));
        // Sixteen of them: four bits.
        &self.0[usize::try_from(mixed >> 60).unwrap_or(0) % SHARDS]
    }
}

#[derive(Debug)]
struct Shard<K, V>(Mutex<BTreeMap<K, V>>);

impl<K: Ord, V: Clone> Shard<K, V> {
    fn known(&self, key: &K) -> Option<V> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).get(key).cloned()
    }

    fn keep(&self, key: K, value: V) -> V {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).insert(key, value.clone());
        value
    }
}

fn key(motor: usize, network: &Network) -> Key {
    let inputs = &network.inputs;
    let (wall, openings, plate, limits) = (&inputs.wall, &inputs.openings, &inputs.plate, &inputs.limits);
    let numbers = [
        wall.conductivity,
        wall.inside_area,
        wall.inside_height,
        wall.outside_area,
        wall.outside_diameter,
        openings.area,
        openings.width,
        openings.passage,
        plate.conductivity,
        limits.plate,
        limits.wall,
    ];
    let mut key = [motor as u64; 12];
    for (slot, number) in key.iter_mut().skip(1).zip(numbers) {
        *slot = number.to_bits();
    }
    key
}
