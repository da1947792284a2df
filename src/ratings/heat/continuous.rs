//! Torque that can be held: the current at which the first part just stays at its limit.
//!
//! The steady temperatures rise with the current, so that the nearest limit is met once, see [`steady::most`]. While turning, the drag heats the stator too. One phase loaded at stall: its third of the winding
//! takes up to two thirds of the heat, which costs between nothing (phases well coupled) and 29 % of the torque
//! (apart); the share is the caller's.

use thiserror::Error;

use super::inputs::{ALUMINIUM, Limits};
use super::network::{Heat, Network, Temperatures};
use super::steady::{self, NoSteadyState};
use super::transient::{Hottest, least_room};
use crate::ratings::motor::circuit::Circuit;
use crate::ratings::motor::losses::{copper_loss, current_of_loss};
use crate::ratings::motor::speed_map::Reduction;

/// Share of the continuous torque left when one phase carries the load: between 0.71 and 1.
pub const ONE_PHASE: f64 = 0.8;
/// A small fan near the joint \[m/s\] (common practice, no source).
pub const FAN: f64 = 2.0;

/// What keeps the continuous torque from being higher.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HeldBy {
    Heat(Hottest),
    /// The current limit itself can be held.
    CurrentLimit,
}

/// What can be held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Continuous {
    /// Peak phase current \[A\].
    pub current: f64,
    /// At the output \[N m\].
    pub torque: f64,
    pub temperatures: Temperatures,
    pub held_by: HeldBy,
}

/// Why nothing can be held.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NothingHeld {
    #[error("without any torque a part is at its limit already: the air, or the drag's heat, is too hot")]
    TooHot,
    #[error(transparent)]
    NoSteadyState(#[from] NoSteadyState),
}

/// Motor and reduction, as far as heat and torque ask.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Holder<'a> {
    pub circuit: &'a Circuit,
    pub reduction: &'a Reduction,
}

impl Holder<'_> {
    /// Heat at a current \[A\] and a speed of the output \[rad/s\].
    pub fn heat(&self, current: f64, speed: f64) -> Heat {
        Heat {
            copper_at_20: copper_loss(current, self.circuit.resistance),
            iron: self.circuit.drag_torque * speed.abs() * self.reduction.ratio,
            rotor_speed: speed.abs() * self.reduction.ratio,
        }
    }

    /// Torque at the output \[N m\]; the drag takes its part while turning.
    pub fn torque(&self, current: f64, speed: f64) -> f64 {
        let drag = if speed.abs() > 0.0 { self.circuit.drag_torque } else { 0.0 };
        self.reduction.output((self.circuit.torque(current) - drag).max(0.0))
    }

    /// Current \[A\] for a torque at the output \[N m\]; none beyond the limit.
    pub fn current(&self, torque: f64, speed: f64) -> Option<f64> {
        let drag = if speed.abs() > 0.0 { self.circuit.drag_torque } else { 0.0 };
        self.circuit.current(self.reduction.rotor(torque.abs()) + drag)
    }

    /// The most that can be held at a speed of the output \[rad/s\].
    ///
    /// # Errors
    /// If a part is too hot without any torque.
    pub fn continuous(&self, network: &Network, speed: f64) -> Result<Continuous, NothingHeld> {
        let limit = self.circuit.current_limit;
        let most = steady::most(network, &self.heat(limit, speed), &network.inputs.limits)?;
        if most.copper_at_20 <= 0.0 {
            return Err(NothingHeld::TooHot);
        }
        let (current, held_by) = if most.is_all {
            (limit, HeldBy::CurrentLimit)
        } else {
            let nearest = least_room(&most.temperatures, &network.inputs.limits).1;
            let current = current_of_loss(most.copper_at_20, self.circuit.resistance);
            (current.min(limit), HeldBy::Heat(nearest))
        };
        let torque = self.torque(current, speed);
        Ok(Continuous { current, torque, temperatures: most.temperatures, held_by })
    }

    /// Whether a torque at the output \[N m\] is more than can be held at rest: one solution, where
    /// [`continuous`](Holder::continuous) searches.
    pub fn is_too_much(&self, network: &Network, torque: f64) -> bool {
        let Some(current) = self.current(torque, 0.0) else { return true };
        match steady::temperatures(network, &self.heat(current, 0.0)) {
            Ok(found) => least_room(&found, &network.inputs.limits).0 < 0.0,
            Err(_) => true,
        }
    }

    /// Least current \[A\] at rest for which no temperature stays; none up to the current limit.
    pub fn runaway_current(&self, network: &Network) -> Option<f64> {
        let runs = |current: f64| steady::temperatures(network, &self.heat(current, 0.0)).is_err();
        let mut away = self.circuit.current_limit;
        if !runs(away) {
            return None;
        }
        let mut stays = 0.0;
        while away - stays > 1e-4 * self.circuit.current_limit {
            let middle = (away + stays) / 2.0;
            if runs(middle) {
                away = middle;
            } else {
                stays = middle;
            }
        }
        Some(away)
    }

    /// Continuous torque at rest over the temperature of the surroundings \[degC\]; none where nothing is left.
    pub fn derating(&self, network: &Network, surroundings: &[f64]) -> Vec<(f64, Option<Continuous>)> {
        let at = |&temperature: &f64| {
            let there = network.changed(|inputs| inputs.ambient.temperature = temperature);
            (temperature, self.continuous(&there, 0.0).ok())
        };
        surroundings.iter().map(at).collect()
    }

    /// Continuous torque at rest over the hottest the plastic may get \[degC\].
    pub fn derating_by_wall(&self, network: &Network, plastic: &[f64]) -> Vec<(f64, Option<Continuous>)> {
        let at = |&temperature: &f64| {
            let there = network.changed(|inputs| {
                inputs.limits = Limits { plate: temperature, wall: temperature, ..inputs.limits };
            });
            (temperature, self.continuous(&there, 0.0).ok())
        };
        plastic.iter().map(at).collect()
    }

    /// Continuous torque at rest \[N m\] of the same joint with one thing changed; none where nothing is left.
    pub fn gains(&self, network: &Network) -> Gains {
        let torque = |network: &Network| self.continuous(network, 0.0).ok().map(|held| held.torque);
        Gains {
            as_is: torque(network),
            without_vents: torque(&network.changed(|inputs| {
                inputs.openings.area = 0.0;
                inputs.openings.passage = 0.0;
            })),
            with_fan: torque(&network.changed(|inputs| {
                inputs.ambient.airflow = f64::max(inputs.ambient.airflow, FAN);
            })),
            with_metal_plate: torque(&network.changed(|inputs| inputs.plate.conductivity = ALUMINIUM)),
        }
    }
}

/// Continuous torques \[N m\] side by side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gains {
    pub as_is: Option<f64>,
    /// Windows closed.
    pub without_vents: Option<f64>,
    /// Air at [`FAN`] past the joint.
    pub with_fan: Option<f64>,
    /// The plate under the motor of aluminium.
    pub with_metal_plate: Option<f64>,
}
