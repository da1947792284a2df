//! Meshes against the true surfaces. Random stacks with tapers: each is refused for a fault of the shape, or closed, of the exact volume and with every
//! triangle on its surface, whichever way it is turned.

use std::f64::consts::{PI, TAU};

use hubwright::geometry::{
    Body, Brep, Curve, Loop, Mesh, Point, Region, Segment, ShapeErrorKind, Stack, Surface,
};
use proptest::prelude::*;

/// Asked of every mesh here \[mm\], and what rounding may add.
const TOLERANCE: f64 = 0.01;
const ROUNDING: f64 = 1e-6;

/// The greatest distance \[mm\] of a triangle's edge middles and centre from the surface of its face.
fn deviation(brep: &Brep, mesh: &Mesh) -> f64 {
    let third = 1.0 / 3.0;
    let samples = [[0.5, 0.5, 0.0], [0.0, 0.5, 0.5], [0.5, 0.0, 0.5], [third, third, third]];
    let mut most = 0.0_f64;
    for (triangle, face) in mesh.triangles.iter().zip(&mesh.face_of) {
        let [a, b, c] = triangle.map(|index| mesh.vertices[index as usize]);
        for [u, v, w] in samples {
            let place = [0, 1, 2].map(|axis| u * a[axis] + v * b[axis] + w * c[axis]);
            most = most.max(off_surface(&brep.faces[*face as usize].surface, place));
        }
    }
    most
}

fn off_surface(surface: &Surface, [x, y, z]: [f64; 3]) -> f64 {
    let point = Point::new(x, y);
    match surface {
        Surface::Level { z: level, .. } => (z - level).abs(),
        Surface::Ruled { bottom, top, z: [low, high] } => {
            let u = (z - low) / (high - low);
            let (sideways, shift) = match (bottom.curve, top.curve) {
                (Curve::Arc { centre, radius, .. }, Curve::Arc { radius: above, .. }) => {
                    (point.distance(centre) - radius, above - radius)
                }
                _ => {
                    let normal = (bottom.to - bottom.from).unit().left_normal();
                    ((point - bottom.from).dot(normal), (top.from - bottom.from).dot(normal))
                }
            };
            let slope = shift / (high - low);
            (sideways - shift * u).abs() / (1.0 + slope * slope).sqrt()
        }
        Surface::Twisted { bottom, z: [low, _], per_mm } => {
            let back = point.rotated(-per_mm * (z - low));
            bottom.nearest(back).distance(back)
        }
    }
}

/// One feature of a random body.
#[derive(Clone, Debug)]
struct Step {
    add: bool,
    z: [f64; 2],
    bottom: Region,
    top: Region,
}

/// Off any grid, so that contacts are the exception.
fn place() -> impl Strategy<Value = Point> {
    (0.0..16.0f64, 0.0..TAU).prop_map(|(radius, angle)| Point::polar(radius, angle))
}

fn outline() -> impl Strategy<Value = Region> {
    prop_oneof![
        (place(), 1.0..8.0f64).prop_map(|(centre, radius)| Region::disc(centre, radius)),
        (2.0..18.0f64, 0.5..6.0f64, 0.0..TAU, 0.2..5.5f64).prop_map(|(inner, width, start, sweep)| {
            Region::sector(inner, inner + width, start, start + sweep)
        }),
        (2.0..14.0f64, 2.0..9.0f64, 1.0..8.0f64, 0.0..TAU)
            .prop_map(|(inner, length, width, angle)| Region::slot(inner, inner + length, width, angle)),
        (place(), 3..8usize, 1.5..8.0f64, 0.0..TAU).prop_map(|(centre, count, radius, start)| {
            let corner = |k: usize| centre + Point::polar(radius, start + TAU * k as f64 / count as f64);
            Region::polygon(&(0..count).map(corner).collect::<Vec<_>>())
        }),
        (1.0..9.0f64, 0.5..9.0f64).prop_map(|(inner, width)| Region::annulus(
            Point::ORIGIN,
            inner,
            inner + width
        )),
    ]
}

