//! The gears' outlines turned in mesh: gaps and overlaps of the very shapes that are printed.

use std::f64::consts::PI;

use hubwright::gears::{Gear, GearKind, Stage};
use hubwright::geometry::{Loop, Point, Segment};
use proptest::prelude::*;

use crate::stages::{any_stage, reference_inputs, solved};

/// Half a micrometre an arc, so two outlines together may be a micrometre out.
const TOLERANCE: f64 = 5e-4;

/// A gear somewhere in the plane: its outline, axis and turn.
struct Placed<'a> {
    gear: &'a Gear,
    outline: &'a Loop,
    axis: Point,
    turn: f64,
}

impl Placed<'_> {
    /// A point of the plane in the outline's frame, moved by whole pitches to its first tooth or space.
    fn to_first_body(&self, point: Point) -> Point {
        let local = (point - self.axis).rotated(-self.turn);
        let pitch = 2.0 * PI / f64::from(self.gear.teeth);
        local.rotated(-(local.angle() / pitch).round() * pitch)
    }

    /// The outline's segments of the first body and its neighbours.
    fn neighbourhood(&self) -> Vec<Segment> {
        let each = self.outline.0.len() / self.gear.teeth as usize;
        let all = self.outline.0.len();
        let last = self.outline.0.iter().skip(all - each);
        last.chain(self.outline.0.iter().take(2 * each)).copied().collect()
    }

    /// Points of the outline no farther than `reach` from `centre`.
    fn points_near(&self, centre: Point, reach: f64) -> Vec<Point> {
        const EACH: u32 = 12;
        let local = (centre - self.axis).rotated(-self.turn);
        self.outline
            .0
            .iter()
            .filter(|segment| segment.from.distance(local) < reach)
            .flat_map(|segment| (0..EACH).map(|part| segment.at(f64::from(part) / f64::from(EACH))))
            .map(|point| point.rotated(self.turn) + self.axis)
            .collect()
    }

    /// Distance of a point from the material, negative inside it.
    fn clearance(&self, near: &[Segment], point: Point) -> f64 {
        let local = self.to_first_body(point);
        let distance =
            near.iter().map(|segment| segment.nearest(local).distance(local)).fold(f64::INFINITY, f64::min);
        // Nothing of the other gear is deep inside: only near the surface does the side matter, and there the
        // winding number of the whole outline tells it.
        let in_loop = self.outline.winding(local) != 0;
        let in_material = in_loop == (self.gear.kind == GearKind::External);
        if in_material { -distance } else { distance }
    }
}

/// Least clearance between the two gears near `centre`, each one's points against the other's outline.
fn least_gap(first: &Placed, second: &Placed, centre: Point, reach: f64) -> f64 {
    [(first, second), (second, first)]
        .into_iter()
        .map(|(one, other)| {
            let near = other.neighbourhood();
            let in_reach = |point: &Point| {
                let radius = point.distance(other.axis);
                match other.gear.kind {
                    GearKind::External => radius < 0.5 * other.gear.tip_diameter + 0.1,
                    GearKind::Internal => radius > 0.5 * other.gear.tip_diameter - 0.1,
                }
            };
            let points = one.points_near(centre, reach).into_iter().filter(in_reach);
            points.map(|point| other.clearance(&near, point)).fold(f64::INFINITY, f64::min)
        })
        .fold(f64::INFINITY, f64::min)
}

struct Outlines {
    sun: Loop,
    planet: Loop,
    ring: Loop,
}

impl Outlines {
    fn of(stage: &Stage) -> Outlines {
        let outline = |gear: &Gear| gear.profile(TOLERANCE).expect("an outline");
        Outlines { sun: outline(&stage.sun), planet: outline(&stage.planet), ring: outline(&stage.ring) }
    }
}

/// What the gaps over two pitches of the sun come to.
#[derive(Debug)]
struct Gaps {
    least: f64,
    most: f64,
}

#[derive(Clone, Copy)]
enum With {
    Sun,
    Ring,
}

