//! The virtual spring as a drive runs it: read once a period, reckoned, late, held until the next; linear.
//!
//! Plant: motor and load with the gears' spring and damper between them, or the motor against a blocked output; discretised exactly
//! (matrix exponential), the delay split into whole periods and a rest. Speed: difference of two readings over the period, through a
//! low-pass of first order. `u = -K theta_m - B v`. Stable if all eigenvalues lie inside the unit circle. Range: delay up to
//! [`MOST_PERIODS`] periods. Not covered: play (gears in contact), counts of the encoder, current limit.

use super::gains::Gains;
use super::matrix::Matrix;

/// Later than this the loop is no spring any more, and the matrices grow.
pub const MOST_PERIODS: f64 = 20.0;

/// What the loop acts on, at the output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plant {
    /// Rotor and all that turns with it \[kg m2\].
    pub motor_inertia: f64,
    /// Beyond the gears' spring \[kg m2\]; none: blocked.
    pub load_inertia: Option<f64>,
    /// \[N m/rad\]
    pub gear_stiffness: f64,
    /// \[N m s/rad\]
    pub gear_damping: f64,
}

/// How fast the loop is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Timing {
    /// Of the position loop \[s\].
    pub period: f64,
    /// From the reading to the torque \[s\].
    pub delay: f64,
    /// Time constant of the speed's low-pass \[s\].
    pub filter: f64,
}

/// Index of a state: motor's angle and speed, then the load's.
const MOTOR: usize = 0;

/// Largest size of the closed loop's eigenvalues; none outside the range.
pub fn spectral_radius(plant: &Plant, timing: &Timing, gains: &Gains) -> Option<f64> {
    let radius = Sampled::of(plant, timing)?.closed(gains).spectral_radius();
    radius.is_finite().then_some(radius)
}

/// A plant over one period, before any gain.
#[derive(Clone, Debug)]
pub struct Sampled {
    timing: Timing,
    states: usize,
    /// Whole periods of the delay.
    late: usize,
    /// The period's parts before and after the newer torque comes, and both together.
    early_part: Matrix,
    late_part: Matrix,
    through: Matrix,
}

impl Sampled {
    /// None outside the range.
    pub fn of(plant: &Plant, timing: &Timing) -> Option<Sampled> {
        let periods = timing.delay / timing.period;
        if !(0.0..=MOST_PERIODS).contains(&periods) {
            return None;
        }
        let whole = periods.floor();
        let rest = (periods - whole) * timing.period;
        let states = if plant.load_inertia.is_some() { 4 } else { 2 };
        let early_part = over(plant, states, rest);
        let late_part = over(plant, states, timing.period - rest);
        let through = late_part.times(&early_part);
        // At most 20 periods, see above.
        Some(Sampled { timing: *timing, states, late: whole as usize, early_part, late_part, through })
    }

    /// Whether the loop comes to rest with these gains; none where numbers run out.
    pub fn is_stable(&self, gains: &Gains) -> Option<bool> {
        self.closed(gains).is_stable()
    }

    /// One period of the closed loop. States: plant, last reading, filtered speed, torques under way.
    fn closed(&self, gains: &Gains) -> Matrix {
        let Sampled { timing, states, late, early_part, late_part, through } = self;
        let (states, late) = (*states, *late);
        let (reading, speed, queue) = (states, states + 1, states + 2);
        let size = states + 3 + late;

        // u = row . state
        let keep = libm::exp(-timing.period / timing.filter);
        let slope = (1.0 - keep) / timing.period;
        let mut torque = vec![0.0; size];
        torque[MOTOR] = -gains.stiffness - gains.damping * slope;
        torque[reading] = gains.damping * slope;
        torque[speed] = -gains.damping * keep;

        let mut closed = Matrix::zero(size);
        for row in 0..states {
            for column in 0..states {
                closed[(row, column)] = through[(row, column)];
            }
            // First the older torque for the rest of the delay, then the newer one.
            let older: f64 = (0..states).map(|k| late_part[(row, k)] * early_part[(k, states)]).sum();
            closed[(row, queue + late)] += older;
            let newer = late_part[(row, states)];
            if late == 0 {
                for column in 0..size {
                    closed[(row, column)] += newer * torque[column];
                }
            } else {
                closed[(row, queue + late - 1)] += newer;
            }
        }
        closed[(reading, MOTOR)] = 1.0;
        closed[(speed, MOTOR)] = slope;
        closed[(speed, reading)] = -slope;
        closed[(speed, speed)] = keep;
        for column in 0..size {
            closed[(queue, column)] = torque[column];
        }
        for place in 1..=late {
            closed[(queue + place, queue + place - 1)] = 1.0;
        }
        closed
    }
}

/// `exp([[A, B], [0, 0]] t)`: how the plant goes on by itself, and, in the last column, what a constant torque at the motor adds.
fn over(plant: &Plant, states: usize, time: f64) -> Matrix {
    let mut rates = Matrix::zero(states + 1);
    rates[(0, 1)] = 1.0;
    let (spring, damper) = (plant.gear_stiffness, plant.gear_damping);
    rates[(1, 0)] = -spring / plant.motor_inertia;
    rates[(1, 1)] = -damper / plant.motor_inertia;
    rates[(1, states)] = 1.0 / plant.motor_inertia;
    if let Some(load) = plant.load_inertia {
        rates[(1, 2)] = spring / plant.motor_inertia;
        rates[(1, 3)] = damper / plant.motor_inertia;
        rates[(2, 3)] = 1.0;
        rates[(3, 0)] = spring / load;
        rates[(3, 1)] = damper / load;
        rates[(3, 2)] = -spring / load;
        rates[(3, 3)] = -damper / load;
    }
    rates.scaled(time).exponential()
}
