//! Times of sizing: gearsets considered (integers, assembly, envelope, strength), and one candidate weighed and made.

use std::hint::black_box;
use std::path::Path;
use std::time::Duration;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use hubwright::search::motors::MotorWindow;
use hubwright::search::rate::Fate;
use hubwright::search::{self, candidates, gearsets, near_miss::Misses, rate};

fn sizing(bench: &mut Criterion) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs/requirements/weeder-shoulder.toml");
    let space = search::load(&path).expect("the demo's requirement");
    let windows: Vec<MotorWindow> = space.bases.iter().map(|bases| MotorWindow::of(&bases[0])).collect();
    let window = [windows.iter().map(|one| one.least_ratio).fold(f64::INFINITY, f64::min), f64::INFINITY];
    let (_, counts) = gearsets::integers(&space, window);

    // One core, so that the rate is a core's.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a thread");
    let mut group = bench.benchmark_group("size");
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(5))
        .throughput(Throughput::Elements(counts.considered));
    group.bench_function("gearsets considered, one core", |b| {
        b.iter(|| {
            pool.install(|| {
                let (integers, mut counts) = gearsets::integers(black_box(&space), window);
                gearsets::strong(&space, &integers, &mut counts)
            })
        });
    });

    let (integers, mut counts) = gearsets::integers(&space, window);
    let (strong, _) = gearsets::strong(&space, &integers, &mut counts);
    let (all, _) = candidates::candidates(&space, &strong, &windows, &mut Misses::default());
    let weighed = all.iter().find_map(|candidate| match rate::weigh(&space, candidate) {
        Fate::Weighed(objectives) => Some((*candidate, objectives)),
        _ => None,
    });
    let (candidate, objectives) = weighed.expect("one that can be laid out");
    group.throughput(Throughput::Elements(1));
    group.bench_function("candidate laid out, heat and mass", |b| {
        b.iter(|| rate::weigh(&space, black_box(&candidate)))
    });
    group.bench_function("candidate made and judged", |b| {
        b.iter(|| rate::make(&space, black_box(&candidate), objectives).is_ok())
    });
    group.finish();
}

criterion_group!(benches, sizing);
criterion_main!(benches);
