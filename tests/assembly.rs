//! How the demos go together and come apart.

mod support;

use hubwright::assembly::Assembly;
use hubwright::interference;
use hubwright::layout::lay_out;
use support::{MAST, SHOULDER, WRIST, demo};

#[test]
fn look() {
    for name in [SHOULDER, WRIST, MAST] {
        let actuator = lay_out(&demo(name)).expect("lays out");
        let bodies = interference::bodies(&actuator).expect("bodies");
        let t = std::time::Instant::now();
        let assembly = Assembly::of(&actuator, &bodies).expect("sections");
        println!("{name} {:?}", t.elapsed());
        for bench in &assembly.benches {
            println!(" {}: {} {:?}", bench.name, bench.first, bench.stuck);
            for step in &bench.steps {
                println!("    {} from {:?}", step.name, step.side);
            }
        }
        for exchange in &assembly.exchanges {
            println!(
                " {}: {:?}",
                exchange.target,
                exchange.steps.as_ref().map(|s| s.iter().map(|r| r.name.clone()).collect::<Vec<_>>())
            );
        }
    }
}
