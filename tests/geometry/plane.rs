//! Plane regions: closed forms, inclusion and exclusion, the traps of an arrangement.

use std::f64::consts::{PI, TAU};

use hubwright::geometry::{Curve, Lateral, Loop, Point, Region, Section, Segment, ShapeErrorKind};
use proptest::prelude::*;

fn point(x: f64, y: f64) -> Point {
    Point::new(x, y)
}

fn square(low: f64, high: f64) -> Region {
    Region::rectangle(point(low, low), point(high, high))
}

#[track_caller]
fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "found {found}, expected {expected}");
}

#[test]
fn disc_and_annulus_have_their_textbook_moments() {
    let disc = Region::disc(point(3.0, -2.0), 5.0);
    near(disc.area(), 25.0 * PI, 1e-9);
    near(disc.perimeter(), 10.0 * PI, 1e-9);
    let m = disc.moments();
    near(m.x, 3.0 * 25.0 * PI, 1e-9);
    // pi r^4 / 4 about the centre, plus the parallel-axis term.
    near(m.xx, PI * 625.0 / 4.0 + 9.0 * 25.0 * PI, 1e-9);
    near(m.yy, PI * 625.0 / 4.0 + 4.0 * 25.0 * PI, 1e-9);
    near(m.xy, -6.0 * 25.0 * PI, 1e-9);
    let ring = Region::annulus(Point::ORIGIN, 3.0, 7.0);
    near(ring.area(), 40.0 * PI, 1e-9);
    near(ring.moments().polar(), PI / 2.0 * (7f64.powi(4) - 3f64.powi(4)), 1e-8);
    assert_eq!(ring.radial_extent(), Some((3.0, 7.0)));
}

#[test]
fn sectors_and_slots_have_closed_areas() {
    near(Region::sector(4.0, 9.0, 0.3, 1.5).area(), 0.5 * 1.2 * (81.0 - 16.0), 1e-9);
    near(Region::sector(0.0, 9.0, 0.3, 1.5).area(), 0.5 * 1.2 * 81.0, 1e-9);
    near(Region::sector(4.0, 9.0, 0.3, 0.3 + 4.5).area(), 0.5 * 4.5 * 65.0, 1e-9);
    near(Region::sector(4.0, 9.0, 1.0, 1.0 + TAU).area(), PI * 65.0, 1e-9);
    near(Region::slot(10.0, 14.0, 3.0, 0.7).area(), 12.0, 1e-12);
    let centroid = Region::slot(10.0, 14.0, 3.0, 0.7).centroid().unwrap();
    near(centroid.distance(Point::polar(12.0, 0.7)), 0.0, 1e-12);
}

/// Two circles touch from within; the smaller is left a little past the place, where both are nearer than a snap. The piece
/// between counts once, whatever its length.
#[test]
fn arcs_that_part_within_a_snap_are_one_up_to_there() {
    let disc = Region::disc(Point::ORIGIN, 4.5);
    let (centre, radius) = (point(-3.5, 0.0), 1.0);
    for step in 1..400 {
        // From a tenth of a micrometre up.
        let past = 1e-4 * 1.02f64.powi(step);
        let on_small = |angle: f64| centre + Point::polar(radius, angle);
        let (before, leaves) = (on_small(PI - 0.8), on_small(PI + past));
        let arc = Segment { from: before, to: leaves, curve: Curve::Arc { centre, radius, ccw: true } };
        let line = |from, to| Segment { from, to, curve: Curve::Line };
        let corners = [leaves, point(-6.0, -1.5), point(0.0, -1.5), before];
        let lines = corners.windows(2).map(|pair| line(pair[0], pair[1]));
        let other = Region { loops: vec![Loop(std::iter::once(arc).chain(lines).collect())] };
        let sum = |a: &Region, b: &Region| {
            let (both, either) = (a.intersection(b).expect("both"), a.union(b).expect("either"));
            let only = a.minus(b).expect("only");
            near(both.area() + either.area(), a.area() + b.area(), 1e-4);
            near(only.area() + both.area(), a.area(), 1e-4);
        };
        sum(&disc, &other);
        sum(&other, &disc);
    }
}

