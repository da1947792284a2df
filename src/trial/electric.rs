//! The motor's electrical constants: spin, resistance, no-load current.

use super::bands::BANDS;
use super::bench::{Axis, Bench, Identified, Measure, TestResult, needed, picked, point, share};
use super::columns::{Column, TestKind};
use super::log::Row;
use super::uncertain::Uncertain;
use crate::design::KvConvention;
use crate::quantity::Kind;
use crate::ratings::motor::constants::{kv_line_peak, torque_constants};
use crate::ratings::motor::losses::{drag_torque, resistance_ratio};

const RPM: f64 = std::f64::consts::PI / 30.0;
/// Room, where no temperature is given \[degC\].
const ROOM: f64 = 20.0;

const ROTOR_SPEED: Axis = Axis { name: "rotor speed", unit: "rpm", factor: RPM };

/// Peak voltage between two leads over speed: `V = sqrt 3 Kt / (3/2) w` (textbook equation of the synchronous machine, from
/// memory; the same that [`Circuit`](crate::ratings::motor::Circuit) uses).
pub fn spin(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let y = Axis { name: "line voltage, peak", unit: "V", factor: 1.0 };
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Spin, ROTOR_SPEED, y));
    let per_constant = libm::sqrt(3.0) / 1.5;
    let speeds: Vec<f64> = rows.iter().map(|row| needed(row, Column::RotorSpeed).abs()).collect();
    let predicted = bench.circuit.torque_constant;
    for (row, speed) in rows.iter().zip(&speeds) {
        let expected = per_constant * predicted * speed;
        result.points.push(point(
            row,
            *speed,
            needed(row, Column::Voltage),
            Some(share(expected, BANDS.sheet)),
        ));
    }
    let model = |p: &[f64], picks: &[usize]| {
        Some(picked(&speeds, picks).map(|speed| per_constant * p[0] * speed).collect())
    };
    let Some(fit) = result.fit(vec![predicted], vec![predicted], 1e-4, &["torque constant"], &model) else {
        return result;
    };
    let constant = Identified::of(
        &fit,
        0,
        "torque constant, per peak phase ampere",
        Measure::Unit("N m/A"),
        Some(predicted),
    );
    bench.torque_constant = Some(Uncertain::of(&constant));
    let motor = &bench.product.actuator.design.motor;
    // Kv goes with one over the constant.
    let peak = |kv: f64| torque_constants(kv, KvConvention::LinePeak).peak_phase;
    let line_peak = peak(1.0) / constant.value;
    let kv = line_peak * motor.kv / kv_line_peak(motor.kv, motor.kv_is);
    let error = kv * constant.error / constant.value;
    let measure = Measure::Of(Kind::SpeedConstant);
    result.identified.push(
        Identified::derived("Kv, as the file means it", measure, kv, error, fit.freedom, Some(motor.kv))
            .written("motor.kv", measure.text(kv)),
    );
    result.identified.push(constant);
    result
}

/// Voltage over direct current through two leads: `V = V0 + 2 R20 (1 + 0.00393 (T - 20)) I`.
pub fn resistance(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let [x, y] = [
        Axis { name: "direct current", unit: "A", factor: 1.0 },
        Axis { name: "voltage", unit: "V", factor: 1.0 },
    ];
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::Resistance, x, y));
    let temperature = |row: &Row| row.get(Column::Winding).or_else(|| row.get(Column::Ambient));
    if rows.iter().any(|row| temperature(row).is_none()) {
        result.remarks.push(format!("Rows without winding or ambient count as {ROOM:.0} degC."));
    }
    let effective: Vec<f64> = rows
        .iter()
        .map(|row| 2.0 * resistance_ratio(temperature(row).unwrap_or(ROOM)) * needed(row, Column::Current))
        .collect();
    let predicted = bench.circuit.resistance;
    for (row, current) in rows.iter().zip(&effective) {
        let expected = share(predicted * current, BANDS.sheet);
        result.points.push(point(
            row,
            needed(row, Column::Current),
            needed(row, Column::Voltage),
            Some(expected),
        ));
    }
    let model = |p: &[f64], picks: &[usize]| {
        Some(picked(&effective, picks).map(|current| p[0] * current + p[1]).collect())
    };
    let names = ["resistance", "offset"];
    let Some(fit) = result.fit(vec![predicted, 0.0], vec![predicted, 0.1], 1e-4, &names, &model) else {
        return result;
    };
    let measure = Measure::Of(Kind::Resistance);
    let found = Identified::of(&fit, 0, "phase resistance at 20 degC", measure, Some(predicted));
    if found.value > 0.0 {
        bench.resistance = Some(found.value);
        let text = measure.text(found.value);
        result.identified.push(found.written("motor.phase_resistance", text));
    } else {
        result.remarks.push("The resistance comes out negative: a lead the wrong way round?".into());
        result.identified.push(found);
    }
    result.identified.push(Identified::of(
        &fit,
        1,
        "offset of the meters",
        Measure::Of(Kind::Voltage),
        Some(0.0),
    ));
    result
}

