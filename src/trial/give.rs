//! Free turn and stiffness of the output, the rotor held.

use std::f64::consts::PI;

use super::bands::BANDS;
use super::bench::{Axis, Bench, Identified, Measure, TestResult, needed, picked, point, torque};
use super::columns::{Column, TestKind};
use super::log::Row;
use crate::quantity::Kind;

const DEGREE: f64 = PI / 180.0;
/// Fewest readings each way for the free turn.
const EACH_WAY: usize = 3;

const TURN: Axis = Axis { name: "turn of the output", unit: "deg", factor: DEGREE };

/// The mean over the places measured; the prediction is a range already.
pub fn backlash(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let x = Axis { name: "place", unit: "", factor: 1.0 };
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Backlash, x, TURN));
    let expected = play(bench);
    result.points = rows.iter().map(|row| point(row, 0.0, needed(row, Column::Angle), expected)).collect();
    for (point, number) in result.points.iter_mut().zip(1..) {
        point.x = f64::from(number);
    }
    let model = |p: &[f64], picks: &[usize]| Some(vec![p[0]; picks.len()]);
    let start = expected.map_or(DEGREE, |[middle, ..]| middle);
    if let Some(fit) = result.fit(vec![start], vec![start.max(1e-6)], 1e-4, &["mean"], &model) {
        let measure = Measure::Of(Kind::Angle);
        result.identified.push(Identified::of(
            &fit,
            0,
            "backlash, mean over the places",
            measure,
            expected.map(|[middle, ..]| middle),
        ));
        result.remarks.push(
            "No key takes it: it follows from gearset.backlash and the printer's tooth_growth (hubwright coupons)."
                .into(),
        );
    }
    result
}

/// Middle of the predicted play, and its ends by half and twice.
fn play(bench: &Bench) -> Option<[f64; 3]> {
    let [least, most] = bench.product.feel.play.as_ref()?.output;
    Some([0.5 * (least + most), least / BANDS.play, most * BANDS.play])
}

/// `angle = T / k + sign(T) b / 2 + a0`.
pub fn stiffness(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let x = Axis { name: "torque at the output", unit: "N m", factor: 1.0 };
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Stiffness, x, TURN));
    let predicted = bench.product.feel.stiffness.as_ref();
    let torques: Vec<f64> = rows.iter().map(torque).collect();
    let half_play = play(bench).map_or(0.0, |[middle, ..]| 0.5 * middle);
    for (row, torque) in rows.iter().zip(&torques) {
        let angle = |stiffness: f64| torque / stiffness + half_play * sign(*torque);
        let expected = predicted.map(|rated| {
            let [soft, stiff] = rated.band();
            let [one, other] = [angle(soft), angle(stiff)];
            [angle(rated.output()), one.min(other), one.max(other)]
        });
        result.points.push(point(row, *torque, needed(row, Column::Angle), expected));
    }
    let ways = [1.0, -1.0].map(|way| torques.iter().filter(|torque| sign(**torque) == way).count());
    let both_ways = ways.iter().all(|count| *count >= EACH_WAY);
    if !both_ways {
        result.remarks.push(
            "Backlash isn't identified, and is in the zero: twist both ways, three readings each.".into(),
        );
    }
    let model = |p: &[f64], picks: &[usize]| {
        let half = if both_ways { 0.5 * p[2] } else { 0.0 };
        Some(picked(&torques, picks).map(|torque| p[0] * torque + p[1] + half * sign(torque)).collect())
    };
    let compliance = predicted.map_or(0.01, |rated| 1.0 / rated.output());
    let unknowns = if both_ways { 3 } else { 2 };
    let names = ["compliance", "zero", "backlash"];
    let start = [compliance, 0.0, 2.0 * half_play][..unknowns].to_vec();
    let scale = [compliance, DEGREE, DEGREE][..unknowns].to_vec();
    let Some(fit) = result.fit(start, scale, 1e-4, &names[..unknowns], &model) else { return result };
    // The interval of one over a value is one over its ends: exact, and right where the error is large.
    let soft = Identified::of(&fit, 0, "stiffness, rotor held", Measure::Of(Kind::Stiffness), None);
    let [low, high] = soft.interval;
    if low > 0.0 {
        result.identified.push(Identified {
            value: 1.0 / soft.value,
            error: soft.error / (soft.value * soft.value),
            interval: [1.0 / high, 1.0 / low],
            predicted: predicted.map(|rated| rated.output()),
            with_outliers: soft.with_outliers.map(|value| 1.0 / value),
            ..soft
        });
        result.remarks.push("No key takes the stiffness: it follows from teeth, pins and plates.".into());
    } else {
        result.remarks.push("The readings don't show that the output yields at all.".into());
    }
    if both_ways {
        let expected = play(bench).map(|[middle, ..]| middle);
        result.identified.push(Identified::of(&fit, 2, "backlash", Measure::Of(Kind::Angle), expected));
    }
    result
}

fn sign(value: f64) -> f64 {
    if value > 0.0 {
        1.0
    } else if value < 0.0 {
        -1.0
    } else {
        0.0
    }
}
