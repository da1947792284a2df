//! All that is rated of motor and heat, in one answer; what only files tell is reckoned when it is asked for.

use std::sync::OnceLock;

use super::continuous::{Continuous, Holder, NothingHeld, ONE_PHASE};
use super::duty::{self, Duty, NoDuty};
use super::inputs::HeatInputs;
use super::network::{Heat, Network, Node, Temperatures};
use super::steady;
use super::survey::Survey;
use super::transient::{Hottest, Stop, Unsolved, course, time_to_limit};
use crate::design::DutyRow;
use crate::ratings::motor::circuit::{Circuit, Supply};
use crate::ratings::motor::speed_map::{Reduction, SpeedMap, speed_map};

/// Points of the torque-speed map.
const MAP_POINTS: usize = 21;
/// A warm joint: half the heat of the continuous torque, so about half the rise.
pub const WARM_HEAT: f64 = 0.5;
/// Beyond a day a time is no longer waited for \[s\].
pub const LONGEST: f64 = 86_400.0;

/// What is asked of the joint; torques at the output \[N m\], s, rad/s.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Demand<'a> {
    pub peak_torque: f64,
    pub peak_time: f64,
    pub continuous_torque: Option<f64>,
    pub duty: Option<&'a [DutyRow]>,
}

/// The peak torque, held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Peak {
    /// Peak phase current for it \[A\].
    pub current: f64,
    pub heat: Heat,
    /// Time to the first limit \[s\] and whose, begun warm; none within [`LONGEST`].
    pub warm: Option<(f64, Hottest)>,
    /// After the time asked for, begun warm.
    pub after: Temperatures,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Rating {
    pub network: Network,
    pub circuit: Circuit,
    pub supply: Supply,
    pub reduction: Reduction,
    /// At rest.
    pub continuous: Result<Continuous, NothingHeld>,
    /// At rest with one phase loaded \[N m\].
    pub one_phase_torque: Option<f64>,
    /// None if the current limit doesn't give the peak torque.
    pub peak: Option<Peak>,
    /// Where the continuous torque asked for leads; none if nothing is asked, or nothing stays.
    pub at_demand: Option<Temperatures>,
    /// None if there is no duty.
    pub duty: Option<Result<Duty, NoDuty>>,
    map: OnceLock<SpeedMap>,
    survey: OnceLock<Result<Survey, Unsolved>>,
}

impl Rating {
    /// # Errors
    /// If the solver gives up on the temperatures over time.
    pub fn of(
        inputs: HeatInputs,
        circuit: Circuit,
        supply: Supply,
        reduction: Reduction,
        demand: &Demand,
    ) -> Result<Rating, Unsolved> {
        let network = Network::new(inputs);
        let held = Holder { circuit: &circuit, reduction: &reduction }.continuous(&network, 0.0);
        Rating::with_continuous(network, held, circuit, supply, reduction, demand)
    }

    /// Where the continuous torque at rest is known already.
    ///
    /// # Errors
    /// As [`of`](Rating::of).
    pub fn with_continuous(
        network: Network,
        continuous: Result<Continuous, NothingHeld>,
        circuit: Circuit,
        supply: Supply,
        reduction: Reduction,
        demand: &Demand,
    ) -> Result<Rating, Unsolved> {
        let holder = Holder { circuit: &circuit, reduction: &reduction };
        let nearby = continuous.map_or_else(|_| network.cold(), |held| held.temperatures);
        Ok(Rating {
            peak: peak(&holder, &network, demand, continuous.ok())?,
            one_phase_torque: continuous.ok().map(|held| ONE_PHASE * held.torque),
            at_demand: demand.continuous_torque.and_then(|torque| holder.current(torque, 0.0)).and_then(
                |current| steady::temperatures_from(&network, &holder.heat(current, 0.0), nearby).ok(),
            ),
            duty: demand.duty.map(|rows| duty::run(&holder, &network, rows)),
            map: OnceLock::new(),
            survey: OnceLock::new(),
            continuous,
            network,
            circuit,
            supply,
            reduction,
        })
    }

    /// Torque over speed. No check asks for it: it is reckoned when asked for, and kept.
    pub fn map(&self) -> &SpeedMap {
        self.map.get_or_init(|| {
            // Warm windings reach less speed: those of the continuous torque.
            let warm = |held: Continuous| held.temperatures[Node::Winding as usize];
            let winding = self.continuous.map_or(self.network.ambient(), warm);
            speed_map(&self.circuit, &self.supply, &self.reduction, winding, MAP_POINTS)
        })
    }

    /// What no check asks: it takes far longer than all else here, and is kept.
    ///
    /// # Errors
    /// As [`of`](Rating::of).
    pub fn survey(&self) -> Result<&Survey, &Unsolved> {
        self.survey.get_or_init(|| Survey::of(self)).as_ref()
    }

    /// For questions of one's own.
    pub fn holder(&self) -> Holder<'_> {
        Holder { circuit: &self.circuit, reduction: &self.reduction }
    }
}

/// The joint at half the heat of what it can hold; cold if it can hold nothing.
pub fn warm(holder: &Holder, network: &Network, continuous: Option<Continuous>) -> Temperatures {
    let half = |held: Continuous| {
        let heat = holder.heat(held.current, 0.0);
        let heat = Heat { copper_at_20: WARM_HEAT * heat.copper_at_20, ..Heat::NONE };
        let about = held.temperatures.map(|hot| network.ambient() + WARM_HEAT * (hot - network.ambient()));
        steady::temperatures_from(network, &heat, about).ok()
    };
    continuous.and_then(half).unwrap_or_else(|| network.cold())
}

fn peak(
    holder: &Holder,
    network: &Network,
    demand: &Demand,
    continuous: Option<Continuous>,
) -> Result<Option<Peak>, Unsolved> {
    let Some(current) = holder.current(demand.peak_torque, 0.0) else { return Ok(None) };
    let heat = holder.heat(current, 0.0);
    let warm = warm(holder, network, continuous);
    let after = course(network, warm, heat, demand.peak_time, Stop::Never)?;
    Ok(Some(Peak {
        current,
        heat,
        warm: time_to_limit(network, warm, heat, LONGEST)?,
        after: after.end().map_or(warm, |(_, temperatures)| *temperatures),
    }))
}
