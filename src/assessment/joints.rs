//! Every bolted joint of a laid-out actuator: tightened, loaded, judged by each way it can give.
//!
//! Forces N, torques N m. Ratios are strength over load, without the factor wanted.

use std::f64::consts::TAU;
use std::sync::LazyLock;

use crate::assessment::boss_walls::{boss_wall, wall_wanted};
use crate::assessment::joint_loads::{JointLoad, Path, joint_load};
use crate::assessment::tightening::{kept, screw_in_joint};
use crate::design::{Design, Joint};
use crate::layout::{Actuator, Bolting, FRICTION, alike};
use crate::ratings::gear_forces::GearForces;
use crate::ratings::heat::{self, Temperatures};
use crate::ratings::joint::bolt_group::{Tilted, by_overturning, friction_torque};
use crate::ratings::joint::thread_strip::SHEAR_SHARE;
use crate::ratings::joint::tightening::Tightening;

/// Directions of tilting that are tried.
const DIRECTIONS: u32 = 72;

/// A joint as rated.
#[derive(Clone, Debug, PartialEq)]
pub struct JointRating {
    pub joint: Joint,
    pub load: JointLoad,
    /// None where no thread is engaged.
    pub tightening: Option<Tightening>,
    /// Share of the preload that stays; none above a print's service temperature.
    pub kept: Option<f64>,
    /// On the most loaded screw, from pull and moment.
    pub outer_force: f64,
    /// Friction over the torque with the force across.
    pub slip: Option<f64>,
    /// Clamp force over the outer force.
    pub opening: Option<f64>,
    /// Shear strength over the screw's share, once friction has gone.
    pub shear: Option<f64>,
    /// Pull-out of the insert over the outer force.
    pub insert_pull: Option<f64>,
    /// What the plastic under the head bears over the outer force.
    pub head_pull: Option<f64>,
    /// Stripping load over the larger of preload and outer force.
    pub strip: Option<f64>,
    /// Found and wanted.
    pub wall: Option<[f64; 2]>,
    /// That hold every load with the factors wanted; none where there is no load, or no clamp force.
    pub screws_needed: Option<u32>,
}

impl JointRating {
    /// Clamp force of one screw after creep and heat \[N\].
    pub fn clamp(&self) -> Option<f64> {
        Some(self.tightening?.preload * self.kept?)
    }

    /// Torque that friction holds \[N m\].
    pub fn friction(&self, joint: &Bolting) -> Option<f64> {
        Some(friction_torque(joint.count, self.clamp()?, FRICTION, joint.radius()) * 1e-3)
    }
}

/// All joints, in the order of the layout.
#[derive(Clone, Debug, PartialEq)]
pub struct JointRatings {
    pub all: Vec<JointRating>,
    /// At which prints creep \[degC\].
    pub temperatures: Temperatures,
}

impl JointRatings {
    /// `mass` of the whole actuator \[kg\].
    pub fn of(actuator: &Actuator, heat: Option<&heat::Rating>, mass: f64) -> JointRatings {
        let temperatures = lasting(actuator, heat);
        let forces = GearForces::of(&actuator.stage, actuator.torques.sun);
        let loaded = |joint| (joint, joint_load(actuator, joint, &forces, mass));
        let all = actuator.joints.iter().map(|joint| rate(actuator, loaded(joint), &temperatures)).collect();
        JointRatings { all, temperatures }
    }

    /// A joint's rating; none if the layout doesn't have it.
    pub fn find(&self, joint: Joint) -> Option<&JointRating> {
        self.all.iter().find(|rating| rating.joint == joint)
    }
}

/// Temperatures that last: under the continuous torque asked for, else under what heat lets the motor hold; the surroundings'
/// where neither is known.
pub fn lasting(actuator: &Actuator, heat: Option<&heat::Rating>) -> Temperatures {
    let held = heat.and_then(|rating| rating.continuous.as_ref().ok());
    heat.and_then(|rating| rating.at_demand)
        .or(held.map(|held| held.temperatures))
        .unwrap_or([actuator.design.ambient.temperature; heat::network::NODES])
}

