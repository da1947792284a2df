//! Bearings of this actuator at work: loads and speeds from the design's load or its duty, temperature from the heat rating.

use std::f64::consts::PI;

use crate::layout::{Actuator, PlanetSeat};
use crate::ratings::bearing_friction::{DEEP_GROOVE, FrictionCase, friction_torque, rolling_and_sliding};
use crate::ratings::grease_life::{BaseOil, grease_life, minimum_load};
use crate::ratings::heat::{self, Node};
use crate::ratings::mean_load::{Stretch, mean};
use crate::ratings::output_bearing::{self, OutputBearing};
use crate::ratings::{
    bearing_life, bearing_modified_life, crossed_roller, lubrication, planet_bearing, tilt_play,
};
use crate::tables::{Bearing, BearingKind, radial_clearance};

/// Of ball bearings, in the mean load.
const EXPONENT: f64 = 3.0;
/// kr of thin sections (SKF's row of 61804, read).
const LEAST_LOAD_FACTOR: f64 = 0.015;
/// Share of the peak torque that counts as work where the design asks for none.
const HALF: f64 = 0.5;

/// One bearing's life.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Life {
    /// Equivalent load, its mean over the duty if there is one \[N\].
    pub load: f64,
    /// Mean speed, of one ring against the other \[1/min\].
    pub speed: f64,
    /// L10 \[million revolutions\].
    pub basic: f64,
    pub a1: f64,
    /// None out of the standard's range.
    pub kappa: Option<f64>,
    pub a_iso: Option<f64>,
    /// a1 L10 \[h\].
    pub hours: f64,
    /// a1 aISO L10 \[h\].
    pub modified_hours: Option<f64>,
}

impl Life {
    /// The lower of both \[h\]: what is judged.
    pub fn judged(&self) -> f64 {
        self.modified_hours.map_or(self.hours, |modified| f64::min(modified, self.hours))
    }

    /// How it came about.
    pub fn words(&self) -> String {
        let film = match (self.kappa, self.a_iso, self.modified_hours) {
            (Some(kappa), Some(factor), Some(hours)) => {
                format!("kappa {kappa:.2}, a_ISO {factor:.2}: {hours:.0} h")
            }
            _ => "a_ISO not applicable".to_string(),
        };
        format!(
            "P {:.0} N at {:.1} rpm; a1 {:.2} L10h {:.0} h; {film}.",
            self.load, self.speed, self.a1, self.hours
        )
    }
}

/// A plain bush in each planet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BushWork {
    /// Mean pressure at work \[MPa\].
    pub pressure: f64,
    /// Sliding speed \[m/s\].
    pub speed: f64,
}

/// All of them.
#[derive(Clone, Debug)]
pub struct BearingRatings {
    pub output: Option<Life>,
    /// One of a planet's two; why not otherwise.
    pub planet: Option<Life>,
    pub bush: Option<BushWork>,
    /// Torque at the output that work is reckoned with, without a duty \[N m\].
    pub work_torque: f64,
    /// At the output, of its bearings and of the planets' \[N m\].
    pub friction: [f64; 2],
    /// Rolling and sliding torque of one output bearing by the maker's longer model \[N m\]; none for series without constants.
    pub output_drag: Option<[f64; 2]>,
    /// Median life of the grease in the output bearing \[h\].
    pub grease_hours: Option<f64>,
    /// Least load for the output bearing's balls to roll \[N\].
    pub least_load: Option<f64>,
    /// Output tipping from stop to stop, least and most clearance \[rad\]; none for a group without values.
    pub tilt: Option<[f64; 2]>,
}

