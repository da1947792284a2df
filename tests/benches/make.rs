//! Times of the main job, in process: everything but files, and the ring housing alone to STL and STEP.

#[path = "../support/mod.rs"]
mod support;

use criterion::{Criterion, criterion_group, criterion_main};
use hubwright::design::PartName;
use hubwright::{export, layout, parts, pipeline};

/// As the program's.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn whole(bench: &mut Criterion) {
    let design = support::demo(support::SHOULDER);
    // What `check` does after it has read the file.
    bench.bench_function("judge weeder-shoulder", |b| b.iter(|| pipeline::make(&design).expect("demo")));
    bench.bench_function("judge and mesh weeder-shoulder", |b| {
        b.iter(|| pipeline::make(&design).expect("demo").solids().expect("closed"));
    });
    bench.bench_function("layout weeder-shoulder", |b| b.iter(|| layout::lay_out(&design).expect("demo")));
}

/// Every file of `make`, from the resolved design on: under 1.5 s is asked, and under 6 MB for the book.
fn files(bench: &mut Criterion) {
    let design = support::demo(support::SHOULDER);
    let folder = tempfile::tempdir().expect("folder");
    let mut run = 0;
    bench.bench_function("all files of weeder-shoulder", |b| {
        b.iter(|| {
            run += 1;
            let fresh = folder.path().join(run.to_string());
            std::fs::create_dir(&fresh).expect("folder");
            let made = pipeline::make(&design).expect("demo");
            let solids = made.solids().expect("closed");
            export::outputs::write(&fresh, &made, &solids, serde_json::Value::Null, None).expect("written");
            let book = std::fs::metadata(fresh.join("book.html")).expect("book").len();
            std::fs::remove_dir_all(&fresh).expect("removed");
            book
        });
    });
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
    targets = whole, files, ring_housing
}
criterion_main!(benches);
