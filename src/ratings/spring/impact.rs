//! A blow through the gears in closed form: bounds for the simulation, and the speed of a fall.

/// Standard gravity \[m/s2\] (3rd CGPM, 1901): a defined value.
pub const GRAVITY: f64 = 9.80665;

/// Speed of the lever \[rad/s\] when the weight \[N\] at its end has fallen `height` with all of the inertia \[kg m2\] turning
/// along: `W h = J w^2 / 2`. Heights m.
///
/// Exact for a weight as a point at the arm; no friction. None without a weight or an inertia.
pub fn fall_speed(weight: f64, inertia: f64, height: f64) -> Option<f64> {
    (weight > 0.0 && inertia > 0.0 && height >= 0.0).then(|| (2.0 * weight * height / inertia).sqrt())
}

/// Torque in the gears \[N m\] when a load at `speed` runs into a free rotor through a spring: `w sqrt(K Jm Jl / (Jm + Jl))`.
///
/// No damping, no weight, no play beyond what is crossed at speed.
pub fn free_rotor_torque(speed: f64, stiffness: f64, motor_inertia: f64, load_inertia: f64) -> f64 {
    speed * (stiffness * motor_inertia * load_inertia / (motor_inertia + load_inertia)).sqrt()
}

/// The same with the rotor held fast: an upper end.
pub fn held_rotor_torque(speed: f64, stiffness: f64, load_inertia: f64) -> f64 {
    speed * (stiffness * load_inertia).sqrt()
}