impl BearingRatings {
    pub fn of(actuator: &Actuator, rated: &OutputBearing, heat: Option<&heat::Rating>) -> BearingRatings {
        let design = &actuator.design;
        let temperature = heat
            .and_then(|heat| heat.at_demand)
            .map_or(design.ambient.temperature, |found| found[Node::Air as usize]);
        let requirement = &design.requirement;
        let work_torque = requirement.continuous_torque.unwrap_or(HALF * requirement.peak_torque);
        let planet_bearing = match &actuator.planet.turns_on {
            PlanetSeat::Bearings { bearing, spread, .. } => Some((bearing.as_ref(), *spread)),
            PlanetSeat::Bush(_) => None,
        };
        let planet = planet_bearing.and_then(|(bearing, spread)| {
            let (load, speed) = planet_work(actuator, work_torque, spread)?;
            life(actuator, bearing, load, speed, temperature)
        });
        let output = output_work(actuator, rated)
            .and_then(|(load, speed)| life(actuator, &design.bearings.output, load, speed, temperature));
        BearingRatings {
            friction: friction(actuator, rated, planet_bearing.map(|(bearing, _)| bearing), planet),
            output,
            planet,
            bush: bush(actuator, work_torque),
            work_torque,
            tilt: tilt(actuator),
            output_drag: output_drag(actuator, rated, temperature),
            grease_hours: output.and_then(|life| {
                let bearing = &design.bearings.output;
                let share = life.load / bearing.dynamic_rating;
                grease_life(BaseOil::Mineral, bearing.mean_diameter(), life.speed, temperature, share)
            }),
            least_load: output.and_then(|life| {
                let viscosity = lubrication::viscosity(design.bearings.grease_viscosity, temperature)?;
                let dm = design.bearings.output.mean_diameter();
                Some(minimum_load(LEAST_LOAD_FACTOR, viscosity, life.speed, dm))
            }),
        }
    }
}

/// Turns a second of the output while it works, swings counted by the way travelled; none where fretting decides.
fn turning(actuator: &Actuator) -> Option<f64> {
    let load = &actuator.design.load;
    match load.oscillation.map(|half| 2.0 * half) {
        Some(swing) if swing < bearing_life::FRETTING_SWING => None,
        Some(swing) => Some(load.rate * swing / PI),
        None => Some(load.rate),
    }
}

/// Planet's turns on its pin for one of the output, the ring held.
fn planet_turns(actuator: &Actuator) -> f64 {
    f64::from(actuator.stage.ring.teeth) / f64::from(actuator.stage.planet.teeth)
}

fn planet_load(actuator: &Actuator, torque: f64, spread: f64) -> f64 {
    let sun = torque.abs() / (actuator.stage.ratio * actuator.design.gearset.efficiency);
    planet_bearing::bearing_load(&actuator.stage, sun, spread)
}

/// Mean load \[N\] and speed \[1/min\] of a planet's bearing.
fn planet_work(actuator: &Actuator, torque: f64, spread: f64) -> Option<(f64, f64)> {
    let turns = planet_turns(actuator);
    match actuator.design.requirement.duty.as_deref() {
        Some(rows) => mean(
            rows.windows(2).map(|pair| Stretch {
                time: pair[1].time - pair[0].time,
                load: planet_load(actuator, pair[0].torque, spread),
                speed: pair[0].speed.abs() * turns * 30.0 / PI,
            }),
            EXPONENT,
        ),
        None => Some((planet_load(actuator, torque, spread), turning(actuator)? * turns * 60.0)),
    }
}

/// Mean equivalent load \[N\] and speed \[1/min\] of the output bearing. Over a duty the torque pushes with the lever's end.
fn output_work(actuator: &Actuator, rated: &OutputBearing) -> Option<(f64, f64)> {
    let design = &actuator.design;
    let (load, bearings) = (&design.load, &design.bearings);
    match design.requirement.duty.as_deref() {
        Some(rows) if load.arm > 0.0 => {
            let stations = &actuator.stations;
            let overhang =
                load.overhang + stations.output_face - (stations.bearing_back + stations.bearing_front) / 2.0;
            let mut stretches = Vec::with_capacity(rows.len());
            for pair in rows.windows(2) {
                let radial = pair[0].torque.abs() / (load.arm * 1e-3) + load.radial;
                let equivalent = output_bearing::equivalent(
                    &bearings.output,
                    (bearings.output_count, bearings.output_spacing),
                    overhang,
                    [radial, load.axial],
                    bearings.clearance,
                )?;
                stretches.push(Stretch {
                    time: pair[1].time - pair[0].time,
                    load: equivalent,
                    speed: pair[0].speed.abs() * 30.0 / PI,
                });
            }
            let exponent = match bearings.output.kind {
                BearingKind::DeepGroove => EXPONENT,
                BearingKind::CrossedRoller { .. } => crossed_roller::EXPONENT,
            };
            mean(stretches, exponent)
        }
        _ => Some((rated.equivalent_dynamic?, turning(actuator)? * 60.0)),
    }
}

