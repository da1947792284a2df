//! All that is rated of the virtual spring, in one answer; the motions that no check asks are reckoned when they are asked for.

use std::sync::OnceLock;

use thiserror::Error;

use super::encoder::{self, AngleError};
use super::gains::{Gains, MotorGains, in_series, virtual_for};
use super::sampled::{Plant, Timing};
use super::stability::{self, Limits, Rule};
use super::static_error::{Causes, StaticError};
use super::two_masses::{Course, Drive, Joint, Sample, course};
use super::{dead_band, impact, second_order};
use crate::ratings::heat::transient::Unsolved;

/// Of the stiffest to use, for soft, medium and stiff (common practice, no source).
pub const SHARES: [(&str, f64); 3] = [("soft", 0.15), ("medium", 0.4), ("stiff", 1.0)];
/// Of the gears' spring against the rotor: plastics' own loss (common practice, no source).
pub const GEAR_DAMPING_RATIO: f64 = 0.05;
/// Share of the torque at the current limit that a step begins with, and its largest angle \[rad\].
const STEP_TORQUE: f64 = 0.25;
const LARGEST_STEP: f64 = 0.2;
/// A response counts as settled within this share of the step, and half of the play.
const SETTLED: f64 = 0.02;
/// No current loop follows faster \[s\] (common practice, no source); without any delay the equations would be stiff.
const SHORTEST_LAG: f64 = 50e-6;
/// Longest motion that is simulated \[s\].
const LONGEST: f64 = 4.0;
/// Points of a trace that is told.
const TRACE: usize = 61;

/// Bare numbers of a joint; at the output unless said otherwise, mm where said.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inputs {
    pub ratio: f64,
    /// At the rotor, per ampere of peak phase current.
    pub torque_constant: f64,
    pub saturation: f64,
    pub current_limit: f64,
    /// Rotor, sun and planets' own turning.
    pub motor_inertia: f64,
    /// Carrier and what goes round with it.
    pub carrier_inertia: f64,
    /// What hangs on the output.
    pub load_inertia: f64,
    pub gear_stiffness: f64,
    pub play: f64,
    pub friction: f64,
    /// 0 if it isn't known.
    pub cogging: f64,
    pub encoder_bits: u32,
    pub pole_pairs: f64,
    /// mm
    pub eccentricity: f64,
    pub gap: f64,
    pub magnet_thickness: f64,
    pub timing: Timing,
    pub damping_ratio: f64,
    pub wanted_stiffness: Option<f64>,
    /// Hanging weight \[N\] on a lever \[mm\].
    pub weight: f64,
    pub arm: f64,
    /// \[mm\]
    pub drop: Option<f64>,
}

/// One line of the gain table.
#[derive(Clone, Debug)]
pub struct Setting {
    pub name: &'static str,
    pub gains: Gains,
    pub at_motor: MotorGains,
    /// Spring and gears together \[N m/rad\].
    pub felt: f64,
    /// With the load \[rad/s\].
    pub natural_frequency: f64,
    pub error: StaticError,
    /// Deflection of the whole under the hanging weight, and where the current limit ends the spring \[rad\].
    pub sag: f64,
    pub reach: f64,
}

/// How it moves.
#[derive(Clone, Debug)]
pub struct Motions {
    /// A step with each setting, in their order.
    pub steps: Vec<Result<Step, Unsolved>>,
    /// The weight, held at the spring's place, let go; none without one.
    pub release: Option<Result<Fall, Unsolved>>,
}

/// A step of the place, no weight on.
#[derive(Clone, Debug)]
pub struct Step {
    pub angle: f64,
    /// From 10 to 90 % \[s\].
    pub rise_time: Option<f64>,
    /// Share of the step; 0 if there is none.
    pub overshoot: f64,
    pub settling_time: Option<f64>,
    pub trace: Vec<Sample>,
}

/// The load let go or fallen onto the spring.
#[derive(Clone, Debug)]
pub struct Fall {
    /// Of the load as it begins \[rad/s\].
    pub speed: f64,
    pub peak_gear_torque: f64,
    /// Where the load turns back \[rad\]; none if the spring doesn't catch it.
    pub peak_deflection: Option<f64>,
    pub trace: Vec<Sample>,
}

/// Play at the output, without load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DeadBand {
    /// Whole \[rad\], and at the lever's end \[mm\].
    pub angle: f64,
    pub at_arm: f64,
    /// Share of the gears' stiffness left in a swing as large as the play.
    pub share: f64,
    /// Amplitude of a swing that feels nine tenths of it \[rad\].
    pub nine_tenths: Option<f64>,
}