/// Heights on whole millimetres, so that features share interfaces.
fn heights() -> impl Strategy<Value = [f64; 2]> {
    (0..8i32, 1..6i32).prop_map(|(low, height)| [f64::from(low), f64::from(low + height)])
}

fn step() -> impl Strategy<Value = Step> {
    let prism = (any::<bool>(), heights(), outline()).prop_map(|(add, z, region)| Step {
        add,
        z,
        bottom: region.clone(),
        top: region,
    });
    let cone = (any::<bool>(), heights(), place(), 1.0..4.0f64, 1.0..4.0f64).prop_map(
        |(add, z, centre, bottom, top)| Step {
            add,
            z,
            bottom: Region::disc(centre, bottom),
            top: Region::disc(centre, top),
        },
    );
    let roof = (heights(), 4.0..12.0f64, 3.0..9.0f64, 0.8..2.0f64, 0.0..TAU).prop_map(
        |(z, inner, width, ridge, angle)| Step {
            add: false,
            z,
            bottom: Region::slot(inner, inner + 20.0, width, angle),
            top: Region::slot(inner, inner + 20.0, ridge, angle),
        },
    );
    prop_oneof![4 => prism, 1 => cone, 2 => roof]
}

fn steps() -> impl Strategy<Value = Vec<Step>> {
    (8.0..20.0f64, proptest::collection::vec(step(), 1..7)).prop_map(|(radius, mut steps)| {
        let plate = Region::disc(Point::ORIGIN, radius);
        steps.insert(0, Step { add: true, z: [0.0, 9.0], bottom: plate.clone(), top: plate });
        steps
    })
}

fn body_of(steps: &[Step]) -> Body {
    let mut body = Body::new();
    for (index, step) in steps.iter().enumerate() {
        let (name, bottom, top) = (format!("step {index}"), step.bottom.clone(), step.top.clone());
        match (step.add, bottom == top) {
            (true, true) => body.add(name, step.z, bottom),
            (false, true) => body.cut(name, step.z, bottom),
            (true, false) => body.add_taper(name, step.z, bottom, top),
            (false, false) => body.cut_taper(name, step.z, bottom, top),
        }
    }
    body
}

/// Faults of the shape, not of the kernel.
fn is_fair(kind: ShapeErrorKind) -> bool {
    use ShapeErrorKind::{Contact, Empty, EmptyInterval, NonManifold, SlabTopology, TaperCorner};
    matches!(kind, Contact | Empty | EmptyInterval | NonManifold | SlabTopology | TaperCorner)
}

/// Volume of a body without tapers, by plane booleans one after the other.
fn stepwise_volume(steps: &[Step]) -> f64 {
    let section = |z: f64| {
        let active = steps.iter().filter(|step| step.z[0] <= z && z < step.z[1]);
        active.fold(Region::empty(), |sum, step| {
            if step.add { sum.union(&step.bottom) } else { sum.minus(&step.bottom) }.expect("boolean")
        })
    };
    (0..14).map(|z| section(f64::from(z)).area()).sum()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn a_random_stack_is_sound_or_fairly_refused(steps in steps(), angle in 0.0..TAU) {
        let stack = match body_of(&steps).stack() {
            Ok(stack) => stack,
            Err(error) => { prop_assert!(is_fair(error.kind), "{error}"); return Ok(()) }
        };
        if let Err(error) = stack.brep() { prop_assert!(is_fair(error.kind), "{error}"); return Ok(()) }
        let exact = stack.volume().unwrap();
        if steps.iter().all(|step| step.bottom == step.top) {
            let stepwise = stepwise_volume(&steps);
            prop_assert!((stepwise - exact).abs() < 1e-5 * exact, "{stepwise} {exact}");
        }
        for turned in [stack.clone(), stack.flipped(), stack.rotated(angle).translated_z(3.0)] {
            prop_assert!((turned.volume().unwrap() - exact).abs() < 1e-6 * exact);
            let brep = match turned.brep() {
                Ok(brep) => brep,
                Err(error) => { prop_assert!(false, "turned: {error}"); unreachable!() }
            };
            let mesh = brep.mesh(TOLERANCE).map_err(|error| TestCaseError::fail(format!("{error}")))?;
            // Within the tolerance of the surface, the volume is off by less than area times tolerance.
            prop_assert!((mesh.volume() - exact).abs() < TOLERANCE * mesh.area(), "{} {exact}", mesh.volume());
            let far = deviation(&brep, &mesh);
            prop_assert!(far < TOLERANCE + ROUNDING, "a triangle lies {far} off its surface");
            let snapped = mesh.snapped().map_err(|error| TestCaseError::fail(format!("{error}")))?;
            prop_assert!(snapped.is_closed());
        }
    }
}

