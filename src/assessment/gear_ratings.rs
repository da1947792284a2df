//! All gears of a laid-out actuator under its loads: what they bear when warm, how hot the teeth run, what wears.
//!
//! Loads on the teeth: the peak torque; the continuous torque, asked for or what heat allows; and the blow of an output
//! that runs into a stop at its highest speed of work. Temperatures, fatigue and wear go with the continuous torque.
//! Lengths mm, torques N m, angles rad.

use std::f64::consts::PI;

use crate::assessment::stage_feel::Feel;
use crate::design::{GearSource, Lubrication as Greasing, PartName, RingKind};
use crate::gears::{Gear, Member, Stage};
use crate::layout::Actuator;
use crate::ratings::gear_forces::GearForces;
use crate::ratings::gear_strength::StageRoots;
use crate::ratings::heat::{self, Node};
use crate::ratings::plastic_gear::{
    BacklashGrowth, Band, Cases, GearMaterial, GearRating, Housing, Lubrication, MeshCase, MeshSide,
    NotApplicable, PlasticMesh, Swing, TemperatureRise, backlash_growth, wear_coefficient,
};
use crate::ratings::reflected_inertia::collision_torque;
use crate::ratings::tooth_flank::Elasticity;
use crate::ratings::tooth_root::ContactRatios;
use crate::tables::{GearMetal, Material, gear_metal};

/// How the joint works its gears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Work {
    /// At the output.
    pub torque: Cases<f64>,
    /// Where the continuous torque comes from.
    pub continuous_is: &'static str,
    /// None where nothing is known of stiffness or inertia; the peak then stands for it.
    pub blow: Option<f64>,
    /// Highest speed of work at the output \[rad/s\].
    pub top_speed: f64,
    /// Mean speed of work at the output \[rad/s\].
    pub mean_speed: f64,
    pub swing: Swing,
    /// Swings (or turns) in the life.
    pub life_cycles: f64,
    /// Air about the gears \[degC\].
    pub ambient: f64,
}

/// Everything rated of the gears beyond their geometry.
#[derive(Clone, Debug, PartialEq)]
pub struct GearRatings {
    pub work: Work,
    /// At peak.
    pub forces: GearForces,
    /// Stress at the roots, per force.
    pub roots: StageRoots,
    /// Sun, then planet.
    pub sun_mesh: PlasticMesh,
    /// Planet, then ring.
    pub ring_mesh: PlasticMesh,
    /// By 100,000 swings.
    pub growth: Result<BacklashGrowth, NotApplicable>,
}

impl GearRatings {
    pub fn of(actuator: &Actuator, heat: Option<&heat::Rating>, feel: &Feel) -> GearRatings {
        let work = work(actuator, heat, feel);
        let sides = Sides::of(actuator, &work);
        // A planet's teeth are heated by both meshes.
        let none = Ok(TemperatureRise::NONE);
        let from_sun = PlasticMesh::rise_of(&sides.sun_mesh(none), 1);
        let from_ring = PlasticMesh::rise_of(&sides.ring_mesh(none), 0);
        let stage = &actuator.stage;
        GearRatings {
            work,
            forces: GearForces::of(stage, actuator.torques.sun),
            roots: StageRoots::of(stage),
            sun_mesh: PlasticMesh::of(&sides.sun_mesh(from_ring)),
            ring_mesh: PlasticMesh::of(&sides.ring_mesh(from_sun)),
            growth: wear_coefficients(actuator)
                .and_then(|coefficients| backlash_growth(stage, &work.swing, coefficients)),
        }
    }

    /// A gear's rating in a mesh; of a planet, `mate` says in which.
    pub fn rating(&self, member: Member, mate: Member) -> &GearRating {
        match (member, mate) {
            (Member::Sun, _) => &self.sun_mesh.gears[0],
            (Member::Ring, _) => &self.ring_mesh.gears[1],
            (Member::Planet, Member::Ring) => &self.ring_mesh.gears[0],
            (Member::Planet, _) => &self.sun_mesh.gears[1],
        }
    }
}

