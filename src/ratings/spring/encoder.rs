//! A magnetic angle sensor beside the axis: error of the angle, of the electrical angle, torque that this costs.
//!
//! The magnet as a dipole across the axis, the sensor at the distance z from its middle and e beside the axis: the field's
//! direction there is off by `tan error = 1.5 s^2 / (1 - 0.5 s^2)`, s = e / z, twice a turn, from the dipole's
//! `B ~ 3 (m r) r / r^5 - m / r^3` (derived). A real disc magnet's field is more even than a dipole's this near: an upper estimate, band 0.4 to 1. Torque of a current at a wrong
//! angle: `cos(p error)`. Range: e under half of z. Not covered: the sensor's own nonlinearity, stray fields (motor leads, steel
//! screws), a magnet glued on askew; a table of corrections in the drive takes most of it away.

use std::f64::consts::TAU;

/// What it costs.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AngleError {
    /// Of the rotor's angle, amplitude \[rad\].
    pub mechanical: f64,
    /// Of the electrical angle, amplitude \[rad\].
    pub electrical: f64,
    /// Share of torque lost where the error is greatest; it comes and goes four times a turn.
    pub torque_lost: f64,
}

/// Lowest and highest of the estimate, as factors on the angle.
pub const BAND: [f64; 2] = [0.4, 1.0];

/// A sensor `eccentricity` beside the axis, `gap` before a magnet of `thickness`; mm. None where it is out of range.
pub fn angle_error(
    eccentricity: f64,
    gap: f64,
    magnet_thickness: f64,
    pole_pairs: f64,
) -> Option<AngleError> {
    let distance = gap + magnet_thickness / 2.0;
    if !(distance > 0.0 && (0.0..=0.5 * distance).contains(&eccentricity)) {
        return None;
    }
    let share = eccentricity / distance;
    // Across the line of magnet and sensor the field is e^2 + z^2 - 3 e^2 cos^2: at 45 degrees.
    let mechanical = libm::atan2(1.5 * share * share, 1.0 - 0.5 * share * share);
    Some(lost(mechanical, pole_pairs))
}

/// What an error of the rotor's angle \[rad\] costs.
pub fn lost(mechanical: f64, pole_pairs: f64) -> AngleError {
    let electrical = mechanical * pole_pairs;
    // Beyond half a turn of the field the torque has turned round already.
    let torque_lost = 1.0 - libm::cos(electrical.min(std::f64::consts::PI));
    AngleError { mechanical, electrical, torque_lost }
}

/// One count of the sensor, at the rotor \[rad\].
pub fn resolution(bits: u32) -> f64 {
    TAU / libm::exp2(f64::from(bits))
}
