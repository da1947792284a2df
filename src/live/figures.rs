//! What the page says about a made design: figures at a glance, and checks, the first to give way first.

use serde_json::{Value, json};

use crate::checks::{Checked, Load, Verdict};
use crate::commands::make::checks_tree;
use crate::export::report::ranking::ranking;
use crate::pipeline::Made;

/// Figures and checks of one version.
pub fn tree(made: &Made) -> Value {
    let count = |verdict| made.checks.iter().filter(|checked| checked.outcome.verdict == verdict).count();
    json!({
        "glance": glance(made),
        "counts": {
            "hold": count(Verdict::Holds),
            "warn": count(Verdict::Warns),
            "fail": count(Verdict::Fails),
            "not_applicable": count(Verdict::NotApplicable),
        },
        "ranking": ranking(made),
        "checks": checks_tree(&made.checks),
    })
}

fn figure(id: &str, label: &str, unit: &str, value: Option<f64>) -> Value {
    json!({ "id": id, "label": label, "unit": unit, "value": value.filter(|value| value.is_finite()) })
}

fn glance(made: &Made) -> Vec<Value> {
    let product = &made.product;
    let actuator = &product.actuator;
    let held = product.heat.as_ref().ok().and_then(|heat| heat.continuous.as_ref().ok());
    let life = product.bearings.output.as_ref().map(|life| life.judged());
    vec![
        figure("peak", "Peak torque asked", "N m", Some(actuator.torques.output)),
        figure("held", "Torque held for good, at rest (estimate)", "N m", held.map(|held| held.torque)),
        figure("mass", "Mass", "g", Some(product.bom.total_mass() * 1e3)),
        figure("life", "Life of the output bearing", "h", life),
        figure("margin", "Least margin under load", "%", least_margin(&made.checks)),
        figure("ratio", "Ratio of the stage", "", Some(actuator.stage.ratio)),
        figure(
            "backlash",
            "Backlash at the output",
            "deg",
            Some(actuator.stage.output_backlash.to_degrees()),
        ),
        figure("outside", "Outside diameter", "mm", Some(actuator.outer_diameter())),
        figure("height", "Height", "mm", Some(actuator.stations.output_face)),
    ]
}

/// In per cent, of the checks that are made under a load: a count that must be exact has no margin to watch.
fn least_margin(checks: &[Checked]) -> Option<f64> {
    let loaded = checks.iter().filter(|checked| checked.check.load != Load::None);
    let margins = loaded.filter_map(|checked| checked.outcome.margin());
    margins.map(|margin| margin * 100.0).min_by(f64::total_cmp)
}
