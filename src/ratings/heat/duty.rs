//! A duty, torque and speed over time, and what it does to the joint.
//!
//! Each row holds until the next one's time; the last one only ends the cycle. The cycle repeats: it is started from
//! the temperatures that its mean heat keeps, so that the trace is that of a cycle in the middle of the day.
//! Rows closer together than a twentieth of the winding's own time constant are taken together by their mean heat.
//! RMS torque is `sqrt(sum T^2 dt / sum dt)`. Not covered: friction at rest, braking power, heat of the gears.

use thiserror::Error;

use super::continuous::Holder;
use super::network::{Heat, Network, Temperatures};
use super::steady::{self, NoSteadyState};
use super::transient::{Hottest, Stop, Unsolved, course, least_room};
use crate::design::DutyRow;

/// Of the winding's time constant: its temperature moves by less than 5 % of a step within it.
const BLOCK: f64 = 0.05;

/// How the joint stands a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct Duty {
    /// \[s\]
    pub length: f64,
    /// At the output \[N m\].
    pub rms_torque: f64,
    pub peak_torque: f64,
    /// Peak phase current, r.m.s. over the time \[A\].
    pub rms_current: f64,
    /// Hottest of each node \[degC\].
    pub hottest: Temperatures,
    /// Distance to the limits \[K\] and the part that is nearest; negative if it is over.
    pub least_room: f64,
    pub nearest: Hottest,
    /// Lines whose torque is over the current limit.
    pub beyond_current: Vec<usize>,
    /// Time in the cycle \[s\] and temperatures, a row a block.
    pub trace: Vec<(f64, Temperatures)>,
}

impl Duty {
    /// The joint does it for good.
    pub fn holds(&self) -> bool {
        self.least_room >= 0.0 && self.beyond_current.is_empty()
    }
}

/// Why a duty has no answer.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NoDuty {
    #[error("fewer than two rows")]
    Empty,
    #[error("its mean heat: {0}")]
    NoSteadyState(#[from] NoSteadyState),
    #[error(transparent)]
    Unsolved(#[from] Unsolved),
}

/// Rows with their length \[s\] and current \[A\].
struct Step {
    length: f64,
    current: f64,
    speed: f64,
}

/// Runs a duty of rising times.
///
/// # Errors
/// If its mean heat has no steady state.
pub fn run(holder: &Holder, network: &Network, rows: &[DutyRow]) -> Result<Duty, NoDuty> {
    let mut beyond_current = Vec::new();
    let mut steps = Vec::with_capacity(rows.len());
    let (mut length, mut torque_squared, mut peak_torque) = (0.0, 0.0, 0.0_f64);
    for pair in rows.windows(2) {
        let [row, next] = pair else { continue };
        let lasts = next.time - row.time;
        let current = holder.current(row.torque, row.speed).unwrap_or_else(|| {
            beyond_current.push(row.line);
            holder.circuit.current_limit
        });
        length += lasts;
        torque_squared += row.torque * row.torque * lasts;
        peak_torque = peak_torque.max(row.torque.abs());
        steps.push(Step { length: lasts, current, speed: row.speed });
    }
    if length <= 0.0 {
        return Err(NoDuty::Empty);
    }
    let all = Block::of(holder, &steps);
    let block = BLOCK * network.inputs.winding_to_mount * network.inputs.capacities.winding;
    let mut temperatures = steady::temperatures(network, &all.heat)?;
    let mut trace = vec![(0.0, temperatures)];
    let mut time = 0.0;
    for block in blocks(holder, &steps, block) {
        let course = course(network, temperatures, block.heat, block.length, Stop::Never)?;
        for (&within, &at) in course.times.iter().zip(&course.temperatures).skip(1) {
            trace.push((time + within, at));
            temperatures = at;
        }
        time += block.length;
    }
    let hottest: Temperatures = std::array::from_fn(|node| {
        trace.iter().map(|(_, temperatures)| temperatures[node]).fold(f64::NEG_INFINITY, f64::max)
    });
    let (room, nearest) = least_room(&hottest, &network.inputs.limits);
    Ok(Duty {
        length,
        rms_torque: (torque_squared / length).sqrt(),
        peak_torque,
        rms_current: (all.current_squared / length).sqrt(),
        hottest,
        least_room: room,
        nearest,
        beyond_current,
        trace,
    })
}

/// Time with one mean heat.
struct Block {
    length: f64,
    heat: Heat,
    /// \[A2 s\]
    current_squared: f64,
}

impl Block {
    fn of(holder: &Holder, steps: &[Step]) -> Block {
        let (mut length, mut copper, mut iron, mut speed, mut current_squared) = (0.0, 0.0, 0.0, 0.0, 0.0);
        for step in steps {
            let heat = holder.heat(step.current, step.speed);
            length += step.length;
            copper += heat.copper_at_20 * step.length;
            iron += heat.iron * step.length;
            speed += heat.rotor_speed * step.length;
            current_squared += step.current * step.current * step.length;
        }
        Block {
            length,
            heat: Heat { copper_at_20: copper / length, iron: iron / length, rotor_speed: speed / length },
            current_squared,
        }
    }
}

/// Steps taken together until a block is `least` long \[s\]; a longer step is a block of its own.
fn blocks(holder: &Holder, steps: &[Step], least: f64) -> Vec<Block> {
    let mut blocks = Vec::new();
    let (mut first, mut length) = (0, 0.0);
    for (index, step) in steps.iter().enumerate() {
        length += step.length;
        if length >= least || index + 1 == steps.len() {
            blocks.push(Block::of(holder, &steps[first..=index]));
            (first, length) = (index + 1, 0.0);
        }
    }
    blocks
}
