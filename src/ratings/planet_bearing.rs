//! Load on one of the two bearings of a planet.
//!
//! Both meshes push the pin with the same tangential force, so a bearing takes `Ft`; the axial forces of sun and ring
//! cancel but their couple `Fa d` tilts the planet, and the bearings' spread carries it: `F = hypot(Ft, couple / spread)`
//! (statics). Load sharing with a rigid sun: 1.4 with three planets, 1.6 with four, 2.0 with more (from memory).

use crate::design::ToothForm;
use crate::gears::Stage;

/// Factor on the mean planet's load.
pub fn load_sharing(planets: u32) -> f64 {
    match planets {
        0..=2 => 1.0,
        3 => 1.4,
        4 => 1.6,
        _ => 2.0,
    }
}

/// Tangential force of one mesh at the most loaded planet \[N\], from the torque at the sun \[N m\].
pub fn tangential_force(stage: &Stage, sun_torque: f64) -> f64 {
    let radius = stage.sun.reference_diameter / 2.0 * 1e-3;
    sun_torque / radius / f64::from(stage.planets.max(1)) * load_sharing(stage.planets)
}

/// Load on one bearing \[N\]; `spread` between the two bearings' middles.
pub fn bearing_load(stage: &Stage, sun_torque: f64, spread: f64) -> f64 {
    let tangential = tangential_force(stage, sun_torque);
    let axial = match stage.tooth_form {
        // The halves cancel.
        ToothForm::Herringbone => 0.0,
        ToothForm::Helical | ToothForm::Straight => tangential * libm::tan(stage.planet.helix_angle.abs()),
    };
    let couple = axial * stage.planet.reference_diameter;
    libm::hypot(tangential, couple / spread.max(f64::MIN_POSITIVE))
}
