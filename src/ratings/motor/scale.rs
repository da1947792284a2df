//! What a scale under the end of a lever shows while the joint pushes down on it.
//!
//! `F = T / l`, in grams `F / 9.80665 m/s2`. The torque is that at the output: saturation and the stage's efficiency are in
//! it, friction at rest is not, which holds a joint by some per cent either way. The lever's own weight isn't in it: tare
//! the scale with the lever lying on it. Range: the lever level, at right angles to the push.

/// Standard gravity \[m/s2\].
pub const GRAVITY: f64 = 9.806_65;

/// One line of the test sheet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Phase current, peak \[A\].
    pub current: f64,
    /// At the output \[N m\].
    pub torque: f64,
    /// On the scale \[N\].
    pub force: f64,
    /// What the scale shows \[g\].
    pub grams: f64,
}

/// Readings for a list of currents, by the torque that each gives at the output; `arm` \[mm\]. None for no arm.
pub fn readings(currents: &[f64], output_torque: impl Fn(f64) -> f64, arm: f64) -> Option<Vec<Reading>> {
    if !(arm > 0.0 && arm.is_finite()) {
        return None;
    }
    let reading = |&current: &f64| {
        let torque = output_torque(current);
        let force = torque / (arm * 1e-3);
        Reading { current, torque, force, grams: force / GRAVITY * 1e3 }
    };
    Some(currents.iter().map(reading).collect())
}
