//! The choices as a scatter, in a page of its own: mass against continuous torque, mass against diameter.

use maud::{DOCTYPE, PreEscaped, html};

use super::rate::Choice;
use super::run::Found;

const SIZE: [f64; 2] = [520.0, 340.0];
const EDGE: f64 = 48.0;
const STYLE: &str = "body{font:15px/1.4 sans-serif;margin:2em;max-width:1140px;color:#222}svg{border:1px solid #ccc;margin:0 1em 1em 0}\
text{font:12px sans-serif;fill:#222}circle{fill:#2b6ca3}circle.first{fill:#b3261e}line{stroke:#999}";

struct Axis {
    title: &'static str,
    value: fn(&Choice) -> f64,
}

const MASS: Axis = Axis { title: "mass, g", value: |choice| choice.objectives.mass * 1e3 };
const TORQUE: Axis = Axis { title: "continuous torque, N m", value: |choice| choice.objectives.continuous };
const DIAMETER: Axis = Axis { title: "diameter, mm", value: |choice| choice.objectives.diameter };
const HEIGHT: Axis = Axis { title: "height, mm", value: |choice| choice.objectives.height };
const BACK: Axis = Axis { title: "back-drive torque, N m", value: |choice| choice.objectives.backdrive };

/// The page.
pub fn page(name: &str, found: &Found, table: &str) -> String {
    let plots = [[MASS, TORQUE], [MASS, DIAMETER], [HEIGHT, DIAMETER], [BACK, TORQUE]];
    html! {
        (DOCTYPE)
        html lang="en" {
            head { meta charset="utf-8"; title { "Choices for " (name) } style { (PreEscaped(STYLE)) } }
            body {
                h1 { "Choices for " (name) }
                p { "Each dot is a design that was made and whose checks hold; numbers are places in the table, 1 is red." }
                @for [across, up] in &plots { (scatter(&found.choices, across, up)) }
                pre { (table) }
            }
        }
    }
    .into_string()
}

/// Ends of an axis, a little beyond the values.
fn ends(choices: &[Choice], axis: &Axis) -> [f64; 2] {
    let values = || choices.iter().map(axis.value);
    let (least, most) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
    let room = if most > least { 0.08 * (most - least) } else { 0.05 * most.abs() + 0.05 };
    [least - room, most + room]
}

fn scatter(choices: &[Choice], across: &Axis, up: &Axis) -> maud::Markup {
    let ([x0, x1], [y0, y1]) = (ends(choices, across), ends(choices, up));
    let [width, height] = SIZE;
    let x = |value: f64| EDGE + (value - x0) / (x1 - x0) * (width - 2.0 * EDGE);
    let y = |value: f64| height - EDGE - (value - y0) / (y1 - y0) * (height - 2.0 * EDGE);
    let ticks = |from: f64, to: f64| (0..=4).map(move |step| from + (to - from) * f64::from(step) / 4.0);
    let number =
        |value: f64| if value.abs() >= 100.0 { format!("{value:.0}") } else { format!("{value:.2}") };
    let at = |value: f64| format!("{value:.1}");
    html! {
        svg xmlns="http://www.w3.org/2000/svg" width=(width) height=(height) role="img" {
            title { (up.title) " against " (across.title) }
            line x1=(EDGE) y1=(height - EDGE) x2=(width - EDGE) y2=(height - EDGE) {}
            line x1=(EDGE) y1=(EDGE) x2=(EDGE) y2=(height - EDGE) {}
            @for tick in ticks(x0, x1) { text x=(at(x(tick))) y=(height - EDGE + 16.0) text-anchor="middle" { (number(tick)) } }
            @for tick in ticks(y0, y1) { text x=(EDGE - 5.0) y=(at(y(tick) + 4.0)) text-anchor="end" { (number(tick)) } }
            text x=(width / 2.0) y=(height - 10.0) text-anchor="middle" { (across.title) }
            text x=(EDGE) y="24" { (up.title) }
            @for (place, choice) in choices.iter().enumerate() {
                circle class=[(place == 0).then_some("first")] cx=(at(x((across.value)(choice)))) cy=(at(y((up.value)(choice)))) r="4" {}
                text x=(at(x((across.value)(choice)) + 6.0)) y=(at(y((up.value)(choice)) - 4.0)) { (place + 1) }
            }
        }
    }
}
