//! The involute function and its inverse.

/// `inv a = tan a - a`.
pub fn involute(angle: f64) -> f64 {
    libm::tan(angle) - angle
}

/// The angle \[rad\] in `[0, pi/2)` whose involute is `value`; none for a negative or non-finite value.
///
/// Newton's iteration from an upper bound. `inv` is convex and rises, so from above every step stays above the root:
/// it cannot overshoot. Bounds: `inv a >= a^3/3`, and `tan a = value + a < value + pi/2`.
pub fn involute_inverse(value: f64) -> Option<f64> {
    // Enough for any start: the steps shrink quadratically after the first few.
    const MOST_STEPS: usize = 64;
    if !value.is_finite() || value < 0.0 {
        return None;
    }
    if value == 0.0 {
        return Some(0.0);
    }
    let mut angle = libm::cbrt(3.0 * value).min(libm::atan(value + std::f64::consts::FRAC_PI_2));
    for _ in 0..MOST_STEPS {
        let tangent = libm::tan(angle);
        let step = (tangent - angle - value) / (tangent * tangent);
        angle -= step;
        // Below the last digit of the angle, or rounding has turned the step around.
        if step <= 1e-16 * angle {
            break;
        }
    }
    Some(angle)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// inv 20 deg = 0.014904: handbook tables of the involute function (SDP/SI handbook D790, from memory).
    #[test]
    fn involute_of_twenty_degrees() {
        assert!((involute(20f64.to_radians()) - 0.014904).abs() < 5e-7);
    }

    #[test]
    fn inverse_undoes_the_function() {
        for tenths in 1..=880 {
            let angle = (f64::from(tenths) * 0.1).to_radians();
            let back = involute_inverse(involute(angle)).expect("positive");
            // tan a - a cancels at small angles: the value itself carries a relative error of eps / a^2.
            let tolerance = 1e-15 + 1e-15 / (angle * angle);
            assert!((back - angle).abs() < tolerance, "{tenths}: {back} {angle}");
        }
    }

    #[test]
    fn values_without_an_angle() {
        assert_eq!(involute_inverse(-1e-9), None);
        assert_eq!(involute_inverse(f64::NAN), None);
        assert_eq!(involute_inverse(f64::INFINITY), None);
        assert_eq!(involute_inverse(0.0), Some(0.0));
        assert!(involute_inverse(1e12).is_some_and(|angle| angle < std::f64::consts::FRAC_PI_2));
    }
}
