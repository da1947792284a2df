//! Times of the gears: one candidate's geometry and ratings, as a search runs them, and the bodies of a full set.

#[path = "../support/mod.rs"]
mod support;

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use hubwright::assessment::gear_ratings::GearRatings;
use hubwright::assessment::stage_feel::{self, Departures, Feel};
use hubwright::design::PartName;
use hubwright::gears::{Stage, StageInput};
use hubwright::ratings::gear_forces::GearForces;
use hubwright::ratings::gear_strength::StageRoots;
use hubwright::ratings::planetary_efficiency::StageEfficiency;
use hubwright::{layout, parts};

/// Geometry of all three gears and both meshes, then forces, all root stresses, efficiency.
fn candidate(bench: &mut Criterion) {
    let design = support::demo(support::SHOULDER);
    let input: StageInput = layout::stage_input(&design);
    bench.bench_function("gearset candidate: geometry", |b| b.iter(|| Stage::solve(black_box(&input))));
    bench.bench_function("gearset candidate: geometry and ratings", |b| {
        b.iter(|| {
            let stage = Stage::solve(black_box(&input)).expect("demo");
            let forces = GearForces::of(&stage, 2.0);
            let roots = StageRoots::of(&stage);
            let efficiency = StageEfficiency::of(&stage, 0.2);
            (forces, roots, efficiency)
        });
    });
}

/// What else a laid-out stage is rated by: play, stiffness, and heat, strength, pressure, give and wear of both meshes.
fn at_work(bench: &mut Criterion) {
    let actuator = layout::lay_out(&support::demo(support::SHOULDER)).expect("demo");
    let feel = Feel::of(&actuator, &[]);
    bench.bench_function("gearset candidate: play and stiffness", |b| {
        b.iter(|| {
            let play = stage_feel::play(black_box(&actuator), &Departures::default());
            (play, stage_feel::stiffness(black_box(&actuator)))
        });
    });
    bench.bench_function("gearset candidate: plastics, wear", |b| {
        b.iter(|| GearRatings::of(black_box(&actuator), None, &feel));
    });
}

/// Planet, ring housing, and the rotor adapter with the printed sun: outlines to snapped triangles.
fn bodies(bench: &mut Criterion) {
    let actuator = layout::lay_out(&support::demo(support::WRIST)).expect("demo");
    bench.bench_function("gear bodies of a full set, to triangles", |b| {
        b.iter(|| {
            for name in [PartName::Planet, PartName::RingHousing, PartName::RotorAdapter] {
                let part = parts::one(&actuator, name).expect("shape").expect("part");
                let brep = part.printed().brep().expect("boundary");
                black_box(brep.mesh(0.01).expect("mesh").snapped().expect("snapped"));
            }
        });
    });
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(20);
    targets = candidate, at_work, bodies
}
criterion_main!(benches);
