//! Temperatures over time, by the Dormand-Prince method of order 5 with step control.
//!
//! The nodes' time constants lie between some seconds (winding) and an hour (wall): not stiff. Reaching a limit is
//! located on the method's own interpolation.

use differential_equations::ivp::IVP;
use differential_equations::methods::ExplicitRungeKutta;
use differential_equations::ode::ODE;
use differential_equations::solout::{CrossingDirection, Event, EventConfig};
use differential_equations::status::Status;
use thiserror::Error;

use super::inputs::Limits;
use super::network::{Heat, Network, Node, Temperatures};

/// Per step, absolute in kelvin and relative: three digits finer than a thermometer.
const TOLERANCE: f64 = 1e-6;
/// Of the winding's own time constant.
const FIRST_STEP: f64 = 0.1;
const MOST_STEPS: usize = 1_000_000;

/// The solver gave up.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("the temperatures over time could not be solved: {0}")]
pub struct Unsolved(pub String);

/// Which part reaches its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hottest {
    Winding,
    /// Plastic under the motor.
    Plate,
    /// Plastic around it.
    Wall,
}

/// How far each part is from its limit, and the one that is nearest.
pub fn least_room(temperatures: &Temperatures, limits: &Limits) -> (f64, Hottest) {
    let rooms = [
        (limits.winding - temperatures[Node::Winding as usize], Hottest::Winding),
        (limits.plate - temperatures[Node::Mount as usize], Hottest::Plate),
        (limits.wall - temperatures[Node::Wall as usize], Hottest::Wall),
    ];
    rooms.into_iter().fold(
        (f64::INFINITY, Hottest::Winding),
        |least, room| {
            if room.0 < least.0 { room } else { least }
        },
    )
}

/// A network heated constantly; its event is the first limit, or the fall to a level.
struct Heated<'a> {
    network: &'a Network,
    heat: Heat,
    stop: Stop,
}

/// When to stop before the time is up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stop {
    Never,
    /// As soon as a part is at its limit.
    AtLimit,
    /// As soon as a node is down at a temperature.
    Below(Node, f64),
    /// As soon as a node is up at a temperature.
    Above(Node, f64),
}

impl ODE<f64, Temperatures> for Heated<'_> {
    fn diff(&self, _time: f64, temperatures: &Temperatures, rates: &mut Temperatures) {
        *rates = self.network.rates(temperatures, &self.heat);
    }
}

impl Event<f64, Temperatures> for Heated<'_> {
    fn config(&self) -> EventConfig {
        EventConfig::new(CrossingDirection::Both, Some(1))
    }

    fn event(&self, _time: f64, temperatures: &Temperatures) -> f64 {
        match self.stop {
            Stop::Never => 1.0,
            Stop::AtLimit => least_room(temperatures, &self.network.inputs.limits).0,
            Stop::Below(node, level) => temperatures[node as usize] - level,
            Stop::Above(node, level) => level - temperatures[node as usize],
        }
    }
}

/// A piece of time: where it ended, and whether it was stopped.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    pub times: Vec<f64>,
    pub temperatures: Vec<Temperatures>,
    pub stopped: bool,
}

impl Course {
    pub fn end(&self) -> Option<(f64, &Temperatures)> {
        Some((*self.times.last()?, self.temperatures.last()?))
    }
}

/// Temperatures over `duration` \[s\] at constant heat, at the solver's own steps.
///
/// # Errors
/// If the solver gives up: a heat that isn't a number, say.
pub fn course(
    network: &Network,
    start: Temperatures,
    heat: Heat,
    duration: f64,
    stop: Stop,
) -> Result<Course, Unsolved> {
    if duration <= 0.0 {
        return Ok(Course { times: vec![0.0], temperatures: vec![start], stopped: false });
    }
    let heated = Heated { network, heat, stop };
    // A fair first step; the control takes it from there.
    let first =
        f64::min(duration, FIRST_STEP * network.inputs.winding_to_mount * network.inputs.capacities.winding);
    let method = ExplicitRungeKutta::dopri5().h0(first).rtol(TOLERANCE).atol(TOLERANCE).max_steps(MOST_STEPS);
    let problem = IVP::ode(&heated, 0.0, duration, start);
    let solved = if stop == Stop::Never {
        problem.method(method).solve()
    } else {
        problem.event(&heated).method(method).solve()
    };
    let solution = solved.map_err(|error| Unsolved(format!("{error:?}")))?;
    let stopped = matches!(solution.status, Status::Interrupted);
    Ok(Course { times: solution.t, temperatures: solution.y, stopped })
}

/// Time \[s\] until a part is at its limit, and which; none within `longest` \[s\]. No time if it is there already.
///
/// # Errors
/// If the solver gives up.
pub fn time_to_limit(
    network: &Network,
    start: Temperatures,
    heat: Heat,
    longest: f64,
) -> Result<Option<(f64, Hottest)>, Unsolved> {
    let (room, hottest) = least_room(&start, &network.inputs.limits);
    if room <= 0.0 {
        return Ok(Some((0.0, hottest)));
    }
    let course = course(network, start, heat, longest, Stop::AtLimit)?;
    let end = course.end().filter(|_| course.stopped);
    Ok(end.map(|(time, temperatures)| (time, least_room(temperatures, &network.inputs.limits).1)))
}

/// Time \[s\] for a node to cool to the share `left` of its rise over the surroundings; none within `longest`, or if it is
/// no warmer than they.
///
/// # Errors
/// If the solver gives up.
pub fn cool_down(
    network: &Network,
    start: Temperatures,
    node: Node,
    left: f64,
    longest: f64,
) -> Result<Option<f64>, Unsolved> {
    let rise = start[node as usize] - network.ambient();
    if rise <= 0.0 {
        return Ok(None);
    }
    let level = network.ambient() + left * rise;
    let course = course(network, start, Heat::NONE, longest, Stop::Below(node, level))?;
    Ok(course.end().filter(|_| course.stopped).map(|(time, _)| time))
}
