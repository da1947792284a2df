//! Soft, medium and stiff: a column each.

use std::f64::consts::TAU;

use super::table::{Table, hundredths, number};
use crate::product::Product;
use crate::ratings::spring::Rating;
use crate::ratings::spring::rating::{Setting, Step};

pub(super) fn tables(made: &Product) -> Vec<Table> {
    match &made.control {
        Ok(rating) => vec![gains(rating), feel(rating)],
        Err(why) => {
            vec![Table { title: "Gains", about: format!("None: {why}."), head: Vec::new(), rows: Vec::new() }]
        }
    }
}

/// A quantity and how it reads off a setting and the step made with it.
type Line<'a> = (&'a str, Box<dyn Fn(&Setting, Option<&Step>) -> String + 'a>);

fn columns(rating: &Rating, title: &'static str, about: String, lines: Vec<Line>) -> Table {
    let names = rating.settings.iter().map(|setting| setting.name.to_string());
    let head = std::iter::once("quantity".to_string()).chain(names).collect();
    let steps = rating.motions().steps.iter().map(|step| step.as_ref().ok());
    let settings: Vec<(&Setting, Option<&Step>)> = rating.settings.iter().zip(steps).collect();
    let line = |(label, value): &Line| {
        let values = settings.iter().map(|&(setting, step)| value(setting, step));
        std::iter::once((*label).to_string()).chain(values).collect()
    };
    Table { title, about, head, rows: lines.iter().map(line).collect() }
}

fn gains(rating: &Rating) -> Table {
    let lines: Vec<Line> = vec![
        ("spring, output, N m/rad", Box::new(|s, _| number(s.gains.stiffness, ""))),
        ("damper, output, N m s/rad", Box::new(|s, _| number(s.gains.damping, ""))),
        ("spring, rotor, N m/rad", Box::new(|s, _| number(s.at_motor.stiffness, ""))),
        ("spring, rotor, N m/turn", Box::new(|s, _| number(s.at_motor.stiffness_per_turn, ""))),
        ("spring, rotor, A/rad", Box::new(|s, _| number(s.at_motor.current_per_angle, ""))),
        ("damper, rotor, N m s/rad", Box::new(|s, _| number(s.at_motor.damping, ""))),
        ("damper, rotor, N m s/turn", Box::new(|s, _| number(s.at_motor.damping_per_turn, ""))),
        ("damper, rotor, A s/rad", Box::new(|s, _| number(s.at_motor.current_per_speed, ""))),
    ];
    let about = format!(
        "No integral gain. Stiffest to use: {} at the output ({}); with more, expect buzzing. Torque = spring x angle error - damper x speed.",
        number(rating.stiffest, "N m/rad"),
        rating.governed_by.name()
    );
    columns(rating, "Gains", about, lines)
}

fn feel(rating: &Rating) -> Table {
    let arm = rating.inputs.arm;
    let step = |of: fn(&Step) -> Option<f64>, unit: &'static str| {
        move |_: &Setting, step: Option<&Step>| {
            step.and_then(of).map_or("-".to_string(), |value| hundredths(value, unit))
        }
    };
    let lines: Vec<Line> = vec![
        ("felt with the gears in series, N m/rad", Box::new(|s, _| number(s.felt, ""))),
        ("natural frequency with the load, Hz", Box::new(|s, _| hundredths(s.natural_frequency / TAU, ""))),
        ("damping ratio", Box::new(|_, _| hundredths(rating.inputs.damping_ratio, ""))),
        (
            "stands beside its place by up to, deg",
            Box::new(|s, _| hundredths(s.error.total().to_degrees(), "")),
        ),
        ("the same at the arm's end, mm", Box::new(move |s, _| hundredths(s.error.total() * arm, ""))),
        ("sags under the hanging weight, deg", Box::new(|s, _| hundredths(s.sag.to_degrees(), ""))),
        ("current limit reached at, deg", Box::new(|s, _| hundredths(s.reach.to_degrees(), ""))),
        ("step: angle, deg", Box::new(step(|step| Some(step.angle.to_degrees()), ""))),
        ("step: 10 to 90 %, s", Box::new(step(|step| step.rise_time, ""))),
        ("step: overshoot, %", Box::new(step(|step| Some(100.0 * step.overshoot), ""))),
        ("step: settled, s", Box::new(step(|step| step.settling_time, ""))),
    ];
    columns(
        rating,
        "What to expect of them",
        "Load as in the design file; steps simulated without friction, with the gears' play: real ones overshoot less.".to_string(),
        lines,
    )
}
