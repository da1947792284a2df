//! Two-node constants for the drive's own limiter, fitted to the network.
//!
//! `Cw dTw/dt = P - (Tw - Tm)/Rwm`, `Cm dTm/dt = (Tw - Tm)/Rwm - (Tm - Ta)/Rma`. Resistances are the network's at the
//! continuous torque; the winding's capacity is its own; the mount's makes the two-node model's first moment
//! `Rma (Cw + Cm)` the time in which the network's mount does 63.2 % of its rise. One node can't do this: it would be wrong
//! by several times on a short burst. The fit's worst error on the winding, from cold at the continuous current, is
//! given with it.

use super::network::{Heat, Network, Node};
use super::steady;
use super::transient::{Course, Stop, Unsolved, course};
use crate::ratings::motor::losses::COPPER;

/// Share of its rise after one time constant.
const ONE_TIME_CONSTANT: f64 = 0.632_120_558_828_557_7;

/// Constants of the two-node model, K/W, J/K, s, K.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TwoNodes {
    pub winding_to_mount: f64,
    pub mount_to_air: f64,
    pub winding_capacity: f64,
    pub mount_capacity: f64,
    /// Of winding against mount, and of both against the air.
    pub fast: f64,
    pub slow: f64,
    /// Most that its winding differs from the network's.
    pub worst_error: f64,
}

/// Fits the two nodes at a heat that has a steady state; none if the heat warms nothing.
///
/// # Errors
/// If the network can't be solved over time.
pub fn fit(network: &Network, heat: Heat) -> Result<Option<TwoNodes>, Unsolved> {
    let Ok(end) = steady::temperatures(network, &heat) else { return Ok(None) };
    let rise = end[Node::Mount as usize] - network.ambient();
    let power: f64 = heat.into_nodes(&end).iter().sum();
    if rise <= 0.0 || power <= 0.0 {
        return Ok(None);
    }
    let winding_capacity = network.inputs.capacities.winding;
    let mount_to_air = rise / power;
    let level = network.ambient() + ONE_TIME_CONSTANT * rise;
    let total: f64 = network.capacities().iter().sum();
    let longest = 20.0 * mount_to_air * total;
    let warming = course(network, network.cold(), heat, longest, Stop::Above(Node::Mount, level))?;
    let Some((time, _)) = warming.end().filter(|_| warming.stopped) else { return Ok(None) };
    let nodes = TwoNodes {
        winding_to_mount: network.inputs.winding_to_mount,
        mount_to_air,
        winding_capacity,
        // A mount that stores nothing has no time constant.
        mount_capacity: (time / mount_to_air - winding_capacity).max(0.01 * winding_capacity),
        fast: 0.0,
        slow: 0.0,
        worst_error: 0.0,
    };
    let [slow, fast] = nodes.rates(0.0);
    let nodes = TwoNodes { fast: -1.0 / fast, slow: -1.0 / slow, ..nodes };
    let whole = course(network, network.cold(), heat, 4.0 * time, Stop::Never)?;
    Ok(Some(TwoNodes { worst_error: nodes.worst_error(&whole, network.ambient(), heat), ..nodes }))
}

impl TwoNodes {
    /// Rises of winding and mount \[K\] after `time` \[s\] from cold in surroundings of `ambient` \[degC\], closed form.
    pub fn rises(&self, time: f64, ambient: f64, heat: Heat) -> [f64; 2] {
        let slope = heat.copper_at_20 * COPPER;
        let power = heat.copper_at_20 * (1.0 + COPPER * (ambient - 20.0));
        // Where it ends: all heat through the mount, the winding above it.
        let [rwm, rma] = [self.winding_to_mount, self.mount_to_air];
        let winding_end = (power * (rwm + rma) + heat.iron * rma) / (1.0 - slope * (rwm + rma));
        let mount_end = (power + slope * winding_end + heat.iron) * rma;
        // Distance from the end: d' = A d; each mode is (mount + Cm' rate) of its rate.
        let [slow, fast] = self.rates(slope);
        let first_row = -(1.0 / rwm - slope) / self.winding_capacity;
        let coupling = 1.0 / (rwm * self.winding_capacity);
        // Eigenvectors (1, (rate - a11) / a12).
        let [slow_mount, fast_mount] = [slow, fast].map(|rate| (rate - first_row) / coupling);
        let fast_part = (-mount_end + slow_mount * winding_end) / (fast_mount - slow_mount);
        let slow_part = -winding_end - fast_part;
        let (slow_now, fast_now) = (slow_part * libm::exp(slow * time), fast_part * libm::exp(fast * time));
        [winding_end + slow_now + fast_now, mount_end + slow_mount * slow_now + fast_mount * fast_now]
    }

    /// Rates \[1/s\] of the two modes, slow first; `slope` is the loss's growth \[W/K\].
    fn rates(&self, slope: f64) -> [f64; 2] {
        let a11 = -(1.0 / self.winding_to_mount - slope) / self.winding_capacity;
        let a12 = 1.0 / (self.winding_to_mount * self.winding_capacity);
        let a21 = 1.0 / (self.winding_to_mount * self.mount_capacity);
        let a22 = -(1.0 / self.winding_to_mount + 1.0 / self.mount_to_air) / self.mount_capacity;
        let (half_sum, half_difference) = ((a11 + a22) / 2.0, (a11 - a22) / 2.0);
        // Positive: a12 and a21 are.
        let root = (half_difference * half_difference + a12 * a21).sqrt();
        [half_sum + root, half_sum - root]
    }

    fn worst_error(&self, course: &Course, ambient: f64, heat: Heat) -> f64 {
        course
            .times
            .iter()
            .zip(&course.temperatures)
            .map(|(&time, temperatures)| {
                let [winding, _] = self.rises(time, ambient, heat);
                (winding + ambient - temperatures[Node::Winding as usize]).abs()
            })
            .fold(0.0, f64::max)
    }
}
