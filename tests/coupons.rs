//! Coupons: their shapes and steps, what findings turn into, and what is refused.

mod support;

use hubwright::coupons::{self, Coupon, Kind};
use hubwright::geometry::{Point, Region, Stack};
use hubwright::layout::{self, Actuator};
use hubwright::parts::form;
use support::{MAST, SHOULDER, WRIST, demo};

fn actuator(name: &str) -> Actuator {
    layout::lay_out(&demo(name)).unwrap_or_else(|faults| panic!("{name}: {faults:?}"))
}

fn all(name: &str) -> (Actuator, Vec<Coupon>) {
    let actuator = actuator(name);
    let coupons = coupons::all(&actuator).unwrap_or_else(|errors| panic!("{name}: {errors:?}"));
    (actuator, coupons)
}

fn coupon(coupons: &[Coupon], kind: Kind) -> &Coupon {
    coupons.iter().find(|coupon| coupon.kind == kind).unwrap_or_else(|| panic!("no {kind:?}"))
}

#[test]
fn a_design_gets_the_coupons_of_what_it_uses() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        let names: Vec<&str> = coupons.iter().map(|coupon| coupon.name.as_str()).collect();
        for always in ["gear-pair", "bridge", "overhang", "gauge"] {
            assert!(names.contains(&always), "{name}: {names:?}");
        }
        let mut sorted = names.clone();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), names.len(), "{name}: a name twice in {names:?}");
        assert_eq!(names.contains(&"ring-bore"), actuator.ring_insert.is_some(), "{name}");
        let seats = coupons.iter().filter(|coupon| coupon.kind == Kind::Seat);
        let sizes: Vec<f64> = seats.map(|coupon| coupon.size).collect();
        assert!(sizes.contains(&actuator.design.bearings.output.outer), "{name}: {sizes:?}");
        assert!(sizes.contains(&actuator.planet.turns_on.outer()), "{name}: {sizes:?}");
    }
}

#[test]
fn every_piece_is_one_closed_body_on_the_bed() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        for coupon in &coupons {
            let label = format!("{name}/{}", coupon.name);
            for piece in &coupon.pieces {
                let shells = piece.stack.brep().expect("boundary").shells().len();
                assert_eq!(shells, 1, "{label}, {} is one body", piece.name);
                assert!(piece.stack.z_range()[0].abs() < 1e-12, "{label}, {}", piece.name);
            }
            let bed = actuator.design.printer.bed;
            let plates = coupon.plates(bed).unwrap_or_else(|| panic!("{label} is larger than the bed"));
            let placed: usize = plates.iter().map(Vec::len).sum();
            assert_eq!(placed, coupon.pieces.len(), "{label}");
            let mut volume = 0.0;
            for plate in &plates {
                let mesh = coupon.mesh(plate).unwrap_or_else(|error| panic!("{label}: {error}"));
                assert!(mesh.is_closed(), "{label}");
                // Places are rounded up to a sixty-fourth.
                let size = mesh.size();
                assert!((0..3).all(|axis| size[axis] <= bed[axis] + 0.02), "{label}: {size:?}");
                volume += mesh.volume();
            }
            let off = volume / coupon.volume().expect("volume") - 1.0;
            assert!(off.abs() < 5e-4, "{label}: volume off by {off:.1e}");
        }
    }
}

#[test]
fn coupons_print_without_supports() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        for coupon in &coupons {
            for piece in &coupon.pieces {
                for overhang in form::overhangs(&piece.stack, &actuator.design.printer).expect("sections") {
                    assert!(overhang.holds(), "{name}/{}, {}: {overhang:?}", coupon.name, piece.name);
                }
            }
        }
    }
}

/// Radii of the full circles round `centre` in the section at `z`: holes negative.
fn circles(stack: &Stack, z: f64, centre: Point) -> Vec<f64> {
    let section: Region = stack.region_at(z).expect("section").simplified();
    section
        .loops
        .iter()
        .filter_map(|outline| outline.as_circle())
        .filter(|(at, ..)| at.distance(centre) < 1e-6)
        .map(|(_, radius, ccw)| if ccw { radius } else { -radius })
        .collect()
}