fn disc(radius: f64) -> Region {
    Region::disc(Point::ORIGIN, radius)
}

/// A taper's corner that comes within a snap of a straight wall: the piece between is turned, and still a wall. Found by lot.
#[test]
fn a_taper_beside_a_wall_keeps_its_walls() {
    let polygon = |corners: [(f64, f64); 4]| Region::polygon(&corners.map(|(x, y)| Point::new(x, y)));
    let mut body = Body::new();
    body.add("disc", [0.0, 9.0], disc(8.0));
    body.cut_taper(
        "taper",
        [4.0, 8.0],
        polygon([
            (5.560252299695878, -3.571098840435298),
            (24.84647770076702, -8.866522315387817),
            (25.890447314048604, -5.064327199387552),
            (6.604221912977457, 0.2310962755649668),
        ]),
        polygon([
            (5.947217004857923, -2.161751965475281),
            (25.23344240592907, -7.4571754404277995),
            (25.503482608886557, -6.47367407434757),
            (6.217257207815412, -1.1782505993950505),
        ]),
    );
    body.cut(
        "wall",
        [6.0, 7.0],
        polygon([
            (5.878874003944455, 1.2589803832626187),
            (7.571776338094242, -6.852436462957279),
            (15.68319318431414, -5.159534128807492),
            (13.990290850164353, 2.9518827174124054),
        ]),
    );
    let stack = body.stack().expect("a stack");
    for turned in [stack.clone(), stack.flipped()] {
        keeps_tolerance(&turned);
    }
}

#[track_caller]
fn keeps_tolerance(stack: &Stack) {
    let brep = stack.brep().expect("boundary");
    let far = deviation(&brep, &brep.mesh(TOLERANCE).expect("mesh"));
    assert!(far < TOLERANCE + ROUNDING, "a triangle lies {far} off its surface");
}

/// Trap 8, on the real shapes: teeth, windows with roofs, chamfers, countersinks.
#[test]
fn every_part_of_the_demos_keeps_the_tolerance() {
    for name in [crate::support::SHOULDER, crate::support::WRIST, crate::support::MAST] {
        let made = hubwright::pipeline::make(&crate::support::demo(name)).expect("demo");
        for part in &made.product.parts {
            keeps_tolerance(&part.printed);
        }
    }
}

/// A wall between two roofs slides at both ends: without rows its triangles would cut across the cylinder.
#[test]
fn a_wall_between_roofs_keeps_the_tolerance() {
    let mut body = Body::new();
    body.add("wall", [0.0, 30.0], Region::annulus(Point::ORIGIN, 44.0, 46.4));
    for k in 0..4 {
        let opening = |width: f64| Region::slot(30.0, 60.0, width, f64::from(k) * PI / 2.0);
        body.cut("window", [2.0, 5.0], opening(40.0));
        body.cut_taper("roof", [5.0, 24.4], opening(40.0), opening(1.2));
    }
    keeps_tolerance(&body.stack().expect("stack"));
}

