//! The kernel's shapes against closed forms.

use std::f64::consts::PI;

use hubwright::geometry::{Body, Loop, Point, Region, ShapeErrorKind, Stack};

fn disc(radius: f64) -> Region {
    Region::disc(Point::ORIGIN, radius)
}

fn ring(outer: f64, inner: f64) -> Region {
    Region::annulus(Point::ORIGIN, inner, outer)
}

/// Mesh closed before and after snapping, one shell, volume near the exact one.
fn sound(stack: &Stack) -> f64 {
    let brep = stack.brep().expect("boundary");
    assert_eq!(brep.shells().len(), 1, "one body");
    let largest =
        stack.slabs.iter().map(|slab| slab.bottom().radial_extent().expect("material").1).fold(0.0, f64::max);
    // A chord's error in area is 4/3 of its height over the radius: 2e-4 of the radius stays under 0.05 %.
    let mesh = brep.mesh(2e-4 * largest).expect("mesh").snapped().expect("snapped");
    let exact = stack.volume().expect("volume");
    assert!((mesh.volume() / exact - 1.0).abs() < 5e-4, "mesh {} exact {exact}", mesh.volume());
    exact
}

#[test]
fn a_stepped_bush_has_the_volume_of_its_rings() {
    let mut body = Body::new();
    body.add("flange", [0.0, 3.0], disc(20.0));
    body.add("hub", [3.0, 10.0], disc(12.0));
    body.cut("bore", [0.0, 10.0], disc(5.0));
    let exact = sound(&body.stack().expect("stack"));
    let expected = PI * ((400.0 - 25.0) * 3.0 + (144.0 - 25.0) * 7.0);
    assert!((exact - expected).abs() < 1e-9 * expected);
}

#[test]
fn a_countersink_is_a_frustum() {
    let mut body = Body::new();
    body.add("plate", [0.0, 5.0], disc(10.0));
    body.cut("hole", [0.0, 5.0], disc(2.0));
    body.cut_taper("countersink", [3.0, 5.0], disc(2.0), disc(4.0));
    let exact = sound(&body.stack().expect("stack"));
    // Frustum: pi h / 3 (R^2 + R r + r^2).
    let expected = PI * 100.0 * 5.0 - PI * 4.0 * 3.0 - PI * 2.0 / 3.0 * (16.0 + 8.0 + 4.0);
    assert!((exact - expected).abs() < 1e-9 * expected, "{exact} {expected}");
}

#[test]
fn sector_bosses_flare_out_of_a_wall() {
    let mut body = Body::new();
    body.add("wall", [0.0, 30.0], ring(46.0, 44.0));
    for k in 0..6 {
        let angle = f64::from(k) * PI / 3.0;
        let sector = |radius: f64| Region::sector(45.0, radius, angle - 0.1, angle + 0.1);
        body.add("boss", [20.0, 30.0], sector(52.0));
        body.add_taper("flare", [14.2, 20.0], sector(46.2), sector(52.0));
    }
    let exact = sound(&body.stack().expect("stack"));
    // Sector area 0.1 (R^2 - r^2) each side summed; along the flare R grows linearly: integral of R^2.
    let boss = 0.1 * (52.0_f64.powi(2) - 46.0_f64.powi(2)) * 10.0;
    let flare = 0.1 * ((52.0_f64.powi(3) - 46.2_f64.powi(3)) / 3.0 - 46.0_f64.powi(2) * 5.8);
    let expected = PI * (46.0_f64.powi(2) - 44.0_f64.powi(2)) * 30.0 + 6.0 * (boss + flare);
    assert!((exact - expected).abs() < 1e-8 * expected, "{exact} {expected}");
}

#[test]
fn a_window_closes_in_a_roof() {
    let mut body = Body::new();
    body.add("wall", [0.0, 30.0], ring(46.4, 44.0));
    let opening = |width: f64, angle: f64| Region::slot(42.0, 48.0, width, angle);
    for angle in [0.3, 1.1, 2.6, 4.0] {
        body.cut("window", [5.0, 15.0], opening(12.0, angle));
        body.cut_taper("roof", [15.0, 20.4], opening(12.0, angle), opening(1.2, angle));
    }
    sound(&body.stack().expect("stack"));
}

#[test]
fn an_outline_with_lobes_takes_a_chamfer() {
    let lobes = (0..3).map(|k| Region::sector(30.0, 40.0, f64::from(k) * 2.0, f64::from(k) * 2.0 + 0.5));
    let outline = lobes.fold(disc(34.0), |all, lobe| all.union(&lobe).expect("union"));
    let mut body = Body::new();
    body.add_taper("chamfer", [0.0, 0.4], outline.inset(0.4).expect("inset"), outline.clone());
    body.add("plate", [0.4, 5.0], outline);
    sound(&body.stack().expect("stack"));
}

