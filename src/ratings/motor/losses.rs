//! Heat made in the motor: copper loss, and the drag of iron, magnets and bearings.
//!
//! Copper: `P = 3/2 I^2 R(T)` with the peak phase current, `R(T) = R20 (1 + 0.00393 (T - 20))`. The coefficient is that of
//! annealed copper (IEC 60028, from memory; Bird, Electrical Circuit Theory, uses 0.0039 to 0.004).
//! Drag: `T0 = Kt_dc I0` from a no-load current of the direct-current side, taken constant over speed: hysteresis and
//! bearings are, eddy currents grow with speed, so that it is too high below the speed it was measured at and too low above.
//! Not covered: skin and proximity effect, ripple of the drive, loss in the magnets apart.

/// Temperature coefficient of copper's resistance, referred to 20 degC \[1/K\].
pub const COPPER: f64 = 0.003_93;
/// Drag of pancake outrunners as a share of their torque at the current limit, where nothing is measured: no-load currents
/// of hobby motors give 1.5 to 6 % (common practice, no source).
pub const DRAG_SHARE: f64 = 0.03;

/// Resistance at `temperature` \[degC\] over that at 20 degC.
pub fn resistance_ratio(temperature: f64) -> f64 {
    1.0 + COPPER * (temperature - 20.0)
}

/// Temperature \[degC\] at which the resistance is `ratio` times that at 20 degC.
pub fn temperature_of_ratio(ratio: f64) -> f64 {
    20.0 + (ratio - 1.0) / COPPER
}

/// Loss of a star of three phases \[W\] at the peak phase current \[A\] and the resistance of one phase \[ohm\].
pub fn copper_loss(current: f64, resistance: f64) -> f64 {
    1.5 * current * current * resistance
}

/// Peak phase current \[A\] of that loss.
pub fn current_of_loss(loss: f64, resistance: f64) -> f64 {
    (loss / (1.5 * resistance)).max(0.0).sqrt()
}

/// Drag torque at the rotor \[N m\] from the no-load current \[A\] and the torque constant, both of the direct-current side.
pub fn drag_torque(no_load_current: f64, direct_current_constant: f64) -> f64 {
    no_load_current * direct_current_constant
}
