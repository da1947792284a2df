//! What creep and heat leave of a clamp force in printed plastic: a stated estimate.
//!
//! Share kept over the years: 0.7 at 23 degC, 0.3 at the material's service temperature, straight between (common practice, no
//! source; loss of preload of plastic joints is told as a third to two thirds). Band 0.6 to 1.4 of the value. Plastic
//! that grows more than its screw presses harder when warm and then creeps; that is in the share. None above the service
//! temperature. A joint without plastic between head and thread keeps 0.9 (settling, VDI 2230).

use super::head_pressure::heat_share;

const COLD: f64 = 0.7;
const HOT: f64 = 0.3;
/// Of a joint of metals alone.
pub const METAL: f64 = 0.9;

/// Share that is kept; temperatures degC.
pub fn kept(temperature: f64, service_temperature: f64) -> Option<f64> {
    heat_share(temperature, service_temperature).map(|warm| COLD - (COLD - HOT) * warm)
}
