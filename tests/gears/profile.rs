//! One outline against the exact curves it stands for.

use std::f64::consts::PI;

use hubwright::gears::{Gear, GearKind, Stage, TipRelief};
use hubwright::geometry::{Loop, Point};
use proptest::prelude::*;

use crate::stages::{any_stage, reference_inputs, solved};

/// Half a micrometre.
const TOLERANCE: f64 = 5e-4;

fn gears(stage: &Stage) -> [Gear; 3] {
    [stage.sun, stage.planet, stage.ring]
}

fn outline(gear: &Gear, by: f64) -> Loop {
    gear.profile_grown(by, TOLERANCE).unwrap_or_else(|fault| panic!("{fault}: {gear:?}"))
}

/// Least distance of a point from the loop.
fn distance(outline: &Loop, point: Point) -> f64 {
    outline.0.iter().map(|segment| segment.nearest(point).distance(point)).fold(f64::INFINITY, f64::min)
}

/// A point of the involute by its definition: unwound from the base circle by the roll angle, the flank starting at
/// `start`; `side` is +1 for a left flank. Independent of the crate's own flank.
fn involute_point(base: f64, start: f64, side: f64, roll: f64) -> Point {
    let angle = side * (start - roll + roll.atan());
    let radius = base * (1.0 + roll * roll).sqrt();
    Point::new(radius * angle.cos(), radius * angle.sin())
}

/// Start of the left flank on the base circle, from the tooth thickness at the reference circle.
fn flank_start(gear: &Gear) -> f64 {
    let pitch = 2.0 * PI / f64::from(gear.teeth);
    let tooth = 2.0 * gear.transverse_tooth_thickness / gear.reference_diameter;
    let body = if gear.kind == GearKind::External { tooth } else { pitch - tooth };
    0.5 * body + gear.transverse_pressure_angle.tan() - gear.transverse_pressure_angle
}

fn check_flanks(gear: &Gear, outline: &Loop, by: f64, tolerance: f64) {
    let base = 0.5 * gear.base_diameter;
    let length_at = |diameter: f64| (0.25 * diameter * diameter - base * base).max(0.0).sqrt();
    let (form, tip) = (length_at(gear.form_diameter), length_at(gear.tip_diameter));
    for place in 0..=60 {
        let length = form + (tip - form) * f64::from(place) / 60.0;
        // The parallel curve's point on the same normal.
        let roll = (length + by) / base;
        if roll < 0.0 {
            continue;
        }
        for side in [1.0, -1.0] {
            let point = involute_point(base, flank_start(gear) + by / base, side, roll);
            let inside_tip = match gear.kind {
                GearKind::External => point.norm() <= 0.5 * gear.tip_diameter + by,
                GearKind::Internal => point.norm() >= 0.5 * gear.tip_diameter + by,
            };
            if inside_tip {
                let found = distance(outline, point);
                assert!(found < tolerance, "{found} at {length} by {by}: {gear:?}");
            }
        }
    }
}

fn check_closed(outline: &Loop) {
    for (segment, next) in outline.0.iter().zip(outline.0.iter().cycle().skip(1)) {
        assert_eq!(segment.to, next.from);
        assert!(segment.length() > 1e-4, "{segment:?}");
    }
}

fn check_extents(gear: &Gear, outline: &Loop, by: f64) {
    let (tip, root) = (0.5 * gear.tip_diameter + by, 0.5 * gear.root_diameter + by);
    let ends = [outline.min_radius(Point::ORIGIN), outline.max_radius(Point::ORIGIN)];
    let [low, high] = if gear.kind == GearKind::External { [root, tip] } else { [tip, root] };
    assert!(
        (ends[0] - low).abs() < TOLERANCE && (ends[1] - high).abs() < TOLERANCE,
        "{ends:?} {low} {high} {gear:?}"
    );
    let area = outline.signed_area();
    assert!(area > PI * low * low && area < PI * high * high);
}

#[test]
fn outlines_of_the_reference_joints() {
    for input in reference_inputs() {
        for gear in gears(&solved(&input)) {
            let nominal = outline(&gear, 0.0);
            println!(
                "{:?} z {}: {} segments a tooth",
                gear.kind,
                gear.teeth,
                nominal.0.len() / gear.teeth as usize
            );
            check_closed(&nominal);
            check_extents(&gear, &nominal, 0.0);
            check_flanks(&gear, &nominal, 0.0, TOLERANCE);
            for by in [0.05, -0.05, -0.15, 0.15] {
                let grown = outline(&gear, by);
                assert_eq!(grown.0.len(), nominal.0.len());
                check_closed(&grown);
                check_extents(&gear, &grown, by);
                check_parallel(&nominal, &grown, by);
            }
        }
    }
}

