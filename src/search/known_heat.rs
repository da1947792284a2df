//! Torque held for hours, solved once for every network: many candidates of a motor differ in nothing that heat asks for.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use crate::ratings::heat::Network;
use crate::ratings::heat::continuous::{Continuous, Holder, NothingHeld};

/// What of a network differs between candidates of a search, by its bits: motor, plastics, walls, openings.
type Key = [u64; 12];
type Held = Result<Continuous, NothingHeld>;

/// Locks share the work: two threads seldom want the same.
const SHARDS: usize = 16;

/// 2^64 over the golden ratio: a multiplier that spreads neighbours (Knuth, The Art of Computer Programming 3, 6.4; from memory).
const ODD: u64 = 0x9E37_79B9_7F4A_7C15;

/// What is known so far. The same whoever asks first: an answer follows from its key alone.
#[derive(Debug, Default)]
pub struct KnownHeat {
    shards: [Mutex<BTreeMap<Key, Held>>; SHARDS],
}

impl KnownHeat {
    /// As [`Holder::continuous`] at rest; none, without solving for it, where that is no more than `enough` \[N m\].
    pub fn beyond(
        &self,
        motor: usize,
        (network, holder): (&Network, &Holder),
        enough: Option<f64>,
    ) -> Option<Held> {
        /// The search for the crossing ends within far less of it.
        const CLEARLY: f64 = 1.0 - 1e-6;
        let key = key(motor, network);
        // The upper bits of a product are mixed best.
        let mixed = key.iter().fold(0u64, |mixed, bits| (mixed ^ bits).wrapping_mul(ODD));
        // Sixteen of them: four bits.
        let shard = &self.shards[usize::try_from(mixed >> 60).unwrap_or(0) % SHARDS];
        let known = shard.lock().unwrap_or_else(PoisonError::into_inner).get(&key).copied();
        let held = match known {
            Some(held) => held,
            None if enough.is_some_and(|enough| holder.is_too_much(network, enough * CLEARLY)) => {
                return None;
            }
            None => {
                let held = holder.continuous(network, 0.0);
                shard.lock().unwrap_or_else(PoisonError::into_inner).insert(key, held);
                held
            }
        };
        // At rest the torque alone knows of the reduction.
        Some(held.map(|held| Continuous { torque: holder.torque(held.current, 0.0), ..held }))
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
