//! Times of sizing: gearsets considered (integers, assembly, envelope, strength), candidates laid out and rated, and whole
//! searches: the demo's, and one over twenty motors and forty bearings. These motors are invented: the demo's disc 86 at
//! other diameters and heights, its mass, inertia and Kv carried over by size.

use std::fmt::Write;
use std::hint::black_box;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use hubwright::search::motors::MotorWindow;
use hubwright::search::{self, Bounds, Space, Watch, gearsets, run};

/// As the program's.
#[global_allocator]
static ALLOCATOR: mimalloc::MiMalloc = mimalloc::MiMalloc;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The demo's requirement with twenty invented motors and forty bearings.
fn large() -> Space {
    let path = root().join("designs/requirements/weeder-shoulder.toml");
    let text = std::fs::read_to_string(&path).expect("the demo's requirement");
    let mut motors = String::new();
    for index in 0..20 {
        let diameter = f64::from(54 + 2 * index);
        let height = f64::from(20 + 2 * (index % 5));
        let (wide, high) = (diameter / 86.0, height / 27.0);
        writeln!(
            motors,
            "  {{ from = \"../motors/disc-86.toml\", name = \"invented {diameter}\", outer_diameter = \"{diameter} mm\", height = \"{height} mm\", \
             mass = \"{:.0} g\", rotor_inertia = \"{:.0} g cm2\", kv = \"{:.0} rpm/V\" }},",
            360.0 * wide.powi(2) * high,
            1900.0 * wide.powi(4) * high,
            90.0 / (wide.powf(1.5) * high)
        )
        .expect("a text");
    }
    let bearings: Vec<String> = hubwright::tables::bearings()
        .iter()
        .filter(|row| (25.0..=100.0).contains(&row.bore))
        .map(|row| row.designation.clone())
        .fold(Vec::new(), |mut seen, name| {
            if !seen.contains(&name) {
                seen.push(name);
            }
            seen
        });
    assert!(bearings.len() >= 40, "{} bearings", bearings.len());
    let names: Vec<String> = bearings.iter().take(40).map(|name| format!("\"{name}\"")).collect();
    let text = text
        .lines()
        .map(|line| match line.split(' ').next() {
            Some("motors") => format!("motors = [\n{motors}]\n"),
            Some("output_bearings") => format!("output_bearings = [{}]\n", names.join(", ")),
            _ => format!("{line}\n"),
        })
        .collect::<String>();
    search::load_text(&path, &text).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn sizing(bench: &mut Criterion) {
    let path = root().join("designs/requirements/weeder-shoulder.toml");
    let space = search::load(&path).expect("the demo's requirement");
    let windows: Vec<MotorWindow> = space.bases.iter().map(|bases| MotorWindow::of(&bases[0])).collect();
    let window = [windows.iter().map(|one| one.least_ratio).fold(f64::INFINITY, f64::min), f64::INFINITY];
    let (_, counts) = gearsets::integers(&space, window, &Bounds::ALL);

    // One core, so that the rates are a core's.
    let pool = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("a thread");
    let mut group = bench.benchmark_group("size");
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(5))
        .throughput(Throughput::Elements(counts.considered));
    group.bench_function("gearsets considered, one core", |b| {
        b.iter(|| {
            pool.install(|| {
                let (integers, mut counts) = gearsets::integers(black_box(&space), window, &Bounds::ALL);
                gearsets::strong(&space, &integers, &mut counts, &Bounds::ALL)
            })
        });
    });
    let rated = run::rate_all(&space).rated as u64;
    group.throughput(Throughput::Elements(rated));
    group.bench_function("candidates laid out and rated, one core", |b| {
        b.iter(|| pool.install(|| run::rate_all(black_box(&space))))
    });

    let search = |space: &Space| {
        let found = search::run(space, &Watch { stop: &AtomicBool::new(false), tell: &|_| {} });
        assert!(found.is_complete());
        found.choices.len()
    };
    group.throughput(Throughput::Elements(1));
    group.bench_function("whole search, the demo's", |b| b.iter(|| search(black_box(&space))));
    let large = large();
    group.bench_function("whole search, 20 invented motors x 40 bearings", |b| {
        b.iter(|| search(black_box(&large)))
    });
    group.finish();
}

criterion_group!(benches, sizing);
criterion_main!(benches);