/// The answer.
#[derive(Clone, Debug)]
pub struct Rating {
    pub inputs: Inputs,
    pub limits: Limits,
    /// Stiffest virtual spring to use, and the rule that governs.
    pub stiffest: f64,
    pub governed_by: Rule,
    /// Soft, medium, stiff, and what is asked for if it can be had.
    pub settings: Vec<Setting>,
    pub dead_band: DeadBand,
    /// None where it is out of its range.
    pub encoder: Option<AngleError>,
    /// One count at the rotor \[rad\].
    pub count: f64,
    /// The weight fallen; none if nothing falls.
    pub drop: Option<Result<Fall, Unsolved>>,
    motions: OnceLock<Motions>,
}

/// Why there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Error)]
pub enum NotRated {
    #[error("the stiffness of the gears is out of its range")]
    NoGearStiffness,
    #[error("the inertia is not known")]
    NoInertia,
}

impl Rating {
    pub fn of(inputs: Inputs) -> Rating {
        let limits = limits(&inputs);
        let (stiffest, governed_by) = limits.governing();
        let shares = SHARES.map(|(name, share)| (name, share * stiffest));
        let asked = inputs
            .wanted_stiffness
            .and_then(|wanted| virtual_for(wanted, inputs.gear_stiffness))
            .map(|stiffness| ("asked", stiffness));
        let settings = shares
            .into_iter()
            .chain(asked)
            .map(|(name, stiffness)| setting(&inputs, name, stiffness))
            .collect();
        let judged = asked.map_or(SHARES[1].1 * stiffest, |(_, stiffness)| stiffness);
        let drop = dropped(&inputs, Gains::damped(judged, inputs.damping_ratio, inputs.total_inertia()));
        let play = inputs.play;
        Rating {
            limits,
            stiffest,
            governed_by,
            settings,
            dead_band: DeadBand {
                angle: play,
                at_arm: play * inputs.arm,
                share: dead_band::share(play, play),
                nine_tenths: dead_band::amplitude_for(play, 0.9),
            },
            encoder: encoder::angle_error(
                inputs.eccentricity,
                inputs.gap,
                inputs.magnet_thickness,
                inputs.pole_pairs,
            ),
            count: encoder::resolution(inputs.encoder_bits),
            drop,
            motions: OnceLock::new(),
            inputs,
        }
    }

    /// Steps and the release: what no check asks; kept.
    pub fn motions(&self) -> &Motions {
        self.motions.get_or_init(|| Motions {
            steps: self.settings.iter().map(|setting| step(&self.inputs, setting.gains)).collect(),
            release: self.judged().and_then(|setting| release(&self.inputs, setting.gains)),
        })
    }

    /// The spring that is judged: as asked, else the medium one.
    pub fn judged(&self) -> Option<&Setting> {
        let named = |name: &str| self.settings.iter().find(|setting| setting.name == name);
        named("asked").or_else(|| named(SHARES[1].0))
    }
}

impl Inputs {
    /// All that moves with the output \[kg m2\].
    pub fn total_inertia(&self) -> f64 {
        self.motor_inertia + self.carrier_inertia + self.load_inertia
    }

    /// \[N m s/rad\]
    pub fn gear_damping(&self) -> f64 {
        2.0 * GEAR_DAMPING_RATIO * (self.gear_stiffness * self.motor_inertia).sqrt()
    }

    pub fn drive(&self) -> Drive {
        Drive {
            torque_constant: self.torque_constant * self.ratio,
            saturation: self.saturation,
            current_limit: self.current_limit,
            lag: f64::max(0.5 * self.timing.period + self.timing.delay, SHORTEST_LAG),
            filter: self.timing.filter,
        }
    }

    /// Torque of the hanging weight, the arm level \[N m\].
    pub fn weight_torque(&self) -> f64 {
        self.weight * self.arm * 1e-3
    }

    /// The joint with its load on a spring, held at 0.
    pub fn joint(&self, gains: Gains) -> Joint {
        Joint {
            motor_inertia: self.motor_inertia,
            load_inertia: self.carrier_inertia + self.load_inertia,
            gear_stiffness: self.gear_stiffness,
            gear_damping: self.gear_damping(),
            play: self.play,
            drive: self.drive(),
            gains,
            place: 0.0,
            load_torque: 0.0,
        }
    }
}

