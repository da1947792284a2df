//! Temperatures over time: the constants of winding and mount, by the project's own heat network.
//!
//! Unknown are the four that the design file takes: resistances winding to mount and mount to air, capacities of winding and mount; the
//! rest of the network (walls, air, rotor) stays as drawn. A current that stays is solved in one stretch; one that changes is
//! averaged over stretches of a [`KNOTS`]th of the log. Between the solver's steps the temperatures follow the cubic of its rates.

use super::bands::BANDS;
use super::bench::{Axis, Bench, Identified, Measure, NOTHING, Point, TestResult, needed};
use super::columns::{Column, TestKind};
use super::least_squares::Model;
use super::log::Row;
use crate::quantity::Kind;
use crate::ratings::heat::network::{Heat, NODES, Network, Node, Temperatures};
use crate::ratings::heat::transient::{Stop, course};
use crate::ratings::motor::losses::copper_loss;

/// Stretches into which a log of ever changing current is cut.
const KNOTS: usize = 200;
/// Step of the derivatives, relative: far over the solver's tolerance.
const STEP: f64 = 1e-3;
const NAMES: [&str; 4] = ["winding to mount", "mount to air", "winding's capacity", "mount's capacity"];

/// A stretch of time with one heat.
struct Stretch {
    /// Begin and end \[s\].
    times: [f64; 2],
    heat: Heat,
}

/// A moment of the solution.
struct Knot {
    time: f64,
    temperatures: Temperatures,
    rates: Temperatures,
}

/// Heat over readings that make one stretch.
#[derive(Default)]
struct Sums {
    duration: f64,
    copper: f64,
    iron: f64,
    turned: f64,
    /// Of the last reading.
    heat: Option<Heat>,
    /// All readings so far have the same.
    is_steady: bool,
}

impl Sums {
    fn add(&mut self, step: f64, heat: Heat) {
        self.is_steady = self.heat.is_none() || self.is_steady && self.heat == Some(heat);
        self.heat = Some(heat);
        self.duration += step;
        self.copper += step * heat.copper_at_20;
        self.iron += step * heat.iron;
        self.turned += step * heat.rotor_speed;
    }

    /// None before the first reading.
    fn stretch(&self, end: f64) -> Option<Stretch> {
        let last = self.heat?;
        let heat = if self.is_steady {
            last
        } else {
            Heat {
                copper_at_20: self.copper / self.duration,
                iron: self.iron / self.duration,
                rotor_speed: self.turned / self.duration,
            }
        };
        Some(Stretch { times: [end - self.duration, end], heat })
    }
}

/// The readings of a heat test.
struct Run {
    stretches: Vec<Stretch>,
    start: Temperatures,
    ambient: f64,
}

pub fn heat(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let [x, y] = [
        Axis { name: "time", unit: "s", factor: 1.0 },
        Axis { name: "temperature", unit: "degC", factor: 1.0 },
    ];
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Heat, x, y));
    result.series = vec!["winding", "mount"];
    let Ok(rating) = &bench.product.heat else {
        result.remarks.push("The design's temperatures can't be predicted: nothing to fit.".into());
        return result;
    };
    let (Some(run), Some(first)) = (Run::of(bench, &rows), rows.first()) else {
        result.remarks.push("Fewer than two readings: nothing to fit.".into());
        return result;
    };
    let begun = [Column::Winding, Column::Mount].iter().filter_map(|column| first.get(*column));
    if begun.map(|at| (at - run.ambient).abs()).fold(0.0, f64::max) > 5.0 {
        result.remarks.push(
            "The joint wasn't cold at the first reading: what lies beyond the mount is taken to be as warm as it.".into(),
        );
    }
    for (series, column) in [Column::Winding, Column::Mount].into_iter().enumerate() {
        for row in &rows {
            if let Some(measured) = row.get(column) {
                let x = needed(row, Column::Time);
                result.points.push(Point {
                    line: row.line,
                    x,
                    measured,
                    predicted: None,
                    fitted: None,
                    used: true,
                    series,
                });
            }
        }
    }
    let places: Vec<(f64, usize)> = result.points.iter().map(|point| (point.x, point.series)).collect();
    let network = &rating.network;
    let mount_to_air = network.inputs.measured_mount_to_air.or_else(|| {
        crate::ratings::heat::steady::mount_to_air(network, crate::ratings::heat::inputs::REFERENCE_RISE)
    });
    let Some(mount_to_air) = mount_to_air else {
        result.remarks.push("The network gives no resistance of mount to air: nothing to fit.".into());
        return result;
    };
    let capacities = network.inputs.capacities;
    let start = vec![network.inputs.winding_to_mount, mount_to_air, capacities.winding, capacities.mount];
    let model = |p: &[f64], picks: &[usize]| {
        let there: Vec<(f64, usize)> = picks.iter().filter_map(|pick| places.get(*pick).copied()).collect();
        run.temperatures(&with(network, p)?, &there)
    };
    if let Some(predicted) = run.temperatures(&in_air(network, run.ambient), &places) {
        for (point, value) in result.points.iter_mut().zip(predicted) {
            point.predicted = Some([value, value - BANDS.temperature, value + BANDS.temperature]);
        }
    }
    // All four, or the mount's two where the readings don't tell the winding's: they must show how it runs ahead of the mount.
    let told = identify(&mut result, &start, &ALL, &model) || identify(&mut result, &start, &MOUNT, &model);
    if told {
        // What is said of the try that gave nothing would only confuse.
        result.remarks.retain(|remark| !remark.starts_with(NOTHING));
    }
    result
}

