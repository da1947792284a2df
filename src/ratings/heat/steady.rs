//! Temperatures that stay.
//!
//! At fixed conductances the balance is linear, the winding's rising resistance included; solving it and refreshing the
//! conductances, which depend only weakly on temperature (convection by its fourth root, about), closes in on the
//! answer. Where the loss grows faster than the heat leaves there is none: thermal runaway.

use std::cell::RefCell;

use roots::{SimpleConvergency, find_root_brent};
use thiserror::Error;

use super::network::{Heat, NODES, Network, Node, Temperatures};
use crate::ratings::motor::losses::COPPER;

/// Nothing of a motor stands this \[degC\]: enamel, glue and magnets are gone at half of it (common practice, no source).
const BEYOND_ALL: f64 = 500.0;
/// Far below any thermometer \[K\].
const CLOSE_ENOUGH: f64 = 1e-9;
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
    // Equal temperatures have no convection: start a little off.
    temperatures_from(network, heat, network.cold().map(|temperature| temperature + 1.0))
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
    let mut found = guess;
    for _ in 0..MOST_REFRESHES {
        let next = balance(network, heat, &found)?;
        let change = next.iter().zip(&found).map(|(a, b)| (a - b).abs()).fold(0.0, f64::max);
        // Half way: convection answers against the change, so that plain steps would swing.
        found = std::array::from_fn(|node| 0.25 * found[node] + 0.75 * next[node]);
        if change < CLOSE_ENOUGH {
            return if found[Node::Winding as usize] < BEYOND_ALL {
                Ok(found)
            } else {
                Err(NoSteadyState::Runaway)
            };
        }
    }
    Err(NoSteadyState::NotConverged)
}

/// The linear balance at the conductances of `at`: elimination from the last node to the winding. The matrix is
/// symmetric and diagonally dominant but for the winding's own entry, so that no pivoting is needed; that entry, the last
/// pivot, loses its sign at runaway.
fn balance(network: &Network, heat: &Heat, at: &Temperatures) -> Result<Temperatures, NoSteadyState> {
    let conductances = network.conductances(at, heat.rotor_speed);
    let mut matrix = [[0.0; NODES]; NODES];
    // In kelvin over the surroundings.
    let mut right = heat.into_nodes(&network.cold());
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
    matrix[0][0] -= heat.copper_at_20 * COPPER;
    for pivot in (1..NODES).rev() {
        let (pivot_row, pivot_right) = (matrix[pivot], right[pivot]);
        for row in 0..pivot {
            let share = matrix[row][pivot] / pivot_row[pivot];
            for (entry, above) in matrix[row].iter_mut().zip(pivot_row).take(pivot) {
                *entry -= share * above;
            }
            right[row] -= share * pivot_right;
        }
    }
    if matrix[0][0] <= 0.0 || matrix[0][0].is_nan() {
        return Err(NoSteadyState::Runaway);
    }
    let mut rise = [0.0; NODES];
    for node in 0..NODES {
        let known: f64 = (0..node).map(|earlier| matrix[node][earlier] * rise[earlier]).sum();
        rise[node] = (right[node] - known) / matrix[node][node];
    }
    if rise[0] > 10.0 * BEYOND_ALL {
        return Err(NoSteadyState::Runaway);
    }
    Ok(rise.map(|rise| rise + network.ambient()))
}

/// Resistance \[K/W\] from the mount, `rise` \[K\] over the surroundings, to them. None if no heat brings it there.
pub fn mount_to_air(network: &Network, rise: f64) -> Option<f64> {
    let mount = |iron: f64| {
        let heat = Heat { iron, ..Heat::NONE };
        temperatures(network, &heat)
            .map_or(BEYOND_ALL, |found| found[Node::Mount as usize] - network.ambient())
    };
    let heat = crossing(|heat| mount(heat) - rise, 1.0)?;
    Some(rise / heat)
}

/// Where a rising function of a positive number crosses zero, by Brent's method; none below `1e6` times `scale`.
pub(super) fn crossing(function: impl Fn(f64) -> f64, scale: f64) -> Option<f64> {
    let at_zero = function(0.0);
    if at_zero >= 0.0 || at_zero.is_nan() {
        return None;
    }
    let mut high = scale;
    while function(high) < 0.0 {
        high *= 2.0;
        if high > 1e6 * scale {
            return None;
        }
    }
    // The library asks for the ends of its bracket again and again.
    let asked = RefCell::new(Vec::new());
    let function = |number: f64| {
        let known = asked.borrow().iter().find(|(before, _)| *before == number).map(|(_, value)| *value);
        known.unwrap_or_else(|| {
            let value = function(number);
            asked.borrow_mut().push((number, value));
            value
        })
    };
    // Both the number and what it leads to: well over the noise of CLOSE_ENOUGH, which would set it searching for nothing.
    let mut convergency = SimpleConvergency { eps: 1e-8 * high, max_iter: 200 };
    find_root_brent(0.0, high, &function, &mut convergency).ok()
}
