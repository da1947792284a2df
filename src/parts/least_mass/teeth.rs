//! Area of teeth that no printed outline undercuts.
//!
//! The half angle of a tooth at radius r follows from the involute: s / d +- (inv alpha_t - inv alpha_r), cos alpha_r = r_b / r
//! (ISO 21771; an offset of the flank by g is the same involute turned by g / r_b). It falls (external) or grows (ring) with r,
//! so that the sum over rings, each with its narrowest, is no more than the area. Fillets are left out: they only add.

use crate::design::Design;
use crate::gears::{Gear, GearKind};

use super::super::teeth::FOOT_HEIGHT;

/// Rings into which a tooth's height is cut.
const RINGS: u32 = 8;

/// Plastic of all teeth of a printed gear \[mm3\].
pub fn plastic(design: &Design, gear: &Gear, height: f64) -> f64 {
    let gearset = &design.gearset;
    let relief = if gearset.tip_relief > 0.0 { gearset.tip_relief_height } else { 0.0 };
    let whole = height - 2.0 * f64::max(gearset.face_chamfer + design.printer.layer_height, FOOT_HEIGHT);
    area(gear, design.printer.tooth_growth.max(0.0), relief) * whole.max(0.0)
}

fn area(gear: &Gear, growth: f64, relief: f64) -> f64 {
    let base = gear.base_diameter / 2.0;
    let form = f64::max(gear.form_diameter / 2.0, base);
    let tip = gear.tip_diameter / 2.0;
    let (from, to, turns) = match gear.kind {
        GearKind::External => (form, tip - growth - relief, 1.0),
        GearKind::Internal => (f64::max(tip + growth + relief, base), gear.form_diameter / 2.0, -1.0),
    };
    if to <= from || base <= 0.0 {
        return 0.0;
    }
    let at_reference = gear.transverse_tooth_thickness / gear.reference_diameter;
    let pressure_angle = gear.transverse_pressure_angle;
    let from_base = at_reference + turns * (libm::tan(pressure_angle) - pressure_angle) - growth / base;
    let half = |radius: f64| {
        let cosine = (base / radius).min(1.0);
        let tangent = (1.0 - cosine * cosine).sqrt() / cosine;
        from_base - turns * (tangent - libm::acos(cosine))
    };
    let step = (to - from) / f64::from(RINGS);
    let mut inner = (from, half(from));
    let mut area = 0.0;
    for index in 1..=RINGS {
        let radius = from + step * f64::from(index);
        let outer = (radius, half(radius));
        area += f64::min(inner.1, outer.1).max(0.0) * (outer.0 * outer.0 - inner.0 * inner.0);
        inner = outer;
    }
    f64::from(gear.teeth) * area
}