/// Seats and posts have the size of what goes in plus the step, measured at half the height of the land.
#[test]
fn steps_are_as_large_as_they_say() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        for coupon in &coupons {
            let label = format!("{name}/{}", coupon.name);
            let printed = |index: usize| coupon.size + coupon.steps[index];
            match coupon.kind {
                Kind::Seat | Kind::RingInsert => {
                    for (index, piece) in coupon.pieces.iter().enumerate() {
                        let found = circles(&piece.stack, 2.0, Point::ORIGIN);
                        let bore = -printed(index) / 2.0;
                        assert!(
                            found.iter().any(|radius| (radius - bore).abs() < 1e-9),
                            "{label}: {found:?}"
                        );
                    }
                }
                Kind::Post => {
                    for (index, piece) in coupon.pieces.iter().enumerate() {
                        let found = circles(&piece.stack, 3.0, Point::ORIGIN);
                        let post = printed(index) / 2.0;
                        assert!(
                            found.iter().any(|radius| (radius - post).abs() < 1e-9),
                            "{label}: {found:?}"
                        );
                    }
                }
                Kind::Pin | Kind::Clearance | Kind::Insert => {
                    let section = coupon.pieces[0].stack.region_at(2.0).expect("section").simplified();
                    let mut found: Vec<(f64, f64)> = section
                        .loops
                        .iter()
                        .filter_map(|outline| outline.as_circle())
                        .map(|(at, radius, _)| (at.x, 2.0 * radius))
                        .collect();
                    found.sort_by(|one, other| one.0.total_cmp(&other.0));
                    assert_eq!(found.len(), coupon.steps.len(), "{label}: {found:?}");
                    for (index, (_, diameter)) in found.iter().enumerate() {
                        assert!((diameter - printed(index)).abs() < 1e-9, "{label}: {found:?}");
                    }
                }
                _ => {}
            }
        }
        // The profile's own value is one of the steps, so that a profile that is right stays.
        let seat = coupon(&coupons, Kind::Seat);
        let present = actuator.design.printer.seat_fit(seat.size);
        assert!(seat.steps.iter().any(|step| (step - present).abs() < 1e-6), "{name}: {:?}", seat.steps);
    }
}

/// Every step has its number, and the number is cut: the face that carries it has a pocket of the strokes' area.
#[test]
fn every_step_carries_its_number() {
    for name in [SHOULDER, WRIST, MAST] {
        for coupon in &all(name).1 {
            let marks: Vec<u32> = coupon.pieces.iter().flat_map(|piece| piece.marks.clone()).collect();
            let wanted: Vec<u32> = match coupon.kind {
                // The gear that all mates run with carries a 0.
                Kind::GearPair => (0..=coupon.steps.len() as u32).collect(),
                _ => (1..=coupon.steps.len() as u32).collect(),
            };
            assert_eq!(marks, wanted, "{name}/{}", coupon.name);
        }
    }
}

#[test]
fn numbers_differ_where_the_steps_do() {
    // Two rings of one ladder differ in bore and number; the areas cut by their numbers are those of the strokes.
    let (actuator, coupons) = all(SHOULDER);
    let printer = &actuator.design.printer;
    let stroke = 2.0 * printer.line_width;
    let cut = |coupon: &Coupon, index: usize| {
        let stack = &coupon.pieces[index].stack;
        let top = 8.0 * printer.layer_height;
        let depth = 3.0 * printer.layer_height;
        let below = stack.region_at(top - depth - 0.01).expect("section").area();
        below - stack.region_at(top - 0.01).expect("section").area()
    };
    let seat = coupon(&coupons, Kind::Seat);
    // In strokes: the room inside a digit is 1.6 of them, so one is 6.2 tall and 3.6 wide. 1: one bar. 4: one long bar,
    // a half bar and the middle stroke. 2 and 3: see the display.
    let one = 6.2;
    let four = 6.2 + (1.6 + 1.0 + 0.5 + 0.5) + (3.6 - 2.0);
    for (number, area) in [(1, one), (4, four)] {
        let found = cut(seat, number - 1) / (stroke * stroke);
        assert!((found - area).abs() < 1e-6, "{number}: {found} strokes, not {area}");
    }
}