/// Every point of the moved outline is `by` away from the nominal one; only mitred corners are farther.
fn check_parallel(nominal: &Loop, grown: &Loop, by: f64) {
    for segment in grown.0.iter().take(40) {
        for part in [0.25, 0.5, 0.75] {
            let point = segment.at(part);
            let found = distance(nominal, point);
            assert!(found > by.abs() - 3.0 * TOLERANCE, "{found} {by} {segment:?}");
        }
    }
    let (points, corners): (Vec<f64>, Vec<f64>) = grown
        .0
        .iter()
        .take(40)
        .flat_map(|segment| [0.2, 0.4, 0.6, 0.8].map(|part| distance(nominal, segment.at(part))))
        .partition(|found| *found < by.abs() + 3.0 * TOLERANCE);
    assert!(corners.len() * 8 < points.len(), "{} of {}", corners.len(), points.len());
    // The side: outwards of a counter-clockwise loop is positive.
    let side = (grown.signed_area() - nominal.signed_area()).signum();
    assert_eq!(side, by.signum());
}

#[test]
fn a_tooth_or_space_is_centred_on_x() {
    for input in reference_inputs() {
        for gear in gears(&solved(&input)) {
            let nominal = outline(&gear, 0.0);
            let mirrored = nominal.mirrored();
            for segment in mirrored.0.iter().take(30) {
                assert!(distance(&nominal, segment.at(0.5)) < 1e-9);
            }
            // Material of a tooth, or the hole at a space, reaches out to the outer circle on +x.
            let outer = 0.5 * gear.tip_diameter.max(gear.root_diameter);
            assert_eq!(nominal.winding(Point::new(outer - 1e-3, 0.0)), 1);
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 60, ..ProptestConfig::default() })]

    #[test]
    fn outlines_of_any_stage((_, stage) in any_stage()) {
        for gear in gears(&stage) {
            let nominal = outline(&gear, 0.0);
            check_closed(&nominal);
            check_extents(&gear, &nominal, 0.0);
            check_flanks(&gear, &nominal, 0.0, TOLERANCE);
        }
    }

    #[test]
    fn fillets_of_any_stage_are_within_tolerance((_, stage) in any_stage()) {
        use hubwright::gears::Trochoid;
        for gear in [stage.sun, stage.planet] {
            let nominal = outline(&gear, 0.0);
            let fillet = Trochoid::of(&gear);
            for place in 0..=50 {
                let point = fillet.point(fillet.flank_angle * f64::from(place) / 50.0, 0.0);
                if gear.is_undercut() && point.radius() > 0.5 * gear.form_diameter {
                    continue;
                }
                let half_pitch = PI / f64::from(gear.teeth);
                let at = Point::new(point.x, -point.y).rotated(half_pitch);
                let found = distance(&nominal, at);
                prop_assert!(found < TOLERANCE, "{} at {}: {:?}", found, place, gear);
            }
        }
    }
}

#[test]
fn impossible_requests_are_refused() {
    let stage = solved(&reference_inputs()[0]);
    for by in [f64::NAN, f64::INFINITY, 1.0, -3.0, 50.0, -50.0] {
        for gear in gears(&stage) {
            assert!(gear.profile_grown(by, TOLERANCE).is_err(), "{by} {:?}", gear.kind);
        }
    }
    for tolerance in [f64::NAN, 0.0, -1.0, 1.0] {
        assert!(stage.planet.profile(tolerance).is_err());
    }
}

#[test]
fn a_finer_tolerance_takes_more_arcs() {
    let stage = solved(&reference_inputs()[0]);
    let count = |tolerance: f64| stage.planet.profile(tolerance).map(|outline| outline.0.len()).ok();
    assert!(count(1e-5) > count(1e-2));
}

/// Tip relief takes its amount off the tip along the flank's normal, nothing below its start. A normal offset of an
/// involute is a turn about the base circle, so it can be read off the thickness at any radius.
#[test]
fn relief_is_taken_at_the_tips_alone() {
    let relief = TipRelief { amount: 0.03, height: 0.3 };
    for stage in reference_inputs().iter().map(solved) {
        for gear in gears(&stage) {
            let outwards = if gear.kind == GearKind::External { 1.0 } else { -1.0 };
            let (tip, form) = (0.5 * gear.tip_diameter, 0.5 * gear.form_diameter);
            let pitch = gear.pitch_angle();
            let mut most = 0.0_f64;
            for segment in &outline(&gear.relieved(relief), 0.0).0 {
                let (radius, angle) = (segment.from.norm(), segment.from.angle());
                if outwards * (radius - form) < 0.0 {
                    continue;
                }
                let from_middle = (angle - (angle / pitch).round() * pitch).abs();
                let tooth = gear.thickness_at(radius) / radius;
                let half = if outwards > 0.0 { 0.5 * tooth } else { 0.5 * (pitch - tooth) };
                let off = outwards * (half - from_middle) * 0.5 * gear.base_diameter;
                let above_start = outwards * (radius - tip) + relief.height;
                let expected_most = if above_start > 1e-9 { relief.amount } else { 0.0 };
                assert!((-TOLERANCE..expected_most + TOLERANCE).contains(&off), "{off} at {radius}");
                most = most.max(off);
            }
            assert!((most - relief.amount).abs() < TOLERANCE, "{most}");
        }
    }
}
