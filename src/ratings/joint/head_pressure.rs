//! What printed plastic bears under a screw's head, an insert's rim, or in a pin's hole. Stated estimates.
//!
//! Under a head, once, at room temperature: 1.2 of the tensile strength in the layer plane, as thermoplastics yield in
//! compression at 1.2 to 1.4 of their tensile yield (from memory). Warm: the tensile strength at 23 degC, half of it at the
//! material's service temperature, straight between (from memory: strength falls about straight to nothing at the glass
//! transition). Band 0.6 to 1.4 of the value for both.

use std::f64::consts::PI;

/// Where data sheets measure \[degC\].
pub const ROOM: f64 = 23.0;
/// Compressive yield over tensile strength.
const ONCE: f64 = 1.2;
/// What the service temperature leaves of a strength.
const AT_SERVICE: f64 = 0.5;

/// Pressure that tightening may use.
pub fn once(strength_in_plane: f64) -> f64 {
    ONCE * strength_in_plane
}

/// What heat leaves of a strength; none above the service temperature.
pub fn warm_strength(strength: f64, temperature: f64, service_temperature: f64) -> Option<f64> {
    let warm = heat_share(temperature, service_temperature)?;
    Some(strength * (1.0 - (1.0 - AT_SERVICE) * warm))
}

/// Where a temperature lies between room and service temperature, 0 to 1; none above.
pub fn heat_share(temperature: f64, service_temperature: f64) -> Option<f64> {
    let range = service_temperature - ROOM;
    (range > 0.0 && temperature <= service_temperature).then(|| ((temperature - ROOM) / range).max(0.0))
}

/// Ring between two diameters \[mm2\]; of a countersunk head, its shadow along the axis.
pub fn ring_area(outer: f64, inner: f64) -> f64 {
    PI / 4.0 * (outer * outer - inner * inner).max(0.0)
}