fn rate(
    actuator: &Actuator,
    (joint, load): (&Bolting, JointLoad),
    temperatures: &Temperatures,
) -> JointRating {
    let screw = screw_in_joint(actuator, joint);
    let tightening = screw.tighten();
    let kept = kept(actuator, joint, temperatures);
    let outer_force = outer_force(actuator, joint, &load);
    let pulled = outer_force > 0.0;
    let over_force = |strength: f64| pulled.then(|| strength / outer_force);
    let clamp = tightening.zip(kept).map(|(tightening, kept)| tightening.preload * kept);
    let across = across(joint, &load);
    let friction = clamp.map(|clamp| f64::from(joint.count) * clamp * FRICTION);
    let shear_strength = SHEAR_SHARE * screw.tensile_strength * joint.thread.stress_area();
    let mut rating = JointRating {
        joint: joint.joint,
        load,
        tightening,
        kept,
        outer_force,
        slip: across.zip(friction).map(|(across, friction)| friction / across),
        opening: clamp.and_then(over_force),
        shear: across.map(|across| shear_strength * f64::from(joint.count) / across),
        insert_pull: screw.pull_out().and_then(over_force),
        head_pull: screw.by_head().and_then(over_force),
        strip: tightening.map(|tightening| tightening.strip_load / f64::max(tightening.preload, outer_force)),
        wall: boss_wall(actuator, joint).zip(wall_wanted(joint)).map(|(found, wanted)| [found, wanted]),
        screws_needed: None,
    };
    rating.screws_needed = screws_needed(&actuator.design, joint, &rating);
    rating
}

/// Force in the joint's plane that friction, or the screws in shear, must carry; none on the axis or without one.
fn across(joint: &Bolting, load: &JointLoad) -> Option<f64> {
    let by_torque = if joint.radius() > 0.0 { load.torque * 1e3 / joint.radius() } else { 0.0 };
    let force = by_torque + load.across;
    (force > 0.0 && joint.radius() > 0.0).then_some(force)
}

/// Screws that carry a moment together: output bolts and the clamp ring's stand in one flange.
fn group<'a>(actuator: &'a Actuator, joint: &'a Bolting) -> Vec<&'a Bolting> {
    match joint.joint {
        Joint::Output | Joint::ClampRing => vec![&actuator.joints.output, &actuator.joints.clamp_ring],
        _ => vec![joint],
    }
}

/// Largest force on one of the joint's screws from pull and moment, over all directions of tilting.
fn outer_force(actuator: &Actuator, joint: &Bolting, load: &JointLoad) -> f64 {
    let group = group(actuator, joint);
    let area = |bolting: &Bolting| bolting.thread.stress_area();
    let all: f64 = group.iter().map(|bolting| f64::from(bolting.count) * area(bolting)).sum();
    let pull = load.pull * area(joint) / all;
    if load.moment <= 0.0 {
        return pull;
    }
    let even = group.iter().all(|ring| ring.count >= 3 && ring.radius() <= load.edge);
    let by_moment =
        if even { by_even_rings(&group, joint, load) } else { by_directions(&group, joint, load) };
    pull + by_moment
}

/// Where no screw lies beyond the edge and each ring has three or more, the rings resist every tilt alike: the cosines of evenly
/// spaced directions add up to nothing, their squares to half their number. The most loaded screw lies opposite the edge.
fn by_even_rings(group: &[&Bolting], joint: &Bolting, load: &JointLoad) -> f64 {
    let resistance = |ring: &&Bolting| {
        let squared = load.edge * load.edge + ring.radius() * ring.radius() / 2.0;
        f64::from(ring.count) * ring.thread.stress_area() * squared
    };
    let own = Tilted { lever: load.edge + joint.radius(), area: joint.thread.stress_area() };
    by_overturning(load.moment * 1e3, group.iter().map(resistance).sum(), own)
}