/// The long sides of a twisted square are saddles.
#[test]
fn long_twisted_sides_keep_the_tolerance() {
    let corner = |x: f64, y: f64| Point::new(10.0 * x, 10.0 * y);
    let square = [corner(1.0, 1.0), corner(-1.0, 1.0), corner(-1.0, -1.0), corner(1.0, -1.0)];
    let mut body = Body::new();
    body.add_twisted("square", [0.0, 20.0], Loop::polygon(&square), 0.02);
    keeps_tolerance(&body.stack().expect("stack"));
}

/// Trap 4: a boss tangent to the rim of a wider disc from inside is a good solid.
#[test]
fn a_boss_tangent_to_the_rim_below_is_built() {
    let mut body = Body::new();
    body.add("plate", [0.0, 5.0], disc(10.0));
    body.add("boss", [5.0, 8.0], Region::disc(Point::new(0.0, 5.0), 5.0));
    let stack = body.stack().expect("stack");
    keeps_tolerance(&stack);
    let exact = PI * (100.0 * 5.0 + 25.0 * 3.0);
    assert!((stack.volume().expect("volume") - exact).abs() < 1e-9 * exact);
}

/// Trap 3, at a vertex: two blocks on a foot that meet in one corner, one ending where the other begins.
#[test]
fn blocks_that_meet_in_a_corner_are_refused() {
    let block = |low: f64, high: f64| Region::rectangle(Point::new(low, low), Point::new(high, high));
    let mut body = Body::new();
    body.add("column", [0.0, 10.0], Region::rectangle(Point::new(-6.0, -6.0), Point::new(-5.0, 9.0)));
    body.add("bridge", [10.0, 12.0], Region::rectangle(Point::new(-6.0, 6.0), Point::new(5.0, 9.0)));
    body.add("foot", [0.0, 2.0], block(-6.0, 0.0));
    body.add("low", [2.0, 5.0], block(-3.0, 0.0));
    body.add("high", [5.0, 10.0], block(0.0, 3.0));
    body.add("stalk", [5.0, 10.0], Region::rectangle(Point::new(1.0, 2.0), Point::new(2.0, 7.0)));
    let error = body.stack().and_then(|stack| stack.brep()).expect_err("a shared corner");
    assert_eq!(error.kind, ShapeErrorKind::NonManifold);
    assert_eq!(error.place, Some([0.0, 0.0, 5.0]));
}

#[test]
fn features_that_are_no_shapes_are_refused_by_name() {
    use ShapeErrorKind::{BadOutline, EmptyInterval, NotFinite};
    let refused = |z: [f64; 2], region: Region| {
        let mut body = Body::new();
        body.add("plate", [0.0, 5.0], disc(10.0));
        body.add("fault", z, region);
        let error = body.stack().expect_err("no shape");
        assert!(error.features.contains(&"fault".to_string()), "{error}");
        error.kind
    };
    let open = Region { loops: vec![Loop(vec![Segment::line(Point::ORIGIN, Point::new(3.0, 0.0))])] };
    let z = [0.0, 5.0];
    assert_eq!(refused(z, open), BadOutline);
    assert_eq!(refused(z, disc(0.0)), BadOutline);
    assert_eq!(refused(z, disc(f64::NAN)), NotFinite);
    assert_eq!(refused(z, disc(f64::INFINITY)), NotFinite);
    assert_eq!(refused(z, Region::disc(Point::new(f64::NAN, 0.0), 1.0)), NotFinite);
    assert_eq!(refused([0.0, f64::INFINITY], disc(3.0)), NotFinite);
    assert_eq!(refused([f64::NAN, 5.0], disc(3.0)), NotFinite);
    assert_eq!(refused([5.0, 5.0], disc(3.0)), EmptyInterval);
    assert_eq!(refused([5.0, 2.0], disc(3.0)), EmptyInterval);
    let mut body = Body::new();
    body.add_twisted("teeth", z, Loop::circle(Point::ORIGIN, 5.0), f64::NAN);
    assert_eq!(body.stack().expect_err("no twist").kind, NotFinite);
    let mut body = Body::new();
    body.add_twisted("teeth", z, Loop(Vec::new()), 0.1);
    assert_eq!(body.stack().expect_err("no teeth").kind, BadOutline);
}
