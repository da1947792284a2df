//! Stiffness of a gear mesh by ISO 6336-1, method B: single stiffness c' and mesh stiffness c_gamma, in N/(mm um) as the
//! standard writes them, along the line of action of the transverse section, per millimetre of face width.
//!
//! `q' = 0.04723 + 0.15551/zn1 + 0.25791/zn2 - 0.00635 x1 - 0.11654 x1/zn1 - 0.00193 x2 - 0.24188 x2/zn2 + 0.00529 x1^2 +
//! 0.00182 x2^2`; `c' = CM CB CR cos b / q'` with CM = 0.8, CR = 1 (solid body), `CB = (1 + 0.5 (1.2 - hfP)) (1 - 0.02 (20
//! - an))`; `c_gamma = c' (0.75 ea + 0.25)`; other materials times `E / 206 000`, `E = 2 E1 E2 / (E1 + E2)`; of a ring
//! zn2 is infinite. All from memory; they give the standard's well-known 14 and 20 N/(mm um) for ordinary steel pairs.
//! zn is `z / cos^3 b`.
//!
//! Under a line load of 100 N/mm the standard lowers c' by `(w / 100)^0.25`. Its limit is for steel; a body of the same
//! shape strains alike under the same `w / E`, so here the limit goes down with E.
//!
//! Range: `-0.5 <= x1 + x2 <= 2` for an external pair, transverse contact ratio from 1 (the standard: 1.2; down to 1 c' may
//! be 10 % lower), solid bodies (no thin rim), pinion first. Plastics lie outside the standard: their stiffness is an
//! estimate, [`PLASTIC_BAND`]. Not covered: thin rims, crowning, tooth contact that misalignment spoils.

use crate::gears::{Gear, GearKind};

/// N/mm2 of the steel that the standard's figures are for.
pub const STEEL_MODULUS: f64 = 206_000.0;
/// Factors on the stiffness of plastics. Assumed, not sourced: printed moduli scatter by half, and creep lowers them.
pub const PLASTIC_BAND: [f64; 2] = [0.5, 1.5];
/// A modulus under this is a plastic's (filled ones reach 20 GPa, magnesium begins at 40).
const PLASTIC_MODULUS: f64 = 30_000.0;
/// N/mm for steel.
const FULL_LINE_LOAD: f64 = 100.0;
/// CM: theory against measurement.
const THEORY_FACTOR: f64 = 0.8;
const SHIFT_SUMS: [f64; 2] = [-0.5, 2.0];

/// Two gears as the standard's formula sees them.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StiffnessInput {
    /// Virtual teeth, pinion and wheel; infinite for a ring.
    pub virtual_teeth: [f64; 2],
    /// Profile shifts in the standard's sign: a ring's counts inwards.
    pub shifts: [f64; 2],
    /// Of the basic rack, in modules.
    pub dedendum: f64,
    /// Normal \[rad\].
    pub pressure_angle: f64,
    /// At the reference circle \[rad\].
    pub helix_angle: f64,
    pub contact_ratio: f64,
    /// Moduli of elasticity \[MPa\].
    pub moduli: [f64; 2],
}

impl StiffnessInput {
    /// Of two gears in mesh, in any order; a ring counts as the second.
    pub fn of(gears: [&Gear; 2], contact_ratio: f64, moduli: [f64; 2]) -> StiffnessInput {
        let swapped = gears[1].kind == GearKind::External && gears[1].teeth < gears[0].teeth;
        let order = if swapped { [1, 0] } else { [0, 1] };
        let [pinion, wheel] = order.map(|index| gears[index]);
        StiffnessInput {
            virtual_teeth: [virtual_teeth(pinion), virtual_teeth(wheel)],
            shifts: [standard_shift(pinion), standard_shift(wheel)],
            dedendum: pinion.rack.dedendum,
            pressure_angle: pinion.rack.pressure_angle,
            helix_angle: pinion.helix_angle.abs(),
            contact_ratio,
            moduli: order.map(|index| moduli[index]),
        }
    }

    /// q' \[mm um/N\].
    pub fn flexibility(&self) -> f64 {
        let [z1, z2] = self.virtual_teeth;
        let [x1, x2] = self.shifts;
        0.04723 + 0.15551 / z1 + 0.25791 / z2
            - 0.00635 * x1
            - 0.11654 * x1 / z1
            - 0.00193 * x2
            - 0.24188 * x2 / z2
            + 0.00529 * x1 * x1
            + 0.00182 * x2 * x2
    }

    fn in_range(&self) -> bool {
        let external = self.virtual_teeth[1].is_finite();
        let sum = self.shifts[0] + self.shifts[1];
        let shifts = !external || (SHIFT_SUMS[0]..=SHIFT_SUMS[1]).contains(&sum);
        let teeth = self.virtual_teeth.iter().all(|&teeth| teeth > 0.0);
        let moduli = self.moduli.iter().all(|&modulus| modulus > 0.0 && modulus.is_finite());
        shifts && teeth && moduli && self.contact_ratio >= 1.0 && self.flexibility() > 0.0
    }
}

/// z / cos^3 b, infinite for a ring.
fn virtual_teeth(gear: &Gear) -> f64 {
    match gear.kind {
        GearKind::Internal => f64::INFINITY,
        GearKind::External => {
            let cosine = libm::cos(gear.helix_angle);
            f64::from(gear.teeth) / (cosine * cosine * cosine)
        }
    }
}

fn standard_shift(gear: &Gear) -> f64 {
    match gear.kind {
        GearKind::External => gear.shift,
        GearKind::Internal => -gear.shift,
    }
}

/// Stiffness of a mesh per millimetre of face width.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeshStiffness {
    /// c' \[N/(mm um)\], of one tooth pair under full load.
    pub single: f64,
    /// c_gamma \[N/(mm um)\].
    pub mesh: f64,
    /// E \[MPa\].
    pub modulus: f64,
    /// Factors on both for the band in which they lie; 1 and 1 for metals.
    pub band: [f64; 2],
}

impl MeshStiffness {
    /// None outside the range.
    pub fn of(input: &StiffnessInput) -> Option<MeshStiffness> {
        if !input.in_range() {
            return None;
        }
        let [first, second] = input.moduli;
        let modulus = 2.0 * first * second / (first + second);
        let rack =
            (1.0 + 0.5 * (1.2 - input.dedendum)) * (1.0 - 0.02 * (20.0 - input.pressure_angle.to_degrees()));
        let steel = THEORY_FACTOR * rack * libm::cos(input.helix_angle) / input.flexibility();
        let single = steel * modulus / STEEL_MODULUS;
        let plastic = first.min(second) < PLASTIC_MODULUS;
        Some(MeshStiffness {
            single,
            mesh: single * (0.75 * input.contact_ratio + 0.25),
            modulus,
            band: if plastic { PLASTIC_BAND } else { [1.0; 2] },
        })
    }

    /// The same under the line load `Ft KA / b` \[N/mm\], lower where it is small.
    #[must_use]
    pub fn under(&self, line_load: f64) -> MeshStiffness {
        let full = FULL_LINE_LOAD * self.modulus / STEEL_MODULUS;
        let factor = (line_load.abs() / full).min(1.0).sqrt().sqrt();
        MeshStiffness { single: self.single * factor, mesh: self.mesh * factor, ..*self }
    }

    /// Along the line of action over `face_width` \[N/mm\].
    pub fn along_action(&self, face_width: f64) -> f64 {
        self.mesh * face_width * 1e3
    }
}