#[test]
fn twisted_squares_have_prism_volume() {
    // Sides in short pieces, as a tooth's outline has them: a long straight side would be a saddle of two triangles.
    let side = |k: i32| f64::from(k) / 2.0 - 10.0;
    let quarter: Vec<Point> = (0..40).map(|k| Point::new(10.0, side(k))).collect();
    let turned =
        (0..4).flat_map(|turn| quarter.iter().map(move |point| point.rotated(f64::from(turn) * PI / 2.0)));
    let square = Loop::polygon(&turned.collect::<Vec<_>>());
    let mut body = Body::new();
    body.add_twisted("square", [0.0, 20.0], square.clone(), 0.02);
    body.cut("bore", [0.0, 20.0], disc(4.0));
    let exact = sound(&body.stack().expect("stack"));
    let expected = (400.0 - PI * 16.0) * 20.0;
    assert!((exact - expected).abs() < 1e-9 * expected);

    let mut body = Body::new();
    body.add("tube", [0.0, 20.0], disc(20.0));
    body.cut_twisted("square", [5.0, 20.0], square, 0.02);
    let exact = sound(&body.stack().expect("stack"));
    assert!((exact - (PI * 400.0 * 20.0 - 400.0 * 15.0)).abs() < 1e-6);
}

#[test]
fn a_hole_tangent_to_the_wall_is_refused_by_name() {
    let mut body = Body::new();
    body.add("plate", [0.0, 5.0], disc(10.0));
    body.cut("hole", [0.0, 5.0], Region::disc(Point::new(8.0, 0.0), 2.0));
    let error = body.stack().expect_err("touches");
    assert_eq!(error.kind, ShapeErrorKind::Contact);
    assert!(error.features.contains(&"hole".to_string()), "{error}");
}

#[test]
fn a_ring_under_a_disc_of_its_bore_is_refused() {
    let mut body = Body::new();
    body.add("ring", [0.0, 5.0], ring(10.0, 6.0));
    body.add("disc", [5.0, 8.0], disc(6.0));
    let error = body.stack().and_then(|stack| stack.brep()).expect_err("non-manifold");
    assert_eq!(error.kind, ShapeErrorKind::NonManifold);
}

#[test]
fn a_wall_thinner_than_the_chords_is_meshed_finer() {
    // Trap 5: a hole five micrometres from the outside, chords of ten.
    let mut body = Body::new();
    body.add("plate", [0.0, 5.0], disc(20.0));
    body.cut("hole", [0.0, 5.0], Region::disc(Point::new(9.995, 0.0), 10.0));
    let stack = body.stack().expect("stack");
    let mesh = stack.brep().expect("boundary").mesh(0.01).expect("finer chords").snapped().expect("snapped");
    assert!(mesh.is_closed());
}

#[test]
fn walls_that_are_neither_planes_nor_cones_are_refused() {
    // Trap 6: a square that turns while it tapers, and a round boss flaring on a round wall (a quartic).
    let square = |angle: f64| Region::rectangle(Point::new(-5.0, -5.0), Point::new(5.0, 5.0)).rotated(angle);
    let mut body = Body::new();
    body.add_taper("turned", [0.0, 5.0], square(0.0), square(0.2));
    assert_eq!(
        body.stack().and_then(|stack| stack.brep()).expect_err("no plane").kind,
        ShapeErrorKind::TaperWall
    );

    let mut body = Body::new();
    body.add("wall", [0.0, 10.0], disc(20.0));
    let boss = |radius: f64| Region::disc(Point::new(20.0, 0.0), radius);
    body.add_taper("boss", [2.0, 6.0], boss(3.0), boss(5.0));
    let error = body.stack().and_then(|stack| stack.brep()).expect_err("a quartic");
    assert_eq!(error.kind, ShapeErrorKind::TaperCorner);
}

#[test]
fn teeth_keep_other_outlines_away_within_the_slab() {
    // Trap 12: the hole clears the teeth at both ends, and is met half way up.
    let tooth = Loop::polygon(&[
        Point::new(12.0, -1.0),
        Point::new(12.0, 1.0),
        Point::new(-8.0, 1.0),
        Point::new(-8.0, -1.0),
    ]);
    let mut body = Body::new();
    body.add("plate", [0.0, 10.0], disc(20.0));
    body.cut_twisted("tooth", [0.0, 10.0], tooth, 0.1);
    body.cut("hole", [0.0, 10.0], Region::disc(Point::polar(11.0, 0.5), 0.5));
    let error = body.stack().expect_err("the tooth sweeps over the hole");
    assert!(
        matches!(error.kind, ShapeErrorKind::TwistedClearance | ShapeErrorKind::TwistedOutlineBroken),
        "{error}"
    );
}

#[test]
fn snapped_vertices_are_what_32_bits_hold() {
    // Trap 10.
    let mut body = Body::new();
    body.add("plate", [0.1, 5.3], Region::disc(Point::new(150.0, 1.0 / 3.0), 77.7));
    let mesh = body
        .stack()
        .and_then(|s| s.brep())
        .and_then(|b| b.mesh(0.01))
        .and_then(|m| m.snapped())
        .expect("mesh");
    for value in mesh.vertices.iter().flatten() {
        assert_eq!(f64::from(*value as f32), *value);
    }
}