#[test]
fn arc_through_three_points_lies_on_their_circle() {
    let arc = Segment::arc_through(point(5.0, 0.0), Point::polar(5.0, 2.0), Point::polar(5.0, 4.0));
    let Curve::Arc { centre, radius, ccw } = arc.curve else { panic!("an arc, not a line") };
    near(centre.norm(), 0.0, 1e-12);
    near(radius, 5.0, 1e-12);
    assert!(ccw);
    near(arc.sweep(), 4.0, 1e-12);
    near(arc.reversed().sweep(), -4.0, 1e-12);
    near(arc.middle().distance(Point::polar(5.0, 2.0)), 0.0, 1e-12);
    near(arc.at(0.25).distance(Point::polar(5.0, 1.0)), 0.0, 1e-12);
    let straight = Segment::arc_through(point(0.0, 0.0), point(1.0, 1e-8), point(2.0, 0.0));
    assert_eq!(straight.curve, Curve::Line);
}

/// A hole and what fills it are one outline, wherever either begins: nothing shared, nothing left between.
#[test]
fn a_plug_fits_its_hole() {
    let star = |turn: f64| {
        let tip = |index: u32| {
            Point::polar(
                if index.is_multiple_of(2) { 3.0 } else { 5.0 },
                turn + TAU * f64::from(index) / 16.0,
            )
        };
        Region::polygon(&(0..16).map(tip).collect::<Vec<_>>())
    };
    let plate = square(-9.0, 9.0);
    let plug = star(0.0);
    let drilled = plate.minus(&plug).unwrap();
    near(drilled.area(), 324.0 - plug.area(), 1e-9);
    for fits in [plug.clone(), star(TAU / 8.0)] {
        assert!(drilled.intersection(&fits).unwrap().is_empty());
        near(drilled.union(&fits).unwrap().area(), 324.0, 1e-9);
        assert_eq!(drilled.union(&fits).unwrap().loops.len(), 1);
        near(drilled.minus(&fits).unwrap().area(), drilled.area(), 1e-9);
        near(fits.minus(&drilled).unwrap().area(), plug.area(), 1e-9);
    }
    // Turned by half a tooth it cuts into the plate: what is shared and what is left over are the plug.
    let off = star(TAU / 16.0);
    let shared = drilled.intersection(&off).unwrap().area();
    assert!(shared > 1.0, "{shared}");
    near(off.minus(&drilled).unwrap().area() + shared, off.area(), 1e-9);
}

/// Two unit-overlap squares, and two circles (lens area: the standard formula 2 r^2 acos(d/2r) - d/2 sqrt(4r^2-d^2)).
#[test]
fn booleans_have_closed_areas() {
    let (a, b) = (square(0.0, 4.0), square(2.0, 6.0));
    near(a.union(&b).unwrap().area(), 28.0, 1e-9);
    near(a.minus(&b).unwrap().area(), 12.0, 1e-9);
    near(a.intersection(&b).unwrap().area(), 4.0, 1e-9);
    let (r, d) = (5.0_f64, 6.0_f64);
    let lens = 2.0 * r * r * (d / (2.0 * r)).acos() - d / 2.0 * (4.0 * r * r - d * d).sqrt();
    let (a, b) = (Region::disc(Point::ORIGIN, r), Region::disc(point(d, 0.0), r));
    near(a.intersection(&b).unwrap().area(), lens, 1e-9);
    near(a.union(&b).unwrap().area(), 50.0 * PI - lens, 1e-9);
}

#[test]
fn coincident_and_touching_edges_are_shared() {
    let (a, b) = (square(0.0, 4.0), Region::rectangle(point(4.0, 0.0), point(9.0, 4.0)));
    let both = a.union(&b).unwrap();
    near(both.area(), 36.0, 1e-9);
    assert_eq!(both.loops.len(), 1);
    assert_eq!(both.segment_count(), 4, "collinear sides are joined");
    assert!(a.minus(&a).unwrap().is_empty());
    near(a.union(&a).unwrap().area(), 16.0, 1e-12);
    let half = Region::rectangle(point(4.0, 1.0), point(6.0, 3.0));
    near(a.union(&half).unwrap().area(), 20.0, 1e-9);
}