/// The printed part that carries a gear's teeth; none for a bought gear.
pub fn printed_part(actuator: &Actuator, member: Member) -> Option<PartName> {
    let gearset = &actuator.design.gearset;
    match member {
        Member::Sun => (gearset.sun_made == GearSource::Print).then_some(PartName::RotorAdapter),
        Member::Planet => (gearset.planet_made == GearSource::Print).then_some(PartName::Planet),
        Member::Ring => Some(match gearset.ring_made {
            RingKind::Cut => PartName::RingHousing,
            RingKind::Insert => PartName::RingInsert,
        }),
    }
}

fn work(actuator: &Actuator, heat: Option<&heat::Rating>, feel: &Feel) -> Work {
    let (design, stage) = (&actuator.design, &actuator.stage);
    let (requirement, load) = (&design.requirement, &design.load);
    let held = heat.and_then(|rating| rating.continuous.as_ref().ok());
    let (continuous, continuous_is) = match (requirement.continuous_torque, held) {
        (Some(asked), _) => (asked, "asked for"),
        (None, Some(held)) => {
            (f64::min(held.torque, actuator.torques.output), "what heat lets the motor hold")
        }
        (None, None) => (actuator.torques.output, "the peak: no continuous torque is known"),
    };
    // More torque than stays cool is asked: the hottest air that can be held.
    let at_demand = heat.and_then(|rating| rating.at_demand);
    let temperatures = at_demand.or(held.map(|held| held.temperatures));
    let turn_rate = 2.0 * PI * load.rate;
    let (angle, ways, swing_speed, mean_speed) = match load.oscillation {
        // The file gives half of the swing; a sine's top speed.
        Some(half) => (2.0 * half, 2.0, turn_rate * half, 4.0 * half * load.rate),
        None => (2.0 * PI, 1.0, turn_rate, turn_rate),
    };
    let top_speed = requirement.speed.unwrap_or(swing_speed);
    let blow = feel.stiffness.and_then(|stiffness| {
        let inertia = feel.inertia?;
        let at_sun = collision_torque(top_speed, stage.ratio, inertia.reflected.motor(), stiffness.output())?;
        Some(at_sun * stage.ratio)
    });
    Work {
        torque: Cases {
            continuous,
            peak: actuator.torques.output,
            impact: blow.unwrap_or(actuator.torques.output),
        },
        continuous_is,
        blow,
        top_speed,
        mean_speed,
        swing: Swing { angle, ways, torque: continuous },
        life_cycles: requirement.life * 3600.0 * load.rate,
        ambient: temperatures.map_or(design.ambient.temperature, |nodes| nodes[Node::Air as usize]),
    }
}

/// Coefficients of sun, planet and ring; a metal gear counts as not wearing against plastic.
fn wear_coefficients(actuator: &Actuator) -> Result<[Band; 3], NotApplicable> {
    let lubrication = lubrication(actuator);
    let of = |member| match printed_part(actuator, member) {
        None => Ok(Band::ZERO),
        Some(part) => wear_coefficient(&actuator.design.settings(part).material.name)
            .map(|row| row.with(lubrication))
            .ok_or(NotApplicable::NoWearCoefficient),
    };
    Ok([of(Member::Sun)?, of(Member::Planet)?, of(Member::Ring)?])
}

fn lubrication(actuator: &Actuator) -> Lubrication {
    match actuator.design.gearset.lubrication {
        Greasing::Dry => Lubrication::Dry,
        Greasing::Greased => Lubrication::Greased,
    }
}

/// A gear's material, owned, for the time of the rating.
enum Stuff {
    Metal(Elasticity),
    Printed(Material, bool),
}

impl Stuff {
    fn of(actuator: &Actuator, member: Member, bought_of: &str) -> Stuff {
        /// A root is solid with as many walls as meet in the middle of it, or solid infill.
        const SOLID_WALLS: u32 = 4;
        match printed_part(actuator, member) {
            Some(part) => {
                let settings = actuator.design.settings(part);
                let solid = settings.infill >= 1.0 || settings.walls >= SOLID_WALLS;
                Stuff::Printed(settings.material.clone(), solid)
            }
            None => {
                let elastic = |metal: &GearMetal| Elasticity {
                    modulus: metal.modulus,
                    poisson_ratio: metal.poisson_ratio,
                };
                Stuff::Metal(gear_metal(bought_of).map_or(Elasticity::STEEL, elastic))
            }
        }
    }