#[test]
fn helical_walls_stay_within_the_tolerance() {
    // Trap 8: the strips between rows deviate more than the edges; every triangle's middle is measured.
    let outline = {
        let steps =
            (0..36).map(|k| Point::polar(if k % 2 == 0 { 17.0 } else { 18.0 }, f64::from(k) * PI / 18.0));
        Loop::polygon(&steps.collect::<Vec<_>>())
    };
    let (per_mm, tolerance) = (0.02, 0.01);
    let mut body = Body::new();
    body.add_twisted("teeth", [0.0, 12.0], outline.clone(), per_mm);
    let mesh = body.stack().and_then(|s| s.brep()).and_then(|b| b.mesh(tolerance)).expect("mesh");
    for triangle in &mesh.triangles {
        let corners = triangle.map(|index| mesh.vertices[index as usize]);
        let middle = [0, 1, 2].map(|axis| corners.iter().map(|corner| corner[axis]).sum::<f64>() / 3.0);
        if corners.iter().all(|corner| corner[2] == corners[0][2]) {
            continue; // The ends are flat.
        }
        let back = Point::new(middle[0], middle[1]).rotated(-per_mm * middle[2]);
        let off = outline
            .0
            .iter()
            .map(|segment| segment.nearest(back).distance(back))
            .fold(f64::INFINITY, f64::min);
        assert!(off <= tolerance, "{off} at z = {}", middle[2]);
    }
}

#[test]
fn turning_over_keeps_volume_and_hand() {
    let outline = Loop::polygon(&[Point::new(6.0, 0.0), Point::new(0.0, 5.0), Point::new(-4.0, -3.0)]);
    let mut body = Body::new();
    body.add_twisted("blade", [1.0, 9.0], outline, 0.1);
    let stack = body.stack().expect("stack");
    let turned = stack.flipped();
    assert!((turned.volume().expect("volume") - stack.volume().expect("volume")).abs() < 1e-9);
    // A section at -z, mirrored, is the section at z: a rotation about x, so a right hand stays one.
    let (here, there) = (stack.region_at(4.0).expect("section"), turned.region_at(-4.0).expect("section"));
    assert!(here.mirrored().minus(&there).expect("difference").area() < 1e-6);
}

mod random_stacks {
    use super::*;
    use proptest::prelude::*;

    #[derive(Clone, Debug)]
    struct Feature {
        cut: bool,
        z: [f64; 2],
        kind: u8,
        place: (f64, f64),
        size: f64,
    }

    fn feature() -> impl Strategy<Value = Feature> {
        (any::<bool>(), 0.0..20.0, 1.0..10.0, 0u8..4, (0.0..18.0, 0.0..2.0 * PI), 1.0..6.0).prop_map(
            |(cut, bottom, height, kind, place, size)| Feature {
                cut,
                z: [bottom, bottom + height],
                kind,
                place,
                size,
            },
        )
    }

    fn region(feature: &Feature) -> Region {
        let centre = Point::polar(feature.place.0, feature.place.1);
        let size = feature.size;
        match feature.kind {
            0 => Region::disc(centre, size),
            1 => Region::rectangle(centre, centre + Point::new(size, 1.3 * size)),
            2 => Region::sector(4.0, 6.0 + 2.0 * size, feature.place.1, feature.place.1 + 0.2 * size),
            _ => Region::slot(3.0, 8.0 + size, size, feature.place.1),
        }
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

        /// Whatever is built is closed and of the right volume; whatever is refused says why; nothing panics.
        #[test]
        fn are_closed_or_refused(features in prop::collection::vec(feature(), 1..9)) {
            let mut body = Body::new();
            body.add("core", [0.0, 30.0], disc(7.0));
            for (index, feature) in features.iter().enumerate() {
                let name = format!("feature {index}");
                if feature.cut {
                    body.cut(name, feature.z, region(feature));
                } else {
                    body.add(name, feature.z, region(feature));
                }
            }
            let built = body.stack().and_then(|stack| {
                let mesh = stack.brep()?.mesh(0.005)?.snapped()?;
                Ok((mesh.volume(), stack.volume()?, mesh.is_closed()))
            });
            match built {
                Ok((meshed, exact, closed)) => {
                    prop_assert!(closed);
                    prop_assert!((meshed / exact - 1.0).abs() < 3e-3, "{meshed} against {exact}");
                }
                Err(error) => prop_assert!(
                    matches!(
                        error.kind,
                        ShapeErrorKind::Contact | ShapeErrorKind::NonManifold | ShapeErrorKind::OpenMesh | ShapeErrorKind::Triangulation
                    ),
                    "{error}"
                ),
            }
        }
    }
}
