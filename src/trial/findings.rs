//! A trial: every kind of test in a log, in the order in which one builds on another.

use super::bench::{Bench, Identified, TestResult};
use super::columns::{TESTS, TestKind};
use super::log::Log;
use super::{electric, give, means, torque, warming};
use crate::product::Product;
use crate::quantity::format_number;

/// What a log says of a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Trial {
    pub results: Vec<TestResult>,
    /// Kinds of test that the log has none of.
    pub missing: Vec<TestKind>,
}

impl Trial {
    pub fn of(product: &Product, log: &Log) -> Trial {
        let mut bench = Bench::of(product);
        let mut results = Vec::new();
        let mut missing = Vec::new();
        for info in &TESTS {
            let rows = log.of(info.kind);
            if rows.is_empty() {
                missing.push(info.kind);
                continue;
            }
            let mut result = match info.kind {
                TestKind::Spin => electric::spin(&mut bench, rows),
                TestKind::Resistance => electric::resistance(&mut bench, rows),
                TestKind::NoLoad => electric::no_load(&mut bench, rows),
                TestKind::Torque => torque::torque(&mut bench, rows),
                TestKind::FreeRun => torque::free_run(&mut bench, rows),
                TestKind::BackDrive => means::back_driven(&mut bench, rows),
                TestKind::BreakAway => means::break_away(&mut bench, rows),
                TestKind::Cogging => means::cogging(&mut bench, rows),
                TestKind::Backlash => give::backlash(&mut bench, rows),
                TestKind::Stiffness => give::stiffness(&mut bench, rows),
                TestKind::Heat => warming::heat(&mut bench, rows),
                TestKind::TopSpeed => means::top_speed(&mut bench, rows),
            };
            result.remarks.extend(far_off(&result));
            results.push(result);
        }
        Trial { results, missing }
    }

    /// A test by its kind.
    pub fn result(&self, kind: TestKind) -> Option<&TestResult> {
        self.results.iter().find(|result| result.kind == kind)
    }

    /// A quantity by its name.
    pub fn identified(&self, name: &str) -> Option<&Identified> {
        self.results.iter().flat_map(|result| &result.identified).find(|identified| identified.name == name)
    }
}

/// Readings that are all of them another size than the prediction: a unit, a wrong motor, a lever.
fn far_off(result: &TestResult) -> Option<String> {
    /// As far as no sample is from its sheet.
    const FAR: f64 = 4.0;
    let mut ratios: Vec<f64> = result
        .points
        .iter()
        .filter_map(|point| Some(point.measured / point.predicted?[0]))
        .filter(|ratio| ratio.is_finite() && *ratio > 0.0)
        .collect();
    ratios.sort_by(f64::total_cmp);
    let middle = *ratios.get(ratios.len() / 2)?;
    (result.kind != TestKind::Heat && !(1.0 / FAR..=FAR).contains(&middle)).then(|| {
        format!(
            "The readings are about {} times the prediction: is a unit of the log, the lever, or the design another one?",
            format_number(format!("{middle:.1e}").parse().unwrap_or(middle))
        )
    })
}
