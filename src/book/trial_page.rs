//! `trial.html`: the trial as a page that loads nothing from anywhere.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::page::BOOK_STYLE;
use super::text::{table, words};
use crate::trial::sheet::{CAUTIONS, METHOD, lines};
use crate::trial::write_back::{Change, Changes};
use crate::trial::{Identified, TestResult, Trial, plot};
use crate::web::frame;

/// The drawing's own type sizes hold; on a narrow page it is moved sideways rather than shrunk past reading.
const PLOT_STYLE: &str = ".trial-plot{overflow-x:auto;border:1px solid var(--rule);max-width:48rem}.trial-plot svg{display:block;width:100%;min-width:30rem;height:auto}";

/// The page; `written` where the measured values went into a design file.
pub fn page(trial: &Trial, name: &str, changes: &Changes, written: Option<&str>) -> String {
    let markup = html! {
        (DOCTYPE)
        html lang="en" {
            (frame::head(&format!("Trial of {name}"), frame::STILL, &[BOOK_STYLE, PLOT_STYLE]))
            body {
                main {
                    h1 { "Trial of " (name) }
                    p { (CAUTIONS.join(" ")) }
                    (summary(trial))
                    @for result in &trial.results { (one(result)) }
                    (into_the_design(changes, written))
                    (missing(trial))
                    h2 { "Method" }
                    p { (METHOD) }
                }
                (frame::foot())
            }
        }
    };
    markup.into_string()
}

/// All that was identified, in one table.
fn summary(trial: &Trial) -> Markup {
    let rows: Vec<Vec<String>> =
        trial.results.iter().flat_map(|result| result.identified.iter().map(row)).collect();
    html! {
        h2 { "What the joint is" }
        @if rows.is_empty() { p { "Nothing is identified by these readings; the tests below say why." } }
        @else { (table(&HEAD, &rows, 1)) }
    }
}

const HEAD: [&str; 4] = ["quantity", "measured", "95 % interval", "predicted"];

fn row(found: &Identified) -> Vec<String> {
    let [low, high] = found.interval.map(|end| found.measure.text(end));
    let predicted = found.predicted.map_or("-".into(), |value| found.measure.text(value));
    vec![found.name.to_string(), found.measure.text(found.value), format!("{low} to {high}"), predicted]
}

fn one(result: &TestResult) -> Markup {
    let title = result.kind.info().title;
    let told = lines(result);
    // As an element of the page it takes the page's colours.
    let drawing = plot::svg(result);
    let drawing = drawing.split_once("?>").map_or(drawing.as_str(), |(_, rest)| rest);
    html! {
        section {
            h2 { (title) " (" code { (result.kind.word()) } ")" }
            @if !result.points.is_empty() {
                figure.trial-plot tabindex="0" role="group" aria-label={ (title) ": plot; what it shows is told below" } { (PreEscaped(drawing)) }
            }
            @if !result.identified.is_empty() {
                (table(&HEAD, &result.identified.iter().map(row).collect::<Vec<_>>(), 1))
            }
            ul { @for line in &told { li { (words(line.trim())) } } }
        }
    }
}

fn into_the_design(changes: &Changes, written: Option<&str>) -> Markup {
    let rows: Vec<Vec<String>> = changes.changes.iter().map(change).collect();
    html! {
        h2 { "For the design file" }
        @match written {
            Some(file) => p { "Written into " code { (file) } ":" },
            None => p { (words("Not written; `hubwright trial DESIGN LOG --write FILE` does it, comments kept:")) },
        }
        @if rows.is_empty() { p { "No key of the design file takes what was measured." } }
        @else { (table(&["key", "was", "measured", "how"], &rows, 4)) }
        @if !changes.refused.is_empty() { ul { @for refused in &changes.refused { li { (refused) } } } }
    }
}

fn change(change: &Change) -> Vec<String> {
    let old = if change.old.is_empty() { "not given" } else { change.old.as_str() };
    vec![format!("`{}`", change.key), old.to_string(), change.new.clone(), change.comment.clone()]
}

fn missing(trial: &Trial) -> Markup {
    html! {
        @if !trial.missing.is_empty() {
            h2 { "Not in the log, so not identified" }
            ul { @for kind in &trial.missing { li { code { (kind.word()) } ": " (kind.info().identifies) } } }
        }
    }
}
