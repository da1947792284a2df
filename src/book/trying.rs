//! The test plan: what to measure on the bench, and what is accepted; the plan of `hubwright rig`.

use maud::{Markup, html};

use super::text::{table, words};
use crate::cautions;
use crate::product::Product;
use crate::rig::plan::Expected;
use crate::rig::sheet::number;
use crate::rig::{Sizes, Step, plan};

/// The plan, or why there is none.
pub fn trying(product: &Product) -> Markup {
    let sizes = match Sizes::of(&product.actuator) {
        Ok(sizes) => sizes,
        Err(why) => {
            return html! { p { "There is no rig for this design, and so no plan: " (why.to_string()) } };
        }
    };
    html! {
        p { (words("`hubwright rig` makes the printed parts named here. Note each reading in a CSV file (`hubwright trial --columns` says how); `hubwright trial` then tells what the joint really is.")) }
        ul { @for caution in cautions::BENCH { li { (caution) } } }
        (measured(product))
        @for (step, index) in plan(product, &sizes).iter().zip(1..) { (one(step, index)) }
    }
}

/// Which inputs of this design a trial measured.
fn measured(product: &Product) -> Markup {
    let measured = &product.actuator.design.measured;
    let rows: Vec<Vec<String>> = measured
        .iter()
        .map(|one| vec![format!("`{}`", one.key), one.value.clone(), one.how.clone()])
        .collect();
    html! {
        h3 { "Measured so far" }
        @if rows.is_empty() {
            p { (words("None of this design's inputs is measured: all figures rest on data sheets and estimates. `hubwright trial DESIGN LOG --write FILE` puts measured values in.")) }
        } @else {
            p { "These inputs are measured; all other figures rest on data sheets and estimates. The interval holds the scatter of the readings, not an error of scale or lever." }
            (table(&["input", "value", "how"], &rows, 3))
        }
    }
}

fn one(step: &Step, index: usize) -> Markup {
    html! {
        h3 { (index) ". " (step.title) }
        p { (words(&step.how)) }
        ul {
            @if !step.parts.is_empty() { li { "Parts: " (step.parts.join(", ")) } }
            li { "Supply: " (words(&step.supply)) }
            @if !step.unknown.is_empty() { li { (words(&step.unknown)) } }
            @for caution in &step.cautions { li { strong { "Caution: " } (caution) } }
        }
        @if !step.expected.is_empty() {
            @let rows: Vec<Vec<String>> = step.expected.iter().map(row).collect();
            (table(&["reading", "expected", "accept from", "to"], &rows, 1))
        }
    }
}

fn row(expected: &Expected) -> Vec<String> {
    let with_unit = |value: f64| format!("{} {}", number(value), expected.unit).trim_end().to_string();
    vec![expected.what.clone(), with_unit(expected.value), with_unit(expected.low), with_unit(expected.high)]
}
