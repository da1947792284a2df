//! What is measured on the bench, turned into what the design file asks for.
//!
//! Kv: the motor is turned by a drill at a known speed, leads open, and the voltage between two leads is read, as peak on an
//! oscilloscope or as r.m.s. on a meter. Resistance: a direct current through two leads and the voltage across them.
//! Both are definitions, so no source is needed. Range: positive, finite readings. Not covered: a voltage that isn't a
//! sine (r.m.s. and peak then differ otherwise), heating during the resistance measurement. A delta of three coils reads like the
//! wye that is equivalent to it, by definition.

use std::f64::consts::SQRT_2;

/// How the voltage between two leads was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum VoltageReading {
    Peak,
    Rms,
}

/// Kv \[rpm per volt of line-to-line peak\] from `speed` \[rpm\] and the `voltage` \[V\] between two open leads.
///
/// None unless both are positive and finite.
pub fn kv_from_spinning(speed: f64, voltage: f64, reading: VoltageReading) -> Option<f64> {
    let peak = match reading {
        VoltageReading::Peak => voltage,
        VoltageReading::Rms => voltage * SQRT_2,
    };
    positive(speed / positive(peak)?)
}

/// Resistance between two leads \[ohm\] from the `voltage` \[V\] across them and the direct `current` \[A\].
///
/// None unless both are positive and finite.
pub fn line_resistance_by_drop(voltage: f64, current: f64) -> Option<f64> {
    positive(positive(voltage)? / positive(current)?)
}

fn positive(value: f64) -> Option<f64> {
    (value > 0.0 && value.is_finite()).then_some(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_meter_and_an_oscilloscope_agree() {
        // 1000 rpm at 90 rpm/V is 11.111 V peak, 7.857 V r.m.s.
        let by_peak = kv_from_spinning(1000.0, 11.111_111, VoltageReading::Peak).expect("sound");
        let by_rms = kv_from_spinning(1000.0, 7.856_742, VoltageReading::Rms).expect("sound");
        assert!((by_peak - 90.0).abs() < 1e-4 && (by_rms - 90.0).abs() < 1e-4, "{by_peak} {by_rms}");
    }

    #[test]
    fn nothing_comes_of_senseless_readings() {
        assert_eq!(kv_from_spinning(1000.0, 0.0, VoltageReading::Peak), None);
        assert_eq!(kv_from_spinning(f64::NAN, 1.0, VoltageReading::Rms), None);
        assert_eq!(line_resistance_by_drop(1.0, -2.0), None);
    }
}