/// Trap 1: a point on the chord of a half circle must not flip the winding by the sign of a zero.
#[test]
fn trap_01_point_on_the_chord_of_a_half_circle() {
    let disc = Region::disc(Point::ORIGIN, 5.0);
    for x in [-4.9, -1.0, -0.0, 0.0, 1.0, 4.9] {
        assert!(disc.contains(point(x, 0.0)) && disc.contains(point(x, -0.0)), "x = {x}");
    }
    for x in [-5.1, 5.1] {
        assert!(!disc.contains(point(x, 0.0)) && !disc.contains(point(x, -0.0)), "x = {x}");
    }
    let half = Region {
        loops: vec![Loop(vec![
            Segment::arc(point(5.0, 0.0), point(-5.0, 0.0), Point::ORIGIN, true),
            Segment::line(point(-5.0, 0.0), point(5.0, 0.0)),
        ])],
    };
    near(half.area(), 12.5 * PI, 1e-9);
    near(half.mirrored().area(), 12.5 * PI, 1e-9);
    let lower = half.mirrored();
    near(half.union(&lower).unwrap().area(), 25.0 * PI, 1e-9);
    assert!(half.intersection(&lower).unwrap().is_empty());
}

/// Trap 2: a hole tangent to a wall, and corners that meet, are found as contacts.
#[test]
fn trap_02_contacts_are_found() {
    let plate = square(0.0, 10.0);
    assert!(plate.self_contacts().is_empty());
    let tangent = plate.minus(&Region::disc(point(2.0, 5.0), 2.0)).unwrap();
    let contacts = tangent.self_contacts();
    assert_eq!(contacts.len(), 1);
    near(contacts[0].distance(point(0.0, 5.0)), 0.0, 1e-5);
    let corner = square(0.0, 4.0).union(&square(4.0, 8.0)).unwrap();
    assert_eq!(corner.self_contacts().len(), 1);
    near(corner.area(), 32.0, 1e-9);
    assert_eq!(corner.pieces().unwrap().len(), 2, "loops that touch are kept apart");
}

#[test]
fn holes_find_their_outer_loop() {
    let rings =
        Region::annulus(Point::ORIGIN, 8.0, 10.0).union(&Region::annulus(Point::ORIGIN, 2.0, 5.0)).unwrap();
    let pieces = rings.pieces().unwrap();
    assert_eq!(pieces.len(), 2);
    for piece in pieces {
        assert_eq!(piece.holes.len(), 1);
        let (outer, hole) = (&rings.loops[piece.outer], &rings.loops[piece.holes[0]]);
        let ratio = outer.max_radius(Point::ORIGIN) / hole.max_radius(Point::ORIGIN);
        assert!((ratio - 1.25).abs() < 1e-9 || (ratio - 2.5).abs() < 1e-9, "ratio {ratio}");
    }
}

#[test]
fn gaps_between_regions() {
    let a = Region::disc(Point::ORIGIN, 5.0);
    near(a.gap_to(&Region::disc(point(12.0, 5.0), 3.0)), 5.0, 1e-12);
    near(a.gap_to(&square(5.0, 8.0)), 50f64.sqrt() - 5.0, 1e-12);
    near(a.gap_to(&Region::rectangle(point(6.5, -3.0), point(8.0, 3.0))), 1.5, 1e-12);
    near(a.gap_to(&Region::annulus(Point::ORIGIN, 6.0, 8.0)), 1.0, 1e-12);
    near(a.gap_to(&Region::disc(point(1.0, 0.0), 1.0)), 0.0, 0.0);
    near(a.gap_to(&Region::disc(point(10.0, 0.0), 5.0)), 0.0, 0.0);
    let off_centre = Region::annulus(point(0.5, 0.0), 6.0, 8.0);
    near(a.gap_to(&off_centre), 0.5, 1e-12);
    near(
        Region::sector(5.0, 8.0, 0.2, 1.0).gap_to(&Region::sector(5.0, 8.0, 1.4, 2.0)),
        10.0 * 0.2f64.sin(),
        1e-9,
    );
}

