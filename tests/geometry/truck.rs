//! The kernel's boundary, handed to the truck library: its solid must be closed, its own tessellation of the same volume.
//!
//! truck refuses some good solids (a tangent boss on a wider disc), so a refusal is counted, not failed.

use std::f64::consts::PI;

use hubwright::geometry::{
    Body, Brep, Curve as Plane2d, EdgeCurve, Point, Region, Segment, Stack, Surface as Face,
};
use truck_meshalgo::prelude::*;
use truck_modeling::{
    BSplineCurve, BSplineSurface, Curve, KnotVec, Line, NurbsCurve, NurbsSurface, Plane, Point3, Processor,
    RevolutedCurve, Solid, Surface, Vector3, Vector4, builder,
};
use truck_topology::compress::{CompressedEdge, CompressedFace, CompressedShell, CompressedSolid};

type Compressed = CompressedSolid<Point3, Curve, Surface>;

fn place(point: Point, z: f64) -> Point3 {
    Point3::new(point.x, point.y, z)
}

/// An arc as truck's rational spline.
fn arc(segment: &Segment, z: f64) -> NurbsCurve<Vector4> {
    let [from, to] = [segment.from, segment.to].map(|point| builder::vertex(place(point, z)));
    let edge: truck_modeling::Edge = builder::circle_arc(&from, &to, place(segment.middle(), z));
    NurbsCurve::try_from(edge.curve()).expect("an arc is rational")
}

/// Cubic Hermite control points of (cos, sin, height) for a turn by `angle`: one span each eighth of a turn and less.
fn helix(angle: f64) -> (KnotVec, Vec<(f64, f64, f64)>) {
    let spans = ((angle.abs() / (PI / 16.0)).ceil() as usize).max(2);
    let step = angle / spans as f64;
    let mut points = vec![(1.0, 0.0, 0.0)];
    for span in 0..spans {
        let (a, b) = (step * span as f64, step * (span + 1) as f64);
        let (low, third) = (span as f64 / spans as f64, 1.0 / (3.0 * spans as f64));
        points.push((a.cos() - a.sin() * step / 3.0, a.sin() + a.cos() * step / 3.0, low + third));
        points.push((b.cos() + b.sin() * step / 3.0, b.sin() - b.cos() * step / 3.0, low + 2.0 * third));
        points.push((b.cos(), b.sin(), low + 3.0 * third));
    }
    let inner = (1..spans).flat_map(|span| [span as f64 / spans as f64; 3]);
    let knots: Vec<f64> = [0.0; 4].into_iter().chain(inner).chain([1.0; 4]).collect();
    (KnotVec::from(knots), points)
}

fn curve(brep: &Brep, index: usize) -> Curve {
    let edge = &brep.edges[index];
    let (a, b) = (brep.vertices[edge.from], brep.vertices[edge.to]);
    match &edge.curve {
        EdgeCurve::Line => Curve::Line(Line(Point3::from(a), Point3::from(b))),
        EdgeCurve::Arc { centre, radius, ccw } => {
            let flat = Plane2d::Arc { centre: *centre, radius: *radius, ccw: *ccw };
            let segment = Segment { from: Point::new(a[0], a[1]), to: Point::new(b[0], b[1]), curve: flat };
            Curve::NurbsCurve(arc(&segment, a[2]))
        }
        EdgeCurve::Helix { angle } => {
            let (knots, points) = helix(*angle);
            let turned = |&(cos, sin, u): &(f64, f64, f64)| {
                Point3::new(cos * a[0] - sin * a[1], sin * a[0] + cos * a[1], a[2] + (b[2] - a[2]) * u)
            };
            Curve::BSplineCurve(BSplineCurve::new(knots, points.iter().map(turned).collect()))
        }
        EdgeCurve::Conic(_) => panic!("shapes of this test have no conic corners"),
    }
}

fn homogeneous(segment: &Segment, z: f64) -> BSplineCurve<Vector4> {
    match segment.curve {
        Plane2d::Line => {
            let ends = [segment.from, segment.to].map(|point| Vector4::new(point.x, point.y, z, 1.0));
            BSplineCurve::new(KnotVec::bezier_knot(1), ends.to_vec())
        }
        Plane2d::Arc { .. } => arc(segment, z).into_non_rationalized(),
    }
}

fn surface(face: &Face) -> Surface {
    match face {
        Face::Level { z, up } => {
            let corner = |x: f64, y: f64| Point3::new(x, y, *z);
            let (o, x, y) = (corner(0.0, 0.0), corner(1.0, 0.0), corner(0.0, 1.0));
            if *up { Plane::new(o, x, y).into() } else { Plane::new(o, y, x).into() }
        }
        Face::Ruled { bottom, top, z } => match (bottom.curve, top.curve) {
            (Plane2d::Arc { centre, radius, ccw }, Plane2d::Arc { radius: above, .. }) => {
                let end = centre + (bottom.from - centre) * (above / radius);
                let line = Curve::Line(Line(place(bottom.from, z[0]), place(end, z[1])));
                let turned = RevolutedCurve::by_revolution(line, place(centre, z[0]), Vector3::unit_z());
                let mut wall = Surface::RevolutedCurve(Processor::new(turned));
                if ccw {
                    wall.invert();
                }
                wall
            }
            _ => Plane::new(place(bottom.from, z[0]), place(bottom.to, z[0]), place(top.from, z[1])).into(),
        },
        Face::Twisted { bottom, z, per_mm } => {
            let (knots, points) = helix(per_mm * (z[1] - z[0]));
            let base = homogeneous(bottom, z[0]);
            let row = |control: &Vector4| {
                let turned = |&(cos, sin, u): &(f64, f64, f64)| {
                    let (x, y, w) = (control.x, control.y, control.w);
                    Vector4::new(cos * x - sin * y, sin * x + cos * y, (z[0] + (z[1] - z[0]) * u) * w, w)
                };
                points.iter().map(turned).collect::<Vec<_>>()
            };
            let rows = base.control_points().iter().map(row).collect();
            Surface::NurbsSurface(NurbsSurface::new(BSplineSurface::new(
                (base.knot_vec().clone(), knots),
                rows,
            )))
        }
    }
}

