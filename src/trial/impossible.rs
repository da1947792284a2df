//! Readings that physics rules out. They are told by line and kept out of the fits.

use super::bench::Bench;
use super::columns::{Column, TestKind};
use super::log::Row;
use crate::design::FieldWeakening;
use crate::ratings::motor::Supply;

/// Over the torque that the magnets make of a current without any loss: Kv of one sheet means constants that differ by 15 %, and
/// a sample of motors by 20 % (common practice, no source).
const OVER_LOSSLESS: f64 = 1.5;
/// Of the peak torque, for friction that helps the scale.
const FRICTION: f64 = 0.1;
/// Thermometers differ by as much \[K\] (common practice, no source).
const THERMOMETERS: f64 = 3.0;
/// Hotter than any winding stays one \[degC\]: enamel of the best class is rated for 240 (IEC 60317, from memory).
const BURNT: f64 = 300.0;
/// Over the current that motor and drive allow.
const OVER_LIMIT: f64 = 1.5;
/// Turn of an output whose rotor is held \[rad\]: half a turn of a rotor behind the lowest ratio, far over any play.
const FAR: f64 = 0.5;
const RPM: f64 = std::f64::consts::PI / 30.0;
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
            let negative = format!("a free turn of {:.3} deg is negative", angle.to_degrees());
            (angle < 0.0).then_some(negative).or_else(|| turned_far(angle))
        }
        TestKind::Stiffness => turned_far(row.get(Column::Angle)?),
        TestKind::FreeRun => free_run(bench, row),
        TestKind::Cogging => cogging(bench, row),
        // A stage may lock itself: no torque at rest is too high.
        TestKind::BackDrive | TestKind::BreakAway => None,
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
    if let Some(why) = too_much(bench, current) {
        return Some(why);
    }
    let constant = bench.measured_circuit().torque_constant;
    let lossless = constant * current.abs() * bench.reduction.ratio;
    let most = OVER_LOSSLESS * lossless + FRICTION * bench.product.actuator.torques.output;
    (torque.abs() > most).then(|| {
        format!(
            "{torque:.3} N m at {current:.2} A: the magnets make {lossless:.3} N m of it without any loss; wrong lever, scale or unit?"
        )
    })
}

fn free_run(bench: &Bench, row: &Row) -> Option<String> {
    if let Some(why) = too_much(bench, row.get(Column::Current)?) {
        return Some(why);
    }
    let supply = bench.product.heat.as_ref().ok()?.supply;
    too_fast(bench, row.get(Column::Speed)?, supply)
}

/// A phase current that neither motor nor drive allow.
fn too_much(bench: &Bench, current: f64) -> Option<String> {
    let limit = bench.circuit.current_limit;
    (current.abs() > OVER_LIMIT * limit)
        .then(|| format!("{current:.1} A, though the limit is {limit:.1} A; a unit?"))
}

fn cogging(bench: &Bench, row: &Row) -> Option<String> {
    let torque = row.torque()?;
    let most = bench.circuit.torque_constant * bench.circuit.current_limit;
    (torque.abs() > most).then(|| {
        format!(
            "{torque:.3} N m of cogging, where the motor itself makes {most:.3} N m at most: measured at the output, or a unit?"
        )
    })
}

/// With the rotor held.
fn turned_far(angle: f64) -> Option<String> {
    (angle.abs() > FAR)
        .then(|| format!("{:.1} deg, though the rotor is held: it turned, or a unit?", angle.to_degrees()))
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
    let voltage = row.get(Column::Voltage)?;
    if voltage <= 0.0 {
        return Some(format!("{voltage} V from the supply, while the output turns"));
    }
    let supply = Supply { voltage, ..bench.product.heat.as_ref().ok()?.supply };
    too_fast(bench, row.get(Column::Speed)?, supply)
}

/// A speed of the output \[rad/s\] that the magnets don't allow; field weakening may.
fn too_fast(bench: &Bench, speed: f64, supply: Supply) -> Option<String> {
    if supply.field_weakening == FieldWeakening::On {
        return None;
    }
    let ideal = bench.circuit.ideal_no_load_speed(&supply) / bench.reduction.ratio;
    (speed.abs() > OVER_IDEAL * ideal).then(|| {
        format!(
            "{:.0} rpm at {:.1} V: the magnets alone stop it at {:.0} rpm; speed of the rotor, not of the output?",
            speed.abs() / RPM,
            supply.voltage,
            ideal / RPM
        )
    })
}
