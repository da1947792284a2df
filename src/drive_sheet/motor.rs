//! Constants of motor, encoder and current loop.

use std::f64::consts::TAU;

use super::table::{Table, maybe, number, row};
use crate::design::KvConvention;
use crate::product::Product;
use crate::ratings::motor::torque_constants;
use crate::ratings::spring::encoder::resolution;

/// Bandwidth of the current loop as a share of its rate (common practice, no source).
const CURRENT_BANDWIDTH: f64 = 1.0 / 20.0;

pub(super) fn motor(made: &Product) -> Table {
    let actuator = &made.actuator;
    let motor = &actuator.design.motor;
    let constants = torque_constants(motor.kv, motor.kv_is);
    let output = actuator.stage.ratio;
    let kv_is = match motor.kv_is {
        KvConvention::LinePeak => "per volt of line-to-line peak",
        KvConvention::LineRms => "per volt of line-to-line r.m.s.",
        KvConvention::Dc => "per volt of the direct-current supply",
    };
    let rows = vec![
        row("Kv", format!("{}, {kv_is}", number(motor.kv, "rpm/V"))),
        row("torque constant, per ampere peak in one phase", number(constants.peak_phase, "N m/A")),
        row("torque constant, per ampere r.m.s. in one phase", number(constants.rms_phase, "N m/A")),
        row(
            "torque constant, per ampere of direct current (six-step)",
            number(constants.direct_current, "N m/A"),
        ),
        row("the first, at the output, without losses", number(constants.peak_phase * output, "N m/A")),
        row("torque lost to saturation at the motor's limit", number(100.0 * motor.saturation, "%")),
        row("pole pairs", motor.pole_pairs.to_string()),
        row("resistance of one phase, 20 degC", number(motor.phase_resistance, "ohm")),
        row("resistance between two leads", number(2.0 * motor.phase_resistance, "ohm")),
        row("inductance of one phase", maybe(motor.phase_inductance.map(|henry| henry * 1e6), "uH")),
        row("ratio, rotor turns a turn of the output", format!("{output:.4}, same direction")),
    ];
    Table::pairs("Motor and gears", format!("{}; a delta winding as its equivalent wye.", motor.name), rows)
}

pub(super) fn encoder(made: &Product) -> Table {
    let encoder = &made.actuator.design.controller.encoder;
    let ratio = made.actuator.stage.ratio;
    let count = resolution(encoder.bits);
    let mut rows = vec![
        row("place", "on the rotor's axis, at the back"),
        row(
            "counts a turn of the rotor",
            format!("{} ({} bits)", 1_u64 << encoder.bits.min(63), encoder.bits),
        ),
        row("one count at the output", number(count.to_degrees() / ratio, "deg")),
        row("gap to the magnet", format!("{} (0.5 to 3 mm)", number(encoder.gap, "mm"))),
        row("sensor beside the axis, reckoned with", number(encoder.eccentricity, "mm")),
    ];
    if let Ok(rating) = &made.control
        && let Some(error) = rating.encoder
    {
        rows.push(row(
            "angle error from that, twice a turn, at most",
            format!(
                "{:.2} deg of the rotor, {:.1} deg electrical",
                error.mechanical.to_degrees(),
                error.electrical.to_degrees()
            ),
        ));
        rows.push(row("torque lost where it is greatest", format!("{:.1} %", 100.0 * error.torque_lost)));
    }
    Table::pairs("Encoder", "", rows)
}

pub(super) fn current_loop(made: &Product) -> Table {
    let design = &made.actuator.design;
    let (motor, controller) = (&design.motor, &design.controller);
    let bandwidth = CURRENT_BANDWIDTH * controller.loop_rate;
    let proportional = motor.phase_inductance.map(|henry| henry * TAU * bandwidth);
    let rows = vec![
        row("current loop", number(controller.loop_rate, "Hz")),
        row("its bandwidth, a twentieth", number(bandwidth, "Hz")),
        row("proportional gain, L w", maybe(proportional, "V/A")),
        row("integral gain, R w", number(motor.phase_resistance * TAU * bandwidth, "V/(A s)")),
        row("position loop", number(controller.position_rate, "Hz")),
        row("from reading to torque", number(controller.loop_delay * 1e3, "ms")),
        row("low-pass on the speed, cut-off", number(controller.velocity_filter, "Hz")),
    ];
    Table::pairs(
        "Loops",
        "Current loop by cancelling the winding's pole, w = 2 pi bandwidth; a start, then by its step response.",
        rows,
    )
}
