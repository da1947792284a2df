//! The search as a page of its own: requirement, stages, scatters, the ranked table, what missed, other reducers.

use maud::{DOCTYPE, Markup, PreEscaped, html};

use super::rate::Choice;
use super::reducers;
use super::requirement::Space;
use super::run::Found;
use super::table;

const SIZE: [f64; 2] = [520.0, 340.0];
const EDGE: f64 = 52.0;
/// Choices with a number in the pictures: more would hide each other.
const NUMBERED: usize = 12;
/// Labels nearer than this to another, or on a dot, are left out.
const LABEL: [f64; 2] = [14.0, 11.0];
/// Of motors, in the order of the file, again from the first after the last.
const COLOURS: [&str; 6] = ["#2b6ca3", "#2f855a", "#b7791f", "#6b46c1", "#c05621", "#4a5568"];
const FIRST: &str = "#b3261e";
const STYLE: &str = "body{font:15px/1.45 sans-serif;margin:2em auto;max-width:1120px;padding:0 1em;color:#222}\
h2{margin-top:1.6em;font-size:1.2em}table{border-collapse:collapse;font-size:13px}\
.wide{overflow-x:auto}th,td{padding:3px 8px;text-align:left;border-bottom:1px solid #ddd;white-space:nowrap}\
td.why{white-space:normal;min-width:9em}th{border-bottom:2px solid #888}tr:first-child td{font-weight:600}\
pre{background:#f6f6f6;padding:.8em;overflow-x:auto;font-size:13px}\
.plots{display:grid;grid-template-columns:repeat(auto-fit,minmax(440px,1fr));gap:12px}\
svg{border:1px solid #ccc;width:100%;height:auto}svg text{font:12px sans-serif;fill:#222}\
.grid{stroke:#e5e5e5}.axis{stroke:#888}.key{display:inline-block;width:.8em;height:.8em;border-radius:50%;margin:0 .3em 0 1em}";

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
pub fn page(space: &Space, found: &Found) -> String {
    let plots = [[MASS, TORQUE], [MASS, DIAMETER], [HEIGHT, DIAMETER], [BACK, TORQUE]];
    let near = table::near_misses(found);
    html! {
        (DOCTYPE)
        html lang="en" {
            head {
                meta charset="utf-8";
                meta name="viewport" content="width=device-width, initial-scale=1";
                title { "Choices for " (space.name) }
                style { (PreEscaped(STYLE)) }
            }
            body {
                h1 { "Choices for " (space.name) }
                h2 { "Asked" }
                pre { (requirement(&space.shared)) }
                h2 { "How it was searched" }
                @for line in table::stages(found) { p { (line) } }
                h2 { "Choices" }
                p {
                    "Each dot is a design that was made and whose checks hold. Numbers are places in the table; the first is red, the "
                    "others have the colour of their motor:"
                    @for (motor, name) in motors(found) { span { span.key style={ "background:" (colour(motor)) } {} (name) } }
                }
                div.plots { @for [across, up] in &plots { (scatter(&found.choices, across, up)) } }
                h2 { "Ranked" }
                (grid(&table::HEADS, &table::rows(space, found)))
                @if let Some(best) = found.choices.first() {
                    h2 { "Other reducers" }
                    p { (table::REDUCERS) }
                    (grid(&table::REDUCER_HEADS, &table::reducer_rows(&reducers::compare(best))))
                }
                @if !near.is_empty() {
                    h2 { "What came closest and missed" }
                    ul { @for line in &near { li { (line) } } }
                }
            }
        }
    }
    .into_string()
}

/// The lines of `[requirement]`, of all that designs share.
fn requirement(shared: &str) -> String {
    let lines = shared.lines().skip_while(|line| *line != "[requirement]").skip(1);
    lines
        .take_while(|line| !line.starts_with('['))
        .filter(|line| !line.is_empty())
        .map(|line| format!("{line}\n"))
        .collect()
}

fn grid(heads: &[&str], rows: &[Vec<String>]) -> Markup {
    /// Cells of sentences may break.
    const LONG: usize = 24;
    html! {
        div.wide {
            table {
                thead { tr { @for head in heads { th { (head) } } } }
                tbody {
                    @for row in rows {
                        tr { @for cell in row { td class=[(cell.len() > LONG).then_some("why")] { (cell) } } }
                    }
                }
            }
        }
    }
}

/// Motors on the table, in the order of the file.
fn motors(found: &Found) -> Vec<(usize, String)> {
    let mut motors: Vec<(usize, String)> = Vec::new();
    for choice in &found.choices {
        let motor = choice.candidate.choices.motor;
        if motors.iter().all(|(other, _)| *other != motor) {
            motors.push((motor, choice.design.motor.name.clone()));
        }
    }
    motors.sort();
    motors
}

fn colour(motor: usize) -> &'static str {
    COLOURS.get(motor % COLOURS.len()).copied().unwrap_or(FIRST)
}

