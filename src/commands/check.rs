//! `hubwright check DESIGN`: the checks alone, as a table; writes nothing.

use std::fmt::Write;
use std::path::Path;

use comfy_table::{CellAlignment, ContentArrangement, Table, presets::NOTHING};
use serde_json::json;

use super::make::{checks_tree, exit, made};
use super::{Answer, Exit};
use crate::checks::{Checked, Verdict};
use crate::design;
use crate::export::report::ranking::ranking;
use crate::export::summary::{significant, weakest};

/// So many of each list are worth a change at a time.
const WEAKEST: usize = 3;

/// Checks a design.
pub fn check(design: &Path) -> Answer {
    let loaded = match design::load(design) {
        Ok(loaded) => loaded,
        Err(problems) => return Answer::refused(problems, Exit::WrongInput),
    };
    match made(&loaded) {
        Ok(made) => {
            let tree = json!({
                "design": loaded.design.name,
                "checks": checks_tree(&made.checks),
                "ranking": ranking(&made),
            });
            let text =
                format!("{}\n{}\n{}", table(&made.checks), remedies(&made.checks), weakest(&made, WEAKEST));
            Answer { problems: loaded.problems, ..Answer::new(text, tree, exit(&made.checks)) }
        }
        Err(problems) => Answer::refused(problems, Exit::WrongInput),
    }
}

fn table(checks: &[Checked]) -> String {
    let mut grid = Table::new();
    grid.load_preset(NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(["check", "what", "value", "limit", "unit", "in hand", "verdict"]);
    for checked in checks {
        let (check, outcome) = (checked.check, &checked.outcome);
        let number = |value: Option<f64>| value.map_or_else(|| "-".to_string(), significant);
        let margin = match outcome.margin() {
            None => "-".to_string(),
            Some(margin) if margin > 10.0 => "> 1000 %".to_string(),
            Some(margin) => format!("{:.0} %", margin * 100.0),
        };
        grid.add_row([
            check.id.to_string(),
            check.title.to_string(),
            number(outcome.value),
            number(outcome.limit),
            check.unit.to_string(),
            margin,
            outcome.verdict.as_str().to_string(),
        ]);
    }
    for column in [2, 3, 5] {
        if let Some(column) = grid.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    grid.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// What each check that doesn't simply hold says, and what to change.
fn remedies(checks: &[Checked]) -> String {
    let mut text = String::new();
    for checked in checks.iter().filter(|checked| checked.outcome.verdict != Verdict::Holds) {
        let outcome = &checked.outcome;
        let said: Vec<String> = [&outcome.remark, &outcome.remedy]
            .into_iter()
            .map(ToString::to_string)
            .filter(|part| !part.is_empty())
            .collect();
        if !said.is_empty() {
            // Writing to a String cannot fail.
            let _ = writeln!(text, "{} ({}): {}", checked.check.id, outcome.verdict.as_str(), said.join(" "));
        }
    }
    text
}
