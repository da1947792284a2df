//! Quantiles of Student's t distribution, for confidence intervals from few readings.
//!
//! `P(|t| <= x) = 1 - I_{n/(n + x^2)}(n/2, 1/2)` (NIST Digital Library of Mathematical Functions 8.17 and Abramowitz and Stegun
//! 26.7.1, from memory), I the regularized incomplete beta function by its continued fraction (DLMF 8.17.22, from memory), evaluated by
//! Lentz's method. Range: one degree of freedom and more.

/// Share of intervals that hold the true value.
pub const CONFIDENCE: f64 = 0.95;
/// Halvings until a quantile is exact to the last digits.
const HALVINGS: usize = 200;

/// How many standard errors the interval reaches to either side, with `freedom` degrees of freedom (need not be whole). Not a
/// number below one degree.
pub fn reach(freedom: f64) -> f64 {
    beyond(1.0 - CONFIDENCE, freedom)
}

/// What |t| is over with a chance, above 1e-12, and `freedom` degrees of freedom. Not a number below one degree.
pub fn beyond(chance: f64, freedom: f64) -> f64 {
    if freedom.is_nan() || freedom < 1.0 {
        return f64::NAN;
    }
    let [mut low, mut high] = [0.0, 1e12];
    for _ in 0..HALVINGS {
        let middle = 0.5 * (low + high);
        if both_tails(middle, freedom) > chance {
            low = middle;
        } else {
            high = middle;
        }
    }
    0.5 * (low + high)
}

/// Chance that |t| is over `t`.
pub fn both_tails(t: f64, freedom: f64) -> f64 {
    beta(freedom / (freedom + t * t), 0.5 * freedom, 0.5)
}

/// Regularized incomplete beta function.
fn beta(x: f64, a: f64, b: f64) -> f64 {
    if x <= 0.0 {
        return 0.0;
    }
    if x >= 1.0 {
        return 1.0;
    }
    // The fraction converges fast on this side of the middle; the other is its mirror image.
    if x > (a + 1.0) / (a + b + 2.0) {
        return 1.0 - beta(1.0 - x, b, a);
    }
    let log = libm::lgamma(a + b) - libm::lgamma(a) - libm::lgamma(b);
    let front = libm::exp(log + a * libm::log(x) + b * libm::log1p(-x));
    front / (a * fraction(x, a, b))
}

/// `1 + d1/(1 + d2/(1 + ...))` by Lentz's method.
fn fraction(x: f64, a: f64, b: f64) -> f64 {
    const TINY: f64 = 1e-300;
    const MOST_TERMS: usize = 500;
    let [mut value, mut c, mut d] = [1.0, 1.0, 0.0];
    for term in 1..MOST_TERMS {
        let m = (term / 2) as f64;
        let numerator = if term % 2 == 0 {
            m * (b - m) * x / ((a + 2.0 * m - 1.0) * (a + 2.0 * m))
        } else {
            -(a + m) * (a + b + m) * x / ((a + 2.0 * m) * (a + 2.0 * m + 1.0))
        };
        d = 1.0 + numerator * d;
        d = 1.0 / if d.abs() < TINY { TINY } else { d };
        c = 1.0 + numerator / c;
        if c.abs() < TINY {
            c = TINY;
        }
        value *= c * d;
        if (c * d - 1.0).abs() < 1e-15 {
            break;
        }
    }
    value
}

#[cfg(test)]
mod tests {
    use super::*;

    /// NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, critical values of Student's t, upper 0.975 (from memory).
    #[test]
    fn as_in_the_tables() {
        for (freedom, tabled) in
            [(1.0, 12.706), (2.0, 4.303), (5.0, 2.571), (10.0, 2.228), (30.0, 2.042), (100.0, 1.984)]
        {
            assert!((reach(freedom) - tabled).abs() < 6e-4, "{freedom}: {}", reach(freedom));
        }
        assert!((reach(1e6) - 1.959_966).abs() < 1e-4);
        assert!(reach(0.0).is_nan());
    }
}
