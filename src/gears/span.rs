//! Measuring teeth: base tangent length, over pins or balls, chordal thickness.

use std::f64::consts::PI;

use super::gear::{Gear, GearKind};
use super::involute::involute_inverse;

/// Base tangent length over several teeth; over spaces of a ring.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Span {
    pub teeth: u32,
    pub length: f64,
    /// The anvils meet a helical gear at places this far apart along the axis.
    pub least_face_width: f64,
}

impl Span {
    /// Over the number of teeth whose contact lies nearest to the circle `d + 2 x mn`.
    pub fn of(gear: &Gear) -> Span {
        let middle = gear.reference_diameter + 2.0 * gear.shift * gear.normal_module;
        // Half the span lies on either side of the base tangent point.
        let wanted = 2.0 * gear.along_tangent(middle) / libm::cos(gear.base_helix_angle);
        let pitch = gear.base_pitch() * libm::cos(gear.base_helix_angle);
        // At 20 degrees every ninth unshifted spur gear lies exactly between two counts: the larger, as handbooks have it.
        const TIE: f64 = 1e-9;
        let extra_pitches = ((wanted - base_thickness(gear)) / pitch + TIE).round();
        // Clamped to what the gear has, so the conversion is exact.
        let teeth = 1 + extra_pitches.clamp(0.0, f64::from(gear.teeth)) as u32;
        Span::over(gear, teeth)
    }

    /// `W = mn cos an (pi (k - 1/2) + z inv at) + 2 x mn sin an` (ISO 21771, 7.3), here from the real thickness.
    pub fn over(gear: &Gear, teeth: u32) -> Span {
        let pitch = gear.base_pitch() * libm::cos(gear.base_helix_angle);
        let length = base_thickness(gear) + (f64::from(teeth) - 1.0) * pitch;
        Span { teeth, length, least_face_width: length * libm::sin(gear.base_helix_angle) }
    }
}

/// Normal thickness of the involute body (tooth, or space of a ring) on the base cylinder.
fn base_thickness(gear: &Gear) -> f64 {
    gear.base_diameter * gear.base_half_angle() * libm::cos(gear.base_helix_angle)
}

/// Diametral measure over two balls or pins (between them for a ring) of diameter `pin`; a ring's or helical gear's
/// pins are balls. None if the pin is so small that it does not touch the flanks.
///
/// `inv ap = s/d + inv at + pin / (z mn cos an) - pi/z` external, with the signs of thickness and pin turned for a ring;
/// `M = db / cos ap +- pin`, times cos(90 deg / z) before the pin for odd teeth.
pub fn over_pins(gear: &Gear, pin: f64) -> Option<f64> {
    let teeth = f64::from(gear.teeth);
    let pin_angle = pin / (teeth * gear.normal_module * libm::cos(gear.rack.pressure_angle));
    let body = gear.base_half_angle();
    let value = match gear.kind {
        GearKind::External => body + pin_angle - PI / teeth,
        GearKind::Internal => body - pin_angle,
    };
    let angle = involute_inverse(value)?;
    let between_odd = if gear.teeth % 2 == 1 { libm::cos(0.5 * PI / teeth) } else { 1.0 };
    let centres = gear.base_diameter / libm::cos(angle) * between_odd;
    Some(match gear.kind {
        GearKind::External => centres + pin,
        GearKind::Internal => centres - pin,
    })
}

/// Usual pin diameters in modules, 20 degree gears: published practice of a gear maker (tandwiel.info).
pub fn usual_pin(gear: &Gear) -> f64 {
    gear.normal_module
        * match gear.kind {
            GearKind::External => 1.75,
            GearKind::Internal => 1.65,
        }
}

/// Normal chordal tooth thickness at the reference cylinder of an external gear and its height below the tip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Chord {
    /// Half the angle of the tooth on the virtual spur gear \[rad\].
    pub half_angle: f64,
    pub thickness: f64,
    pub height: f64,
}

/// On the virtual spur gear of `z / cos^3 b` teeth (SDP/SI, Elements of Metric Gear Technology, T-81 and T-82).
pub fn chord(gear: &Gear) -> Chord {
    let cosine = libm::cos(gear.helix_angle);
    let normal_thickness = gear.transverse_tooth_thickness * cosine;
    let virtual_diameter = gear.reference_diameter / (cosine * cosine);
    let half_angle = normal_thickness / virtual_diameter;
    let tip_height = 0.5 * (gear.tip_diameter - gear.reference_diameter).abs();
    Chord {
        half_angle,
        thickness: virtual_diameter * libm::sin(half_angle),
        height: 0.5 * virtual_diameter * (1.0 - libm::cos(half_angle)) + tip_height,
    }
}
