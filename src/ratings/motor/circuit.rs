//! Voltage, power and supply current of the motor at a torque and a speed.
//!
//! In the rotor's frame, amplitudes, steady: `v_d = R i_d - w L i_q`, `v_q = R i_q + w L i_d + w psi`, with `w` the electrical
//! speed and `psi = T / (3/2 p i_q)` the flux that makes the torque (textbook equations of the synchronous machine
//! without saliency, from memory). The drive can make `|v| <= V / sqrt 3` (space-vector modulation), of which a
//! share is kept for control. Supply: `V = V0 - Rs I`, `V I = 3/2 R (i_d^2 + i_q^2) + T w_m`.
//! Assumptions: one inductance, the drive's own loss left out, no dead time. Field weakening takes what current the
//! limit leaves. Not covered: saliency, ripple, heating of the supply.

use super::{constants, losses, saturation};
use crate::design::{Controller, FieldWeakening, Motor};

/// Share of the voltage left to the current control (common practice, no source).
pub const VOLTAGE_RESERVE: f64 = 0.05;
/// Speeds and currents are found by halving to this share of their range, finer than any reading.
const CLOSE_ENOUGH: f64 = 1e-9;

/// What the equations need of a motor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Circuit {
    /// \[N m\] per ampere of peak phase current, unsaturated.
    pub torque_constant: f64,
    /// Share of torque lost at the current limit.
    pub saturation: f64,
    /// Peak phase current \[A\].
    pub current_limit: f64,
    /// Of one phase at 20 degC \[ohm\].
    pub resistance: f64,
    /// Of one phase \[H\]; 0 if it isn't known, which makes the speed an upper bound.
    pub inductance: f64,
    pub pole_pairs: f64,
    /// Drag of iron and bearings while turning \[N m\].
    pub drag_torque: f64,
}

/// The source behind the drive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Supply {
    /// Unloaded \[V\].
    pub voltage: f64,
    /// Source, wires and connectors \[ohm\].
    pub resistance: f64,
    /// Most it gives \[A\].
    pub current_limit: Option<f64>,
    pub field_weakening: FieldWeakening,
}

/// What keeps the torque from being higher at a speed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LimitedBy {
    /// Motor's or drive's current.
    Current,
    Voltage,
    /// What the supply can or may give.
    Supply,
    /// Too fast: not even drag is overcome.
    Speed,
}

/// Electrical state at a torque-making current and a speed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Point {
    /// Peak phase voltage \[V\].
    pub phase_voltage: f64,
    /// At the drive's terminals \[V\].
    pub supply_voltage: f64,
    pub supply_current: f64,
    pub copper_loss: f64,
}

impl Supply {
    /// Of a design's controller.
    pub fn of(controller: &Controller) -> Supply {
        Supply {
            voltage: controller.bus_voltage,
            resistance: controller.supply_resistance,
            current_limit: controller.supply_current,
            field_weakening: controller.field_weakening,
        }
    }
}

impl Circuit {
    /// Of a design's motor, its current limited by the controller too. Drag comes from the no-load current, else it is a
    /// stated share of the torque at the limit, see [`losses::DRAG_SHARE`].
    pub fn of(motor: &Motor, controller: &Controller) -> Circuit {
        let constants = constants::torque_constants(motor.kv, motor.kv_is);
        let most = saturation::rotor_torque(motor, motor.current_limit);
        // Saturation is stated at the motor's own limit; the same parabola at the controller's.
        let limit = f64::min(motor.current_limit, controller.current_limit);
        let share = limit / motor.current_limit;
        Circuit {
            torque_constant: constants.peak_phase,
            saturation: motor.saturation * share * share,
            current_limit: limit,
            resistance: motor.phase_resistance,
            inductance: motor.phase_inductance.unwrap_or(0.0),
            pole_pairs: f64::from(motor.pole_pairs),
            drag_torque: motor.no_load_current.map_or(losses::DRAG_SHARE * most, |current| {
                losses::drag_torque(current, constants.direct_current)
            }),
        }
    }

    /// At the rotor \[N m\], without drag.
    pub fn torque(&self, current: f64) -> f64 {
        saturation::torque(self.torque_constant, self.saturation, self.current_limit, current)
    }

    /// Peak phase current for a torque at the rotor \[N m\]; none beyond the limit.
    pub fn current(&self, torque: f64) -> Option<f64> {
        saturation::current(self.torque_constant, self.saturation, self.current_limit, torque)
    }

    /// State at `current` (torque-making) and `weakening` (against the magnets, 0 or less) \[A\], at a rotor speed \[rad/s\]
    /// and a winding temperature \[degC\]. None if the supply can't give the power.
    pub fn point(
        &self,
        supply: &Supply,
        [current, weakening]: [f64; 2],
        speed: f64,
        temperature: f64,
    ) -> Option<Point> {
        let resistance = self.resistance * losses::resistance_ratio(temperature);
        let electrical = self.pole_pairs * speed;
        // Flux as the torque shows it: power in and power out then balance.
        let per_ampere =
            if current.abs() > 0.0 { self.torque(current) / current } else { self.torque_constant };
        let flux = per_ampere / (1.5 * self.pole_pairs);
        let along = resistance * weakening - electrical * self.inductance * current;
        let across = resistance * current + electrical * (flux + self.inductance * weakening);
        let copper_loss = losses::copper_loss(libm::hypot(current, weakening), resistance);
        let power = copper_loss + self.torque(current) * speed;
        let room = supply.voltage * supply.voltage - 4.0 * supply.resistance * power;
        if room < 0.0 {
            return None;
        }
        let supply_voltage = (supply.voltage + room.sqrt()) / 2.0;
        Some(Point {
            phase_voltage: libm::hypot(along, across),
            supply_voltage,
            supply_current: power / supply_voltage,
            copper_loss,
        })
    }

