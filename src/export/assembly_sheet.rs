//! `assembly.md`: how it goes together, step by step on the bench, and what comes off to change a part.

use crate::assembly::order::{Bench, Step};
use crate::assembly::path::Side;
use crate::assembly::service::{Exchange, Removal};
use crate::assembly::{Assembly, Item, item::Kind};
use crate::bom::place;
use crate::design::{Joint, PartName};
use crate::layout::{Anchor, Bolting};
use crate::product::Product;
use crate::tables::screw_head;

/// A joint's screws as one takes them from the box.
pub struct Screws<'a> {
    pub bolting: &'a Bolting,
    /// Key across flats \[mm\]; none where the tables lack the head.
    pub hex: Option<f64>,
    /// \[N mm\]; none where nothing says how far to tighten.
    pub torque: Option<f64>,
}

impl<'a> Screws<'a> {
    pub fn of(product: &'a Product, joint: Joint) -> Option<Screws<'a>> {
        let bolting = product.actuator.joints.iter().find(|bolting| bolting.joint == joint)?;
        let rating = product.joints.all.iter().find(|rating| rating.joint == joint);
        Some(Screws {
            bolting,
            hex: screw_head(bolting.head, bolting.thread).map(|head| head.hex),
            torque: rating.and_then(|rating| rating.tightening.as_ref()).map(|tightening| tightening.torque),
        })
    }

    fn words(&self) -> String {
        let Bolting { count, thread, length, head, .. } = self.bolting;
        let key = self.hex.map_or("key to suit".to_string(), |hex| format!("{hex} mm key"));
        let torque = self.torque.map_or(String::new(), |torque| format!(", {:.2} N m", torque * 1e-3));
        format!("{count} x {thread} x {length} {} ({}), {key}{torque}", head.head_name(), head.number())
    }
}

/// The joint of a unit that is a joint's screws.
pub fn joint_of(assembly: &Assembly, items: &[usize]) -> Option<Joint> {
    let [only] = items else { return None };
    match assembly.items.get(*only)?.kind {
        Kind::Screws(joint) => Some(joint),
        _ => None,
    }
}

pub fn from(side: Side) -> &'static str {
    match side {
        Side::Front => "front",
        Side::Back => "back",
    }
}

/// The page; none where bodies couldn't be compared.
pub fn markdown(product: &Product) -> String {
    let design = &product.actuator.design;
    let mut text = format!(
        "# Putting {} together\n\nFront is the output, back the controller. Every path below is checked against all that is there by then, and the key of every \
         screw.\n",
        design.name
    );
    let assembly = match &product.fit {
        Ok(fit) => &fit.assembly,
        Err(error) => return format!("{text}\nNo order: {error}.\n"),
    };
    text.push_str("\n## First\n\n");
    for line in first(product) {
        text.push_str(&format!("- {line}\n"));
    }
    let mut number = 0;
    for bench in &assembly.benches {
        text.push_str(&format!("\n## {}\n\nOn the bench: {}.\n\n", capital(bench.name), bench.first));
        for step in &bench.steps {
            number += 1;
            text.push_str(&format!("{number}. {}\n", step_words(product, assembly, bench, step)));
        }
        if let Some(stuck) = &bench.stuck {
            text.push_str(&format!("\nNo way in for {}: see the check `assembly-order`.\n", stuck.unit));
        }
    }
    text.push_str(&format!("\n{LAST}\n"));
    text.push_str("\n## Changing a part\n\nBackwards through these steps; link and machine screws come on top where they cover the way.\n");
    for exchange in &assembly.exchanges {
        text.push_str(&format!("\n### {}\n\n", capital(exchange.target)));
        match exchange_words(product, exchange) {
            None => text.push_str(&format!("{NO_WAY_OUT}\n")),
            Some((summary, steps)) => {
                text.push_str(&format!("{summary}\n\n"));
                for (index, step) in steps.iter().enumerate() {
                    text.push_str(&format!("{}. {step}\n", index + 1));
                }
            }
        }
    }
    text
}

/// What is done when all is together.
pub const LAST: &str = "Last: turn the output by hand through one turn; it must run without a catch before the motor is powered.";
pub const NO_WAY_OUT: &str = "No way out: see the check `service-rule`.";

