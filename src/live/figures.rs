//! What the page says about a made design: figures at a glance, and checks, the first to give way first.

use serde_json::{Value, json};

use crate::checks::Verdict;
use crate::commands::make::checks_tree;
use crate::comparison::{rows, sizes};
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

/// Figures at a glance: name on the page, and as in a comparison of two designs.
const GLANCE: [(&str, &str); 9] = [
    ("peak", "peak_torque_n_m"),
    ("held", "continuous_torque_n_m"),
    ("mass", "mass_total_g"),
    ("life", "life_output_h"),
    ("margin", "least_margin"),
    ("ratio", "ratio"),
    ("backlash", "backlash_deg"),
    ("outside", "outer_diameter_mm"),
    ("height", "height_mm"),
];

fn glance(made: &Made) -> Vec<Value> {
    let actuator = &made.product.actuator;
    let of = |name: &str| rows::number(name, made).or_else(|| sizes::number(name, actuator));
    let figure = |(id, name): (&str, &str)| {
        let (label, unit, value) = of(name)?;
        Some(json!({ "id": id, "label": label, "unit": unit, "value": value }))
    };
    GLANCE.into_iter().filter_map(figure).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{design, pipeline};
    use std::path::Path;

    #[test]
    fn every_figure_of_the_glance_is_there() {
        let loaded = design::load(Path::new("designs/weeder-wrist.toml")).expect("the demo loads");
        let made = pipeline::make(&loaded.design).expect("the demo makes");
        let figures = glance(&made);
        assert_eq!(figures.len(), GLANCE.len());
        assert!(figures.iter().all(|figure| figure["value"].is_number()), "{figures:?}");
    }
}