    /// The state at a current and speed if drive and supply reach it, else what stops them.
    pub fn reach(
        &self,
        supply: &Supply,
        current: f64,
        speed: f64,
        temperature: f64,
    ) -> Result<Point, LimitedBy> {
        let plain = self.within(supply, [current, 0.0], speed, temperature);
        match (plain, supply.field_weakening) {
            (Err(LimitedBy::Voltage), FieldWeakening::On) => self.within(
                supply,
                [current, self.weakening(current, speed, temperature)],
                speed,
                temperature,
            ),
            _ => plain,
        }
    }

    fn within(
        &self,
        supply: &Supply,
        currents: [f64; 2],
        speed: f64,
        temperature: f64,
    ) -> Result<Point, LimitedBy> {
        let point = self.point(supply, currents, speed, temperature).ok_or(LimitedBy::Supply)?;
        if supply.current_limit.is_some_and(|limit| point.supply_current > limit) {
            return Err(LimitedBy::Supply);
        }
        if point.phase_voltage > point.supply_voltage / libm::sqrt(3.0) * (1.0 - VOLTAGE_RESERVE) {
            return Err(LimitedBy::Voltage);
        }
        Ok(point)
    }

    /// The current against the magnets that asks for the least voltage, as far as the limit leaves any: the minimum of
    /// `|v|^2`, a parabola in `i_d`.
    fn weakening(&self, current: f64, speed: f64, temperature: f64) -> f64 {
        let resistance = self.resistance * losses::resistance_ratio(temperature);
        let reactance = self.pole_pairs * speed * self.inductance;
        let induced = self.torque_constant / 1.5 * speed;
        let best = -induced * reactance / (resistance * resistance + reactance * reactance);
        let left = self.current_limit * self.current_limit - current * current;
        f64::max(best, -left.max(0.0).sqrt())
    }

    /// The most current at a rotor speed, and what limits it; no current at all if it turns too fast for any.
    pub fn most_current(&self, supply: &Supply, speed: f64, temperature: f64) -> (f64, LimitedBy) {
        let Err(by) = self.reach(supply, self.current_limit, speed, temperature) else {
            return (self.current_limit, LimitedBy::Current);
        };
        if self.reach(supply, 0.0, speed, temperature).is_err() {
            return (0.0, LimitedBy::Speed);
        }
        // Voltage and power rise with the current: halving keeps a current that is reached below one that isn't.
        let [mut reached, mut missed] = [0.0, self.current_limit];
        let mut limited_by = by;
        while missed - reached > CLOSE_ENOUGH * self.current_limit {
            let middle = (reached + missed) / 2.0;
            match self.reach(supply, middle, speed, temperature) {
                Ok(_) => reached = middle,
                Err(by) => (missed, limited_by) = (middle, by),
            }
        }
        (reached, limited_by)
    }

    /// Highest rotor speed \[rad/s\] at which a current is reached; none if not even at rest.
    pub fn highest_speed(&self, supply: &Supply, current: f64, temperature: f64) -> Option<f64> {
        self.reach(supply, current, 0.0, temperature).ok()?;
        let [mut reached, mut missed] = [0.0, self.ideal_no_load_speed(supply)];
        // Field weakening goes beyond; ten times the speed is beyond any bearing.
        while missed < 10.0 * self.ideal_no_load_speed(supply)
            && self.reach(supply, current, missed, temperature).is_ok()
        {
            [reached, missed] = [missed, 2.0 * missed];
        }
        while missed - reached > CLOSE_ENOUGH * missed {
            let middle = (reached + missed) / 2.0;
            if self.reach(supply, current, middle, temperature).is_ok() {
                reached = middle;
            } else {
                missed = middle;
            }
        }
        Some(reached)
    }

    /// Rotor speed \[rad/s\] at which the magnets alone induce the supply's voltage: no drag, no reserve, no sag.
    pub fn ideal_no_load_speed(&self, supply: &Supply) -> f64 {
        supply.voltage / (libm::sqrt(3.0) * self.torque_constant / 1.5)
    }

    /// Rotor speed at which the drag alone takes all that drive and supply can give; none if nothing overcomes it.
    pub fn no_load_speed(&self, supply: &Supply, temperature: f64) -> Option<f64> {
        self.highest_speed(supply, self.current(self.drag_torque)?, temperature)
    }

    /// Corner speed by resistance alone, `(V / sqrt 3 - R I) / (T / (3/2 I))`: no inductance, sag or reserve, hence an
    /// upper bound. None if the resistance takes all the voltage.
    pub fn ideal_corner_speed(&self, supply: &Supply, current: f64) -> Option<f64> {
        let left = supply.voltage / libm::sqrt(3.0) - self.resistance * current;
        (left > 0.0).then(|| left * 1.5 * current / self.torque(current))
    }
}
