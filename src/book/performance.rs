//! Torque over speed; temperatures over the duty, or what the surroundings leave of the torque.

use maud::{Markup, html};

use super::plot::{Line, Plot};
use crate::product::Product;
use crate::ratings::heat::continuous::Continuous;
use crate::ratings::heat::{Node, Rating, Survey, Temperatures};

const RPM: f64 = 30.0 / std::f64::consts::PI;

pub fn performance(product: &Product) -> Markup {
    let (rating, survey) = match product.heat.as_ref().and_then(|rating| Ok((rating, rating.survey()?))) {
        Ok(answer) => answer,
        Err(why) => return html! { p { "No answer: " (why.to_string()) "." } },
    };
    html! {
        (torque_over_speed(product, rating, survey))
        (steady(rating))
        @if let Some(Ok(duty)) = &rating.duty { (over_time(&duty.trace)) }
        (derating("surroundings, degC", "Torque held for good, at rest, over the temperature of the surroundings", &survey.derating))
        (derating("plastic's limit, degC", "Torque held for good, at rest, over the temperature the plastic stands", &survey.derating_by_wall))
        p { "Temperatures to 10 K, torque to 20 %: estimates until the motor's own heat data are given." }
    }
}

fn torque_over_speed(product: &Product, rating: &Rating, survey: &Survey) -> Markup {
    let points = &rating.map().points;
    let peak = points.iter().map(|point| [point.speed * RPM, point.torque]).collect();
    let held = points
        .iter()
        .zip(&survey.continuous_at_speeds)
        .filter_map(|(point, torque)| Some([point.speed * RPM, (*torque)?]))
        .collect();
    let mut lines = vec![
        Line { name: "most, by current and voltage", points: peak },
        Line { name: "held for good", points: held },
    ];
    if let Some(last) = points.last() {
        let asked = product.actuator.torques.output;
        lines.push(Line { name: "peak asked for", points: vec![[0.0, asked], [last.speed * RPM, asked]] });
    }
    Plot { title: "Torque over speed at the output", across: "speed, rev/min", up: "torque, N m", lines }
        .draw()
}

/// Where the continuous torque leads.
fn steady(rating: &Rating) -> Markup {
    let Ok(held) = &rating.continuous else { return html! {} };
    let limits = &rating.network.inputs.limits;
    let rows: Vec<Vec<String>> = named(&held.temperatures)
        .map(|(name, at)| {
            let limit = match name {
                "winding" => format!("{:.0}", limits.winding),
                "mount" => format!("{:.0}", limits.plate),
                "wall" => format!("{:.0}", limits.wall),
                _ => "-".to_string(),
            };
            vec![name.to_string(), format!("{at:.0}"), limit]
        })
        .to_vec();
    html! {
        h3 { (format!("At {:.1} N m held for good", held.torque)) }
        (super::text::table(&["place", "degC", "limit, degC"], &rows, 1))
    }
}

fn named(found: &Temperatures) -> [(&'static str, f64); 5] {
    [
        ("winding", found[Node::Winding as usize]),
        ("mount", found[Node::Mount as usize]),
        ("rotor", found[Node::Rotor as usize]),
        ("air inside", found[Node::Air as usize]),
        ("wall", found[Node::Wall as usize]),
    ]
}

fn over_time(trace: &[(f64, Temperatures)]) -> Markup {
    /// More than a screen is wide wouldn't show.
    const MOST: usize = 300;
    let every = trace.len().div_ceil(MOST).max(1);
    let line = |name: &'static str, node: Node| Line {
        name,
        points: trace.iter().step_by(every).map(|(time, found)| [*time, found[node as usize]]).collect(),
    };
    let lines = vec![
        line("winding", Node::Winding),
        line("mount", Node::Mount),
        line("rotor", Node::Rotor),
        line("wall", Node::Wall),
    ];
    Plot { title: "Temperatures over the duty", across: "time, s", up: "temperature, degC", lines }.draw()
}

fn derating(across: &'static str, title: &'static str, rows: &[(f64, Option<Continuous>)]) -> Markup {
    let points: Vec<[f64; 2]> =
        rows.iter().filter_map(|(at, held)| Some([*at, held.as_ref()?.torque])).collect();
    if points.len() < 2 {
        return html! {};
    }
    Plot { title, across, up: "torque, N m", lines: vec![Line { name: "held for good", points }] }.draw()
}
