//! What no other beats: the choices between which only taste decides.
//!
//! Differences below a resolution count as none: ratings are no finer than that (print mass is within 10 %, heat within
//! 20 %), and a table of near-twins helps nobody. So every candidate left out is matched within the resolution in every
//! objective by one on the table.

/// What is weighed.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Objectives {
    /// \[kg\]
    pub mass: f64,
    /// \[mm\]
    pub diameter: f64,
    /// \[mm\]
    pub height: f64,
    /// Held for hours \[N m\]; more is better.
    pub continuous: f64,
    /// To turn the output by hand \[N m\].
    pub backdrive: f64,
    /// Of all that has a price; none if nothing has.
    pub cost: Option<f64>,
}

/// Names of the objectives, in the order of [`Objectives::scaled`].
pub const NAMES: [&str; 6] = ["mass", "diameter", "height", "continuous torque", "back-drive torque", "cost"];

/// Ratio of two values that count as alike (3 %) and its logarithm, the step of the scaled objectives.
pub const ALIKE: f64 = 0.03;

impl Objectives {
    /// All as "less is better" on a scale where [`ALIKE`] is one step: logarithms, so that shares count.
    pub fn scaled(&self) -> [f64; 6] {
        let log = |value: f64| libm::log(value.max(1e-9)) / libm::log1p(ALIKE);
        [
            log(self.mass),
            log(self.diameter),
            log(self.height),
            -log(self.continuous),
            log(self.backdrive),
            self.cost.map_or(0.0, log),
        ]
    }
}

/// Whether `a` is at least as good as `b` in everything, but for the resolution.
pub fn covers(a: &Objectives, b: &Objectives) -> bool {
    a.scaled().iter().zip(b.scaled()).all(|(a, b)| *a <= b + 1.0)
}

/// Whether `a` is at least as good as `b` in everything and better in something.
pub fn beats(a: &Objectives, b: &Objectives) -> bool {
    let (a, b) = (a.scaled(), b.scaled());
    a.iter().zip(&b).all(|(a, b)| a <= b) && a.iter().zip(&b).any(|(a, b)| a < b)
}

/// Takes a candidate in unless one there covers it; throws out what it beats. Whether it was taken.
pub fn enter<T>(front: &mut Vec<T>, new: T, objectives: impl Fn(&T) -> Objectives) -> bool {
    let own = objectives(&new);
    if front.iter().any(|old| covers(&objectives(old), &own)) {
        return false;
    }
    front.retain(|old| !beats(&own, &objectives(old)));
    front.push(new);
    true
}

/// Place in the ranking: mean distance from the best of each objective, each as a part of its spread over the front; and
/// the objectives in which it is the best.
pub fn ranks(front: &[Objectives]) -> Vec<(f64, Vec<&'static str>)> {
    let scaled: Vec<[f64; 6]> = front.iter().map(Objectives::scaled).collect();
    let mut least = [f64::INFINITY; 6];
    let mut most = [f64::NEG_INFINITY; 6];
    for values in &scaled {
        for (index, value) in values.iter().enumerate() {
            least[index] = least[index].min(*value);
            most[index] = most[index].max(*value);
        }
    }
    scaled
        .iter()
        .map(|values| {
            let spreads = (0..values.len()).map(|index| most[index] - least[index]);
            let parts: Vec<f64> = values
                .iter()
                .zip(least)
                .zip(spreads)
                .map(|((value, least), spread)| if spread > 0.0 { (value - least) / spread } else { 0.0 })
                .collect();
            let best = (0..parts.len()).filter(|index| parts[*index] == 0.0 && most[*index] > least[*index]);
            (parts.iter().sum::<f64>() / parts.len() as f64, best.map(|index| NAMES[index]).collect())
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn one(mass: f64, diameter: f64, continuous: f64) -> Objectives {
        Objectives { mass, diameter, height: 80.0, continuous, backdrive: 0.3, cost: None }
    }

    #[test]
    fn only_what_nothing_covers_enters() {
        let mut front = Vec::new();
        assert!(enter(&mut front, one(1.0, 100.0, 2.0), |one| *one));
        // Worse in one, alike in the others.
        assert!(!enter(&mut front, one(1.2, 100.0, 2.0), |one| *one));
        // Within the resolution everywhere.
        assert!(!enter(&mut front, one(0.99, 100.0, 2.0), |one| *one));
        // Lighter, but weaker: a choice.
        assert!(enter(&mut front, one(0.8, 100.0, 1.5), |one| *one));
        assert_eq!(front.len(), 2);
        // Better than both.
        assert!(enter(&mut front, one(0.7, 90.0, 2.5), |one| *one));
        assert_eq!(front, vec![one(0.7, 90.0, 2.5)]);
    }

    #[test]
    fn the_best_of_each_objective_is_named() {
        let ranks = ranks(&[one(1.0, 100.0, 2.0), one(0.8, 100.0, 1.5)]);
        assert_eq!(ranks[0].1, vec!["continuous torque"]);
        assert_eq!(ranks[1].1, vec!["mass"]);
    }
}
