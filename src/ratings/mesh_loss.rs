//! Power loss of a gear mesh by sliding friction, as a part of the power through it: `mu HV`.
//!
//! HV (Niemann and Winter, Maschinenelemente; Ohlendorf; from memory) is the mean over a base pitch of
//! `sum Fn |vg|` over the power, with every tooth pair in contact carrying an equal share. Along the line of action, in
//! base pitches from the pitch point, the path runs from -e2 (second gear's tip) to e1 (first gear's tip):
//! `HV = 2 pi (u +- 1) / (z1 u cos bb) mean(sum |s| / n)`, minus for a ring, n pairs in contact at a time. The mean is
//! taken exactly, piece by piece. With one or two pairs and e1, e2 up to 1 it is the handbooks' closed form
//! `pi (u +- 1) / (z1 u cos bb) (1 - ea + e1^2 + e2^2)`; past that only the mean holds.
//!
//! Range: transverse contact ratio 1 and more; below, no pair carries a part of the time. Assumes one constant friction
//! coefficient, and of a helical gear the same sharing as in its transverse section. Not covered: rolling loss,
//! churning, bearings, seals, misfit.

use std::f64::consts::PI;

use crate::gears::{Gear, Mesh, MeshKind};

/// e1 and e2: path of contact beyond the pitch point up to the first gear's tip and up to the second's, in base pitches.
/// Either is negative where the path doesn't reach the pitch point.
pub type PathParts = [f64; 2];

/// Past this a contact ratio isn't one of gear teeth; keeps the walk along the path short for any input.
const MOST_CONTACT_RATIO: f64 = 50.0;

/// HV of a mesh; `gears`: pinion (planet), then wheel (ring). None outside the range.
pub fn mesh_loss_factor(mesh: &Mesh, [first, second]: [&Gear; 2]) -> Option<f64> {
    let ratio = f64::from(second.teeth) / f64::from(first.teeth);
    loss_factor(mesh.kind, first.teeth, ratio, first.base_helix_angle, path_parts(mesh, first))
}

/// HV of a mesh with `teeth` on its first gear, the gear ratio `ratio` = z2 / z1 and the base helix angle \[rad\]. None
/// outside the range.
pub fn loss_factor(kind: MeshKind, teeth: u32, ratio: f64, base_helix: f64, path: PathParts) -> Option<f64> {
    let sum = match kind {
        MeshKind::External => ratio + 1.0,
        MeshKind::Internal => ratio - 1.0,
    };
    // The base pitch over the base radius is 2 pi / z1.
    let factor = 2.0 * PI / f64::from(teeth) * sum / ratio / libm::cos(base_helix) * mean_distance(path)?;
    (factor.is_finite() && factor >= 0.0).then_some(factor)
}

/// Parts of a mesh's path of contact, [`PathParts`].
pub fn path_parts(mesh: &Mesh, first: &Gear) -> PathParts {
    let pitch_point = 0.5 * first.base_diameter * libm::tan(mesh.working_pressure_angle);
    let pitch = first.base_pitch();
    [(mesh.path_end - pitch_point) / pitch, (pitch_point - mesh.path_start) / pitch]
}

/// Mean over a base pitch of `sum |s| / n`, in base pitches.
///
/// Pair k of N + 1 passes the stretch of the path that begins k pitches after -e2. On its first part, as long as the
/// contact ratio exceeds N, all N + 1 pairs are in contact; on the rest the last one has left.
fn mean_distance([e1, e2]: PathParts) -> Option<f64> {
    let contact_ratio = e1 + e2;
    if !(1.0..=MOST_CONTACT_RATIO).contains(&contact_ratio) {
        return None;
    }
    let fewer = contact_ratio.floor();
    let overlap = contact_ratio - fewer;
    // 1 to 50.
    let pairs = fewer as u32;
    let start = |pair: u32| f64::from(pair) - e2;
    let with_all: f64 = (0..=pairs).map(|pair| distance(start(pair), start(pair) + overlap)).sum();
    let with_fewer: f64 = (0..pairs).map(|pair| distance(start(pair) + overlap, start(pair) + 1.0)).sum();
    Some(with_all / (fewer + 1.0) + with_fewer / fewer)
}

/// Integral of |s|.
fn distance(from: f64, to: f64) -> f64 {
    0.5 * (to * to.abs() - from * from.abs())
}
