//! Screws, their holes and inserts.

use super::Check;
use super::outcome::Outcome;
use super::ranking::Load;
use crate::assessment::fastening::{Fastening, Least};
use crate::product::Product;

/// Thread in the anchor of what it offers (common practice, no source).
const ENGAGED: f64 = 0.8;
/// Room a tip keeps from the bottom of its hole \[mm\]: what a printed depth may lack.
const TIP_ROOM: f64 = 0.3;
/// Room a head keeps from its pocket's wall \[mm\], on the radius: what prints smaller.
const HEAD_ROOM: f64 = 0.15;
/// Wall around an insert \[mm\]: four lines of 0.4 (common practice, no source).
const WALL: f64 = 1.6;

pub static CHECKS: &[Check] = &[
    Check {
        id: "screw-reach",
        title: "Screw thread in its anchor, of what the anchor offers, the least",
        unit: "",
        load: Load::None,
        formula: "min(length - grip, anchor) / anchor; in bought parts one diameter is wanted",
        symbols: "",
        clause: "common practice, no source",
        range: "all screws but the machine's and the link's",
        not_covered: "depth of threads in the motor",
        parts: &[],
        run: |made| least(made, |found| &found.reach, ENGAGED, "A longer screw under [fasteners]."),
    },
    Check {
        id: "screw-tips",
        title: "Room from a screw's tip to the bottom of its hole, the least",
        unit: "mm",
        load: Load::None,
        formula: "first material on the screw's axis beyond its tip, in the part as drawn",
        symbols: "",
        clause: "geometry; room 0.3 common practice, no source",
        range: "screws in printed parts",
        not_covered: "threads in the motor",
        parts: &[],
        run: |made| least(made, |found| &found.tip, TIP_ROOM, "A shorter screw under [fasteners]."),
    },
    Check {
        id: "screw-heads",
        title: "Room around a screw's head, the least",
        unit: "mm",
        load: Load::None,
        formula: "head to the wall beside it, in the part as drawn",
        symbols: "",
        clause: "geometry; room 0.15 common practice, no source",
        range: "cap and button heads; countersunk ones are drawn flush",
        not_covered: "washers",
        parts: &[],
        run: |made| least(made, |found| &found.head, HEAD_ROOM, "A smaller screw, or report this design."),
    },
    Check {
        id: "insert-walls",
        title: "Wall around an insert, the least",
        unit: "mm",
        load: Load::None,
        formula: "hole to the nearest other surface at the insert's heights, in the part as drawn",
        symbols: "",
        clause: "common practice, no source",
        range: "all heat-set inserts",
        not_covered: "the lead-in at the hole's mouth",
        parts: &[],
        run: |made| {
            least(
                made,
                |found| &found.wall,
                WALL,
                "A smaller screw under [fasteners], or report this design.",
            )
        },
    },
    Check {
        id: "screws-and-holes",
        title: "Screws without a hole, holes without a screw, and what the bill of materials miscounts",
        unit: "",
        load: Load::None,
        formula: "each screw's, insert's and pin's axis against each round hole to 8.5 mm, and counts against the list",
        symbols: "",
        clause: "geometry",
        range: "printed parts but planets",
        not_covered: "",
        parts: &[],
        run: |made| match &made.fastening {
            Err(error) => Outcome::not_applicable(format!("Holes could not be looked at: {error}.")),
            Ok(found) => {
                let outcome = Outcome::at_most(found.unmatched.len() as f64, 0.0);
                match found.unmatched.first() {
                    None => outcome.remark("Each has its own."),
                    Some(first) => outcome.remark(format!("{first}.")).remedy("Report this design."),
                }
            }
        },
    },
];

fn least(made: &Product, of: fn(&Fastening) -> &Option<Least>, limit: f64, remedy: &'static str) -> Outcome {
    match &made.fastening {
        Err(error) => Outcome::not_applicable(format!("Screws could not be looked at: {error}.")),
        Ok(found) => match of(found) {
            None => Outcome::not_applicable("There is none."),
            // Rounding of the layout's sums must not decide.
            Some(least) => Outcome::at_least((least.value * 1e5).round() / 1e5, limit)
                .remark(format!("{}.", least.whose))
                .remedy(remedy),
        },
    }
}
