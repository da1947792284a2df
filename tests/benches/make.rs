//! Times of the main job, in process: everything but files, and the ring housing alone to STL and STEP.

#[path = "../support/mod.rs"]
mod support;

use criterion::{Criterion, criterion_group, criterion_main};
use hubwright::design::PartName;
use hubwright::{export, layout, parts, pipeline};

fn whole(bench: &mut Criterion) {
    let design = support::demo(support::SHOULDER);
    // What `check` does after it has read the file.
    bench.bench_function("judge weeder-shoulder", |b| b.iter(|| pipeline::make(&design).expect("demo")));
    bench.bench_function("judge and mesh weeder-shoulder", |b| {
        b.iter(|| pipeline::make(&design).expect("demo").solids().expect("closed"));
    });
    bench.bench_function("layout weeder-shoulder", |b| b.iter(|| layout::lay_out(&design).expect("demo")));
}

fn ring_housing(bench: &mut Criterion) {
    let actuator = layout::lay_out(&support::demo(support::SHOULDER)).expect("demo");
    bench.bench_function("ring housing to STL bytes", |b| {
        b.iter(|| {
            let part = parts::one(&actuator, PartName::RingHousing).expect("shape").expect("part");
            let mesh = part
                .printed()
                .brep()
                .expect("boundary")
                .mesh(0.01)
                .expect("mesh")
                .snapped()
                .expect("snapped");
            let mut bytes = Vec::new();
            export::stl::write(&mesh, &mut bytes).expect("write");
            bytes
        });
    });
    let label = export::step::Label { name: "ring-housing".to_owned(), description: String::new() };
    let nominal = actuator.nominal();
    bench.bench_function("ring housing to STEP text", |b| {
        b.iter(|| {
            let part = parts::one(&nominal, PartName::RingHousing).expect("shape").expect("part");
            export::step::part(&label, [0.5; 3], &part.stack.brep().expect("boundary")).expect("text")
        });
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = whole, ring_housing
}
criterion_main!(benches);
