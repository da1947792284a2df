//! A bench log of a hundred thousand rows: read, then held against the prediction. Wanted: under a second for both.

use std::hint::black_box;
use std::sync::Arc;
use std::time::Duration;

use criterion::{Criterion, criterion_group, criterion_main};
use hubwright::diagnostic::SourceFile;
use hubwright::pipeline::make;
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

criterion_group!(benches, long_log);
criterion_main!(benches);