/// The worst of [`DIRECTIONS`]; a screw beyond the edge carries nothing.
fn by_directions(group: &[&Bolting], joint: &Bolting, load: &JointLoad) -> f64 {
    let screws: Vec<Standing> = group.iter().flat_map(|ring| standing(ring, joint)).collect();
    let worst = |[cosine, sine]: &[f64; 2]| {
        let (mut resistance, mut own) = (0.0, 0.0);
        for screw in &screws {
            let lever = (load.edge + screw.x * cosine + screw.y * sine).max(0.0);
            resistance += Tilted { lever, area: screw.area }.resistance();
            if screw.is_own && lever > own {
                own = lever;
            }
        }
        by_overturning(load.moment * 1e3, resistance, Tilted { lever: own, area: joint.thread.stress_area() })
    };
    // Rings of evenly spaced screws look alike from every such part of a turn.
    let times = group.iter().fold(0, |so_far, ring| alike(so_far, ring.count));
    let different =
        if times > 0 && DIRECTIONS.is_multiple_of(times) { DIRECTIONS / times } else { DIRECTIONS };
    let directions = WAYS.iter().take(usize::try_from(different).unwrap_or(usize::MAX));
    directions.map(worst).fold(0.0, f64::max)
}

/// Cosine and sine of each direction of tilting.
static WAYS: LazyLock<Vec<[f64; 2]>> = LazyLock::new(|| {
    let angle = |step: u32| TAU * f64::from(step) / f64::from(DIRECTIONS);
    (0..DIRECTIONS).map(|step| [libm::cos(angle(step)), libm::sin(angle(step))]).collect()
});

/// A screw at its place.
struct Standing {
    x: f64,
    y: f64,
    area: f64,
    /// Of the joint that is rated.
    is_own: bool,
}

fn standing<'a>(bolting: &'a Bolting, rated: &'a Bolting) -> impl Iterator<Item = Standing> + 'a {
    bolting.angles().map(|angle| Standing {
        x: bolting.radius() * libm::cos(angle),
        y: bolting.radius() * libm::sin(angle),
        area: bolting.thread.stress_area(),
        is_own: bolting.joint == rated.joint,
    })
}

/// The factor on friction that a joint wants; none where teeth carry the torque or there is none.
pub fn slip_factor(design: &Design, path: Path) -> Option<f64> {
    match path {
        Path::Friction => Some(design.limits.service_factor),
        // Slip lets the back plate settle on its screws; no margin hangs on it.
        Path::Pins => Some(1.0),
        Path::Teeth | Path::None => None,
    }
}

fn screws_needed(design: &Design, joint: &Bolting, rating: &JointRating) -> Option<u32> {
    let limits = &design.limits;
    let slip = slip_factor(design, rating.load.path);
    let wanted = [
        slip.and_then(|factor| Some(factor / rating.slip?)),
        rating.opening.map(|ratio| limits.service_factor / ratio),
        rating.insert_pull.map(|ratio| limits.keeper_factor / ratio),
        rating.head_pull.map(|ratio| limits.keeper_factor / ratio),
    ];
    rating.clamp()?;
    let most = wanted
        .into_iter()
        .flatten()
        .fold(None, |most: Option<f64>, next| Some(most.map_or(next, |most| most.max(next))))?;
    /// A share this small over a whole screw is rounding.
    const ROUNDING: f64 = 1e-9;
    let needed = (most * f64::from(joint.count) - ROUNDING).ceil().max(1.0);
    // A saturating cast: more screws than a u32 counts is as good as never.
    Some(needed as u32)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::design::load;
    use crate::layout::lay_out;

    /// Directions of 5 degrees miss a screw by 2.5 at most.
    #[test]
    fn even_rings_are_the_worst_of_all_directions() {
        let path = std::path::Path::new(concat!(env!("CARGO_MANIFEST_DIR"), "/designs/weeder-shoulder.toml"));
        let loaded = load(path).unwrap_or_else(|problems| panic!("{problems:?}"));
        let actuator = lay_out(&loaded.design).expect("the demo's layout");
        let load =
            JointLoad { torque: 0.0, across: 0.0, pull: 0.0, moment: 7.0, edge: 60.0, path: Path::Friction };
        for joint in actuator.joints.iter().filter(|joint| joint.count >= 3) {
            let group = group(&actuator, joint);
            let (exact, stepped) = (by_even_rings(&group, joint, &load), by_directions(&group, joint, &load));
            let missed = libm::cos(TAU / f64::from(DIRECTIONS) / 2.0);
            assert!(stepped <= exact * (1.0 + 1e-12), "{:?}: {stepped} over {exact}", joint.joint);
            assert!(stepped >= exact * missed, "{:?}: {stepped} under {exact}", joint.joint);
        }
    }
}
