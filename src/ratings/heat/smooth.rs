//! A smooth function that is asked for thousands of times, by its Chebyshev series (Press et al., Numerical Recipes, 5.8; from
//! memory): far cheaper than the powers it stands for, and as exact.

use std::f64::consts::PI;

/// Terms: of the functions here the next is less than rounding, which a test asserts.
const TERMS: usize = 9;

/// The series over a range.
#[derive(Clone, Debug)]
pub struct Smooth {
    range: [f64; 2],
    terms: [f64; TERMS],
}

impl Smooth {
    pub fn of(range: [f64; 2], function: impl Fn(f64) -> f64) -> Smooth {
        let [from, to] = range;
        let place = |index: usize| PI * (index as f64 + 0.5) / TERMS as f64;
        let values: [f64; TERMS] = std::array::from_fn(|index| {
            function((from + to) / 2.0 + (to - from) / 2.0 * libm::cos(place(index)))
        });
        let term = |order: usize| {
            let share = |index: usize| values[index] * libm::cos(order as f64 * place(index));
            2.0 / TERMS as f64 * (0..TERMS).map(share).sum::<f64>()
        };
        Smooth { range, terms: std::array::from_fn(term) }
    }

    /// None outside the range.
    pub fn at(&self, number: f64) -> Option<f64> {
        let [from, to] = self.range;
        if !(from..=to).contains(&number) {
            return None;
        }
        let place = (2.0 * number - from - to) / (to - from);
        // Clenshaw's recurrence.
        let (mut last, mut before) = (0.0, 0.0);
        for term in self.terms.iter().skip(1).rev() {
            (last, before) = (2.0 * place * last - before + term, last);
        }
        Some(place * last - before + self.terms[0] / 2.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_power_is_met_to_the_last_digits() {
        let power = |number: f64| libm::pow(1.0 + libm::pow(0.492 / number, 9.0 / 16.0), 8.0 / 27.0);
        let smooth = Smooth::of([0.66, 0.75], power);
        for step in 0..=1000 {
            let number = f64::min(0.66 + 0.09 * f64::from(step) / 1000.0, 0.75);
            let found = smooth.at(number).expect("within the range");
            // Each term is rounded when it is multiplied and when it is added.
            let rounding = 2.0 * TERMS as f64 * f64::EPSILON;
            assert!((found / power(number) - 1.0).abs() < rounding, "{number}: {found}");
        }
        assert_eq!(smooth.at(0.76), None);
        assert_eq!(smooth.at(f64::NAN), None);
    }
}
