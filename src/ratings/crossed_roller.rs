//! Crossed roller bearings: one carries radial and axial load and moment.
//!
//! - `P = X (Fr + 2 M / dp) + Y Fa`, X 1 and Y 0.45 while `Fa / (Fr + 2 M / dp) <= 1.5`, else 0.67 and 0.67; `P0 = Fr + 2 M / dp + 0.44 Fa`
//!   (IKO catalogue, page 428, and THK, read); dp pitch circle of the rollers
//! - `L10 = (C / P)^(10/3)` million revolutions (ISO 281:2007, rollers); `M0 = C0 dp / 2` (THK, read)
//!
//! Range: P up to C / 2; seats stiffer than a print's carry more: half of C0 is allowed here (an assumption). Not covered: preload,
//! a_ISO.

/// Of rollers, in life and mean load.
pub const EXPONENT: f64 = 10.0 / 3.0;
/// Share of C0 allowed in a printed seat.
pub const STATIC_SHARE: f64 = 0.5;
/// Friction coefficient on P0 (IKO, page J12, read).
pub const FRICTION: f64 = 0.010;

/// Equivalent dynamic load \[N\]: forces \[N\], moment \[N m\], pitch circle \[mm\].
pub fn equivalent_load(radial: f64, axial: f64, moment: f64, pitch_circle: f64) -> f64 {
    let combined = radial.abs() + 2e3 * moment.abs() / pitch_circle;
    let axial = axial.abs();
    let (x, y) = if axial <= 1.5 * combined { (1.0, 0.45) } else { (0.67, 0.67) };
    x * combined + y * axial
}

/// Equivalent static load \[N\].
pub fn equivalent_static_load(radial: f64, axial: f64, moment: f64, pitch_circle: f64) -> f64 {
    radial.abs() + 2e3 * moment.abs() / pitch_circle + 0.44 * axial.abs()
}

/// L10 \[million revolutions\]; none where the load is out of range.
pub fn basic_life(dynamic_rating: f64, load: f64) -> Option<f64> {
    (load > 0.0 && load <= 0.5 * dynamic_rating).then(|| libm::pow(dynamic_rating / load, EXPONENT))
}

/// Friction torque \[N m\] of a static load \[N\] on the pitch circle \[mm\].
pub fn friction_torque(static_load: f64, pitch_circle: f64) -> f64 {
    FRICTION * static_load * pitch_circle / 2.0 * 1e-3
}

#[cfg(test)]
mod tests {
    use super::*;

    /// IKO's and THK's formulas by hand: 800 N, 300 N and 20 N m on 50 mm give 1735 and 1732 N, and 433 N mm of friction.
    #[test]
    fn by_hand() {
        assert!((equivalent_load(800.0, 300.0, 20.0, 50.0) - 1735.0).abs() < 1e-9);
        assert!((equivalent_static_load(800.0, 300.0, 20.0, 50.0) - 1732.0).abs() < 1e-9);
        assert!((friction_torque(1732.0, 50.0) - 0.433).abs() < 1e-9);
        // Mostly axial: 0.67 of both.
        assert!((equivalent_load(100.0, 1000.0, 0.0, 50.0) - 0.67 * 1100.0).abs() < 1e-9);
    }

    /// THK: RB3010 has M0 = 173.5 N m: the moment whose static load is C0.
    #[test]
    fn static_moment_of_a_row() {
        let row = crate::tables::crossed_roller("RB 3010").expect("in the table");
        let load = equivalent_static_load(0.0, 0.0, 173.5, 41.5);
        assert!((load / row.static_rating - 1.0).abs() < 1e-3, "{load}");
    }
}