/// What can be unknown: name, key, kind.
const TABLE: [(&str, Kind, &str); 4] = [
    ("resistance winding to mount", Kind::ThermalResistance, "motor.thermal.winding_to_mount"),
    ("resistance mount to air", Kind::ThermalResistance, "motor.thermal.mount_to_air"),
    ("heat capacity of the winding", Kind::HeatCapacity, "motor.thermal.winding_capacity"),
    ("heat capacity of the mount", Kind::HeatCapacity, "motor.thermal.mount_capacity"),
];
const ALL: [usize; 4] = [0, 1, 2, 3];
const MOUNT: [usize; 2] = [1, 3];

/// Fits some of the four, the rest held; whether there is a fit.
fn identify(result: &mut TestResult, start: &[f64], unknown: &[usize], model: &Model) -> bool {
    // Unknowns as logarithms: none of them can be negative.
    let all = |logs: &[f64]| {
        let mut all = start.to_vec();
        for (log, index) in logs.iter().zip(unknown) {
            if let Some(value) = all.get_mut(*index) {
                *value = libm::exp(*log);
            }
        }
        all
    };
    let by_logs = |logs: &[f64], picks: &[usize]| model(&all(logs), picks);
    let picked: Vec<f64> = unknown.iter().filter_map(|index| start.get(*index).copied()).collect();
    let logs: Vec<f64> = picked.iter().map(|value| libm::log(*value)).collect();
    let names: Vec<&str> = unknown.iter().filter_map(|index| NAMES.get(*index).copied()).collect();
    let Some(fit) = result.fit(logs, vec![1.0; unknown.len()], STEP, &names, &by_logs) else { return false };
    if unknown.len() < TABLE.len() {
        result.remarks.push(
            "The readings don't tell the winding's constants: they are held as the design has them. They show in both temperatures, close together in time, as \
             the current comes on."
                .into(),
        );
    }
    for (place, (index, predicted)) in unknown.iter().zip(&picked).enumerate() {
        let Some((name, kind, key)) = TABLE.get(*index).copied() else { continue };
        let measure = Measure::Of(kind);
        let log = Identified::of(&fit, place, name, measure, Some(*predicted));
        let value = libm::exp(log.value);
        let identified = Identified {
            value,
            error: value * log.error,
            interval: log.interval.map(libm::exp),
            with_outliers: log.with_outliers.map(libm::exp),
            ..log
        };
        // An interval over a factor of four says that the test didn't show it.
        let shown = identified.interval[1] < 4.0 * identified.interval[0];
        if shown {
            result.identified.push(identified.written(key, measure.text(value)));
        } else {
            result.remarks.push(format!("The {name} doesn't show in these readings; it isn't written back."));
            result.identified.push(identified);
        }
    }
    true
}

/// The network with other constants; none for constants that no joint has.
fn with(network: &Network, p: &[f64]) -> Option<Network> {
    let [winding_to_mount, mount_to_air, winding, mount] = *p else { return None };
    if !p.iter().all(|value| value.is_finite() && *value > 1e-6 && *value < 1e7) {
        return None;
    }
    let mut inputs = network.inputs.clone();
    inputs.winding_to_mount = winding_to_mount;
    inputs.measured_mount_to_air = Some(mount_to_air);
    inputs.capacities.winding = winding;
    inputs.capacities.mount = mount;
    Some(Network::new(inputs))
}

fn in_air(network: &Network, ambient: f64) -> Network {
    network.changed(|inputs| inputs.ambient.temperature = ambient)
}

