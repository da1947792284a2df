//! A log against the weeder's shoulder, its heat that of `heat.py`: identified values as data, and the constants that the reference needs.
//!
//! usage: identify LOG

#[path = "../support/mod.rs"]
mod support;

use std::path::Path;

use hubwright::pipeline::make;
use hubwright::ratings::heat::Network;
use hubwright::trial::{Bench, Trial, log, sheet};

fn main() {
    let path = std::env::args().nth(1).expect("usage: identify LOG");
    let mut made = make(&support::demo(support::SHOULDER)).expect("the demo makes");
    let rating = made.product.heat.as_mut().expect("heat");
    rating.network = Network::new(support::heat::reference_inputs());
    let log = log::read(Path::new(&path)).expect("a sound log");
    let trial = Trial::of(&made.product, &log);
    let bench = Bench::of(&made.product);
    let mut tree = sheet::tree(&trial, "reference");
    tree["joint"] = serde_json::json!({
        "ratio": bench.reduction.ratio,
        "current_limit": bench.circuit.current_limit,
        "saturation": bench.circuit.saturation,
        "resistance": bench.circuit.resistance,
    });
    println!("{tree}");
}
