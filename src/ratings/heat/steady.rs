//! Temperatures that stay.
//!
//! At fixed conductances the balance is linear, the winding's rising resistance included; solving it and refreshing the
//! conductances, which depend only weakly on temperature (convection by its fourth root, about), closes in on the
//! answer, the faster as each refresh teaches the next step (Broyden, A Class of Methods for Solving Nonlinear Simultaneous
//! Equations, Math. Comp. 19, 1965; from memory). Where the loss grows faster than the heat leaves there is none: thermal
//! runaway.
//!
//! The most heat that keeps within limits comes the same way: at fixed conductances every rise is a straight line over the
//! winding's loss, so that each refresh knows where the first limit is met.

use std::cell::Cell;

use thiserror::Error;

use super::inputs::Limits;
use super::network::{Heat, NODES, Network, Node, Temperatures};
use crate::ratings::motor::losses::{COPPER, resistance_ratio};

/// Nothing of a motor stands this \[degC\]: enamel, glue and magnets are gone at half of it (common practice, no source).
const BEYOND_ALL: f64 = 500.0;
/// Three digits finer than a thermometer \[K\].
const CLOSE_ENOUGH: f64 = 1e-6;
/// Each refresh gains about a digit.
const MOST_REFRESHES: usize = 200;

/// Why nothing stays.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NoSteadyState {
    #[error("thermal runaway: the winding's loss grows faster than the heat leaves, or passes 500 degC")]
    Runaway,
    #[error("the temperatures did not converge")]
    NotConverged,
}

/// Temperatures \[degC\] at constant heat.
///
/// # Errors
/// Runaway; or no convergence, which no test has met.
pub fn temperatures(network: &Network, heat: &Heat) -> Result<Temperatures, NoSteadyState> {
    temperatures_from(network, heat, a_little_warm(network))
}

/// As [`temperatures`], begun at a guess: those of a heat nearby.
///
/// # Errors
/// As [`temperatures`].
pub fn temperatures_from(
    network: &Network,
    heat: &Heat,
    guess: Temperatures,
) -> Result<Temperatures, NoSteadyState> {
    settle(guess, |at| {
        let rises = Rises::at(network, heat.rotor_speed, at);
        rises.temperatures(network, rises.loss(network, heat).ok_or(NoSteadyState::Runaway)?, heat)
    })
}

/// The most that the winding may be heated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Most {
    /// Copper loss at 20 degC \[W\]; 0 where a part is at its limit without any.
    pub copper_at_20: f64,
    pub temperatures: Temperatures,
    /// All the heat that was offered: no limit is met.
    pub is_all: bool,
}

/// The most copper loss, no more than that of `heat`, at which every part stays within its limit; its iron's heat and its
/// speed are given.
///
/// # Errors
/// As [`temperatures`].
pub fn most(network: &Network, heat: &Heat, limits: &Limits) -> Result<Most, NoSteadyState> {
    // Of the last refresh.
    let allowed = Cell::new((0.0, false));
    let mut temperatures = settle(a_little_warm(network), |at| {
        let rises = Rises::at(network, heat.rotor_speed, at);
        let offered = rises.loss(network, heat).unwrap_or(f64::INFINITY);
        let loss = f64::min(rises.loss_at(network, heat, limits), offered);
        allowed.set((loss, loss >= offered));
        rises.temperatures(network, loss, heat)
    })?;
    let (loss, is_all) = allowed.get();
    if loss > 0.0 {
        // At its limit is not beyond it: rounding must not call a print too hot to be rated.
        for (node, limit) in ends(limits) {
            let found = &mut temperatures[node as usize];
            *found = found.min(limit);
        }
    }
    let by_loss = (loss / resistance_ratio(temperatures[Node::Winding as usize])).max(0.0);
    Ok(Most { copper_at_20: if is_all { heat.copper_at_20 } else { by_loss }, temperatures, is_all })
}

/// Where each limit is met.
fn ends(limits: &Limits) -> [(Node, f64); 3] {
    [(Node::Winding, limits.winding), (Node::Mount, limits.plate), (Node::Wall, limits.wall)]
}

/// Equal temperatures have no convection: a start a little off.
fn a_little_warm(network: &Network) -> Temperatures {
    network.cold().map(|temperature| temperature + 1.0)
}

/// Where `refreshed` gives what it is given: Broyden's method, begun with a plain step.
fn settle(
    guess: Temperatures,
    refreshed: impl Fn(&Temperatures) -> Result<Temperatures, NoSteadyState>,
) -> Result<Temperatures, NoSteadyState> {
    /// Convection answers against the change, so that whole steps would swing.
    const SHARE: f64 = 0.75;
    let plain_step =
        || std::array::from_fn(|row| std::array::from_fn(|column| if row == column { SHARE } else { 0.0 }));
    let mut found = guess;
    // From how far off it is to the step.
    let mut steps: [[f64; NODES]; NODES] = plain_step();
    let mut before: Option<[Temperatures; 2]> = None;
    let mut plain: Option<Temperatures> = None;
    for _ in 0..MOST_REFRESHES {
        let next = match (refreshed(&found), plain.take()) {
            (Ok(next), _) => next,
            // A learnt step may lead astray; a plain one is believed.
            (Err(_), Some(plain)) => {
                (found, steps, before) = (plain, plain_step(), None);
                continue;
            }
            (Err(why), None) => return Err(why),
        };
        let off: Temperatures = std::array::from_fn(|node| next[node] - found[node]);
        let change = off.iter().fold(0.0, |most, off| f64::max(most, off.abs()));
        if change < CLOSE_ENOUGH {
            return if next[Node::Winding as usize] < BEYOND_ALL {
                Ok(next)
            } else {
                Err(NoSteadyState::Runaway)
            };
        }
        if let Some([step, off_before]) = before {
            learn(&mut steps, &step, &std::array::from_fn(|node| off_before[node] - off[node]));
        }
        let step: Temperatures = steps.map(|row| dot(&row, &off));
        plain = before.is_some().then(|| std::array::from_fn(|node| found[node] + SHARE * off[node]));
        before = Some([step, off]);
        found = std::array::from_fn(|node| found[node] + step[node]);
    }
    Err(NoSteadyState::NotConverged)
}

