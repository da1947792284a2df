//! Kinds of motors and output bearings that the joints of a robot may share.

use crate::search::Space;
use crate::search::requirement::OutputChoice;

/// So many kinds are combined in full.
pub const MOST_MOTORS: usize = 8;
pub const MOST_BEARINGS: usize = 10;

/// A kind of output bearing.
#[derive(Clone, Debug, PartialEq)]
pub struct BearingKind {
    pub designation: String,
    pub count: u32,
    pub spacing: f64,
}

impl BearingKind {
    pub fn of(output: &OutputChoice) -> BearingKind {
        BearingKind { designation: output.designation.clone(), count: output.count, spacing: output.spacing }
    }

    /// Total order: designation, then pairs.
    fn cmp(&self, other: &BearingKind) -> std::cmp::Ordering {
        self.designation
            .cmp(&other.designation)
            .then(self.count.cmp(&other.count))
            .then(self.spacing.total_cmp(&other.spacing))
    }

    pub fn words(&self) -> String {
        if self.count == 1 {
            self.designation.clone()
        } else {
            format!("{} x {}", self.count, self.designation)
        }
    }
}

/// All kinds that any joint may use, in an order that doesn't depend on the order of the joints.
#[derive(Clone, Debug)]
pub struct Kinds {
    /// Lines of `[motor]`.
    pub motors: Vec<String>,
    pub bearings: Vec<BearingKind>,
}

impl Kinds {
    pub fn of(spaces: &[Space]) -> Kinds {
        let mut motors: Vec<String> = spaces.iter().flat_map(|space| space.motors.iter().cloned()).collect();
        motors.sort();
        motors.dedup();
        let mut bearings: Vec<BearingKind> =
            spaces.iter().flat_map(|space| space.outputs.iter().map(BearingKind::of)).collect();
        bearings.sort_by(BearingKind::cmp);
        bearings.dedup();
        Kinds { motors, bearings }
    }
}
