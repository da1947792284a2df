//! A hundred thousand rows of a bench log: read, then held against the prediction; and of a duty. Wanted: under a second for each.

use std::hint::black_box;
use std::sync::Arc;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use hubwright::assessment::heat_inputs::heat_inputs;
use hubwright::design::parse_duty;
use hubwright::diagnostic::SourceFile;
use hubwright::layout;
use hubwright::pipeline::make;
use hubwright::ratings::heat::continuous::Holder;
use hubwright::ratings::heat::{Network, duty};
use hubwright::ratings::motor::Circuit;
use hubwright::ratings::motor::speed_map::Reduction;
use hubwright::trial::{Trial, log};

#[path = "../support/mod.rs"]
mod support;

fn long_log(criterion: &mut Criterion) {
    let made = make(&support::demo(support::SHOULDER)).expect("the demo makes");
    let text = support::synthetic::long_log(&made.product, 100_000);
    let source = || Arc::new(SourceFile { name: "long.csv".into(), text: text.clone() });
    let mut group = criterion.benchmark_group("trial of 100,000 rows");
    group.sample_size(10).measurement_time(Duration::from_secs(15));
    group.bench_function("read", |bencher| bencher.iter(|| log::parse(&source()).expect("sound")));
    let readings = log::parse(&source()).expect("sound");
    group.bench_function("identify", |bencher| {
        bencher.iter(|| black_box(Trial::of(&made.product, &readings)))
    });
    group.finish();
}

fn long_duty(criterion: &mut Criterion) {
    let design = support::demo(support::SHOULDER);
    let actuator = layout::lay_out(&design).expect("the demo is laid out");
    let network = Network::new(heat_inputs(&actuator));
    let circuit = Circuit::of(&design.motor, &design.controller);
    let reduction = Reduction { ratio: actuator.stage.ratio, efficiency: design.gearset.efficiency };
    let holder = Holder { circuit: &circuit, reduction: &reduction };
    let lines: String = (0..=100_000).map(|second| format!("{second},{},5\n", second % 5)).collect();
    let rows = parse_duty(&format!("time_s,torque_n_m,speed_rpm\n{lines}")).expect("sound");
    criterion.bench_function("duty of 100,000 rows", |bencher| {
        bencher.iter(|| duty::run(&holder, &network, black_box(&rows)).expect("followed"))
    });
}

criterion_group!(benches, long_log, long_duty);
criterion_main!(benches);