/// Gaps of planet `index` over `steps` turns through two sun pitches; the planet is turned by `play` (arc at the pitch
/// circle of that mesh) from the middle.
fn gaps(stage: &Stage, outlines: &Outlines, with: With, index: u32, play: f64, steps: u32) -> Gaps {
    let phase = stage.planet_phase(index);
    let planet_axis = Point::polar(stage.centre_distance, phase.position);
    let mesh = match with {
        With::Sun => stage.sun_mesh,
        With::Ring => stage.ring_mesh,
    };
    let planet_pitch_radius = match with {
        With::Sun => 0.5 * mesh.pitch_diameters[1],
        With::Ring => 0.5 * mesh.pitch_diameters[0],
    };
    let pitch_point = match with {
        With::Sun => planet_axis - Point::polar(planet_pitch_radius, phase.position),
        With::Ring => planet_axis + Point::polar(planet_pitch_radius, phase.position),
    };
    let [sun, planet, ring] = [stage.sun.teeth, stage.planet.teeth, stage.ring.teeth].map(f64::from);
    let mut gaps = Gaps { least: f64::INFINITY, most: f64::NEG_INFINITY };
    for step in 0..steps {
        // Two pitches of the sun; the carrier stands still, so the ring turns as well.
        let sun_turn = 2.0 * 2.0 * PI / sun * f64::from(step) / f64::from(steps);
        let planet_turn = phase.turn - sun_turn * sun / planet;
        let ring_turn = stage.ring_turn() - sun_turn * sun / ring;
        let planet_placed = Placed {
            gear: &stage.planet,
            outline: &outlines.planet,
            axis: planet_axis,
            turn: planet_turn + play / planet_pitch_radius,
        };
        let other = match with {
            With::Sun => {
                Placed { gear: &stage.sun, outline: &outlines.sun, axis: Point::ORIGIN, turn: sun_turn }
            }
            With::Ring => {
                Placed { gear: &stage.ring, outline: &outlines.ring, axis: Point::ORIGIN, turn: ring_turn }
            }
        };
        let reach = 2.0 * PI * stage.transverse_module;
        let gap = least_gap(&planet_placed, &other, pitch_point, reach);
        gaps.least = gaps.least.min(gap);
        gaps.most = gaps.most.max(gap);
    }
    gaps
}

/// The asked play, taken along the line of action, is left between the flanks: half on each side when centred, and
/// the flanks touch without overlap when the planet is turned to one side.
fn check_meshes(stage: &Stage, steps: u32) {
    let outlines = Outlines::of(stage);
    let meshes = [
        (With::Sun, stage.working_pressure_angle_sun, stage.contact_ratio_sun),
        (With::Ring, stage.working_pressure_angle_ring, stage.contact_ratio_ring),
    ];
    for (with, angle, contact_ratio) in meshes {
        for index in 0..stage.planets {
            let steps = if index == 0 { steps } else { 3 };
            let centred = gaps(stage, &outlines, with, index, 0.0, steps);
            let half = 0.5 * stage.backlash * angle.cos();
            assert!(centred.least > half - 2e-3, "{centred:?} {half} {stage:?}");
            // With a transverse contact ratio above 1 some flanks always face each other on the line of action.
            if contact_ratio > 1.05 {
                assert!(centred.most < half + 2e-3, "{centred:?} {half} {stage:?}");
            }
            for side in [0.5, -0.5] {
                let touching = gaps(stage, &outlines, with, index, side * stage.backlash, steps.min(15));
                assert!(touching.least > -2e-3, "{touching:?} {stage:?}");
                if contact_ratio > 1.05 {
                    assert!(touching.most < 2e-3, "{touching:?} {stage:?}");
                }
            }
        }
    }
}

#[test]
fn reference_joints_mesh() {
    for input in reference_inputs() {
        check_meshes(&solved(&input), 40);
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 12, max_shrink_iters: 20, ..ProptestConfig::default() })]

    #[test]
    fn any_stage_meshes((_, stage) in any_stage()) {
        check_meshes(&stage, 40);
    }
}