/// Supply current of the motor alone: `I = (Tc + b w) / Kt_dc`, Coulomb drag and viscous drag.
pub fn no_load(bench: &mut Bench, rows: Vec<Row>) -> TestResult {
    let y = Axis { name: "supply current", unit: "A", factor: 1.0 };
    let (rows, mut result) = bench.sorted(rows, TestResult::new(TestKind::NoLoad, ROTOR_SPEED, y));
    // Torque constant at the supply's side over that per peak ampere of a phase: from the same Kv.
    let both = torque_constants(1.0, KvConvention::LinePeak);
    let direct = bench.measured_circuit().torque_constant * both.direct_current / both.peak_phase;
    let expected = drag_torque(1.0, bench.circuit.torque_constant * both.direct_current / both.peak_phase);
    let known = bench.product.actuator.design.motor.no_load_current;
    let current = bench.circuit.drag_torque / expected;
    let band = if known.is_some() { 2.0 * BANDS.sheet } else { BANDS.guessed_drag };
    let speeds: Vec<f64> = rows.iter().map(|row| needed(row, Column::RotorSpeed).abs()).collect();
    for (row, speed) in rows.iter().zip(&speeds) {
        result.points.push(point(row, *speed, needed(row, Column::Current), Some(share(current, band))));
    }
    let middle = speeds.iter().sum::<f64>() / speeds.len().max(1) as f64;
    let most = speeds.iter().fold(0.0, |most: f64, speed| most.max((speed - middle).abs()));
    // Speeds that hardly differ say nothing of the slope.
    let slopes = most > 0.1 * middle && speeds.len() > 3;
    let model = |p: &[f64], picks: &[usize]| {
        let slope = p.get(1).copied().unwrap_or(0.0);
        Some(picked(&speeds, picks).map(|speed| p[0] + slope * (speed - middle)).collect())
    };
    let unknowns = if slopes { 2 } else { 1 };
    let [start, scale] =
        [[current, 0.0], [current, current / middle.max(1.0)]].map(|all| all[..unknowns].to_vec());
    let Some(fit) = result.fit(start, scale, 1e-4, &["current", "slope"][..unknowns], &model) else {
        return result;
    };
    let measure = Measure::Of(Kind::Current);
    let found =
        Identified::of(&fit, 0, "no-load current at the mean speed", measure, known.or(Some(current)));
    let text = measure.text(found.value);
    let constant = bench.relative_constant().scaled(direct);
    let drag = |value: f64, error: f64, name, measure, predicted| {
        let all = Uncertain { value, error, freedom: fit.freedom }.times(constant);
        Identified::derived(name, measure, all.value, all.error, all.freedom, predicted)
    };
    let torque = Measure::Of(Kind::Torque);
    if slopes {
        // At rest: value less slope times the mean speed; the two are independent about the mean.
        let at_rest = fit.values[0] - fit.values[1] * middle;
        let error = libm::hypot(fit.error(0), fit.error(1) * middle);
        result.identified.push(drag(at_rest, error, "Coulomb drag of the rotor", torque, None));
        let viscous = Measure::Unit("N m s/rad");
        result.identified.push(drag(
            fit.values[1],
            fit.error(1),
            "viscous drag of the rotor",
            viscous,
            Some(0.0),
        ));
    } else {
        result.remarks.push("The speeds differ too little to part Coulomb from viscous drag.".into());
    }
    let name = "drag of the rotor at the mean speed";
    let whole = drag(found.value, found.error, name, torque, Some(bench.circuit.drag_torque));
    bench.motor_drag = Some(Uncertain::of(&whole));
    result.identified.push(whole);
    result.identified.push(found.written("motor.no_load_current", text));
    result
}
