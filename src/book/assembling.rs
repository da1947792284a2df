//! Step by step on the bench, a picture each: what is there pale, what comes in colour beside its place.

use maud::{Markup, html};
use rayon::prelude::*;

use super::base64::data_address;
use super::picture::{self, Shown, picture};
use super::text::words;
use crate::assembly::path::Side;
use crate::assembly::{Assembly, Bench};
use crate::export::assembly_sheet::{LAST, NO_WAY_OUT, capital, exchange_words, first, step_words};
use crate::pipeline::Solids;
use crate::product::{Fit, Product};

const PICTURE: [usize; 2] = [540, 468];
/// Between what comes and where it goes \[mm\].
const AIR: f64 = 6.0;
/// However long it is, it comes from no farther \[mm\].
const FARTHEST: f64 = 60.0;

/// A step's sentence and picture.
struct Told {
    words: String,
    png: Option<Vec<u8>>,
}

pub fn assembling(product: &Product, solids: &Solids) -> Markup {
    let fit = match &product.fit {
        Ok(fit) => fit,
        Err(error) => return html! { p { "No order: " (error.to_string()) "." } },
    };
    let benches: Vec<(&Bench, Vec<Told>)> = fit
        .assembly
        .benches
        .par_iter()
        .map(|bench| {
            (
                bench,
                (0..bench.steps.len())
                    .into_par_iter()
                    .map(|at| told(product, solids, fit, bench, at))
                    .collect(),
            )
        })
        .collect();
    // Steps are counted through.
    let starts = benches.iter().scan(1, |next, (_, steps)| {
        let start = *next;
        *next += steps.len();
        Some(start)
    });
    html! {
        p { "Front is the output, back the controller. Every path is checked against all that is there by then, and the key of every screw." }
        h3 { "First" }
        ul { @for line in first(product) { li { (words(&line)) } } }
        @for ((bench, steps), start) in benches.iter().zip(starts) {
            h3 { (capital(bench.name)) }
            p.lead { "On the bench: " (bench.first) "." }
            ol.steps start=(start) {
                @for (index, step) in steps.iter().enumerate() {
                    li {
                        @if let Some(png) = &step.png {
                            img src=(data_address("image/png", png)) width=(PICTURE[0] / 2) height=(PICTURE[1] / 2) alt={ "Step " (start + index) ": " (capital(&step.words)) };
                        }
                        p { (words(&capital(&step.words))) }
                    }
                }
            }
            @if let Some(stuck) = &bench.stuck { p { "No way in for " (stuck.unit) ": see the check " code { "assembly-order" } "." } }
        }
        p { (LAST) }
        h3 { "Changing a part" }
        p { "Backwards through these steps; link and machine screws come on top where they cover the way." }
        @for exchange in &fit.assembly.exchanges {
            details {
                summary { (capital(exchange.target)) }
                @match exchange_words(product, exchange) {
                    None => p { (words(NO_WAY_OUT)) }
                    Some((summary, steps)) => {
                        p { (summary) }
                        ol { @for step in &steps { li { (words(step)) } } }
                    }
                }
            }
        }
    }
}

fn told(product: &Product, solids: &Solids, fit: &Fit, bench: &Bench, at: usize) -> Told {
    let (before, from_here) = bench.steps.split_at(at);
    let Some(step) = from_here.first() else { return Told { words: String::new(), png: None } };
    let assembly = &fit.assembly;
    let base = first_items(assembly, bench);
    let there: Vec<usize> =
        base.into_iter().chain(before.iter().flat_map(|step| step.items.iter().copied())).collect();
    let there = bodies(solids, fit, &there);
    let coming = bodies(solids, fit, &step.items);
    let ([low, high], [bottom, top]) = (span(&there), span(&coming));
    // As far out as shows it whole, within reason.
    let (lift, side) = match step.side {
        Side::Front => ((high - bottom + AIR).clamp(AIR, FARTHEST), picture::Side::Front),
        Side::Back => (-(top - low + AIR).clamp(AIR, FARTHEST), picture::Side::Back),
    };
    let mut shown: Vec<Shown> = there.into_iter().map(|body| Shown { pale: true, ..body }).collect();
    shown.extend(coming.into_iter().map(|body| Shown { lift, ..body }));
    Told { words: step_words(product, assembly, bench, step), png: picture(&shown, side, PICTURE) }
}

/// What lies on the bench before the first step: all of the bench's items that no step brings.
fn first_items(assembly: &Assembly, bench: &Bench) -> Vec<usize> {
    let named = |&index: &usize| assembly.items.get(index).is_some_and(|item| item.name == bench.first);
    (0..assembly.items.len()).filter(named).collect()
}

/// The bodies of items as the scene draws them.
fn bodies<'a>(solids: &'a Solids, fit: &Fit, items: &[usize]) -> Vec<Shown<'a>> {
    let indices = items.iter().filter_map(|&item| fit.assembly.items.get(item)).flat_map(|item| &item.bodies);
    indices
        .filter_map(|&index| fit.bodies.get(index))
        .filter_map(|body| {
            let thing = solids.scene.iter().find(|thing| thing.name == body.name)?;
            Some(Shown { thing, place: body.place, lift: 0.0, pale: false })
        })
        .collect()
}

/// The lowest and the highest point of some bodies \[mm\].
fn span(bodies: &[Shown]) -> [f64; 2] {
    let heights = bodies.iter().flat_map(|body| body.thing.surface.positions.iter());
    heights
        .map(|position| f64::from(position[2]))
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high], z| [low.min(z), high.max(z)])
}
