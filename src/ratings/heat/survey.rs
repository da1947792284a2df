//! What the joint would hold under other conditions, and what the drive's own model takes.

use super::continuous::{Continuous, Gains};
use super::limiter::{self, TwoNodes};
use super::network::Node;
use super::rating::{LONGEST, Rating};
use super::transient::{Hottest, Unsolved, cool_down, time_to_limit};

/// Share of the rise that is left when a joint counts as cooled down.
pub const COOLED: f64 = 0.1;
/// Surroundings of the derating curve \[degC\].
const SURROUNDINGS: [f64; 9] = [-10.0, 0.0, 10.0, 20.0, 30.0, 40.0, 50.0, 60.0, 70.0];
/// Plastics' limits of the derating curve \[degC\].
const PLASTICS: [f64; 7] = [45.0, 50.0, 60.0, 70.0, 80.0, 90.0, 100.0];

/// The answer.
#[derive(Clone, Debug)]
pub struct Survey {
    /// At the map's speeds, drag's heat included, no more than the map gives \[N m\].
    pub continuous_at_speeds: Vec<Option<f64>>,
    /// The peak torque held from cold: time to the first limit \[s\] and whose; none within [`LONGEST`], or if the current
    /// limit doesn't give it.
    pub peak_from_cold: Option<(f64, Hottest)>,
    /// At rest \[A\]; none up to the current limit.
    pub runaway_current: Option<f64>,
    /// From the continuous torque until a tenth of the mount's rise is left \[s\].
    pub cool_down: Option<f64>,
    pub derating: Vec<(f64, Option<Continuous>)>,
    pub derating_by_wall: Vec<(f64, Option<Continuous>)>,
    pub gains: Gains,
    pub two_nodes: Option<TwoNodes>,
}

impl Survey {
    /// # Errors
    /// If the solver gives up on the temperatures over time.
    pub fn of(rating: &Rating) -> Result<Survey, Unsolved> {
        let (holder, network) = (rating.holder(), &rating.network);
        let (cool_down, two_nodes) = match &rating.continuous {
            Ok(held) => (
                cool_down(network, held.temperatures, Node::Mount, COOLED, LONGEST)?,
                limiter::fit(network, holder.heat(held.current, 0.0))?,
            ),
            Err(_) => (None, None),
        };
        let peak_from_cold = match &rating.peak {
            Some(peak) => time_to_limit(network, network.cold(), peak.heat, LONGEST)?,
            None => None,
        };
        let held_at =
            |speed, most: f64| holder.continuous(network, speed).ok().map(|held| held.torque.min(most));
        Ok(Survey {
            continuous_at_speeds: rating
                .map()
                .points
                .iter()
                .map(|point| held_at(point.speed, point.torque))
                .collect(),
            peak_from_cold,
            runaway_current: holder.runaway_current(network),
            cool_down,
            derating: holder.derating(network, &SURROUNDINGS),
            derating_by_wall: holder.derating_by_wall(network, &PLASTICS),
            gains: holder.gains(network),
            two_nodes,
        })
    }
}
