//! Wear depth of a flank, VDI 2736-2 (from memory): `Wm = T 2 pi N HV kw / (b z lFl)`, T and z of the gear looked at, N how
//! often each of its teeth passes the mesh, lFl the length of its active flank.
//!
//! From there to the play of a stage's output, an estimate: both flanks of a mesh wear by their own coefficient under the
//! mean load; what wears off normal to the flanks opens the mesh by the sum over `cos awt cos bb`. A swing shorter than a
//! turn uses few teeth often: the growth is that of the most used ones. Loads both ways wear both flanks by half, which
//! opens the same play. Wear is even over flank and width, friction's heat, running-in, pins and bearings are left out.

use std::f64::consts::PI;

use super::Band;
use super::not_applicable::NotApplicable;
use crate::gears::{Gear, Mesh, MeshKind, Stage};
use crate::ratings::mesh_loss::mesh_loss_factor;

/// Output cycles that a growth is stated for.
pub const COUNTED_CYCLES: f64 = 1e5;

/// Lengths of the flanks that touch \[mm\], transverse, pinion (planet) then wheel (ring): `(L2^2 - L1^2) / db` between
/// two points of the involute whose base tangents are L1 and L2 long.
pub fn active_flanks(mesh: &Mesh, [pinion, wheel]: [&Gear; 2]) -> [f64; 2] {
    let (start, end) = (mesh.path_start, mesh.path_end);
    let [first, second] = mesh.pitch_diameters.map(|diameter| 0.5 * diameter);
    let sine = libm::sin(mesh.working_pressure_angle);
    let on_wheel = match mesh.kind {
        MeshKind::External => {
            let line = (second + first) * sine;
            [line - end, line - start]
        }
        MeshKind::Internal => {
            let line = (second - first) * sine;
            [line + start, line + end]
        }
    };
    let arc = |[from, to]: [f64; 2], gear: &Gear| (to * to - from * from) / gear.base_diameter;
    [arc([start, end], pinion), arc(on_wheel, wheel)]
}

/// Wm \[mm\]: torque of the gear N m, kw mm3/(N m), lengths mm.
pub fn wear_depth(
    torque: f64,
    passes: f64,
    loss_factor: f64,
    coefficient: f64,
    face_width: f64,
    teeth: u32,
    flank: f64,
) -> f64 {
    torque * 2.0 * PI * passes * loss_factor * coefficient / (face_width * f64::from(teeth) * flank)
}

/// What an output cycle is: there and back, or turns.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Swing {
    /// One way, at the output \[rad\].
    pub angle: f64,
    /// Ways in a cycle: 2 for there and back.
    pub ways: f64,
    /// Mean magnitude of the output torque on the way \[N m\].
    pub torque: f64,
}

impl Swing {
    /// How often in an output cycle the most used tooth of sun, planet and ring passes a mesh: its load cycles, those of a
    /// planet with sun and ring counted as one that bends it both ways.
    pub fn passes(&self, stage: &Stage) -> [f64; 3] {
        let ring_teeth = f64::from(stage.ring.teeth);
        let of = |gear: &Gear, meshes: u32| {
            let against_carrier = self.angle * ring_teeth / f64::from(gear.teeth);
            self.ways * (f64::from(meshes) * against_carrier / (2.0 * PI)).max(1.0)
        };
        [of(&stage.sun, stage.planets), of(&stage.planet, 1), of(&stage.ring, stage.planets)]
    }
}

/// By [`COUNTED_CYCLES`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BacklashGrowth {
    /// Circumferential at the working pitch circle \[mm\].
    pub sun_mesh: Band,
    pub ring_mesh: Band,
    /// At the output with the sun held \[rad\].
    pub output: Band,
}

/// `coefficients`: kw of sun, planet and ring \[mm3/(N m)\], [`Band::ZERO`] for a metal one against plastic.
///
/// # Errors
/// A mesh without contact all the time; a swing that isn't one.
pub fn backlash_growth(
    stage: &Stage,
    swing: &Swing,
    coefficients: [Band; 3],
) -> Result<BacklashGrowth, NotApplicable> {
    let [sun_wear, planet_wear, ring_wear] = coefficients;
    let sound = swing.angle > 0.0 && swing.ways > 0.0 && swing.torque >= 0.0 && stage.planets > 0;
    if !(sound && (swing.angle * swing.ways * swing.torque).is_finite()) {
        return Err(NotApplicable::Input);
    }
    let sun_torque = swing.torque / stage.ratio / f64::from(stage.planets);
    // N, at the reference circles: the same in both meshes.
    let tangential = 2e3 * sun_torque / stage.sun.reference_diameter;
    let [sun_passes, planet_passes, ring_passes] = swing.passes(stage);
    let opened = |mesh: &Mesh, sides: [(&Gear, f64, Band); 2]| -> Result<Band, NotApplicable> {
        let gears = sides.map(|(gear, ..)| gear);
        let loss_factor = mesh_loss_factor(mesh, gears).ok_or(NotApplicable::Mesh)?;
        let flanks = active_flanks(mesh, gears);
        let mut normal = Band::ZERO;
        for ((gear, passes, coefficient), flank) in sides.into_iter().zip(flanks) {
            let torque = tangential * 0.5e-3 * gear.reference_diameter;
            let passes = COUNTED_CYCLES * passes;
            let unit = wear_depth(torque, passes, loss_factor, 1.0, stage.face_width, gear.teeth, flank);
            normal = normal.plus(coefficient.scaled(unit));
        }
        let slant = libm::cos(mesh.working_pressure_angle) * libm::cos(stage.base_helix_angle);
        let play = normal.scaled(1.0 / slant);
        if play.value.is_finite() { Ok(play) } else { Err(NotApplicable::Input) }
    };
    let planet = (&stage.planet, planet_passes, planet_wear);
    let sun_mesh = opened(&stage.sun_mesh, [(&stage.sun, sun_passes, sun_wear), planet])?;
    let ring_mesh = opened(&stage.ring_mesh, [planet, (&stage.ring, ring_passes, ring_wear)])?;
    // As the stage's own output backlash: (js rp2 + jr rp1) / (a (rp1 + rp2)).
    let with_sun = 0.5 * stage.sun_mesh.pitch_diameters[1];
    let with_ring = 0.5 * stage.ring_mesh.pitch_diameters[0];
    let lever = stage.centre_distance * (with_sun + with_ring);
    let output = sun_mesh.scaled(with_ring / lever).plus(ring_mesh.scaled(with_sun / lever));
    Ok(BacklashGrowth { sun_mesh, ring_mesh, output })
}
