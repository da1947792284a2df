//! A trial as text for people and as a tree for machines.

use serde_json::{Value, json};

use super::bench::{Identified, TestResult};
use super::findings::Trial;
use super::plot::MOST_DRAWN;
use crate::cautions;
use crate::export::markdown::table;

/// Lines of readings named one by one; more are only counted in the text, and all in the tree.
const MOST_LINES: usize = 20;

/// How the intervals come about, in a few sentences.
pub const METHOD: &str = "Least squares (Levenberg-Marquardt); intervals of 95 % from the Jacobian's covariance and Student's t. They hold the scatter of the \
readings alone: an error of scale, lever or thermometer comes on top. Outliers: modified z-score about a fit with Huber's weights (Iglewicz and \
Hoaglin) over 3.5 and over what chance gives in one log of twenty, from ten readings on; they stay in the table and out of the fit. Bands of the prediction: torque 10 %, Kv and resistance 10 %, temperature \
10 K, back-drive by a factor of 1.5 (2.25 before the drag was measured), backlash by 2, friction 50 % (common practice, no source).";

/// Shown wherever someone may go back to the bench.
pub const CAUTIONS: [&str; 3] = [cautions::CLAMP, cautions::FIRST, cautions::ESTIMATE];

/// What every quantity is, one a row.
fn rows(result: &TestResult) -> Vec<Vec<String>> {
    let row = |found: &Identified| {
        let [low, high] = found.interval.map(|end| found.measure.text(end));
        let predicted = found.predicted.map_or("-".into(), |value| found.measure.text(value));
        vec![found.name.to_string(), found.measure.text(found.value), format!("{low} to {high}"), predicted]
    };
    result.identified.iter().map(row).collect()
}

fn head() -> Vec<String> {
    ["quantity", "measured", "95 % interval", "predicted"].map(String::from).to_vec()
}

/// What to know about a test, one sentence a line.
pub fn lines(result: &TestResult) -> Vec<String> {
    let mut lines = Vec::new();
    let [inside, judged] = result.within();
    let count = result.points.len();
    lines.push(if judged > 0 {
        format!("{count} readings; {inside} of {judged} inside the band of the prediction.")
    } else {
        format!("{count} readings; nothing is predicted.")
    });
    let outliers: Vec<String> = result.outliers().map(|point| point.line.to_string()).collect();
    if !outliers.is_empty() {
        let shown = outliers.get(..MOST_LINES.min(outliers.len())).unwrap_or_default().join(", ");
        let more = outliers.len().saturating_sub(MOST_LINES);
        let more = if more > 0 { format!(" and {more} more") } else { String::new() };
        lines.push(format!("Outliers, shown but not in the fit: line {shown}{more}."));
        for found in &result.identified {
            if let Some(with) = found.with_outliers {
                lines.push(format!("  With them {} would be {}.", found.name, found.measure.text(with)));
            }
        }
    }
    for impossible in result.impossible.iter().take(MOST_LINES) {
        let end = if impossible.why.ends_with('?') { "" } else { "." };
        lines.push(format!("Impossible, left out: line {}: {}{end}", impossible.line, impossible.why));
    }
    if result.impossible.len() > MOST_LINES {
        lines.push(format!("... and {} more impossible readings.", result.impossible.len() - MOST_LINES));
    }
    lines.extend(result.remarks.iter().cloned());
    lines
}

/// For the terminal.
pub fn text(trial: &Trial, name: &str) -> String {
    let mut text = format!("Trial of {name}\n");
    for result in &trial.results {
        text.push_str(&format!("\n{} ({})\n", result.kind.info().title, result.kind.word()));
        if !result.identified.is_empty() {
            text.push_str(&table(&head(), &rows(result), 1));
        }
        for line in lines(result) {
            text.push_str(&format!("  {line}\n"));
        }
    }
    if !trial.missing.is_empty() {
        text.push_str("\nNot in the log, so not identified:\n");
        for kind in &trial.missing {
            text.push_str(&format!("  {:<11} {}\n", kind.word(), kind.info().identifies));
        }
    }
    text.push_str(&format!("\n{METHOD}\n{}\n", CAUTIONS.join(" ")));
    text
}

/// The page.
pub fn markdown(trial: &Trial, name: &str) -> String {
    let mut text = format!("# Trial of {name}\n");
    for result in &trial.results {
        let word = result.kind.word();
        text.push_str(&format!("\n## {}\n\n", result.kind.info().title));
        if !result.identified.is_empty() {
            text.push_str(&table(&head(), &rows(result), 1));
            text.push('\n');
        }
        text.push_str(&format!("![{}]({word}.svg)\n\n", result.kind.info().title));
        for line in lines(result) {
            text.push_str(&format!("- {}\n", line.trim()));
        }
    }
    if !trial.missing.is_empty() {
        text.push_str("\n## Not in the log, so not identified\n\n");
        for kind in &trial.missing {
            text.push_str(&format!("- `{}`: {}\n", kind.word(), kind.info().identifies));
        }
    }
    text.push_str(&format!("\n## Method\n\n{METHOD}\n\n{}\n", CAUTIONS.join(" ")));
    text
}

/// For machines; internal units (mm, rad, else SI; degC).
pub fn tree(trial: &Trial, name: &str) -> Value {
    json!({
        "design": name,
        "tests": trial.results.iter().map(test).collect::<Vec<_>>(),
        "missing": trial.missing.iter().map(|kind| kind.word()).collect::<Vec<_>>(),
        "method": METHOD,
    })
}

fn test(result: &TestResult) -> Value {
    let [inside, judged] = result.within();
    let stride = result.points.len().div_ceil(MOST_DRAWN).max(1);
    let points: Vec<Value> = result
        .points
        .iter()
        .enumerate()
        .filter(|(index, point)| index % stride == 0 || !point.used)
        .map(|(_, point)| {
            json!({
                "line": point.line,
                "series": result.series.get(point.series),
                "x": point.x,
                "measured": point.measured,
                "predicted": point.predicted.map(|[value, ..]| value),
                "band": point.predicted.map(|[_, low, high]| [low, high]),
                "fitted": point.fitted,
                "outlier": !point.used,
            })
        })
        .collect();
    let identified: Vec<Value> = result
        .identified
        .iter()
        .map(|found| {
            json!({
                "name": found.name,
                "value": found.value,
                "standard_error": found.error,
                "degrees_of_freedom": found.freedom,
                "interval_95": found.interval,
                "predicted": found.predicted,
                "with_outliers": found.with_outliers,
                "text": found.measure.text(found.value),
                "key": found.key.as_ref().map(|(key, _)| *key),
            })
        })
        .collect();
    json!({
        "test": result.kind.word(),
        "title": result.kind.info().title,
        "readings": result.points.len(),
        "inside_band": inside,
        "with_prediction": judged,
        "scatter": result.scatter,
        "identified": identified,
        "outliers": result.outliers().map(|point| point.line).collect::<Vec<_>>(),
        "impossible": result.impossible.iter().map(|one| json!({ "line": one.line, "why": one.why })).collect::<Vec<_>>(),
        "remarks": result.remarks,
        "x": result.x.name,
        "y": result.y.name,
        "points": points,
    })
}
