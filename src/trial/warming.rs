//! Temperatures over time: the constants of winding and mount, by the project's own heat network.
//!
//! Unknown are the four that the design file takes: resistances winding to mount and mount to air, capacities of winding and mount; the
//! rest of the network (walls, air, rotor) stays as drawn. Between readings the current's heat holds its mean; at most
//! [`KNOTS`] stretches are solved, and readings between their ends lie on the cubic that the network's own rates give.

use super::bench::{Axis, Bench, Identified, Measure, Point, TestResult, needed};
use super::columns::{Column, TestKind};
use super::log::Row;
use crate::quantity::Kind;
use crate::ratings::heat::network::{Heat, NODES, Network, Node, Temperatures};
use crate::ratings::heat::transient::{Stop, course};
use crate::ratings::motor::losses::copper_loss;

/// Most stretches of constant heat.
const KNOTS: usize = 200;
/// Of a predicted temperature \[K\] (common practice, no source).
const BAND: f64 = 10.0;
/// Step of the derivatives, relative: far over the solver's tolerance.
const STEP: f64 = 1e-3;
const NAMES: [&str; 4] = ["winding to mount", "mount to air", "winding's capacity", "mount's capacity"];

/// A stretch of time with one heat.
struct Stretch {
    /// Begin and end \[s\].
    times: [f64; 2],
    heat: Heat,
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
    let model = |p: &[f64]| run.temperatures(&with(network, p)?, &places);
    if let Some(predicted) = run.temperatures(&in_air(network, run.ambient), &places) {
        for (point, value) in result.points.iter_mut().zip(predicted) {
            point.predicted = Some([value, value - BAND, value + BAND]);
        }
    }
    // Unknowns as logarithms: none of them can be negative.
    let logs = |p: &[f64]| model(&p.iter().map(|log| libm::exp(*log)).collect::<Vec<f64>>());
    let log_start: Vec<f64> = start.iter().map(|value| libm::log(*value)).collect();
    let Some(fit) = result.fit(log_start, vec![1.0; 4], STEP, &NAMES, &logs) else { return result };
    let table = [
        ("resistance winding to mount", Kind::ThermalResistance, "motor.thermal.winding_to_mount"),
        ("resistance mount to air", Kind::ThermalResistance, "motor.thermal.mount_to_air"),
        ("heat capacity of the winding", Kind::HeatCapacity, "motor.thermal.winding_capacity"),
        ("heat capacity of the mount", Kind::HeatCapacity, "motor.thermal.mount_capacity"),
    ];
    for (index, ((name, kind, key), predicted)) in table.into_iter().zip(&start).enumerate() {
        let measure = Measure::Of(kind);
        let log = Identified::of(&fit, index, name, measure, Some(*predicted));
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
    result
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
        let stride = (rows.len() - 1).div_ceil(KNOTS).max(1);
        let mut stretches = Vec::with_capacity(KNOTS);
        let mut begin = 0;
        while begin + 1 < rows.len() {
            let end = (begin + stride).min(rows.len() - 1);
            let part = rows.get(begin..=end)?;
            let [mut heat, mut iron, mut turned, mut duration] = [0.0; 4];
            for pair in part.windows(2) {
                let [row, next] = pair else { continue };
                let step = time(next) - time(row);
                let speed = row.get(Column::Speed).unwrap_or(0.0).abs() * bench.reduction.ratio;
                heat += step * copper_loss(needed(row, Column::Current), resistance);
                iron += step * bench.circuit.drag_torque * speed;
                turned += step * speed;
                duration += step;
            }
            let heat =
                Heat { copper_at_20: heat / duration, iron: iron / duration, rotor_speed: turned / duration };
            stretches.push(Stretch { times: [time(part.first()?), time(part.last()?)], heat });
            begin = end;
        }
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
        let mut knots: Vec<(f64, Temperatures)> = Vec::with_capacity(self.stretches.len() + 1);
        let mut at = self.start;
        for stretch in &self.stretches {
            knots.push((stretch.times[0], at));
            let duration = stretch.times[1] - stretch.times[0];
            at = *course(&network, at, stretch.heat, duration, Stop::Never).ok()?.end()?.1;
            if !at.iter().all(|temperature| temperature.is_finite()) {
                return None;
            }
        }
        knots.push((self.stretches.last()?.times[1], at));
        // Each stretch with the rates of its own heat at both ends.
        let slopes: Vec<[Temperatures; 2]> = self
            .stretches
            .iter()
            .zip(knots.windows(2))
            .map(|(stretch, ends)| {
                [0, 1].map(|end| ends.get(end).map_or([0.0; NODES], |(_, t)| network.rates(t, &stretch.heat)))
            })
            .collect();
        let node = [Node::Winding as usize, Node::Mount as usize];
        places
            .iter()
            .map(|(time, series)| {
                let after = self.stretches.partition_point(|stretch| stretch.times[1] < *time);
                let index = after.min(self.stretches.len() - 1);
                let (stretch, slopes) = (self.stretches.get(index)?, slopes.get(index)?);
                let (from, to) = (knots.get(index)?.1, knots.get(index + 1)?.1);
                let node = *node.get(*series)?;
                let width = stretch.times[1] - stretch.times[0];
                let share = (time - stretch.times[0]) / width;
                Some(hermite(
                    share,
                    [from[node], to[node]],
                    [slopes[0][node] * width, slopes[1][node] * width],
                ))
            })
            .collect()
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
