//! Values with a standard error, put together: errors of independent tests add in squares, degrees of freedom after Welch and
//! Satterthwaite (JCGM 100:2008, G.4.1, from memory).

use super::bench::Identified;

/// Value, standard error, degrees of freedom; without an error where it is taken as known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Uncertain {
    pub value: f64,
    pub error: f64,
    pub freedom: f64,
}

impl Uncertain {
    pub fn known(value: f64) -> Uncertain {
        Uncertain { value, error: 0.0, freedom: f64::INFINITY }
    }

    pub fn of(found: &Identified) -> Uncertain {
        Uncertain { value: found.value, error: found.error, freedom: found.freedom }
    }

    /// By a number that is known.
    pub fn scaled(self, by: f64) -> Uncertain {
        Uncertain { value: self.value * by, error: self.error * by.abs(), ..self }
    }

    pub fn times(self, other: Uncertain) -> Uncertain {
        let errors = [self.error * other.value, other.error * self.value];
        Uncertain::summed(self.value * other.value, errors, [self.freedom, other.freedom])
    }

    pub fn over(self, other: Uncertain) -> Uncertain {
        let value = self.value / other.value;
        let errors = [self.error / other.value, other.error * value / other.value];
        Uncertain::summed(value, errors, [self.freedom, other.freedom])
    }

    pub fn minus(self, other: Uncertain) -> Uncertain {
        let errors = [self.error, other.error];
        Uncertain::summed(self.value - other.value, errors, [self.freedom, other.freedom])
    }

    fn summed(value: f64, errors: [f64; 2], freedoms: [f64; 2]) -> Uncertain {
        let variance: f64 = errors.iter().map(|error| error * error).sum();
        let parts: f64 =
            errors.iter().zip(freedoms).map(|(error, freedom)| libm::pow(*error, 4.0) / freedom).sum();
        let freedom = if parts > 0.0 { variance * variance / parts } else { freedoms[0].min(freedoms[1]) };
        Uncertain { value, error: variance.sqrt(), freedom }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Welch and Satterthwaite by hand: errors 3 and 4 of 9 and 4 degrees: 5, and 625 / (81/9 + 256/4) = 8.56.
    #[test]
    fn errors_add_in_squares() {
        let one = Uncertain { value: 10.0, error: 3.0, freedom: 9.0 };
        let other = Uncertain { value: 4.0, error: 4.0, freedom: 4.0 };
        let less = one.minus(other);
        assert_eq!((less.value, less.error), (6.0, 5.0));
        assert!((less.freedom - 625.0 / 73.0).abs() < 1e-12);
        // What is known adds nothing.
        let same = one.times(Uncertain::known(2.0));
        assert_eq!((same.value, same.error), (20.0, 6.0));
        assert!((same.freedom - 9.0).abs() < 1e-12);
        // 10 / 4: relative errors 0.3 and 1.
        assert!((one.over(other).error - 2.5 * (0.09_f64 + 1.0).sqrt()).abs() < 1e-12);
    }
}
