//! `ranking`: what gives way first, under the peak torque and under the continuous one.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::checks::Ranking;
use crate::checks::ranking::Place;
use crate::pipeline::Made;

/// Both lists.
pub fn ranking(made: &Made) -> Value {
    let ranking = Ranking::of(&made.product, &made.checks);
    let rows = |places: &[Place]| places.iter().map(row).collect::<Vec<_>>();
    json!({
        "peak": rows(&ranking.peak),
        "continuous": rows(&ranking.continuous),
    })
}

fn row(place: &Place) -> Value {
    let outcome = &place.checked.outcome;
    json!({
        "check": place.checked.check.id,
        "title": place.checked.check.title,
        "verdict": outcome.verdict.as_str(),
        "times_the_load": maybe(place.times),
        "gives_way_at_n_m": maybe(place.torque),
        "margin": outcome.margin().map(round),
        "parts": place.checked.check.parts.iter().map(|part| part.as_str()).collect::<Vec<_>>(),
        "remedy": outcome.remedy,
    })
}
