//! What is checked before printing: each check is a row with its formula, source and range, and a function.
//!
//! - [`outcome`]: value, limit, verdict, margin
//! - [`ranking`]: which part gives way first
//! - [`clearance`]: least gap between turning and fixed bodies over the whole stack
//! - [`bearings`], [`control`], [`drive`], [`gears`], [`gear_life`], [`joints`], [`bolting`], [`structure`], [`wiring`], [`fit`],
//!   [`screws`], [`axial`], [`printing`], [`envelope`]: the checks, by what they are about
//!
//! Adding one: a row in the file of its subject, with its function; `explain`, report and summary follow from the row.

mod axial;
mod bearings;
mod bolting;
mod clearance;
mod control;
mod drive;
mod envelope;
mod fit;
mod gear_life;
mod gears;
mod joints;
mod outcome;
mod printing;
pub mod ranking;
mod screws;
mod structure;
mod wiring;

pub use clearance::{Clearance, clearances};
pub use outcome::{Outcome, Sense, Verdict};
pub use ranking::{Growth, Load, Ranking};

use rayon::prelude::*;

use crate::design::PartName;
use crate::product::Product;

/// One check: what it compares, on what ground, and the function that does.
pub struct Check {
    /// Name as in the report and for `explain`.
    pub id: &'static str,
    pub title: &'static str,
    /// Unit of value and limit in the report.
    pub unit: &'static str,
    /// Under which load, and how the value goes with it.
    pub load: Load,
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

/// A stated estimate, no standard behind it.
const ESTIMATE: &str = "stated estimate, no standard";

/// Every check, in the order of report and summary: what hangs on the joint, what drives it, what holds it together,
/// whether it prints, what it may weigh.
pub fn all() -> impl Iterator<Item = &'static Check> {
    [
        bearings::CHECKS,
        drive::CHECKS,
        control::CHECKS,
        gears::CHECKS,
        gear_life::CHECKS,
        joints::CHECKS,
        bolting::CHECKS,
        structure::CHECKS,
        wiring::CHECKS,
        fit::CHECKS,
        screws::CHECKS,
        axial::CHECKS,
        printing::CHECKS,
        envelope::CHECKS,
    ]
    .into_iter()
    .flatten()
}

/// Checks that ask for no drawn part, in the order of [`all`]: what of [`Product::undrawn`] can be judged. A blow on the teeth
/// wants the inertia of the drawn ones.
pub fn undrawn() -> impl Iterator<Item = &'static Check> {
    const BLOW: &str = "root-blow";
    [
        bearings::CHECKS,
        drive::CHECKS,
        gears::CHECKS,
        gear_life::CHECKS,
        joints::CHECKS,
        bolting::CHECKS,
        structure::CHECKS,
        wiring::CHECKS,
    ]
    .into_iter()
    .flatten()
    .filter(|check| check.id != BLOW)
}

/// All checks on one made design, in the order of [`all`].
pub fn run(made: &Product) -> Vec<Checked> {
    let checks: Vec<&'static Check> = all().collect();
    checks.par_iter().map(|check| Checked { check, outcome: (check.run)(made) }).collect()
}

/// The check of a name.
pub fn find(id: &str) -> Option<&'static Check> {
    all().find(|check| check.id == id)
}
