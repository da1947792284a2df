//! Torque constant of a wye motor from its Kv, in three conventions; torque of a current with saturation.
//!
//! `T = Kt0 I (1 - a (I / Imax)^2)`: the straight line loses the share `a` at the current limit. Measured motors lose 12 to
//! 19 % (P. Wasilewski, bachelor's thesis, 2021). Range: currents up to the limit. Not covered: saturation that sets in
//! at once, magnets weakened by heat.
//!
//! With Kv in rpm per volt of line-to-line *peak* voltage, per ampere of peak phase current:
//! `Kt = (3/2) (1/sqrt 3) (60 / 2 pi) / Kv = 8.27 / Kv` (source-robotics.com, motor constants, read); per ampere r.m.s.
//! sqrt 2 times that; per ampere at the direct-current side of a six-step drive `60 / (2 pi Kv) = 9.549 / Kv`.

use std::f64::consts::{PI, SQRT_2};

use super::KvConvention;

/// Kv in rpm per volt of line-to-line peak voltage, from the maker's.
pub fn kv_line_peak(kv: f64, kv_is: KvConvention) -> f64 {
    match kv_is {
        // A six-step drive's supply voltage is the line-to-line peak.
        KvConvention::LinePeak | KvConvention::Dc => kv,
        KvConvention::LineRms => kv / SQRT_2,
    }
}

/// No-load speed \[rpm\] at a supply voltage, which a field-oriented drive turns into as much line-to-line peak at
/// most. An upper bound: no friction, no sag, no reserve for current control.
pub fn no_load_speed(kv: f64, kv_is: KvConvention, supply: f64) -> f64 {
    kv_line_peak(kv, kv_is) * supply
}

/// N m per ampere.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TorqueConstants {
    pub direct_current: f64,
    pub peak_phase: f64,
    pub rms_phase: f64,
}

/// Torque constants from Kv \[rpm/V\] as the maker means it.
pub fn torque_constants(kv: f64, kv_is: KvConvention) -> TorqueConstants {
    let per_line_peak = kv_line_peak(kv, kv_is);
    let direct_current = 60.0 / (2.0 * PI * per_line_peak);
    let peak_phase = direct_current * 3.0_f64.sqrt() / 2.0;
    TorqueConstants { direct_current, peak_phase, rms_phase: peak_phase * SQRT_2 }
}

/// Torque \[N m\] by constant \[N m/A\], share lost at the limit, limit \[A\] and current \[A\].
pub fn saturated_torque(constant: f64, saturation: f64, limit: f64, current: f64) -> f64 {
    let share = current / limit;
    constant * current * (1.0 - saturation * share * share)
}