fn life(actuator: &Actuator, bearing: &Bearing, load: f64, speed: f64, temperature: f64) -> Option<Life> {
    let design = &actuator.design;
    let basic = match bearing.kind {
        BearingKind::DeepGroove => bearing_life::basic_life(bearing.dynamic_rating, load)?,
        BearingKind::CrossedRoller { .. } => crossed_roller::basic_life(bearing.dynamic_rating, load)?,
    };
    let a1 = bearing_life::reliability_factor(design.limits.reliability)?;
    let hours = bearing_life::hours(a1 * basic, speed / 60.0, None)?;
    let kappa = lubrication::viscosity(design.bearings.grease_viscosity, temperature)
        .zip(lubrication::reference_viscosity(speed, bearing.mean_diameter()))
        .map(|(has, asked)| has / asked);
    let clean = design.bearings.cleanliness.factor() * bearing_modified_life::fatigue_limit(bearing) / load;
    // The factor's constants are those of ball bearings.
    let is_ball = bearing.kind == BearingKind::DeepGroove;
    let a_iso = kappa.filter(|_| is_ball).and_then(|kappa| bearing_modified_life::life_factor(clean, kappa));
    Some(Life {
        load,
        speed,
        basic,
        a1,
        kappa,
        a_iso,
        hours,
        modified_hours: a_iso.map(|factor| factor * hours),
    })
}

/// At the output \[N m\]: its own bearings; the planets', through their faster turning.
fn friction(
    actuator: &Actuator,
    rated: &OutputBearing,
    planet: Option<&Bearing>,
    life: Option<Life>,
) -> [f64; 2] {
    let bearings = &actuator.design.bearings;
    let load = rated.equivalent_dynamic.unwrap_or(rated.radial);
    let own = match bearings.output.kind {
        BearingKind::DeepGroove => {
            f64::from(bearings.output_count) * friction_torque(DEEP_GROOVE, load, bearings.output.bore)
        }
        BearingKind::CrossedRoller { pitch_circle } => crossed_roller::friction_torque(load, pitch_circle),
    };
    let planets = planet.zip(life).map_or(0.0, |(bearing, life)| {
        let count = 2.0 * f64::from(actuator.stage.planets);
        count * friction_torque(DEEP_GROOVE, life.load, bearing.bore) * planet_turns(actuator)
    });
    [own, planets]
}

/// Of one output bearing, at the speed of work.
fn output_drag(actuator: &Actuator, rated: &OutputBearing, temperature: f64) -> Option<[f64; 2]> {
    let bearings = &actuator.design.bearings;
    let bearing = &bearings.output;
    rolling_and_sliding(&FrictionCase {
        series: bearing.diameter_series()?,
        mean_diameter: bearing.mean_diameter(),
        static_rating: bearing.static_rating,
        radial: rated.radial,
        axial: rated.axial,
        speed: turning(actuator)? * 60.0,
        viscosity: lubrication::viscosity(bearings.grease_viscosity, temperature)?,
    })
}

fn bush(actuator: &Actuator, torque: f64) -> Option<BushWork> {
    let PlanetSeat::Bush(bush) = &actuator.planet.turns_on else { return None };
    let sun = torque / (actuator.stage.ratio * actuator.design.gearset.efficiency);
    let pin = 2.0 * planet_bearing::tangential_force(&actuator.stage, sun);
    let turns = turning(actuator)? * planet_turns(actuator);
    Some(BushWork {
        pressure: pin / (bush.bore * actuator.stage.face_width),
        speed: PI * bush.bore * 1e-3 * turns,
    })
}

fn tilt(actuator: &Actuator) -> Option<[f64; 2]> {
    let bearings = &actuator.design.bearings;
    let bearing = &bearings.output;
    if bearing.kind != BearingKind::DeepGroove {
        return None;
    }
    let (least, most) = radial_clearance(bearing.bore, bearings.clearance)?;
    Some([least, most].map(|clearance| {
        if bearings.output_count == 2 {
            tilt_play::pair(bearing.width + bearings.output_spacing, clearance)
        } else {
            tilt_play::single(bearing.bore, bearing.outer, clearance)
        }
    }))
}
