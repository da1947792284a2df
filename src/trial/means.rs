//! Tests whose readings are all of one and the same thing: their mean.

use super::bands::BANDS;
use super::bench::{Axis, Bench, Identified, Measure, TestResult, needed, point, share, torque};
use super::columns::{Column, TestKind};
use super::least_squares::Fit;
use super::log::Row;
use super::uncertain::Uncertain;
use crate::assessment::back_drive::{self, back_drive};
use crate::quantity::Kind;
use crate::ratings::motor::Supply;

const RPM: f64 = std::f64::consts::PI / 30.0;

const READING: Axis = Axis { name: "reading", unit: "", factor: 1.0 };
const OUTPUT_TORQUE: Axis = Axis { name: "torque at the output", unit: "N m", factor: 1.0 };

/// The mean of all points.
fn mean(result: &mut TestResult, scale: f64) -> Option<Fit> {
    let model = |p: &[f64], picks: &[usize]| Some(vec![p[0]; picks.len()]);
    result.fit(vec![scale], vec![scale.abs().max(1e-9)], 1e-4, &["mean"], &model)
}

fn number_points(result: &mut TestResult) {
    for (point, number) in result.points.iter_mut().zip(1..) {
        point.x = f64::from(number);
    }
}

/// Power off, turned slowly. The stage's drag is what is left after the motor's.
pub fn back_driven(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::BackDrive, READING, OUTPUT_TORQUE));
    let actuator = &bench.product.actuator;
    let expected = back_drive(actuator).map(|found| [found.expected, found.band[0], found.band[1]]);
    result.points = rows.iter().map(|row| point(row, 0.0, torque(row).abs(), expected)).collect();
    number_points(&mut result);
    let Some(fit) = mean(&mut result, expected.map_or(1.0, |[value, ..]| value)) else { return result };
    let measure = Measure::Of(Kind::Torque);
    let found = Identified::of(&fit, 0, "back-drive torque", measure, expected.map(|[value, ..]| value));
    if let Some(efficiency) = back_drive::efficiency(actuator) {
        let cogging = actuator.design.motor.cogging_torque.unwrap_or(0.0);
        let motor = bench.motor_drag.unwrap_or(Uncertain::known(bench.circuit.drag_torque));
        let motor = Uncertain { value: motor.value + cogging, ..motor };
        let through = motor.scaled(bench.reduction.ratio / efficiency.back);
        let left = Uncertain::of(&found).minus(through);
        let drag = left.value;
        let own = Identified::derived(
            "drag of the stage, motor taken off",
            measure,
            left.value,
            left.error,
            left.freedom,
            Some(actuator.torques.drag),
        );
        result.remarks.push(if bench.motor_drag.is_some() {
            format!("The motor's part, {}, is by the no-load test, its error in the interval.", measure.text(through.value))
        } else {
            format!(
                "The motor's part, {}, is as the file gives it; its error isn't in the stage's interval. A no-load test puts it there.",
                measure.text(through.value)
            )
        });
        if drag <= 0.0 {
            result.remarks.push(
                "A stage that drives doesn't have a negative drag: the motor's drag, the pull or its lever is off; nothing is written back."
                    .into(),
            );
        }
        result.identified.push(if drag > 0.0 {
            own.written("gearset.drag", measure.text(drag))
        } else {
            own
        });
    }
    result.identified.push(found);
    result
}

/// Power off, just before it turns.
pub fn break_away(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::BreakAway, READING, OUTPUT_TORQUE));
    result.points = rows.iter().map(|row| point(row, 0.0, torque(row).abs(), None)).collect();
    number_points(&mut result);
    if let Some(fit) = mean(&mut result, 1.0) {
        let measure = Measure::Of(Kind::Torque);
        result.identified.push(Identified::of(&fit, 0, "static friction at the output", measure, None));
        result.remarks.push("No rating predicts friction at rest.".into());
    }
    result
}

/// The rotor alone.
pub fn cogging(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let y = Axis { name: "torque at the rotor", unit: "mN m", factor: 1e-3 };
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Cogging, READING, y));
    let known = bench.product.actuator.design.motor.cogging_torque;
    let expected = known.map(|value| share(value, BANDS.friction));
    result.points = rows.iter().map(|row| point(row, 0.0, torque(row).abs(), expected)).collect();
    number_points(&mut result);
    if let Some(fit) = mean(&mut result, known.unwrap_or(0.01)) {
        let measure = Measure::Of(Kind::Torque);
        let found = Identified::of(&fit, 0, "cogging torque, peak", measure, known);
        let text = measure.text(found.value);
        result.identified.push(found.written("motor.cogging_torque", text));
    }
    result
}

/// Output free, all of the supply's voltage.
pub fn top_speed(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let [x, y] = [
        Axis { name: "supply voltage", unit: "V", factor: 1.0 },
        Axis { name: "output speed", unit: "rpm", factor: RPM },
    ];
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::TopSpeed, x, y));
    let predicted = |voltage: f64| {
        let rating = bench.product.heat.as_ref().ok()?;
        let supply = Supply { voltage, ..rating.supply };
        let speed = bench.circuit.no_load_speed(&supply, rating.network.ambient())?;
        Some(share(speed / bench.reduction.ratio, BANDS.speed))
    };
    result.points = rows
        .iter()
        .map(|row| {
            let voltage = needed(row, Column::Voltage);
            point(row, voltage, needed(row, Column::Speed).abs(), predicted(voltage))
        })
        .collect();
    result
}
