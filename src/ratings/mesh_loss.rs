//! Loss of a gear mesh by sliding friction: `loss = mu HV` of the power through the mesh.
//!
//! HV is the mean over a base pitch of the sliding distance from the pitch point, every tooth pair in contact carrying an
//! equal share: `HV = (1 +- 1/u) / (rb1 cos bb) mean(sum |s| / n)`. For e1, e2 up to 1 that is the closed form of
//! Niemann and Ohlendorf, `pi (u +- 1) / (z1 u cos bb) (1 - ea + e1^2 + e2^2)` (from memory, recomputed); beyond, the
//! closed form errs (0.7 % at e2 = 1.08) and the mean doesn't.
//! Assumes a constant friction coefficient. Not covered: rolling loss, lubricant churning, bearings, seals, misfit. Tooth
//! friction alone can't explain the losses of printed stages: a drag term is missing here and said to be.

use std::f64::consts::PI;

use crate::gears::{Gear, Mesh, MeshKind, Stage};

/// Path of contact on both sides of the pitch point, in base pitches: with the first gear's addendum, with the second's.
pub type PathParts = [f64; 2];

/// Steps of the mean over a base pitch: the sum jumps where pairs enter and leave, the error is about one step's.
const STEPS: u32 = 4000;

/// HV of a mesh of `teeth` (first gear) with gear ratio `ratio` = z2 / z1.
pub fn loss_factor(kind: MeshKind, teeth: u32, ratio: f64, base_helix: f64, [e1, e2]: PathParts) -> f64 {
    let sum = match kind {
        MeshKind::External => ratio + 1.0,
        MeshKind::Internal => ratio - 1.0,
    };
    // A base pitch over the base radius is 2 pi / z.
    2.0 * PI / f64::from(teeth) * sum / ratio / libm::cos(base_helix) * mean_distance([e1, e2])
}

/// Mean over a base pitch of the sum of distances from the pitch point over the number of pairs, in base pitches.
fn mean_distance([e1, e2]: PathParts) -> f64 {
    let at = |phase: f64| {
        let places = (0..).map(|pair| phase - e2 + f64::from(pair)).take_while(|&place| place <= e1);
        let (count, sum) =
            places.fold((0u32, 0.0), |(count, sum), place| (count + 1, sum + libm::fabs(place)));
        if count > 0 { sum / f64::from(count) } else { 0.0 }
    };
    (0..STEPS).map(|step| at((f64::from(step) + 0.5) / f64::from(STEPS))).sum::<f64>() / f64::from(STEPS)
}

/// Parts of a mesh's path of contact.
fn path_parts(mesh: &Mesh, first: &Gear) -> PathParts {
    let pitch_point = first.base_diameter / 2.0 * libm::tan(mesh.working_pressure_angle);
    let pitch = first.base_pitch();
    [(mesh.path_end - pitch_point) / pitch, (pitch_point - mesh.path_start) / pitch]
}

/// Efficiencies of a planetary stage from its tooth friction.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageEfficiency {
    /// Of the two meshes with the carrier held.
    pub basic: f64,
    /// Sun in, carrier out, ring fixed.
    pub forward: f64,
    /// Carrier in, sun out; 0 and below locks.
    pub back: f64,
}

/// `eta = (1 + eta0 k) / (1 + k)` forward and `(1 + k) / (1 + k / eta0)` back, `k = zr / zs` (Mueller, Epicyclic Drive
/// Trains, from memory; both follow from the torque balance).
pub fn planetary_efficiency(basic: f64, teeth_ratio: f64) -> StageEfficiency {
    let forward = (1.0 + basic * teeth_ratio) / (1.0 + teeth_ratio);
    let back = if basic > 0.0 { (1.0 + teeth_ratio) / (1.0 + teeth_ratio / basic) } else { 0.0 };
    StageEfficiency { basic, forward, back }
}

/// Efficiency of a stage by its tooth friction alone.
pub fn stage_efficiency(stage: &Stage, friction: f64) -> StageEfficiency {
    let helix = stage.base_helix_angle;
    let ratio = |second: &Gear, first: &Gear| f64::from(second.teeth) / f64::from(first.teeth);
    let (sun, planet, ring) = (&stage.sun, &stage.planet, &stage.ring);
    let at_sun = loss_factor(
        MeshKind::External,
        sun.teeth,
        ratio(planet, sun),
        helix,
        path_parts(&stage.sun_mesh, sun),
    );
    let at_ring = loss_factor(
        MeshKind::Internal,
        planet.teeth,
        ratio(ring, planet),
        helix,
        path_parts(&stage.ring_mesh, planet),
    );
    let basic = (1.0 - friction * at_sun) * (1.0 - friction * at_ring);
    planetary_efficiency(basic, ratio(ring, sun))
}
