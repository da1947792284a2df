//! Preload and torque of a screw, VDI 2230.
//!
//! Assembly preload at a share `nu` of yield: `FM = nu Rp As / sqrt(1 + 3 (k d2 / d0 (P / (pi d2) + 1.155 mu))^2)`, `k` 1.5
//! in the edition of 2015 (the core yields through), 2 in older ones (first yield at its surface). Torque
//! `MA = FM (0.16 P + 0.58 d2 mu + mu_head Dkm / 2)`: pitch, thread friction, head friction.
//! Range: metric 60 degree threads, steel screws, turned by a wrench. Both formulas from memory; compared with preloads
//! printed for older editions and with those of 2015.

use std::f64::consts::PI;

use super::metric_thread::MetricThread;

/// Share of yield that tightening may use (VDI 2230).
pub const YIELD_SHARE: f64 = 0.9;
/// Friction of thread and head, lightly oiled steel (a maker's torque table is printed for it; VDI 2230 band 0.08 to 0.16).
pub const FRICTION: f64 = 0.14;

/// Whether the core may yield through or only begin to at its surface.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edition {
    Older,
    Of2015,
}

/// Preload \[N\] at `share` of the yield stress.
pub fn assembly_preload(
    thread: &MetricThread,
    yield_stress: f64,
    share: f64,
    friction: f64,
    edition: Edition,
) -> f64 {
    let factor = match edition {
        Edition::Older => 2.0,
        Edition::Of2015 => 1.5,
    };
    let pitch_diameter = thread.pitch_diameter();
    let slope = thread.pitch / (PI * pitch_diameter) + 1.155 * friction;
    let twist = factor * pitch_diameter / thread.stress_diameter() * slope;
    share * yield_stress * thread.stress_area() / (1.0 + 3.0 * twist * twist).sqrt()
}

/// What the thread takes of the tightening torque, per newton of preload \[mm\].
pub fn thread_arm(thread: &MetricThread, friction: f64) -> f64 {
    0.16 * thread.pitch + 0.58 * thread.pitch_diameter() * friction
}

/// Tightening torque per newton of preload \[mm\]; `head_diameter` is the mean one of the ring under the head.
pub fn torque_arm(thread: &MetricThread, friction: f64, head_friction: f64, head_diameter: f64) -> f64 {
    thread_arm(thread, friction) + head_friction * head_diameter / 2.0
}

/// Torque by the short form `T = K F d`, in the units of `preload` and `nominal`.
pub fn short_form(nut_factor: f64, preload: f64, nominal: f64) -> f64 {
    nut_factor * preload * nominal
}

/// The nut factor K of the short form, from friction (Shigley's form: mean thread diameter between nominal and core, collar
/// at 1.25 d mean).
pub fn nut_factor(thread: &MetricThread, friction: f64, collar_friction: f64) -> f64 {
    /// Secant of half the flank angle of 60 degrees.
    const SECANT: f64 = 1.154_700_538_379_251_5;
    let mean = (thread.nominal + thread.core_diameter()) / 2.0;
    let lead = thread.pitch / (PI * mean);
    let rubbing = friction * SECANT;
    mean / (2.0 * thread.nominal) * (lead + rubbing) / (1.0 - rubbing * lead) + 0.625 * collar_friction
}

/// Least preload of a tightening that scatters by `factor` (VDI 2230's tightening factor: most over least).
pub fn least_preload(most: f64, factor: f64) -> f64 {
    most / factor
}