/// What is done before anything is joined, and what hurts.
pub fn first(product: &Product) -> Vec<String> {
    let mut tally: Vec<(String, Vec<String>)> = Vec::new();
    for joint in product.actuator.joints.iter() {
        let (Anchor::Insert(insert) | Anchor::Outside(insert)) = &joint.anchor else { continue };
        let part = crate::interference::contact::host(joint.joint).as_str().to_string();
        let line = format!("{} {} ({})", joint.count, insert.thread, place(joint.joint));
        match tally.iter_mut().find(|(name, _)| *name == part) {
            Some((_, lines)) => lines.push(line),
            None => tally.push((part, vec![line])),
        }
    }
    let inserts =
        tally.into_iter().map(|(part, lines)| format!("Inserts into {part}: {}.", lines.join(", ")));
    inserts.chain(FIRST.map(String::from)).collect()
}

const FIRST: [&str; 3] = [
    "The insert tool is hot enough to burn and the plastic fumes: work in moving air, let each part cool flat, run a screw through every insert.",
    "Rotor and stator pull together hard and pinch: hold the bell by its rim, keep steel chips away from the magnets.",
    "No thread lock on plastic: it crazes PC and ABS.",
];

pub fn step_words(product: &Product, assembly: &Assembly, bench: &Bench, step: &Step) -> String {
    let side = from(step.side);
    if let Some(joint) = joint_of(assembly, &step.items) {
        let words = Screws::of(product, joint).map_or(step.name.clone(), |screws| screws.words());
        return format!("Screws, {}, from the {side}: {words}.", place(joint));
    }
    let count: usize = match step.items.as_slice() {
        [only] => assembly.items.get(*only).map_or(1, |item| item.count),
        _ => 1,
    };
    let times = if count > 1 { format!("{count} x ") } else { String::new() };
    let caution = caution(assembly, bench, step).map_or(String::new(), |text| format!(" {text}"));
    format!("{times}{} from the {side}.{caution}", step.name)
}

/// What one must know of a step.
fn caution(assembly: &Assembly, bench: &Bench, step: &Step) -> Option<&'static str> {
    let is = |kind: Kind| {
        step.items.iter().any(|&index| assembly.items.get(index).is_some_and(|item: &Item| item.kind == kind))
    };
    if bench.name == "actuator" && is(Kind::Part(PartName::RingHousing)) {
        return Some(
            "Turn the output to and fro while it goes down over the sun; fingers out of the joint. Screws crosswise.",
        );
    }
    if step.items.len() == 1 && is(Kind::Magnet) {
        return Some("Magnetised across; glue it flush, and mind the gap of `encoder-gap`.");
    }
    if step.items.len() == 1 && is(Kind::Motor) {
        return Some("Wires through the slot first.");
    }
    if is(Kind::Part(PartName::Planet)) && step.items.len() > 1 && bench.name == "housing module" {
        return Some("Turn each as it goes in. After the pillar screws they must spin freely and show play.");
    }
    if is(Kind::OutputBearing(1)) || is(Kind::OutputBearing(2)) {
        return Some("Press on the outer ring only. Shims: see the check `ring-float`.");
    }
    if is(Kind::Pins) && step.items.len() == 1 {
        return Some("Press square, to the bottom.");
    }
    None
}

/// What comes off in all, and each removal in order; none where nothing lets the part out.
pub fn exchange_words(product: &Product, exchange: &Exchange) -> Option<(String, Vec<String>)> {
    let steps = exchange.steps.as_ref()?;
    let screws: usize = exchange.joints().map(|(_, count)| count).sum();
    let summary = format!("{screws} screws and {} pieces come off first.", exchange.parts());
    Some((summary, steps.iter().map(|removal| removal_words(product, removal)).collect()))
}

fn removal_words(product: &Product, removal: &Removal) -> String {
    let side = from(removal.side);
    match removal.joint.and_then(|joint| Some((joint, Screws::of(product, joint)?))) {
        Some((joint, screws)) => {
            format!("Undo the screws, {}, from the {side}: {}.", place(joint), screws.words())
        }
        None => format!("{} off to the {side}.", capital(&removal.name)),
    }
}

pub fn capital(word: &str) -> String {
    let mut letters = word.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
