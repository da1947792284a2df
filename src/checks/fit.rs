//! Whether bodies get in each other's way.

use super::Check;
use super::outcome::Outcome;
use super::ranking::Load;
use crate::interference::{Meeting, State};
use crate::product::Product;

pub static CHECKS: &[Check] = &[
    Check {
        id: "interference",
        title: "Deepest overlap of two bodies, printed or bought",
        unit: "mm",
        load: Load::None,
        formula: "shared sections of all pairs over the whole stack; swept sections of what turns against each other, a full turn",
        symbols: "meant to meet: seats, faces, heads, threads, inserts in their holes, gears in mesh",
        clause: "geometry",
        range: "printed bodies as drawn, bought ones by their boundary sizes; tapered and twisted walls cut at five heights",
        not_covered: "wires, the motor's and bearings' insides, deflection",
        parts: &[],
        run: interference,
    },
    Check {
        id: "assembly-order",
        title: "Sub-assemblies that can't be put together along the axis",
        unit: "",
        load: Load::None,
        formula: "each piece's path along the axis, straight or turning with its teeth, and each screw's key, clear of all that is there",
        symbols: "",
        clause: "geometry",
        range: "pieces as drawn, fits at zero; inserts melted in first, wires left out",
        not_covered: "tilting a piece in, hands and handles, the machine and the link",
        parts: &[],
        run: assembly_order,
    },
    Check {
        id: "service-rule",
        title: "Joints to open beyond the service rule, to change planets, sun, ring insert or motor",
        unit: "",
        load: Load::None,
        formula: "shortest free way out of each, against: planets J2 and pillars; sun J2 and its screw; ring insert J2 and lobes; motor J2, rotor side and J1",
        symbols: "",
        clause: "layout rule",
        range: "a cut ring is not covered by the rule: it means a new housing",
        not_covered: "machine and link, which may have to come off first",
        parts: &[],
        run: service_rule,
    },
];

fn interference(made: &Product) -> Outcome {
    let fit = match &made.fit {
        Ok(fit) => fit,
        Err(error) => return Outcome::not_applicable(format!("Bodies could not be compared: {error}.")),
    };
    let mistakes: Vec<&Meeting> = fit.interference.mistakes().collect();
    let Some(worst) = mistakes.first() else {
        let near = fit.interference.meetings.len();
        return Outcome::at_most(0.0, 0.0)
            .remark(format!("{} pairs, {near} of them within reach.", fit.interference.pairs));
    };
    let others = match mistakes.len() {
        1 => String::new(),
        count => format!(" And {} more.", count - 1),
    };
    let depth = match worst.state {
        State::Overlaps { depth } => depth,
        _ => 0.0,
    };
    let outcome = Outcome::at_most(depth, 0.0);
    // Two that only touch don't overlap, but they rub.
    let verdict = super::Verdict::Fails;
    Outcome { verdict, ..outcome }
        .remark(format!("{}{others}", sentence(worst)))
        .remedy("Undo what the design forces on this place, or report this design: the layout should keep them apart.")
}

fn assembly_order(made: &Product) -> Outcome {
    let fit = match &made.fit {
        Ok(fit) => fit,
        Err(error) => return Outcome::not_applicable(format!("Paths could not be looked at: {error}.")),
    };
    let steps: usize = fit.assembly.benches.iter().map(|bench| bench.steps.len()).sum();
    let stuck = fit.assembly.stuck().count();
    let outcome = Outcome::at_most(stuck as f64, 0.0);
    match fit.assembly.stuck().next() {
        None => outcome.remark(format!("{steps} steps, every path and key free.")),
        Some((bench, stuck)) => {
            let [front, back] =
                stuck.blockers.each_ref().map(|name| if name.is_empty() { "nothing" } else { name });
            outcome
                .remark(format!("{}: {} is stopped by {front} towards the front, {back} towards the back.", bench.name, stuck.unit))
                .remedy("Undo what the design forces on this place, or report this design: the layout should leave a way.")
        }
    }
}

fn service_rule(made: &Product) -> Outcome {
    let fit = match &made.fit {
        Ok(fit) => fit,
        Err(error) => return Outcome::not_applicable(format!("Paths could not be looked at: {error}.")),
    };
    let mut worst: Option<(usize, String)> = None;
    for exchange in &fit.assembly.exchanges {
        let Some(allowed) = exchange.allowed else { continue };
        let beyond: Vec<&str> = exchange
            .joints()
            .filter(|(joint, _)| !allowed.contains(joint))
            .map(|(joint, _)| crate::bom::place(joint))
            .collect();
        let (count, remark) = match &exchange.steps {
            None => (1, format!("No way out for the {}.", exchange.target)),
            Some(_) => {
                (beyond.len(), format!("The {} also asks for: {}.", exchange.target, beyond.join(", ")))
            }
        };
        if count > worst.as_ref().map_or(0, |(known, _)| *known) {
            worst = Some((count, remark));
        }
    }
    match worst {
        None => Outcome::at_most(0.0, 0.0).remark("Planets, sun, ring insert and motor come out by the rule."),
        Some((count, remark)) => Outcome::at_most(count as f64, 0.0)
            .remark(remark)
            .remedy("Undo what the design forces on this place, or report this design: the layout should leave a way."),
    }
}

/// Who meets whom, where, how badly.
fn sentence(meeting: &Meeting) -> String {
    let [a, b] = &meeting.bodies;
    let [x, y, z] = meeting.at;
    let place = if meeting.turning {
        format!("at radius {x:.1}, z = {z:.1}")
    } else {
        format!("at x = {x:.1}, y = {y:.1}, z = {z:.1}")
    };
    match (meeting.state, meeting.volume) {
        (State::Overlaps { depth }, Some(volume)) => {
            format!("{a} and {b} share {volume:.1} mm3, {depth:.2} deep, {place}.")
        }
        (State::Overlaps { depth }, None) => format!("{a} turns into {b}, {depth:.2} deep, {place}."),
        (State::Touches, _) => format!("{a} touches {b} {place}."),
        (State::Apart | State::Meant(_), _) => format!("{a} and {b}: {:.2} apart {place}.", meeting.gap),
    }
}