fn compressed(brep: &Brep) -> Compressed {
    let edges = (0..brep.edges.len())
        .map(|index| CompressedEdge {
            vertices: (brep.edges[index].from, brep.edges[index].to),
            curve: curve(brep, index),
        })
        .collect();
    let faces = brep
        .faces
        .iter()
        .map(|face| CompressedFace {
            boundaries: face
                .loops
                .iter()
                .map(|around| around.iter().map(|one| (one.edge, one.forward).into()).collect())
                .collect(),
            orientation: true,
            surface: surface(&face.surface),
        })
        .collect();
    let vertices = brep.vertices.iter().map(|vertex| Point3::from(*vertex)).collect();
    CompressedSolid { boundaries: vec![CompressedShell { vertices, edges, faces }] }
}

/// (truck took it and found it closed, truck's tessellation against the exact volume).
fn crossed(stack: &Stack) -> (bool, f64) {
    let brep = stack.brep().expect("boundary");
    let solid = compressed(&brep);
    let taken = Solid::extract(solid.clone())
        .map(|solid| solid.boundaries().iter().all(|shell| shell.shell_condition() == ShellCondition::Closed))
        .unwrap_or(false);
    let polygon = solid.robust_triangulation(0.01).to_polygon();
    (taken, polygon.volume() / stack.volume().expect("volume") - 1.0)
}

#[test]
fn a_ring_housing_like_stack_agrees_with_truck() {
    let made = hubwright::pipeline::make(&crate::support::demo(crate::support::WRIST)).expect("demo");
    let gear = made.product.actuator.stage.ring;
    let teeth = gear.profile(5e-4).expect("teeth");
    let disc = |radius: f64| Region::disc(Point::ORIGIN, radius);
    let mut body = Body::new();
    body.add("tube", [0.0, 30.0], disc(30.5));
    for k in 0..4 {
        let angle = f64::from(k) * PI / 2.0;
        let sector = |radius: f64| Region::sector(29.0, radius, angle - 0.12, angle + 0.12);
        body.add("column", [0.0, 30.0], sector(36.0));
        let between = |radius: f64| Region::sector(29.0, radius, angle + 0.7, angle + 0.9);
        body.add("cover", [28.4, 30.0], between(34.0));
        body.add_taper("flare", [25.1, 28.4], between(30.7), between(34.0));
        body.cut("hole", [0.0, 30.0], Region::disc(Point::polar(33.5, angle), 1.8));
    }
    body.cut("lip", [0.0, 3.0], disc(17.0));
    body.cut("seat", [3.0, 10.0], disc(18.5));
    body.cut("free", [10.0, 17.0], disc(gear.tip_diameter / 2.0));
    body.cut_twisted("teeth", [17.0, 30.0], teeth, gear.twist_per_mm());
    let (taken, off) = crossed(&body.stack().expect("stack"));
    assert!(taken, "truck finds the solid closed");
    // truck's chords are one-sided: up to four thirds of 0.01 over the smallest radius that matters, 17 mm.
    assert!(off.abs() < 8e-4, "truck's volume is off by {off:.1e}");
}

#[test]
fn simple_stacks_agree_with_truck() {
    let mut refused = 0;
    let mut tried = 0;
    for seed in 0..20u32 {
        let pick = |salt: u32| f64::from((seed * 7919 + salt * 104_729) % 1000) / 1000.0;
        let outer = 20.0 + 20.0 * pick(1);
        let mut body = Body::new();
        body.add("flange", [0.0, 4.0], Region::disc(Point::ORIGIN, outer));
        body.add("hub", [4.0, 9.0 + 5.0 * pick(2)], Region::disc(Point::ORIGIN, outer * 0.6));
        body.cut("bore", [0.0, 20.0], Region::disc(Point::ORIGIN, outer * 0.3));
        let holes = 3 + seed % 4;
        for k in 0..holes {
            let angle = 2.0 * PI * f64::from(k) / f64::from(holes) + pick(3);
            let hole = |radius: f64| Region::disc(Point::polar(outer * 0.8, angle), radius);
            body.cut("hole", [0.0, 4.0], hole(1.6));
            body.cut_taper("countersink", [2.0, 4.0], hole(1.6), hole(outer * 0.09));
        }
        let (taken, off) = crossed(&body.stack().expect("stack"));
        tried += 1;
        refused += u32::from(!taken);
        assert!(off.abs() < 2.5e-3, "seed {seed}: truck's volume is off by {off:.1e}");
    }
    println!("truck refused {refused} of {tried}");
    assert!(refused * 4 <= tried, "truck refused {refused} of {tried}");
}
