//! Forces in the stage under a torque at the sun: at both meshes, on pins, on the motor and on the housing.
//!
//! Statics (ISO 21771 directions): tangential force at the reference circle `Ft = T / (r n)`, radial `Ft tan(awt)`, axial
//! `Ft tan(beta)`. A planet feels equal tangential forces from sun and ring, so its pin carries twice that; the axial ones
//! cancel, but their couple `Fa d` tilts it. The sun's axial forces add up and go to the motor, the ring's, the other way,
//! to the housing; the carrier sees none. The most loaded planet takes the mean times the load sharing factor
//! ([`load_sharing`](super::planet_bearing::load_sharing)). A herringbone's halves cancel: no axial force, no couple.

use super::planet_bearing::load_sharing;
use crate::design::ToothForm;
use crate::gears::Stage;

/// Forces \[N\], couple \[N m\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearForces {
    /// Most loaded planet over the mean.
    pub sharing: f64,
    /// Of one mesh at the most loaded planet, at the reference circle.
    pub tangential: f64,
    /// Pushes sun and planet apart.
    pub radial_sun: f64,
    /// Pushes planet and ring apart.
    pub radial_ring: f64,
    /// Magnitude, equal in both meshes.
    pub axial: f64,
    /// Tilts the planet on its pin.
    pub planet_couple: f64,
    /// On the pin of the most loaded planet.
    pub pin: f64,
    /// On the sun along +z, towards the output, when it drives counter-clockwise as seen from the output; reversed the
    /// other way round. All planets together. The ring's is the opposite.
    pub sun_thrust: f64,
    /// Unbalanced radial force on the sun where planets aren't spaced equally, from their tangential forces.
    pub sun_unbalance: f64,
}

impl GearForces {
    /// From the torque at the sun \[N m\].
    pub fn of(stage: &Stage, sun_torque: f64) -> GearForces {
        let planets = f64::from(stage.planets.max(1));
        let radius = 0.5 * stage.sun.reference_diameter * 1e-3;
        let sharing = load_sharing(stage.planets);
        let together = sun_torque / radius;
        let tangential = together / planets * sharing;
        // A right-hand driver is pushed along its turning vector.
        let slope = match stage.tooth_form {
            ToothForm::Herringbone => 0.0,
            ToothForm::Helical | ToothForm::Straight => libm::tan(stage.sun.helix_angle),
        };
        let axial = tangential * slope.abs();
        GearForces {
            sharing,
            tangential,
            radial_sun: tangential * libm::tan(stage.working_pressure_angle_sun),
            radial_ring: tangential * libm::tan(stage.working_pressure_angle_ring),
            axial,
            planet_couple: axial * stage.planet.reference_diameter * 1e-3,
            pin: 2.0 * tangential,
            sun_thrust: together * slope,
            sun_unbalance: together * stage.spacing.imbalance(),
        }
    }
}