/// Steiner's formula for a convex figure: area(A grown by d) = area + perimeter d + pi d^2; a square shrinks to a square.
#[test]
fn offsets_and_insets() {
    let plate = square(0.0, 10.0);
    near(plate.offset(1.5).unwrap().area(), 100.0 + 40.0 * 1.5 + PI * 2.25, 1e-6);
    near(plate.offset(-1.5).unwrap().area(), 49.0, 1e-6);
    near(plate.inset(1.5).unwrap().area(), 49.0, 1e-9);
    assert!(plate.offset(-6.0).unwrap().is_empty());
    let ring = Region::annulus(Point::ORIGIN, 4.0, 10.0);
    near(ring.inset(0.5).unwrap().area(), PI * (9.5f64.powi(2) - 4.5f64.powi(2)), 1e-9);
    near(ring.offset(-0.5).unwrap().area(), PI * (9.5f64.powi(2) - 4.5f64.powi(2)), 1e-6);
    assert_eq!(ring.inset(3.1).unwrap_err().kind, ShapeErrorKind::InsetTopology);
    assert_eq!(square(0.0, 2.0).inset(1.2).unwrap_err().kind, ShapeErrorKind::InsetTopology);
    // A sector keeps radial sides parallel to themselves: every point of the inset is 0.3 from the boundary or more.
    let sector = Region::sector(5.0, 9.0, 0.1, 1.4);
    let inset = sector.inset(0.3).unwrap();
    assert_eq!(inset.segment_count(), 4);
    for corner in inset.loops[0].0.iter().map(|segment| segment.from) {
        let depth =
            sector.loops[0].0.iter().map(|s| s.nearest(corner).distance(corner)).fold(f64::MAX, f64::min);
        near(depth, 0.3, 1e-9);
    }
    let stadium = Region::disc(point(-5.0, 0.0), 3.0)
        .union(&Region::rectangle(point(-5.0, -3.0), point(5.0, 3.0)))
        .and_then(|r| r.union(&Region::disc(point(5.0, 0.0), 3.0)))
        .unwrap();
    near(stadium.area(), 60.0 + 9.0 * PI, 1e-6);
    near(stadium.inset(1.0).unwrap().area(), 40.0 + 4.0 * PI, 1e-6);
}

#[test]
fn broken_outlines_are_refused() {
    let open = Loop(vec![
        Segment::line(point(0.0, 0.0), point(1.0, 0.0)),
        Segment::line(point(1.0, 1.0), point(0.0, 0.0)),
    ]);
    assert_eq!(Region::from_loops(vec![open]).unwrap_err().kind, ShapeErrorKind::BadOutline);
    let flat = Loop::polygon(&[point(0.0, 0.0), point(1.0, 0.0), point(2.0, 0.0)]);
    assert_eq!(Region::from_loops(vec![flat]).unwrap_err().kind, ShapeErrorKind::BadOutline);
    let nan = Loop::polygon(&[point(0.0, 0.0), point(f64::NAN, 0.0), point(2.0, 1.0)]);
    assert_eq!(Region::from_loops(vec![nan]).unwrap_err().kind, ShapeErrorKind::NotFinite);
}

/// A shape on a coarse grid, so that tangencies, coincident edges and shared corners are common.
fn shape() -> impl Strategy<Value = Region> {
    let grid = |limit: i32| (-limit..=limit).prop_map(|n| f64::from(n) * 0.5);
    prop_oneof![
        (grid(20), grid(20), 1..12i32).prop_map(|(x, y, r)| Region::disc(point(x, y), f64::from(r) * 0.5)),
        (grid(20), grid(20), 1..12i32, 1..12i32).prop_map(|(x, y, w, h)| {
            Region::rectangle(point(x, y), point(x + f64::from(w) * 0.5, y + f64::from(h) * 0.5))
        }),
        (0..8i32, 1..10i32, 0..16i32, 1..16i32).prop_map(|(r, w, a, s)| {
            let (inner, start) = (f64::from(r), f64::from(a) * PI / 8.0);
            Region::sector(inner, inner + f64::from(w) * 0.5, start, start + f64::from(s) * PI / 8.0)
        }),
        (grid(20), grid(20), 3..9usize, 2..10i32, 0..10i32).prop_map(|(x, y, n, r, a)| {
            let corner = |i: usize| {
                point(x, y) + Point::polar(f64::from(r) * 0.5, f64::from(a) * 0.1 + TAU * i as f64 / n as f64)
            };
            Region::polygon(&(0..n).map(corner).collect::<Vec<_>>())
        }),
    ]
}

