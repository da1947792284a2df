//! What a gear's teeth alone say: any gear, whatever it is built into.

use std::f64::consts::PI;

use super::ball::BallMeasure;
use super::row::{Row, Section, Value};
use crate::gears::{Gear, GearKind, chord};

/// Basic data, circles, thicknesses and measures of a gear.
pub fn sections(gear: &Gear) -> Vec<Section> {
    let section = |title, rows| Section { title, key: None, rows };
    vec![
        section("Teeth", basic(gear)),
        section("Circles", circles(gear)),
        section("Tooth thickness", thicknesses(gear)),
        section("Measuring", measures(gear)),
    ]
}

fn basic(gear: &Gear) -> Vec<Row> {
    let rack = &gear.rack;
    vec![
        Row::new("teeth", "Number of teeth", "z", Value::Count(gear.teeth)),
        Row::new("normal_module", "Normal module", "mn", Value::Length(gear.normal_module)),
        Row::new(
            "normal_pressure_angle",
            "Normal pressure angle",
            "alpha_n",
            Value::Angle(rack.pressure_angle),
        ),
        Row::new(
            "helix_angle",
            "Helix angle at the reference cylinder",
            "beta",
            Value::Angle(gear.helix_angle.abs()),
        ),
        Row::new("hand", "Hand of the helix", "", Value::Text(hand(gear).to_owned())),
        Row::new("lead", "Lead", "pz", lead(gear)),
        Row::new("rack_addendum", "Basic rack, addendum coefficient", "haP*", Value::Number(rack.addendum)),
        Row::new("rack_dedendum", "Basic rack, dedendum coefficient", "hfP*", Value::Number(rack.dedendum)),
        Row::new(
            "rack_fillet",
            "Basic rack, fillet radius coefficient",
            "rhofP*",
            Value::Number(rack.fillet),
        ),
        Row::new("shift", "Profile shift coefficient, outwards positive", "x", Value::Number(gear.shift)),
        Row::new("tip_alteration", "Tip alteration coefficient", "k", Value::Number(gear.tip_alteration)),
        Row::new("transverse_module", "Transverse module", "mt", Value::Length(gear.transverse_module)),
        Row::new(
            "transverse_pressure_angle",
            "Transverse pressure angle",
            "alpha_t",
            Value::Angle(gear.transverse_pressure_angle),
        ),
        Row::new("base_helix_angle", "Base helix angle", "beta_b", Value::Angle(gear.base_helix_angle)),
    ]
}

fn hand(gear: &Gear) -> &'static str {
    match gear.helix_angle {
        angle if angle > 0.0 => "right",
        angle if angle < 0.0 => "left",
        _ => "straight teeth",
    }
}

/// `pz = pi d / tan b`
fn lead(gear: &Gear) -> Value {
    if gear.helix_angle == 0.0 {
        return Value::Absent("straight teeth have no lead".to_owned());
    }
    Value::Length(PI * gear.reference_diameter / libm::tan(gear.helix_angle.abs()))
}

fn circles(gear: &Gear) -> Vec<Row> {
    let fillet = match gear.kind {
        GearKind::External => "Root fillet, radius of the rack's corner",
        GearKind::Internal => "Root fillet, radius of the arc",
    };
    let length = |key, label, symbol, value| Row::new(key, label, symbol, Value::Length(value));
    vec![
        length("reference_diameter", "Reference diameter", "d", gear.reference_diameter),
        length("base_diameter", "Base diameter", "db", gear.base_diameter),
        length("tip_diameter", "Tip diameter", "da", gear.tip_diameter),
        length("root_diameter", "Root diameter", "df", gear.root_diameter),
        length("form_diameter", "Form diameter, involute to fillet", "dFf", gear.form_diameter),
        length("fillet_radius", fillet, "rhof", gear.fillet_radius),
        length(
            "undercut_depth",
            "Undercut, depth of the rack's flank past the involute",
            "",
            gear.undercut_depth,
        ),
    ]
}

fn thicknesses(gear: &Gear) -> Vec<Row> {
    let cosine = libm::cos(gear.helix_angle);
    let length = |key, label, symbol, value| Row::new(key, label, symbol, Value::Length(value));
    vec![
        length(
            "transverse_tooth_thickness",
            "Transverse tooth thickness at the reference circle, nominal with allowance",
            "st",
            gear.transverse_tooth_thickness,
        ),
        length(
            "normal_tooth_thickness",
            "Normal tooth thickness at the reference cylinder, nominal with allowance",
            "sn",
            gear.transverse_tooth_thickness * cosine,
        ),
        length(
            "thickness_allowance",
            "Thickness allowance for backlash, transverse, already taken off",
            "",
            gear.thickness_allowance,
        ),
        length(
            "normal_thickness_allowance",
            "Thickness allowance for backlash, normal, already taken off",
            "-Esn",
            gear.thickness_allowance * cosine,
        ),
        length("tip_thickness", "Normal tooth thickness at the tip", "san", gear.tip_thickness),
    ]
}

fn measures(gear: &Gear) -> Vec<Row> {
    let [over, teeth] = match gear.kind {
        GearKind::External => ["Base tangent length over those teeth", "Teeth under the span"],
        GearKind::Internal => ["Base tangent length over those spaces", "Spaces under the span"],
    };
    let mut rows = vec![
        Row::new("span_teeth", teeth, "k", Value::Count(gear.span_teeth)),
        Row::new("span", over, "Wk", Value::Length(gear.span)),
        Row::new(
            "span_face_width",
            "Least face width for that span",
            "",
            Value::Length(gear.span_face_width),
        ),
    ];
    rows.extend(balls(gear));
    rows.extend(chords(gear));
    rows
}

fn balls(gear: &Gear) -> [Row; 3] {
    // A cylinder rests on the two flanks of a straight space, on those of a helical one only outside.
    let spur = gear.helix_angle == 0.0;
    let labels = match (gear.kind, spur) {
        (GearKind::External, true) => ["Pin diameter", "Dimension over two pins"],
        (GearKind::External, false) => ["Ball diameter", "Dimension over two balls"],
        (GearKind::Internal, true) => ["Pin diameter", "Dimension between two pins"],
        (GearKind::Internal, false) => ["Ball diameter", "Dimension between two balls"],
    };
    let none =
        || Value::Absent("no ball of 1.5 to 2.1 modules touches the flanks and clears the tips".to_owned());
    let found = BallMeasure::of(gear);
    let value = |pick: fn(BallMeasure) -> f64| found.map_or_else(none, |found| Value::Length(pick(found)));
    [
        Row::new("pin_diameter", labels[0], "DM", value(|found| found.ball)),
        Row::new("over_pins", labels[1], "MdK", value(|found| found.measure)),
        Row::new(
            "pin_contact_diameter",
            "Where they touch the flanks",
            "",
            value(|found| found.contact_diameter),
        ),
    ]
}

fn chords(gear: &Gear) -> [Row; 2] {
    let [thickness, height] = match gear.kind {
        GearKind::External => {
            let chord = chord(gear);
            [chord.thickness, chord.height].map(Value::Length)
        }
        GearKind::Internal => {
            [(); 2].map(|()| Value::Absent("a tooth caliper does not reach a ring's teeth".to_owned()))
        }
    };
    [
        Row::new(
            "chordal_thickness",
            "Normal chordal tooth thickness at the reference cylinder",
            "sc",
            thickness,
        ),
        Row::new("chordal_height", "Its height below the tip", "hc", height),
    ]
}
