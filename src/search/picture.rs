//! The choices as scatters, two objectives at a time.

use maud::{Markup, html};

use super::rate::Choice;
use super::run::Found;

const SIZE: [f64; 2] = [520.0, 340.0];
const EDGE: f64 = 52.0;
/// Choices with a number in the pictures: more would hide each other.
const NUMBERED: usize = 12;
/// Labels nearer than this to another, or on a dot, are left out.
const LABEL: [f64; 2] = [14.0, 11.0];
/// Colours of the page's style, of motors in the order of the file, again from the first after the last.
const COLOURS: usize = 6;

struct Axis {
    title: &'static str,
    value: fn(&Choice) -> f64,
}

const MASS: Axis = Axis { title: "mass, g", value: |choice| choice.objectives.mass * 1e3 };
const TORQUE: Axis = Axis { title: "continuous torque, N m", value: |choice| choice.objectives.continuous };
const DIAMETER: Axis = Axis { title: "diameter, mm", value: |choice| choice.objectives.diameter };
const HEIGHT: Axis = Axis { title: "height, mm", value: |choice| choice.objectives.height };
const BACK: Axis = Axis { title: "back-drive torque, N m", value: |choice| choice.objectives.backdrive };

/// Mass against what it buys, and what is paid besides.
pub fn scatters(found: &Found) -> Markup {
    let plots = [[MASS, TORQUE], [MASS, DIAMETER], [HEIGHT, DIAMETER], [BACK, TORQUE]];
    html! {
        div.plots { @for [across, up] in &plots { (scatter(&found.choices, across, up)) } }
    }
}

/// The motors with their colours.
pub fn key(found: &Found) -> Markup {
    html! {
        ul.key {
            li { span.dot.first {} "the first in the table" }
            @for (motor, name) in motors(found) { li { span.dot.(colour(motor)) {} (name) } }
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

fn colour(motor: usize) -> String {
    format!("motor-{}", motor % COLOURS + 1)
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
                @let class = if place == 0 { "first".to_string() } else { colour(choice.candidate.choices.motor) };
                circle.(class) cx=(at(*x)) cy=(at(*y)) r=(if place == 0 { 5 } else { 4 }) {}
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
