//! What is checked before printing: each check is a row with its formula, source and range, and a function.
//!
//! - [`outcome`]: value, limit, verdict, margin
//! - [`clearance`]: least gap between turning and fixed bodies over the whole stack
//! - [`catalogue`]: the table of all checks
//!
//! Adding one: a row in `catalogue.rs` with its function; `explain`, report and summary follow from the row.

mod catalogue;
mod clearance;
mod outcome;

pub use catalogue::CHECKS;
pub use clearance::{Clearance, clearances};
pub use outcome::{Outcome, Sense, Verdict};

use crate::design::PartName;
use crate::product::Product;

/// One check: what it compares, on what ground, and the function that does.
pub struct Check {
    /// Name as in the report and for `explain`.
    pub id: &'static str,
    pub title: &'static str,
    /// Unit of value and limit in the report.
    pub unit: &'static str,
    /// What is computed, in symbols.
    pub formula: &'static str,
    /// Meaning of the symbols, one a line.
    pub symbols: &'static str,
    /// Standard and clause, or "stated estimate" with its band.
    pub clause: &'static str,
    /// Where it holds and what it assumes.
    pub range: &'static str,
    pub not_covered: &'static str,
    pub parts: &'static [PartName],
    pub run: fn(&Product) -> Outcome,
}

/// A check and how it ended.
#[derive(Clone)]
pub struct Checked {
    pub check: &'static Check,
    pub outcome: Outcome,
}

impl std::fmt::Debug for Checked {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Checked").field("id", &self.check.id).field("outcome", &self.outcome).finish()
    }
}

/// All checks on one made design, in the catalogue's order.
pub fn run(made: &Product) -> Vec<Checked> {
    CHECKS.iter().map(|check| Checked { check, outcome: (check.run)(made) }).collect()
}

/// The check of a name.
pub fn find(id: &str) -> Option<&'static Check> {
    CHECKS.iter().find(|check| check.id == id)
}
