//! Current limits cold and hot, the heat model's constants, voltage, speed and time guards.

use std::f64::consts::PI;

use super::table::{Table, number, row};
use crate::product::Product;
use crate::ratings::heat::transient::Hottest;

const RPM: f64 = 30.0 / PI;
/// Supply trips, as shares of the supply (common practice, no source).
const UNDER: f64 = 0.8;
const OVER: f64 = 1.15;
/// Overspeed, as a share of the speed without load (common practice, no source).
const OVERSPEED: f64 = 1.1;
/// How far the output may run away before the watchdog ends it.
const RUNAWAY: f64 = 10.0 * PI / 180.0;

pub(super) fn currents(made: &Product) -> Table {
    let design = &made.actuator.design;
    let limit = f64::min(design.motor.current_limit, design.controller.current_limit);
    let mut rows = vec![row("highest at any time", number(limit, "A"))];
    let rating = made.heat.as_ref().ok();
    if let Some(peak) = rating.and_then(|rating| rating.peak.as_ref()) {
        rows.push(row("for the peak torque", number(peak.current, "A")));
        rows.push(row(
            "cold, may last",
            match rating.map(|rating| rating.survey()) {
                Some(Ok(survey)) => lasts(survey.peak_from_cold),
                _ => "no answer: the heat can't be solved".to_string(),
            },
        ));
        rows.push(row("warm, may last", lasts(peak.warm)));
    }
    match rating.map(|rating| (&rating.continuous, rating.one_phase_torque)) {
        Some((Ok(held), one_phase)) => {
            rows.push(row(
                "hot, for good, at rest",
                format!("{:.2} A ({:.2} N m at the output)", held.current, held.torque),
            ));
            if let Some(torque) = one_phase {
                rows.push(row("hot, one phase taking it all", format!("{torque:.2} N m at the output")));
            }
        }
        Some((Err(why), _)) => rows.push(row("hot, for good", format!("nothing: {why}"))),
        None => rows.push(row("hot, for good", "no answer: the heat can't be solved")),
    }
    let ambient = design.ambient.temperature;
    Table::pairs(
        "Current limits",
        format!("Peak of the sine in one phase; in air of {ambient:.0} degC. Torque to 20 %."),
        rows,
    )
}

fn lasts(time: Option<(f64, Hottest)>) -> String {
    match time {
        None => "a day and more".to_string(),
        Some((time, hottest)) => {
            let what = match hottest {
                Hottest::Winding => "winding",
                Hottest::Plate => "plastic under the motor",
                Hottest::Wall => "wall",
            };
            format!("{time:.1} s, then the {what} is at its limit")
        }
    }
}

pub(super) fn heat(made: &Product) -> Option<Table> {
    let rating = made.heat.as_ref().ok()?;
    let nodes = rating.survey().ok()?.two_nodes.as_ref()?;
    let limits = &rating.network.inputs.limits;
    let rows = vec![
        row("winding to mount", format!("{:.3} K/W", nodes.winding_to_mount)),
        row("mount to air", format!("{:.3} K/W", nodes.mount_to_air)),
        row("heat capacity of the winding", format!("{:.1} J/K", nodes.winding_capacity)),
        row("heat capacity of the mount", format!("{:.1} J/K", nodes.mount_capacity)),
        row("time constant, winding", format!("{:.1} s", nodes.fast)),
        row("time constant, all", format!("{:.0} s", nodes.slow)),
        row("limit of the winding", format!("{:.0} degC", limits.winding)),
        row("limit of the mount (plastic)", format!("{:.0} degC", limits.plate)),
        row("loss", "1.5 I^2 R (1 + 0.00393 (T - 20)), I peak, T winding"),
    ];
    Some(Table::pairs(
        "Heat model for the drive",
        format!(
            "Two nodes fitted to the whole network: their winding is off by {:.1} K at most.",
            nodes.worst_error
        ),
        rows,
    ))
}

pub(super) fn guards(made: &Product) -> Table {
    let controller = &made.actuator.design.controller;
    let supply = controller.bus_voltage;
    let mut rows = vec![
        row("supply", number(supply, "V")),
        row("trip under", number(UNDER * supply, "V")),
        row("trip over (a braking motor feeds back)", number(OVER * supply, "V")),
    ];
    if let Some(current) = controller.supply_current {
        rows.push(row("supply current", number(current, "A")));
    }
    if let Some(speed) = made.heat.as_ref().ok().and_then(|rating| rating.map().no_load_speed) {
        let ratio = made.actuator.stage.ratio;
        rows.push(row(
            "overspeed, output / rotor",
            format!("{:.0} / {:.0} rpm", OVERSPEED * speed * RPM, OVERSPEED * speed * ratio * RPM),
        ));
    }
    if let Some(time) = runaway_time(made) {
        rows.push(row("watchdog on commands, at most", format!("{:.0} ms", (time * 1e3).floor().max(1.0))));
    }
    Table::pairs(
        "Guards",
        "The watchdog's time is that in which full torque turns the free output 10 deg. On a trip: torque off; a hanging load then falls.",
        rows,
    )
}

/// `sqrt(2 angle J / T)` \[s\].
fn runaway_time(made: &Product) -> Option<f64> {
    let inputs = &made.control.as_ref().ok()?.inputs;
    let torque = inputs.drive().most();
    let inertia = inputs.motor_inertia + inputs.carrier_inertia;
    (torque > 0.0).then(|| (2.0 * RUNAWAY * inertia / torque).sqrt())
}
