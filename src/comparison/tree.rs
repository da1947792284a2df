//! A comparison as a tree for machines: every row, with whether it differs.

use serde_json::{Value, json};

use super::Comparison;
use super::bill::BillRow;
use super::checks::{Change, CheckRow};
use super::figures::{FigureRow, Reading};
use super::inputs::InputRow;
use super::parts::{PartRow, State};
use super::sameness::TOLERANCE;
use crate::checks::Outcome;

/// Digits after the point, as in the report.
fn round(value: f64) -> f64 {
    let rounded = (value * 1e6).round() / 1e6;
    // -0.0 and 0.0 are one value.
    if rounded == 0.0 { 0.0 } else { rounded }
}

fn maybe(value: Option<f64>) -> Value {
    value.map_or(Value::Null, |value| json!(round(value)))
}

/// All of it.
pub fn tree(comparison: &Comparison) -> Value {
    json!({
        "designs": comparison.names,
        "differing": {
            "inputs": count(&comparison.inputs, InputRow::differs),
            "figures": count(&comparison.figures, FigureRow::differs),
            "sizes": count(&comparison.sizes, FigureRow::differs),
            "checks": count(&comparison.checks, CheckRow::differs),
            "parts": count(&comparison.parts, PartRow::differs),
            "bought": count(&comparison.bill, BillRow::differs),
        },
        "inputs": comparison.inputs.iter().map(input).collect::<Vec<_>>(),
        "figures": comparison.figures.iter().map(figure).collect::<Vec<_>>(),
        "sizes": comparison.sizes.iter().map(figure).collect::<Vec<_>>(),
        "checks": comparison.checks.iter().map(check).collect::<Vec<_>>(),
        "tolerance_mm": TOLERANCE,
        "parts": comparison.parts.iter().map(part).collect::<Vec<_>>(),
        "bought": comparison.bill.iter().map(bought).collect::<Vec<_>>(),
    })
}

fn count<R>(rows: &[R], differs: impl Fn(&R) -> bool) -> usize {
    rows.iter().filter(|row| differs(row)).count()
}

fn input(row: &InputRow) -> Value {
    json!({
        "key": row.key,
        "values": row.values,
        "given": row.given,
        "differs": row.differs(),
        "follows": row.follows(),
    })
}

fn figure(row: &FigureRow) -> Value {
    let reading = |reading: &Reading| match reading {
        Reading::Number(value) => json!(round(*value)),
        Reading::Text(text) => json!(text),
        Reading::None => Value::Null,
    };
    json!({
        "id": row.id,
        "group": row.group,
        "label": row.label,
        "unit": row.unit,
        "values": row.values.iter().map(reading).collect::<Vec<_>>(),
        "differs": row.differs(),
        "change": maybe(row.change()),
        "second_is_better": row.second_is_better(),
    })
}

fn check(row: &CheckRow) -> Value {
    let outcome = |outcome: &Outcome| {
        json!({
            "value": maybe(outcome.value),
            "limit": maybe(outcome.limit),
            "margin": maybe(outcome.margin()),
            "verdict": outcome.verdict.as_str(),
            "remark": outcome.remark,
            "remedy": outcome.remedy,
        })
    };
    json!({
        "id": row.check.id,
        "title": row.check.title,
        "unit": row.check.unit,
        "outcomes": row.outcomes.iter().map(outcome).collect::<Vec<_>>(),
        "differs": row.differs(),
        "change": match row.change() {
            Change::Worse => "worse",
            Change::Better => "better",
            Change::Applies => "applies to one",
            Change::Figures => "value",
            Change::None => "none",
        },
    })
}

fn part(row: &PartRow) -> Value {
    let (state, apart, shape) = match &row.state {
        State::Same { apart } => ("same", Some(*apart), None),
        State::Changed { shape, .. } => ("changed", None, *shape),
        State::OnlyFirst => ("only in the first", None, None),
        State::OnlySecond => ("only in the second", None, None),
    };
    let settings: Vec<Value> = match &row.state {
        State::Changed { settings, .. } => {
            settings.iter().map(|one| json!({ "name": one.name, "values": one.values })).collect()
        }
        _ => Vec::new(),
    };
    json!({
        "name": row.name.as_str(),
        "state": state,
        "apart_mm": maybe(apart),
        "shape_differs_between_mm": shape.map(|ends| ends.map(round)),
        "settings": settings,
        "count": row.count,
        "to_print": row.to_print(),
        "size_mm": row.size.map(|size| size.map(|size| size.map(round))),
        "print_mass_g": row.mass.map(|mass| maybe(mass.map(|mass| mass * 1e3))),
    })
}

fn bought(row: &BillRow) -> Value {
    json!({
        "kind": row.kind.as_str(),
        "designation": row.designation,
        "material": row.material,
        "uses": row.uses,
        "quantity": row.quantity,
        "to_buy": row.more(),
        "left_over": row.over(),
        "unit_mass_g": maybe(row.unit_mass.map(|mass| mass * 1e3)),
        "unit_cost": maybe(row.unit_cost),
    })
}