impl Run {
    /// None from fewer than two rows.
    fn of(bench: &Bench, rows: &[Row]) -> Option<Run> {
        let (first, last) = (rows.first()?, rows.last()?);
        if rows.len() < 2 {
            return None;
        }
        let resistance = bench.measured_circuit().resistance;
        let time = |row: &Row| needed(row, Column::Time);
        let longest = (time(last) - time(first)) / KNOTS as f64;
        let mut stretches: Vec<Stretch> = Vec::new();
        let mut sums = Sums::default();
        for pair in rows.windows(2) {
            let [row, next] = pair else { continue };
            let speed = row.get(Column::Speed).unwrap_or(0.0).abs() * bench.reduction.ratio;
            let heat = Heat {
                copper_at_20: copper_loss(needed(row, Column::Current), resistance),
                iron: bench.circuit.drag_torque * speed,
                rotor_speed: speed,
            };
            // The same heat goes on in one stretch; a changing one is averaged over short ones.
            let changes = sums.heat != Some(heat);
            if changes && (sums.duration >= longest || sums.is_steady && sums.duration >= 0.5 * longest)
                || !changes && !sums.is_steady
            {
                stretches.extend(sums.stretch(time(row)));
                sums = Sums::default();
            }
            sums.add(time(next) - time(row), heat);
        }
        stretches.extend(sums.stretch(time(last)));
        let ambient = rows.iter().map(|row| needed(row, Column::Ambient)).sum::<f64>() / rows.len() as f64;
        let mount = first.get(Column::Mount).or(first.get(Column::Winding)).unwrap_or(ambient);
        let mut start = [mount; NODES];
        // A cold joint begins at the air's temperature; single readings scatter.
        if (mount - ambient).abs() <= 5.0 {
            start = [ambient; NODES];
        } else if let Some(winding) = first.get(Column::Winding) {
            start[Node::Winding as usize] = winding;
        }
        (time(last) > time(first)).then_some(Run { stretches, start, ambient })
    }

    /// At times, of winding (0) or mount (1); none where the network has no course.
    fn temperatures(&self, network: &Network, places: &[(f64, usize)]) -> Option<Vec<f64>> {
        let network = in_air(network, self.ambient);
        let mut knots: Vec<Knot> = Vec::new();
        let mut at = self.start;
        for stretch in &self.stretches {
            let duration = stretch.times[1] - stretch.times[0];
            let solved = course(&network, at, stretch.heat, duration, Stop::Never).ok()?;
            let last = solved.times.len().checked_sub(1)?;
            let knot = |step: usize| {
                let temperatures = *solved.temperatures.get(step)?;
                let rates = network.rates(&temperatures, &stretch.heat);
                Some(Knot { time: stretch.times[0] + solved.times.get(step)?, temperatures, rates })
            };
            // Both ends of a stretch stand in the list: rates jump with the heat.
            for step in 0..=last {
                knots.push(knot(step)?);
            }
            at = *solved.end()?.1;
            if !at.iter().all(|temperature| temperature.is_finite()) {
                return None;
            }
        }
        at_places(&knots, places)
    }
}

/// Temperatures between the knots. Places mostly rise in time: the search goes on from the last one.
fn at_places(knots: &[Knot], places: &[(f64, usize)]) -> Option<Vec<f64>> {
    let nodes = [Node::Winding as usize, Node::Mount as usize];
    let last = knots.len().checked_sub(1).filter(|last| *last > 0)?;
    let mut after = 1;
    places
        .iter()
        .map(|(time, series)| {
            if knots.get(after - 1)?.time >= *time {
                after = 1;
            }
            while after < last && knots.get(after)?.time < *time {
                after += 1;
            }
            knots.get(after - 1)?.until(knots.get(after)?, *time, *nodes.get(*series)?)
        })
        .collect()
}

impl Knot {
    /// Temperature of a node at a time between two knots.
    fn until(&self, next: &Knot, time: f64, node: usize) -> Option<f64> {
        let (begin, end) = (*self.temperatures.get(node)?, *next.temperatures.get(node)?);
        let width = next.time - self.time;
        if width <= 0.0 {
            return Some(end);
        }
        let share = ((time - self.time) / width).clamp(0.0, 1.0);
        let slopes = [*self.rates.get(node)? * width, *next.rates.get(node)? * width];
        Some(hermite(share, [begin, end], slopes))
    }
}

/// The cubic with these ends and slopes, at a share of the way.
fn hermite(t: f64, ends: [f64; 2], slopes: [f64; 2]) -> f64 {
    let [square, cube] = [t * t, t * t * t];
    (2.0 * cube - 3.0 * square + 1.0) * ends[0]
        + (cube - 2.0 * square + t) * slopes[0]
        + (3.0 * square - 2.0 * cube) * ends[1]
        + (cube - square) * slopes[1]
}
