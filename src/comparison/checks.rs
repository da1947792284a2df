//! The same check on both designs.

use crate::checks::{Check, Checked, Outcome, Verdict};
use crate::export::summary::significant;
use crate::pipeline::Made;

/// A check on both sides.
#[derive(Clone)]
pub struct CheckRow {
    pub check: &'static Check,
    pub outcomes: [Outcome; 2],
}

impl std::fmt::Debug for CheckRow {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("CheckRow").field("id", &self.check.id).field("outcomes", &self.outcomes).finish()
    }
}

/// How far two outcomes differ, the gravest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Change {
    /// Another verdict, worse on the right.
    Worse,
    /// Another verdict, better on the right.
    Better,
    /// Applies to one of them alone.
    Applies,
    /// The same verdict with another value or limit.
    Figures,
    None,
}

/// In hand on both sides: beyond tenfold the figure says nothing more.
const PLENTY: f64 = 10.0;

impl CheckRow {
    pub fn change(&self) -> Change {
        let [left, right] = &self.outcomes;
        if left.verdict != right.verdict {
            if [left.verdict, right.verdict].contains(&Verdict::NotApplicable) {
                // One that fails where the other has nothing to judge has got worse all the same.
                return match (grade(left.verdict), grade(right.verdict)) {
                    (_, FAILS) => Change::Worse,
                    (FAILS, _) => Change::Better,
                    _ => Change::Applies,
                };
            }
            return if grade(right.verdict) > grade(left.verdict) { Change::Worse } else { Change::Better };
        }
        if self.margins().iter().all(|margin| margin.is_some_and(|margin| margin > PLENTY)) {
            return Change::None;
        }
        // To the digits that are told: a thousandth of a margin is no change.
        let same = |a: Option<f64>, b: Option<f64>| a.map(significant) == b.map(significant);
        if same(left.value, right.value) && same(left.limit, right.limit) {
            Change::None
        } else {
            Change::Figures
        }
    }

    pub fn differs(&self) -> bool {
        self.change() != Change::None
    }

    /// Margins of both, where there are any.
    pub fn margins(&self) -> [Option<f64>; 2] {
        [self.outcomes[0].margin(), self.outcomes[1].margin()]
    }
}

/// Grade of what fails.
const FAILS: u8 = 2;

/// The larger the worse; what doesn't apply is nothing to worry about.
fn grade(verdict: Verdict) -> u8 {
    match verdict {
        Verdict::Holds | Verdict::NotApplicable => 0,
        Verdict::Warns => 1,
        Verdict::Fails => FAILS,
    }
}

/// All checks, in their usual order within each kind of change.
pub fn rows(sides: [&Made; 2]) -> Vec<CheckRow> {
    let of = |side: &Made, row: &Checked| {
        side.checks.iter().find(|other| other.check.id == row.check.id).map(|found| found.outcome.clone())
    };
    // Both ran the same table; a check that one lacks would have nothing to stand beside.
    let mut rows: Vec<CheckRow> = sides[0]
        .checks
        .iter()
        .filter_map(|row| {
            Some(CheckRow { check: row.check, outcomes: [row.outcome.clone(), of(sides[1], row)?] })
        })
        .collect();
    rows.sort_by_key(CheckRow::change);
    rows
}