    fn material(&self) -> GearMaterial<'_> {
        match self {
            Stuff::Metal(elasticity) => GearMaterial::Metal(*elasticity),
            Stuff::Printed(material, solid_root) => {
                GearMaterial::Printed { material, solid_root: *solid_root }
            }
        }
    }
}

/// What both meshes are rated from.
struct Sides<'a> {
    stage: &'a Stage,
    stuff: [Stuff; 3],
    cycles: [f64; 3],
    tangential: Cases<f64>,
    velocity: f64,
    friction: f64,
    lubrication: Lubrication,
    ambient: f64,
    housing_area: f64,
}

impl Sides<'_> {
    fn of<'a>(actuator: &'a Actuator, work: &Work) -> Sides<'a> {
        let (design, stage) = (&actuator.design, &actuator.stage);
        let gearset = &design.gearset;
        let force =
            |torque: f64| GearForces::of(stage, torque / (stage.ratio * gearset.efficiency)).tangential;
        let height = actuator.stations.ring_front - actuator.stations.service;
        Sides {
            stage,
            stuff: [
                Stuff::of(actuator, Member::Sun, &gearset.sun_bought_of),
                Stuff::of(actuator, Member::Planet, &gearset.planet_bought_of),
                Stuff::of(actuator, Member::Ring, ""),
            ],
            cycles: work.swing.passes(stage).map(|passes| (passes * work.life_cycles).max(1.0)),
            tangential: work.torque.map(force),
            // Against the carrier the ring turns as fast as the output.
            velocity: work.mean_speed * 0.5 * stage.ring.reference_diameter * 1e-3,
            friction: gearset.friction,
            lubrication: lubrication(actuator),
            ambient: work.ambient,
            housing_area: PI * actuator.housing.tube_diameter * height * 1e-6,
        }
    }

    fn side<'s>(
        &'s self,
        index: usize,
        gear: &'s Gear,
        meshes: u32,
        elsewhere: Result<TemperatureRise, NotApplicable>,
    ) -> MeshSide<'s> {
        MeshSide {
            gear,
            material: self.stuff[index].material(),
            idler: index == PLANET,
            meshes,
            rise_elsewhere: elsewhere,
            cycles: self.cycles[index],
        }
    }

    fn sun_mesh(&self, at_ring: Result<TemperatureRise, NotApplicable>) -> MeshCase<'_> {
        let none = Ok(TemperatureRise::NONE);
        let sun = self.side(SUN, &self.stage.sun, self.stage.planets, none);
        let planet = self.side(PLANET, &self.stage.planet, 1, at_ring);
        self.case(&self.stage.sun_mesh, [sun, planet], self.stage.contact_ratio_sun)
    }

    fn ring_mesh(&self, at_sun: Result<TemperatureRise, NotApplicable>) -> MeshCase<'_> {
        let none = Ok(TemperatureRise::NONE);
        let planet = self.side(PLANET, &self.stage.planet, 1, at_sun);
        let ring = self.side(RING, &self.stage.ring, self.stage.planets, none);
        self.case(&self.stage.ring_mesh, [planet, ring], self.stage.contact_ratio_ring)
    }

    fn case<'s>(
        &'s self,
        mesh: &'s crate::gears::Mesh,
        sides: [MeshSide<'s>; 2],
        transverse: f64,
    ) -> MeshCase<'s> {
        MeshCase {
            mesh,
            sides,
            contact: ContactRatios { transverse, overlap: self.stage.overlap_ratio },
            face_width: self.stage.face_width,
            tangential: self.tangential,
            velocity: self.velocity,
            friction: self.friction,
            lubrication: self.lubrication,
            duty: 1.0,
            ambient: self.ambient,
            housing: Housing::Closed,
            housing_area: self.housing_area,
        }
    }
}

const SUN: usize = 0;
const PLANET: usize = 1;
const RING: usize = 2;
