//! Readings that physics rules out. They are told by line and kept out of the fits.

use super::bench::Bench;
use super::columns::{Column, TestKind};
use super::log::Row;
use crate::design::FieldWeakening;

/// Over the torque that the magnets make of a current without any loss: Kv of one sheet means constants that differ by 15 %, and
/// a sample of motors by 20 % (common practice, no source).
const OVER_LOSSLESS: f64 = 1.5;
/// Of the peak torque, for friction that helps the scale.
const FRICTION: f64 = 0.1;
/// Thermometers differ by as much \[K\] (common practice, no source).
const THERMOMETERS: f64 = 3.0;
/// Hotter than any winding stays one \[degC\]: enamel of the best class is rated for 240 (IEC 60317, from memory).
const BURNT: f64 = 300.0;
/// Over the speed at which the magnets alone induce the supply's voltage.
const OVER_IDEAL: f64 = 1.5;

/// Why a reading can't be; none if it can.
pub fn why(bench: &Bench, row: &Row) -> Option<String> {
    if let (Some(lever), Some(_)) = (row.get(Column::Lever), row.get(Column::Force))
        && lever <= 0.0
    {
        return Some(format!("a lever of {lever} mm"));
    }
    match row.test {
        TestKind::Spin => spin(row),
        TestKind::Resistance => resistance(row),
        TestKind::NoLoad => no_load(row),
        TestKind::Torque => torque(bench, row),
        TestKind::Heat => heat(row),
        TestKind::TopSpeed => top_speed(bench, row),
        TestKind::Backlash => {
            let angle = row.get(Column::Angle)?;
            (angle < 0.0).then(|| format!("a free turn of {:.3} deg is negative", angle.to_degrees()))
        }
        TestKind::FreeRun
        | TestKind::BackDrive
        | TestKind::BreakAway
        | TestKind::Cogging
        | TestKind::Stiffness => None,
    }
}

fn spin(row: &Row) -> Option<String> {
    let voltage = row.get(Column::Voltage)?;
    (voltage <= 0.0).then(|| format!("a peak of {voltage} V while the rotor turns"))
}

fn resistance(row: &Row) -> Option<String> {
    let (voltage, current) = (row.get(Column::Voltage)?, row.get(Column::Current)?);
    (voltage * current < 0.0)
        .then(|| format!("{voltage} V at {current} A is a negative resistance: a lead the wrong way round?"))
}

fn no_load(row: &Row) -> Option<String> {
    let current = row.get(Column::Current)?;
    (current <= 0.0).then(|| format!("{current} A from the supply, while the motor turns"))
}

fn torque(bench: &Bench, row: &Row) -> Option<String> {
    let (torque, current) = (row.torque()?, row.get(Column::Current)?);
    let constant = bench.torque_constant.map_or(bench.circuit.torque_constant, |[value, ..]| value);
    let lossless = constant * current.abs() * bench.reduction.ratio;
    let most = OVER_LOSSLESS * lossless + FRICTION * bench.product.actuator.torques.output;
    (torque.abs() > most).then(|| {
        format!(
            "{torque:.3} N m at {current:.2} A: the magnets make {lossless:.3} N m of it without any loss; wrong lever, scale or unit?"
        )
    })
}

fn heat(row: &Row) -> Option<String> {
    let ambient = row.get(Column::Ambient)?;
    for (name, column) in [("winding", Column::Winding), ("mount", Column::Mount)] {
        let Some(temperature) = row.get(column) else { continue };
        if temperature < ambient - THERMOMETERS {
            return Some(format!("{name} {temperature:.1} degC is below the air's {ambient:.1} degC"));
        }
        if temperature > BURNT {
            return Some(format!("{name} {temperature:.1} degC: no winding is whole at that"));
        }
    }
    None
}

fn top_speed(bench: &Bench, row: &Row) -> Option<String> {
    let speed = row.get(Column::Speed)?.abs();
    let heat = bench.product.heat.as_ref().ok()?;
    if heat.supply.field_weakening == FieldWeakening::On {
        return None;
    }
    let voltage = row.get(Column::Voltage)?;
    let supply = crate::ratings::motor::Supply { voltage, ..heat.supply };
    let ideal = bench.circuit.ideal_no_load_speed(&supply) / bench.reduction.ratio;
    (speed > OVER_IDEAL * ideal).then(|| {
        let rpm = 30.0 / std::f64::consts::PI;
        format!(
            "{:.0} rpm at {voltage:.1} V: the magnets alone stop it at {:.0} rpm; speed of the rotor, not of the output?",
            speed * rpm,
            ideal * rpm
        )
    })
}