/// Ends of an axis, a little beyond the values.
fn ends(choices: &[Choice], axis: &Axis) -> [f64; 2] {
    let values = || choices.iter().map(axis.value);
    let (least, most) = (values().fold(f64::INFINITY, f64::min), values().fold(f64::NEG_INFINITY, f64::max));
    let room = if most > least { 0.08 * (most - least) } else { 0.05 * most.abs() + 0.05 };
    [least - room, most + room]
}

/// Round numbers between the ends, about five.
fn ticks([from, to]: [f64; 2]) -> Vec<f64> {
    const ABOUT: f64 = 5.0;
    let raw = ((to - from) / ABOUT).max(f64::MIN_POSITIVE);
    let power = libm::pow(10.0, libm::floor(libm::log10(raw)));
    let step = [1.0, 2.0, 5.0, 10.0].into_iter().map(|step| step * power).find(|step| *step >= raw);
    let step = step.unwrap_or(raw);
    let first = (from / step).ceil();
    // Ten at most: a step is at least a fifth of the range.
    (0..10).map(|index| (first + f64::from(index)) * step).take_while(|tick| *tick <= to).collect()
}

/// With as many digits as the ticks' step asks for.
fn number(value: f64, ticks: &[f64]) -> String {
    let step = match ticks {
        [first, second, ..] => second - first,
        _ => value.abs(),
    };
    let digits = if step >= 1.0 {
        0
    } else if step >= 0.1 {
        1
    } else {
        2
    };
    format!("{value:.digits$}")
}

fn scatter(choices: &[Choice], across: &Axis, up: &Axis) -> Markup {
    let (x_ends, y_ends) = (ends(choices, across), ends(choices, up));
    let [width, height] = SIZE;
    let x = |value: f64| EDGE + (value - x_ends[0]) / (x_ends[1] - x_ends[0]) * (width - 1.5 * EDGE);
    let y =
        |value: f64| height - EDGE - (value - y_ends[0]) / (y_ends[1] - y_ends[0]) * (height - 1.7 * EDGE);
    let at = |value: f64| format!("{value:.1}");
    let (x_ticks, y_ticks) = (ticks(x_ends), ticks(y_ends));
    let (left, right, bottom, top) = (EDGE, width - 0.5 * EDGE, height - EDGE, 0.7 * EDGE);
    let dots: Vec<[f64; 2]> =
        choices.iter().map(|choice| [x((across.value)(choice)), y((up.value)(choice))]).collect();
    html! {
        svg xmlns="http://www.w3.org/2000/svg" viewBox=(format!("0 0 {width} {height}")) role="img" {
            title { (up.title) " against " (across.title) }
            @for tick in &x_ticks {
                line class="grid" x1=(at(x(*tick))) x2=(at(x(*tick))) y1=(at(top)) y2=(at(bottom)) {}
                text x=(at(x(*tick))) y=(at(bottom + 16.0)) text-anchor="middle" { (number(*tick, &x_ticks)) }
            }
            @for tick in &y_ticks {
                line class="grid" x1=(at(left)) x2=(at(right)) y1=(at(y(*tick))) y2=(at(y(*tick))) {}
                text x=(at(left - 6.0)) y=(at(y(*tick) + 4.0)) text-anchor="end" { (number(*tick, &y_ticks)) }
            }
            line class="axis" x1=(at(left)) y1=(at(bottom)) x2=(at(right)) y2=(at(bottom)) {}
            line class="axis" x1=(at(left)) y1=(at(top)) x2=(at(left)) y2=(at(bottom)) {}
            text x=(at((left + right) / 2.0)) y=(at(height - 12.0)) text-anchor="middle" { (across.title) }
            text x="10" y="20" { (up.title) }
            // The first is drawn last, over the others.
            @for (place, (choice, [x, y])) in choices.iter().zip(&dots).enumerate().rev() {
                circle cx=(at(*x)) cy=(at(*y)) r=(if place == 0 { 5 } else { 4 })
                    fill=(if place == 0 { FIRST } else { colour(choice.candidate.choices.motor) }) {}
            }
            @for (place, [x, y]) in labels(&dots) { text x=(at(x)) y=(at(y)) { (place + 1) } }
        }
    }
}

/// Places of the numbers beside their dots, those left out that would lie on another.
fn labels(dots: &[[f64; 2]]) -> Vec<(usize, [f64; 2])> {
    let mut placed: Vec<(usize, [f64; 2])> = Vec::new();
    for (place, [x, y]) in dots.iter().enumerate().take(NUMBERED) {
        let label = [x + 6.0, y - 5.0];
        let is_free = placed.iter().all(|(_, other)| {
            (other[0] - label[0]).abs() >= LABEL[0] || (other[1] - label[1]).abs() >= LABEL[1]
        });
        let covers = |dot: &[f64; 2]| {
            (label[0] - 3.0..label[0] + LABEL[0]).contains(&dot[0])
                && (label[1] - LABEL[1]..label[1] + 2.0).contains(&dot[1])
        };
        let is_free = is_free && !dots.iter().any(covers);
        if is_free {
            placed.push((place, label));
        }
    }
    placed
}