/// Free, loaded and blocked.
fn limits(inputs: &Inputs) -> Limits {
    let plant = |load_inertia| Plant {
        motor_inertia: inputs.motor_inertia,
        load_inertia,
        gear_stiffness: inputs.gear_stiffness,
        gear_damping: inputs.gear_damping(),
    };
    let plants = [
        plant(Some(inputs.carrier_inertia)),
        plant(Some(inputs.carrier_inertia + inputs.load_inertia)),
        plant(None),
    ];
    let count = encoder::resolution(inputs.encoder_bits) / inputs.ratio;
    Limits {
        sampled_loop: stability::by_sampled_loop(
            &plants,
            &inputs.timing,
            inputs.damping_ratio,
            inputs.total_inertia(),
        ),
        bandwidth: stability::by_bandwidth(inputs.motor_inertia + inputs.carrier_inertia, &inputs.timing),
        counts_and_friction: stability::wall_by_friction(inputs.friction, count),
    }
}

fn setting(inputs: &Inputs, name: &'static str, stiffness: f64) -> Setting {
    let gains = Gains::damped(stiffness, inputs.damping_ratio, inputs.total_inertia());
    let felt = in_series(stiffness, inputs.gear_stiffness);
    let count = encoder::resolution(inputs.encoder_bits);
    let encoder_error =
        encoder::angle_error(inputs.eccentricity, inputs.gap, inputs.magnet_thickness, inputs.pole_pairs)
            .map_or(0.0, |error| error.mechanical);
    let causes = Causes {
        friction: inputs.friction,
        cogging: inputs.cogging,
        count,
        encoder_error,
        play: inputs.play,
        ratio: inputs.ratio,
    };
    Setting {
        name,
        gains,
        at_motor: gains.at_motor(inputs.ratio, inputs.torque_constant),
        felt,
        natural_frequency: second_order::natural_frequency(felt, inputs.total_inertia()),
        error: StaticError::of(&causes, stiffness),
        sag: inputs.weight_torque() / felt,
        reach: inputs.drive().most() / stiffness,
    }
}

/// A motion long enough for the spring to come to rest.
fn long_enough(inputs: &Inputs, gains: &Gains) -> f64 {
    let natural = second_order::natural_frequency(gains.stiffness, inputs.total_inertia());
    // Six time constants of the slower mode, of an overdamped spring too.
    let z = inputs.damping_ratio;
    let slower = if z <= 1.0 { z } else { z - (z * z - 1.0).sqrt() };
    f64::min(6.0 / (slower * natural), LONGEST)
}

fn step(inputs: &Inputs, gains: Gains) -> Result<Step, Unsolved> {
    let angle = f64::min(STEP_TORQUE * inputs.drive().most() / gains.stiffness, LARGEST_STEP);
    let joint = Joint { place: angle, ..inputs.joint(gains) };
    let course = course(&joint, [0.0; 6], long_enough(inputs, &gains))?;
    let reached = [0.1, 0.9].map(|share| course.reaches(share * angle));
    Ok(Step {
        angle,
        rise_time: match reached {
            [Some(from), Some(to)] => Some(to - from),
            _ => None,
        },
        overshoot: (course.farthest() / angle - 1.0).max(0.0),
        settling_time: course.settles(angle, SETTLED * angle + 0.5 * inputs.play),
        trace: course.trace(TRACE),
    })
}

fn release(inputs: &Inputs, gains: Gains) -> Option<Result<Fall, Unsolved>> {
    let pull = inputs.weight_torque();
    (pull > 0.0 && inputs.load_inertia > 0.0).then(|| {
        let joint = Joint { load_torque: pull, ..inputs.joint(gains) };
        // The weight has taken the play away already.
        let start = [0.0, 0.0, 0.5 * inputs.play, 0.0, 0.0, 0.0];
        Ok(fall(0.0, course(&joint, start, long_enough(inputs, &gains))?, 0.5 * inputs.play))
    })
}

fn dropped(inputs: &Inputs, gains: Gains) -> Option<Result<Fall, Unsolved>> {
    let height = inputs.drop? * 1e-3;
    let speed = impact::fall_speed(inputs.weight, inputs.load_inertia, height)?;
    let joint = Joint { load_torque: inputs.weight_torque(), ..inputs.joint(gains) };
    // The teeth in the middle of their play.
    let start = [0.0, 0.0, 0.0, speed, 0.0, 0.0];
    Some(course(&joint, start, long_enough(inputs, &gains)).map(|course| fall(speed, course, 0.0)))
}

fn fall(speed: f64, course: Course, from: f64) -> Fall {
    Fall {
        speed,
        peak_gear_torque: course.peak_gear_torque(),
        peak_deflection: course.turns_back().map(|(angle, _)| angle - from),
        trace: course.trace(TRACE),
    }
}
