//! Motor and load over time, the gears' spring and play between them, by the Dormand-Prince method of order 5.
//!
//! `Jm wm' = u - Tg`, `Jl wl' = Tg + Te`; in contact `Tg = K p + c p'` (a flank pushes, never pulls), p the give beyond half the
//! play. Drive: the current that the spring asks for, through the current limit and the motor's saturation, through a lag of first
//! order that stands for sampling and delay (continuous control; the sampled loop is rated by itself). Speed through its low-pass.
//! Range: gains that [`sampled`](super::sampled) finds stable. Not covered: friction (peaks and overshoot are upper ends), voltage
//! limit at speed, counts of the encoder.

use differential_equations::ivp::IVP;
use differential_equations::methods::ExplicitRungeKutta;
use differential_equations::ode::ODE;

use super::gains::Gains;
use crate::ratings::heat::transient::Unsolved;
use crate::ratings::motor::saturation;

/// Per step, relative, and absolute in rad, rad/s, N m: a hundred times finer than what is told.
const TOLERANCE: f64 = 1e-6;
const MOST_STEPS: usize = 400_000;

/// What makes the torque, at the output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Drive {
    /// \[N m/A\], peak phase current, unsaturated.
    pub torque_constant: f64,
    /// Share of torque lost at the current limit.
    pub saturation: f64,
    /// \[A\]
    pub current_limit: f64,
    /// Half a period and the delay \[s\].
    pub lag: f64,
    /// Time constant of the speed's low-pass \[s\].
    pub filter: f64,
}

impl Drive {
    /// Torque that comes when the spring asks for `wanted` \[N m\].
    pub fn torque(&self, wanted: f64) -> f64 {
        let current = (wanted / self.torque_constant).clamp(-self.current_limit, self.current_limit);
        saturation::torque(self.torque_constant, self.saturation, self.current_limit, current)
    }

    /// At the current limit.
    pub fn most(&self) -> f64 {
        saturation::torque(self.torque_constant, self.saturation, self.current_limit, self.current_limit)
    }
}

/// A joint with a load on its virtual spring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    pub motor_inertia: f64,
    pub load_inertia: f64,
    pub gear_stiffness: f64,
    pub gear_damping: f64,
    /// Whole \[rad\].
    pub play: f64,
    pub drive: Drive,
    pub gains: Gains,
    /// Where the spring holds \[rad\].
    pub place: f64,
    /// On the load from outside \[N m\].
    pub load_torque: f64,
}

/// Motor's angle and speed, load's angle and speed, filtered speed, motor's torque.
pub type State = [f64; 6];

impl Joint {
    /// Torque of the gears on the load \[N m\].
    pub fn gear_torque(&self, state: &State) -> f64 {
        let [motor, motor_speed, load, load_speed, ..] = *state;
        let twist = motor - load;
        let give = twist.abs() - self.play / 2.0;
        if give <= 0.0 {
            return 0.0;
        }
        let push =
            self.gear_stiffness * give + self.gear_damping * (motor_speed - load_speed) * twist.signum();
        push.max(0.0) * twist.signum()
    }
}

impl ODE<f64, State> for Joint {
    fn diff(&self, _time: f64, state: &State, rates: &mut State) {
        let [motor, motor_speed, _, load_speed, filtered, torque] = *state;
        let gears = self.gear_torque(state);
        let wanted = self.gains.stiffness * (self.place - motor) - self.gains.damping * filtered;
        *rates = [
            motor_speed,
            (torque - gears) / self.motor_inertia,
            load_speed,
            (gears + self.load_torque) / self.load_inertia,
            (motor_speed - filtered) / self.drive.filter,
            (self.drive.torque(wanted) - torque) / self.drive.lag,
        ];
    }
}

/// A motion.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    pub times: Vec<f64>,
    pub states: Vec<State>,
    /// On the load, at the same times \[N m\].
    pub gear_torques: Vec<f64>,
}

/// The joint from a state over `duration` \[s\], at the solver's own steps.
///
/// # Errors
/// If the solver gives up.
pub fn course(joint: &Joint, start: State, duration: f64) -> Result<Course, Unsolved> {
    let method = ExplicitRungeKutta::dopri5()
        .h0(f64::min(0.1 * joint.drive.lag, duration))
        .rtol(TOLERANCE)
        .atol(TOLERANCE)
        .max_steps(MOST_STEPS);
    let solution = IVP::ode(joint, 0.0, duration, start)
        .method(method)
        .solve()
        .map_err(|error| Unsolved(format!("{error:?}")))?;
    let gear_torques = solution.y.iter().map(|state| joint.gear_torque(state)).collect();
    Ok(Course { times: solution.t, states: solution.y, gear_torques })
}

/// A point of a trace that is told.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Sample {
    pub time: f64,
    pub motor_angle: f64,
    pub load_angle: f64,
    pub gear_torque: f64,
}

impl Course {
    pub fn peak_gear_torque(&self) -> f64 {
        self.gear_torques.iter().fold(0.0, |most, torque| f64::max(most, torque.abs()))
    }

    /// The load's farthest angle \[rad\].
    pub fn farthest(&self) -> f64 {
        self.states.iter().fold(f64::NEG_INFINITY, |most, state| most.max(state[2]))
    }

    /// When the load first reaches an angle from below \[s\].
    pub fn reaches(&self, angle: f64) -> Option<f64> {
        let mut last: Option<(f64, f64)> = None;
        for (time, state) in self.times.iter().zip(&self.states) {
            let load = state[2];
            if load >= angle {
                let Some((before, below)) = last else { return Some(*time) };
                return Some(before + (time - before) * (angle - below) / (load - below));
            }
            last = Some((*time, load));
        }
        None
    }

    /// Last time that the load is farther than `band` from `place` \[s\]; none if it still is at the end.
    pub fn settles(&self, place: f64, band: f64) -> Option<f64> {
        let outside = |state: &State| (state[2] - place).abs() > band;
        match self.states.iter().rposition(outside) {
            None => Some(0.0),
            Some(last) => self.times.get(last + 1).copied(),
        }
    }

    /// Where the load first turns back \[rad\], and when \[s\]; none if it never does.
    pub fn turns_back(&self) -> Option<(f64, f64)> {
        let moving = self.states.iter().position(|state| state[3] > 0.0)?;
        let turned = self.states.iter().skip(moving).position(|state| state[3] <= 0.0)? + moving;
        Some((self.states.get(turned)?[2], *self.times.get(turned)?))
    }

    /// Evenly in time, between the solver's steps in straight lines.
    pub fn trace(&self, points: usize) -> Vec<Sample> {
        let Some(end) = self.times.last() else { return Vec::new() };
        let mut next = 0;
        (0..points)
            .filter_map(|point| {
                let time = end * point as f64 / (points.max(2) - 1) as f64;
                while next + 1 < self.times.len() && *self.times.get(next)? < time {
                    next += 1;
                }
                let before = next.saturating_sub(1);
                let (t0, t1) = (*self.times.get(before)?, *self.times.get(next)?);
                let share = if t1 > t0 { ((time - t0) / (t1 - t0)).clamp(0.0, 1.0) } else { 0.0 };
                let (a, b) = (self.states.get(before)?, self.states.get(next)?);
                let between = |from: f64, to: f64| from + share * (to - from);
                Some(Sample {
                    time,
                    motor_angle: between(a[0], b[0]),
                    load_angle: between(a[2], b[2]),
                    gear_torque: between(*self.gear_torques.get(before)?, *self.gear_torques.get(next)?),
                })
            })
            .collect()
    }
}
