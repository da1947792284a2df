//! The stage in one position: how each gear is turned so that the driving flanks touch, and where they do.
//!
//! The sun drives counter-clockwise, the ring holds, the carrier is the load: both meshes push the planet the same way.
//! Planets stay where [`crate::gears::PlanetPhase`] puts them, with equal play on both flanks; sun and ring are turned
//! by half the play until they touch, so all the backlash lies behind the other flanks.

use std::f64::consts::{FRAC_PI_2, TAU};

use crate::gears::{Gear, Mesh, Stage, circumferential_play};
use crate::geometry::Point;

/// Line of action of one mesh and what happens on it; planet 0, on +x.
#[derive(Clone, Debug, PartialEq)]
pub struct MeshPosition {
    pub pitch_point: Point,
    /// Where the line of action touches the two base circles; first the inner gear's (sun, planet).
    pub tangent_points: [Point; 2],
    /// Start and end of the path of contact.
    pub path: [Point; 2],
    /// Where flanks touch now.
    pub contacts: Vec<Point>,
}

/// A planet's centre, and its turn about it \[rad\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlacedPlanet {
    pub centre: Point,
    pub turn: f64,
}

/// All gears of a stage with their driving flanks in contact. Turns \[rad\] are those of the outlines of
/// [`Gear::profile`].
#[derive(Clone, Debug, PartialEq)]
pub struct StagePosition {
    pub sun_turn: f64,
    pub ring_turn: f64,
    pub planets: Vec<PlacedPlanet>,
    pub sun_mesh: MeshPosition,
    pub ring_mesh: MeshPosition,
}

impl StagePosition {
    pub fn of(stage: &Stage) -> StagePosition {
        let planets: Vec<PlacedPlanet> = (0..stage.planets)
            .map(|index| {
                let phase = stage.planet_phase(index);
                PlacedPlanet { centre: Point::polar(stage.centre_distance, phase.position), turn: phase.turn }
            })
            .collect();
        let sun_turn = half_play([&stage.sun, &stage.planet], &stage.sun_mesh, 0);
        let ring_turn = stage.ring_turn() + half_play([&stage.planet, &stage.ring], &stage.ring_mesh, 1);
        let sun_mesh = sun_mesh(stage, sun_turn);
        let ring_mesh = ring_mesh(stage, stage.planet_phase(0).turn);
        StagePosition { sun_turn, ring_turn, planets, sun_mesh, ring_mesh }
    }
}

/// Half the play as a turn of gear `turned` \[rad\].
fn half_play(gears: [&Gear; 2], mesh: &Mesh, turned: usize) -> f64 {
    let diameter = if turned == 0 { mesh.pitch_diameters[0] } else { mesh.pitch_diameters[1] };
    circumferential_play(gears, mesh.pitch_diameters) / diameter
}

/// The sun's counter-clockwise flanks push the planet up.
fn sun_mesh(stage: &Stage, sun_turn: f64) -> MeshPosition {
    let mesh = &stage.sun_mesh;
    let angle = mesh.working_pressure_angle;
    let line = Line { foot: Point::ORIGIN, foot_angle: -angle, along: FRAC_PI_2 - angle };
    let first_contact = sun_turn + stage.sun.base_half_angle() + angle;
    let planet_foot = stage.centre_distance * libm::sin(angle);
    line.position(
        &stage.sun,
        mesh,
        first_contact,
        planet_foot,
        Point::new(0.5 * mesh.pitch_diameters[0], 0.0),
    )
}

/// The planet's clockwise flanks push the ring down.
fn ring_mesh(stage: &Stage, planet_turn: f64) -> MeshPosition {
    let mesh = &stage.ring_mesh;
    let angle = mesh.working_pressure_angle;
    let line =
        Line { foot: Point::new(stage.centre_distance, 0.0), foot_angle: angle, along: angle - FRAC_PI_2 };
    let first_contact = stage.planet.base_half_angle() - planet_turn + angle;
    let ring_foot = -stage.centre_distance * libm::sin(angle);
    line.position(
        &stage.planet,
        mesh,
        first_contact,
        ring_foot,
        Point::new(0.5 * mesh.pitch_diameters[1], 0.0),
    )
}

/// A line of action from the driving gear's base circle on.
struct Line {
    /// Centre of the driving gear.
    foot: Point,
    /// Where on its base circle the line touches \[rad\].
    foot_angle: f64,
    /// Direction of the line \[rad\].
    along: f64,
}

impl Line {
    /// `first_contact`: angle on the base circle that one driving flank has unwound; `other_foot`: base tangent point
    /// of the driven gear along the line.
    fn position(
        &self,
        driver: &Gear,
        mesh: &Mesh,
        first_contact: f64,
        other_foot: f64,
        pitch_point: Point,
    ) -> MeshPosition {
        let base = 0.5 * driver.base_diameter;
        let start = self.foot + Point::polar(base, self.foot_angle);
        let direction = Point::polar(1.0, self.along);
        let at = |length: f64| start + direction * length;
        let pitch = driver.base_pitch();
        let first = (base * first_contact.rem_euclid(TAU)).rem_euclid(pitch);
        // Flanks a base pitch apart; a path is a few pitches long, and the least comes first.
        let before = ((mesh.path_start - first) / pitch).ceil();
        let count = ((mesh.path_end - first) / pitch).floor() - before;
        // Below zero where the path is empty.
        let contacts = if count >= 0.0 {
            (0..=count as u32).map(|index| at(first + pitch * (before + f64::from(index)))).collect()
        } else {
            Vec::new()
        };
        MeshPosition {
            pitch_point,
            tangent_points: [start, at(other_foot)],
            path: [at(mesh.path_start), at(mesh.path_end)],
            contacts,
        }
    }
}
