//! Bounds by which candidates are left out early, and the front as they see it.

use super::front::{ALIKE, Objectives};

/// Which bounds are used: all of them. That none loses anything is shown by searches with fewer.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Bounds {
    /// Ratios at which the motor gives torque and speed.
    pub motor: bool,
    /// Planets beside each other.
    pub neighbours: bool,
    /// Ring, rotor, and the least chain along the axis within diameter and height asked for.
    pub envelope: bool,
    /// Teeth at the peak torque.
    pub strength: bool,
    /// The output bearing under the load.
    pub bearing: bool,
    /// Mass of what is bought.
    pub mass: bool,
    /// Torque that can be held.
    pub heat: bool,
    /// What the front covers already.
    pub front: bool,
}

impl Bounds {
    pub const ALL: Bounds = Bounds {
        motor: true,
        neighbours: true,
        envelope: true,
        strength: true,
        bearing: true,
        mass: true,
        heat: true,
        front: true,
    };
    pub const NONE: Bounds = Bounds {
        motor: false,
        neighbours: false,
        envelope: false,
        strength: false,
        bearing: false,
        mass: false,
        heat: false,
        front: false,
    };
}

/// Bounds carry the rounding of sums in another order: a limit must be missed by more than that.
pub const ROUNDING: f64 = 1e-9;

/// The objectives of the front, scaled, for the many questions whether it covers a candidate.
#[derive(Clone, Debug, Default)]
pub struct Shadow {
    scaled: Vec<[f64; 6]>,
}

impl Shadow {
    pub fn of<'a>(front: impl Iterator<Item = &'a Objectives>) -> Shadow {
        Shadow { scaled: front.map(Objectives::scaled).collect() }
    }

    /// Whether something on the front is as good in everything, but for the resolution. Asked with objectives no worse than
    /// a candidate's, the candidate itself is covered too.
    pub fn covers(&self, objectives: &Objectives) -> bool {
        let asked = objectives.scaled().map(|value| value + 1.0);
        self.scaled.iter().any(|one| one.iter().zip(&asked).all(|(one, asked)| one <= asked))
    }

    /// Continuous torque up to which something on the front covers these objectives, their own left out \[N m\]; none if
    /// nothing covers the others.
    pub fn covers_up_to(&self, objectives: &Objectives) -> Option<f64> {
        const TORQUE: usize = 3;
        let asked = objectives.scaled().map(|value| value + 1.0);
        let covers = |one: &&[f64; 6]| {
            one.iter().zip(&asked).enumerate().all(|(index, (one, asked))| index == TORQUE || one <= asked)
        };
        let strongest = self.scaled.iter().filter(covers).map(|one| one[TORQUE]).reduce(f64::min)?;
        Some(libm::exp((1.0 - strongest) * libm::log1p(ALIKE)))
    }
}
