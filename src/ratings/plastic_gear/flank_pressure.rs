//! Nominal flank pressure of a pair with a plastic gear: the form of ISO 6336-2 (Hertz at the pitch point, with the
//! contact ratio factor), as VDI 2736-2 takes it over (from memory). A nominal stress for comparison with a plastic's own
//! allowable; [`tooth_flank`](crate::ratings::tooth_flank) is the rating of metals.
//!
//! Edition 2019's helix factor, the higher. Assumes small contact against the tooth's size; a soft tooth bends as well and meets
//! its mate earlier and later than reckoned here, which lowers the pressure at the pitch point and raises it at the tip.

use super::not_applicable::NotApplicable;
use crate::gears::{Gear, Mesh, MeshKind};
use crate::ratings::tooth_flank::{
    Elasticity, contact_ratio_factor, elasticity_factor, helix_factor, zone_factor,
};
use crate::ratings::tooth_root::{ContactRatios, Edition};

/// Between POM's 0.35 and PA66's 0.38 (from memory); all of 0.35 to 0.40 change the pressure by 2 % at most.
pub const PLASTIC_POISSON_RATIO: f64 = 0.36;

/// sigma_H0 \[MPa\] of the tangential force at the reference circle \[N\]; `gears`: pinion (planet), then wheel (ring).
///
/// # Errors
/// Outside the range of the factors.
pub fn flank_pressure(
    mesh: &Mesh,
    [pinion, wheel]: [&Gear; 2],
    materials: [Elasticity; 2],
    contact: ContactRatios,
    tangential: f64,
    face_width: f64,
) -> Result<f64, NotApplicable> {
    let helix_angle = pinion.helix_angle.abs();
    // The last digit of a 30 degree angle that came from degrees.
    let steep = helix_angle > 30f64.to_radians() + 1e-12;
    if steep || !(1.0..=2.5).contains(&contact.transverse) {
        return Err(NotApplicable::Mesh);
    }
    let inverse_ratio = f64::from(pinion.teeth) / f64::from(wheel.teeth);
    let ratio_term = match mesh.kind {
        MeshKind::External => 1.0 + inverse_ratio,
        MeshKind::Internal => 1.0 - inverse_ratio,
    };
    let zone =
        zone_factor(pinion.base_helix_angle, pinion.transverse_pressure_angle, mesh.working_pressure_angle);
    let line_load = tangential / (pinion.reference_diameter * face_width) * ratio_term;
    let pressure = zone
        * elasticity_factor(materials)
        * contact_ratio_factor(contact)
        * helix_factor(helix_angle, Edition::Of2019)
        * line_load.sqrt();
    if pressure.is_finite() { Ok(pressure) } else { Err(NotApplicable::Input) }
}