/// Changes the steps by as little as makes them give `step` for what it `gained` (Broyden's first update, inverted by Sherman
/// and Morrison).
fn learn(steps: &mut [[f64; NODES]; NODES], step: &Temperatures, gained: &Temperatures) {
    let expected: Temperatures = steps.map(|row| dot(&row, gained));
    let scale = dot(step, &expected);
    if scale == 0.0 {
        return;
    }
    let across: Temperatures =
        std::array::from_fn(|column| (0..NODES).map(|row| step[row] * steps[row][column]).sum());
    for (row, steps) in steps.iter_mut().enumerate() {
        let share = (step[row] - expected[row]) / scale;
        for (entry, across) in steps.iter_mut().zip(across) {
            *entry += share * across;
        }
    }
}

fn dot(one: &Temperatures, other: &Temperatures) -> f64 {
    one.iter().zip(other).map(|(one, other)| one * other).sum()
}

/// Rises over the surroundings \[K/W\], at the conductances of some temperatures.
struct Rises {
    /// By the winding's loss.
    by_loss: [f64; NODES],
    /// By the heat of the iron, in the mount.
    by_iron: [f64; NODES],
}

impl Rises {
    /// The balance of every node, by elimination from the last node to the winding: the matrix is symmetric and diagonally
    /// dominant, so that no pivoting is needed.
    fn at(network: &Network, rotor_speed: f64, at: &Temperatures) -> Rises {
        let conductances = network.conductances(at, rotor_speed);
        let mut matrix = [[0.0; NODES]; NODES];
        for (from, to, conductance) in conductances.between {
            let (from, to) = (from as usize, to as usize);
            matrix[from][from] += conductance;
            matrix[to][to] += conductance;
            matrix[from][to] -= conductance;
            matrix[to][from] -= conductance;
        }
        for (node, conductance) in conductances.outwards {
            matrix[node as usize][node as usize] += conductance;
        }
        let mut right = [[0.0; 2]; NODES];
        right[Node::Winding as usize][0] = 1.0;
        right[Node::Mount as usize][1] = 1.0;
        for pivot in (1..NODES).rev() {
            let (pivot_row, pivot_right) = (matrix[pivot], right[pivot]);
            for row in 0..pivot {
                let share = matrix[row][pivot] / pivot_row[pivot];
                for (entry, above) in matrix[row].iter_mut().zip(pivot_row).take(pivot) {
                    *entry -= share * above;
                }
                for (entry, above) in right[row].iter_mut().zip(pivot_right) {
                    *entry -= share * above;
                }
            }
        }
        let mut rises = Rises { by_loss: [0.0; NODES], by_iron: [0.0; NODES] };
        for (side, rise) in [&mut rises.by_loss, &mut rises.by_iron].into_iter().enumerate() {
            for node in 0..NODES {
                let known: f64 = (0..node).map(|earlier| matrix[node][earlier] * rise[earlier]).sum();
                rise[node] = (right[node][side] - known) / matrix[node][node];
            }
        }
        rises
    }

    /// The winding's loss \[W\]: its resistance rises with its own heat. None at runaway.
    fn loss(&self, network: &Network, heat: &Heat) -> Option<f64> {
        let winding = Node::Winding as usize;
        let without = network.ambient() + heat.iron * self.by_iron[winding];
        let left = 1.0 - heat.copper_at_20 * COPPER * self.by_loss[winding];
        // Also where it isn't a number.
        (left > 0.0).then(|| heat.copper_at_20 * resistance_ratio(without) / left)
    }

    /// The winding's loss \[W\] that brings the first part to its limit.
    fn loss_at(&self, network: &Network, heat: &Heat, limits: &Limits) -> f64 {
        let loss = |(node, limit): (Node, f64)| {
            let node = node as usize;
            (limit - network.ambient() - heat.iron * self.by_iron[node]) / self.by_loss[node]
        };
        ends(limits).into_iter().map(loss).fold(f64::INFINITY, f64::min).max(0.0)
    }

    fn temperatures(&self, network: &Network, loss: f64, heat: &Heat) -> Result<Temperatures, NoSteadyState> {
        let rise: Temperatures =
            std::array::from_fn(|node| loss * self.by_loss[node] + heat.iron * self.by_iron[node]);
        let hottest = rise[Node::Winding as usize];
        if hottest.is_nan() || hottest > 10.0 * BEYOND_ALL {
            return Err(NoSteadyState::Runaway);
        }
        Ok(rise.map(|rise| rise + network.ambient()))
    }
}

/// Resistance \[K/W\] from the mount, `rise` \[K\] over the surroundings, to them. None if nothing leaves it.
pub fn mount_to_air(network: &Network, rise: f64) -> Option<f64> {
    let heated = |at: &Temperatures| {
        let rises = Rises::at(network, 0.0, at);
        Heat { iron: rise / rises.by_iron[Node::Mount as usize], ..Heat::NONE }
    };
    let refreshed = |at: &Temperatures| Rises::at(network, 0.0, at).temperatures(network, 0.0, &heated(at));
    let heat = heated(&settle(a_little_warm(network), refreshed).ok()?).iron;
    (heat > 0.0 && heat.is_finite()).then_some(rise / heat)
}
