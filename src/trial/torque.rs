//! Torque at the output over current; current of the joint turning freely.

use super::bands::BANDS;
use super::bench::{
    Axis, Bench, Identified, Measure, TestResult, needed, picked, point, share, torque as torque_of,
};
use super::columns::{Column, TestKind};
use super::least_squares::Fit;
use super::log::Row;
use super::uncertain::Uncertain;
use crate::quantity::{Kind, format_number};
use crate::ratings::motor::saturation;

/// Saturation shows from this share of the current limit on: there the straight line has lost a quarter of what it loses at the
/// limit.
const SATURATES: f64 = 0.5;
/// Fewest readings each way for friction at rest.
const EACH_WAY: usize = 3;
const RPM: f64 = std::f64::consts::PI / 30.0;

/// `T = c + i eta Kt I (1 - a (I / Imax)^2) - Ts d`: offset, the project's torque with saturation, and friction at rest, which takes from a
/// scale while the current rises (d = 1) and gives while it falls (d = -1).
pub fn torque(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let [x, y] = [
        Axis { name: "peak phase current", unit: "A", factor: 1.0 },
        Axis { name: "torque at the output", unit: "N m", factor: 1.0 },
    ];
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Torque, x, y));
    let design = &bench.product.actuator.design;
    let limit = design.motor.current_limit;
    let currents: Vec<f64> = rows.iter().map(|row| needed(row, Column::Current)).collect();
    let ways = ways(&currents);
    for (row, current) in rows.iter().zip(&currents) {
        let expected = bench.reduction.output(bench.circuit.torque(*current));
        // The saturation's curve ends at the limit.
        let known = current.abs() <= limit;
        result.points.push(point(
            row,
            *current,
            torque_of(row),
            known.then(|| share(expected, BANDS.torque)),
        ));
    }
    let highest = currents.iter().fold(0.0, |most: f64, current| most.max(current.abs()));
    let saturates = highest >= SATURATES * limit;
    let held = design.motor.saturation;
    if !saturates {
        result.remarks.push(format!(
            "Saturation is held at {held}: the highest current, {highest:.1} A, is under half of the limit, {limit:.1} A."
        ));
    }
    let rising = ways.iter().filter(|way| **way > 0.0).count();
    let falling = ways.iter().filter(|way| **way < 0.0).count();
    let both_ways = rising.min(falling) >= EACH_WAY;
    if !both_ways {
        result.remarks.push(
            "Friction at rest isn't identified, and is in the offset: raise the current and lower it again, three readings each way."
                .into(),
        );
    }
    if both_ways {
        result.series = vec!["rising", "falling"];
        for (point, way) in result.points.iter_mut().zip(&ways) {
            point.series = usize::from(*way < 0.0);
        }
    }
    let per_ampere = bench.reduction.output(bench.circuit.torque_constant);
    let scale_torque = 0.1 * per_ampere * limit;
    let unknowns = Unknowns { saturates, both_ways, held, limit };
    let model = |p: &[f64], picks: &[usize]| {
        let rows = picked(&currents, picks).zip(picked(&ways, picks));
        Some(rows.map(|(current, way)| unknowns.torque(p, current, way)).collect())
    };
    let mut names = vec!["torque per ampere", "offset"];
    let [mut start, mut scale] = [vec![per_ampere, 0.0], vec![per_ampere, scale_torque]];
    if saturates {
        names.push("saturation");
        start.push(held);
        scale.push(0.1);
    }
    if both_ways {
        names.push("friction at rest");
        start.push(0.0);
        scale.push(scale_torque);
    }
    let Some(fit) = result.fit(start, scale, 1e-4, &names, &model) else { return result };
    unknowns.identified(bench, &fit, &mut result);
    result
}

/// 1 for a reading reached upwards, -1 downwards; equal currents keep the way, the first has the second's.
fn ways(currents: &[f64]) -> Vec<f64> {
    let mut ways: Vec<f64> = Vec::with_capacity(currents.len());
    for (index, current) in currents.iter().enumerate() {
        let before = index.checked_sub(1).and_then(|before| currents.get(before));
        let way = match before {
            Some(before) if current.abs() > before.abs() => 1.0,
            Some(before) if current.abs() < before.abs() => -1.0,
            _ => ways.last().copied().unwrap_or(1.0),
        };
        // Friction works against the push, whichever way that is.
        ways.push(way);
    }
    if let Some(second) = ways.get(1).copied()
        && let Some(first) = ways.first_mut()
    {
        *first = second;
    }
    ways
}

/// Which unknowns a torque test has, in this order: per ampere, offset, saturation, friction.
struct Unknowns {
    saturates: bool,
    both_ways: bool,
    held: f64,
    limit: f64,
}

impl Unknowns {
    fn friction_at(&self) -> usize {
        if self.saturates { 3 } else { 2 }
    }

    fn torque(&self, p: &[f64], current: f64, way: f64) -> f64 {
        let value = |index: usize| p.get(index).copied().unwrap_or(0.0);
        let lost = if self.saturates { value(2) } else { self.held };
        let friction = if self.both_ways { value(self.friction_at()) } else { 0.0 };
        let push = if current < 0.0 { -1.0 } else { 1.0 };
        saturation::torque(value(0), lost, self.limit, current) + value(1) - friction * way * push
    }