fn figure() -> impl Strategy<Value = Region> {
    proptest::collection::vec((shape(), any::<bool>()), 1..6).prop_map(|parts| {
        let mut sum = Region::disc(Point::ORIGIN, 6.0);
        for (part, add) in parts {
            sum = if add { sum.union(&part) } else { sum.minus(&part) }.unwrap();
        }
        sum
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn areas_obey_inclusion_and_exclusion(a in figure(), b in figure()) {
        let (both, either) = (a.intersection(&b).unwrap(), a.union(&b).unwrap());
        let sum = a.area() + b.area();
        prop_assert!((both.area() + either.area() - sum).abs() < 1e-4, "{} {} {sum}", both.area(), either.area());
        let only = a.minus(&b).unwrap();
        prop_assert!((only.area() + both.area() - a.area()).abs() < 1e-4);
        let bounded = |r: &Region| r.check().is_ok() && r.pieces().is_ok();
        prop_assert!(bounded(&both) && bounded(&either) && bounded(&only));
    }

    #[test]
    fn booleans_do_not_depend_on_where_a_loop_starts_or_how_it_is_turned(a in figure(), b in figure(), start in 0..5usize, angle in 0.0..TAU) {
        let expected = a.union(&b).unwrap().area();
        let restarted = Region { loops: a.loops.iter().map(|l| l.started_at(start)).collect() };
        prop_assert!((restarted.union(&b).unwrap().area() - expected).abs() < 1e-4);
        let turned = a.rotated(angle).union(&b.rotated(angle)).unwrap();
        prop_assert!((turned.area() - expected).abs() < 1e-4, "{} {expected}", turned.area());
        let mirrored = b.mirrored().union(&a.mirrored()).unwrap();
        prop_assert!((mirrored.area() - expected).abs() < 1e-4);
    }

    #[test]
    fn points_are_inside_a_union_when_inside_either(a in figure(), b in figure(), x in -10.0..10.0f64, y in -10.0..10.0f64) {
        let q = point(x, y);
        let clear = |r: &Region| r.loops.iter().flat_map(|l| &l.0).all(|s| s.nearest(q).distance(q) > 1e-4);
        prop_assume!(clear(&a) && clear(&b));
        prop_assert_eq!(a.union(&b).unwrap().contains(q), a.contains(q) || b.contains(q));
        prop_assert_eq!(a.minus(&b).unwrap().contains(q), a.contains(q) && !b.contains(q));
    }

    /// A section asked as such answers as the region does.
    #[test]
    fn sections_answer_as_regions(a in figure(), b in figure(), x in -6.0..6.0f64, y in -6.0..6.0f64, reach in 0.0..4.0f64) {
        let (one, other) = (Section::of(a.clone()), Section::of(b.clone()));
        let (shared, plain) = (one.shared(&other).unwrap(), a.intersection(&b).unwrap());
        prop_assert!((shared.area() - plain.area()).abs() < 1e-6, "{} {}", shared.area(), plain.area());
        prop_assert!((shared.perimeter() - plain.perimeter()).abs() < 1e-4);
        prop_assert_eq!(one.contains(point(x, y)), a.contains(point(x, y)));
        let gap = a.gap_to(&b);
        match one.lateral(&other, reach) {
            Lateral::Far => prop_assert!(gap > reach - 1e-9, "gap {}, reach {}", gap, reach),
            Lateral::Apart(found, _) => prop_assert!((found - gap).abs() < 1e-6, "gap {}, found {}", gap, found),
            Lateral::Meets => prop_assert!(gap < 1e-5, "gap {}", gap),
        }
    }

    /// Between two circles there is something exactly when the ring between them shares something, strips left out.
    #[test]
    fn sections_know_what_circles_pass(a in figure(), x in -6.0..6.0f64, y in -6.0..6.0f64, inner in 0.0..5.0f64, width in 0.1..5.0f64) {
        const STRIP: f64 = 2e-3;
        let centre = point(x, y);
        let ring = |inner: f64, outer: f64| {
            if inner > 0.0 { Region::annulus(centre, inner, outer) } else { Region::disc(centre, outer) }
        };
        let found = Section::of(a.clone()).reaches_between(centre, [inner, inner + width], STRIP);
        let inside = a.intersection(&ring(inner + STRIP, inner + width - STRIP)).unwrap().area();
        if found { prop_assert!(a.intersection(&ring(inner, inner + width)).unwrap().area() > 0.0); }
        if inside > 1e-9 { prop_assert!(found, "{} mm2 inside", inside); }
    }
}
