//! Steps and sizes as they are written: to a micrometre, to a hundredth of a degree.

use super::Kind;
use crate::quantity::format_number;

/// "0.12 mm", whatever its size.
pub fn millimetres(value: f64) -> String {
    format!("{} mm", format_number((value * 1000.0).round() / 1000.0))
}

/// "40.5 deg".
pub fn degrees(value: f64) -> String {
    format!("{} deg", format_number((value.to_degrees() * 100.0).round() / 100.0))
}

/// A step of a kind of coupon.
pub fn step(kind: Kind, value: f64) -> String {
    if kind == Kind::Overhang { degrees(value) } else { millimetres(value) }
}