    fn identified(&self, bench: &Bench, fit: &Fit, result: &mut TestResult) {
        let design = &bench.product.actuator.design;
        let torque = Measure::Of(Kind::Torque);
        let predicted = bench.reduction.output(bench.circuit.torque_constant);
        let per_ampere = Identified::of(
            fit,
            0,
            "torque per ampere at the output",
            Measure::Unit("N m/A"),
            Some(predicted),
        );
        let efficiency = efficiency(bench, &per_ampere, result);
        result.identified.push(per_ampere);
        if self.saturates {
            let found =
                Identified::of(fit, 2, "saturation at the current limit", Measure::Unit(""), Some(self.held));
            // Keys hold 0 to a half.
            let key = (found.value >= 0.0 && found.value <= 0.5).then(|| Measure::Unit("").text(found.value));
            result.identified.push(match key {
                Some(text) => found.written("motor.saturation", text),
                None => found,
            });
        }
        if self.both_ways {
            let at = self.friction_at();
            result.identified.push(Identified::of(fit, at, "friction at rest, at the output", torque, None));
        }
        result.identified.push(Identified::of(fit, 1, "offset of scale and tare", torque, Some(0.0)));
        let text = Measure::Unit("").text(efficiency.value);
        let sensible = efficiency.value >= 0.1 && efficiency.value <= 1.0;
        if !sensible {
            result.remarks.push(format!(
                "An efficiency of {} can't be: the torque constant, the lever or the scale is off. A spin test gives the constant.",
                format_number((efficiency.value * 1e3).round() / 1e3)
            ));
        }
        let predicted = Some(design.gearset.efficiency);
        let efficiency = Identified { predicted, ..efficiency };
        result.identified.push(if sensible {
            efficiency.written("gearset.efficiency", text)
        } else {
            efficiency
        });
    }
}

/// Torque per ampere over ratio and torque constant.
fn efficiency(bench: &Bench, per_ampere: &Identified, result: &mut TestResult) -> Identified {
    let name = "efficiency of the stage";
    let ratio = bench.reduction.ratio;
    let relative = per_ampere.error / per_ampere.value;
    let Some(constant) = bench.torque_constant else {
        let value = per_ampere.value / (ratio * bench.circuit.torque_constant);
        result.remarks.push(
            "Torque constant and efficiency aren't told apart by this test alone: the efficiency is that with the file's Kv. A spin \
             test parts them."
                .into(),
        );
        let error = (value * relative).abs();
        return Identified::derived(name, Measure::Unit(""), value, error, per_ampere.freedom, None);
    };
    let found = Uncertain::of(per_ampere).scaled(1.0 / ratio).over(constant);
    Identified::derived(name, Measure::Unit(""), found.value, found.error, found.freedom, None)
}

/// Torque at the rotor that the current makes while nothing is driven: `T(I) = Tc + b w`.
pub fn free_run(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let [x, y] = [
        Axis { name: "output speed", unit: "rpm", factor: RPM },
        Axis { name: "friction at the rotor", unit: "mN m", factor: 1e-3 },
    ];
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::FreeRun, x, y));
    let circuit = bench.measured_circuit();
    if bench.torque_constant.is_none() {
        result.remarks.push("Torque from the current by the file's Kv: no spin test.".into());
    }
    let expected = bench.friction();
    let speeds: Vec<f64> =
        rows.iter().map(|row| needed(row, Column::Speed).abs() * bench.reduction.ratio).collect();
    for (row, speed) in rows.iter().zip(&speeds) {
        let friction = circuit.torque(needed(row, Column::Current).abs());
        let predicted = share(expected, BANDS.friction);
        result.points.push(point(row, speed / bench.reduction.ratio, friction, Some(predicted)));
    }
    let model =
        |p: &[f64], picks: &[usize]| Some(picked(&speeds, picks).map(|speed| p[0] + p[1] * speed).collect());
    let fastest = speeds.iter().fold(1.0, |most: f64, speed| most.max(*speed));
    let names = ["Coulomb friction", "viscous friction"];
    if let Some(fit) =
        result.fit(vec![expected, 0.0], vec![expected, expected / fastest], 1e-4, &names, &model)
    {
        // Currents were turned to torques by the constant: its error is in each of them alike.
        let constant = bench.relative_constant();
        let mut push = |index, name, measure, predicted| {
            let own = Identified::of(&fit, index, name, measure, predicted);
            let all = Uncertain::of(&own).times(constant);
            result.identified.push(Identified {
                with_outliers: own.with_outliers,
                ..Identified::derived(name, measure, own.value, all.error, all.freedom, predicted)
            });
        };
        let torque = Measure::Of(Kind::Torque);
        push(0, "Coulomb friction of the joint, at the rotor", torque, Some(expected));
        let viscous = Measure::Unit("N m s/rad");
        push(1, "viscous friction of the joint, at the rotor", viscous, Some(0.0));
    }
    result
}
