//! Nominal contact stress of metal gears at the pitch point, ISO 6336-2:
//! `sigma_H0 = ZH ZE Zeps Zbeta sqrt(Ft / (d1 b) (u +- 1) / u)`, minus for a ring.
//!
//! Formulas from memory; checked by a published example and by Hertz's line contact. Range: helix to 30 degrees,
//! transverse contact ratio 1 to 2.5, both gears of metal. Not covered: single-contact factors ZB and ZD, load factors
//! KA KV KHbeta KHalpha, lubricant, roughness, hardening; plastics need their own rating.

use std::f64::consts::PI;

use super::tooth_root::{ContactRatios, Edition};
use crate::gears::{Gear, Mesh, MeshKind};

/// Least Young's modulus \[MPa\] taken for a metal: magnesium alloys, the softest gear metal, have 45 000 (from memory),
/// filled plastics at most some 25 000.
pub const LEAST_METAL_MODULUS: f64 = 40_000.0;

/// Of one gear's material.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elasticity {
    /// Young's modulus \[MPa\].
    pub modulus: f64,
    pub poisson_ratio: f64,
}

impl Elasticity {
    /// ISO 6336-2, table 1 (from memory).
    pub const STEEL: Elasticity = Elasticity { modulus: 206_000.0, poisson_ratio: 0.3 };

    fn compliance(&self) -> f64 {
        (1.0 - self.poisson_ratio * self.poisson_ratio) / self.modulus
    }
}

/// Factors of a pair of gears.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothFlank {
    /// ZH
    pub zone: f64,
    /// ZE \[sqrt MPa\]
    pub elasticity: f64,
    /// Zeps
    pub contact_ratio: f64,
    /// Zbeta
    pub helix: f64,
    /// `(u +- 1) / u`
    ratio_term: f64,
    /// d1 \[mm\]
    pinion_diameter: f64,
}

impl ToothFlank {
    /// `gears` and `materials`: pinion (planet), then wheel (ring). None outside the range.
    pub fn of(
        mesh: &Mesh,
        [pinion, wheel]: [&Gear; 2],
        materials: [Elasticity; 2],
        contact: ContactRatios,
        edition: Edition,
    ) -> Option<ToothFlank> {
        let helix_angle = pinion.helix_angle.abs();
        let metal = materials.iter().all(|material| material.modulus >= LEAST_METAL_MODULUS);
        // The last digit of a 30 degree angle that came from degrees.
        let in_range = helix_angle <= 30f64.to_radians() + 1e-12 && (1.0..=2.5).contains(&contact.transverse);
        if !metal || !in_range {
            return None;
        }
        let inverse_ratio = f64::from(pinion.teeth) / f64::from(wheel.teeth);
        Some(ToothFlank {
            zone: zone_factor(
                pinion.base_helix_angle,
                pinion.transverse_pressure_angle,
                mesh.working_pressure_angle,
            ),
            elasticity: elasticity_factor(materials),
            contact_ratio: contact_ratio_factor(contact),
            helix: helix_factor(helix_angle, edition),
            ratio_term: match mesh.kind {
                MeshKind::External => 1.0 + inverse_ratio,
                MeshKind::Internal => 1.0 - inverse_ratio,
            },
            pinion_diameter: pinion.reference_diameter,
        })
    }

    /// sigma_H0 \[MPa\] of the nominal tangential force at the reference circle \[N\].
    pub fn nominal_stress(&self, tangential: f64, face_width: f64) -> f64 {
        let line_load = tangential / (self.pinion_diameter * face_width) * self.ratio_term;
        self.zone * self.elasticity * self.contact_ratio * self.helix * line_load.sqrt()
    }
}

/// ZH, the flanks' curvature at the pitch point: `sqrt(2 cos bb cos awt / (cos^2 at sin awt))`.
pub fn zone_factor(base_helix: f64, pressure_angle: f64, working_pressure_angle: f64) -> f64 {
    let cosine = libm::cos(pressure_angle);
    (2.0 * libm::cos(base_helix) / (cosine * cosine * libm::tan(working_pressure_angle))).sqrt()
}

/// ZE \[sqrt MPa\]: `sqrt(1 / (pi (c1 + c2)))`, `c = (1 - nu^2) / E`. Hertz: holds for any material.
pub fn elasticity_factor([first, second]: [Elasticity; 2]) -> f64 {
    (1.0 / (PI * (first.compliance() + second.compliance()))).sqrt()
}

/// Zeps; the transverse ratio up to 2.5.
pub fn contact_ratio_factor(contact: ContactRatios) -> f64 {
    let overlap = contact.overlap.clamp(0.0, 1.0);
    let spur = (4.0 - contact.transverse) / 3.0;
    (spur * (1.0 - overlap) + overlap / contact.transverse).sqrt()
}

/// Zbeta.
pub fn helix_factor(helix_angle: f64, edition: Edition) -> f64 {
    let root = libm::cos(helix_angle).sqrt();
    match edition {
        Edition::Of2006 => root,
        Edition::Of2019 => 1.0 / root,
    }
}
