//! Mesh losses and stage efficiency: one loop over `published/losses.toml`, and the mean against a walk along the path.

use std::f64::consts::PI;

use crate::support::published::{number, numbers, values};
use hubwright::design::{Shift, ShiftRule, Spacing, ToothForm};
use hubwright::gears::{
    Gear, GearKind, GearSpec, Mesh, MeshKind, Pair, Rack, Stage, StageInput, ToothSystem,
    contact_ratio_of_tips,
};
use hubwright::ratings::mesh_loss::{loss_factor, mesh_loss_factor, path_parts};
use hubwright::ratings::planetary_efficiency::{BackDriving, Drag, NoEfficiency, StageEfficiency};
use proptest::prelude::*;
use toml::Table;

/// Half a unit of the sixth and of the fifth decimal, and the last bit.
const SIX_DECIMALS: f64 = 0.500_1e-6;
const FIVE_DECIMALS: f64 = 0.500_1e-5;

fn rows(case: &Table) -> Vec<Vec<f64>> {
    case["rows"].as_array().expect("rows").iter().map(numbers).collect()
}

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found} against {expected}");
}

/// A pair of straight gears of module 1 without play.
struct SpurPair {
    mesh: Mesh,
    gears: [Gear; 2],
}

impl SpurPair {
    fn new(kind: MeshKind, teeth: [u32; 2], shifts: [f64; 2]) -> SpurPair {
        let system = ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0);
        let pair = Pair { system: &system, kind, teeth };
        let (second_kind, shift) = match kind {
            MeshKind::External => (GearKind::External, shifts[1] + shifts[0]),
            MeshKind::Internal => (GearKind::Internal, shifts[1] - shifts[0]),
        };
        let centre_distance = pair.centre_distance(shift).expect("a mesh");
        let angle = pair.working_pressure_angle_for_shift(shift).expect("a mesh");
        let pitch_diameters = pair.pitch_diameters(centre_distance);
        let tip_alteration = match kind {
            MeshKind::External => centre_distance - pair.reference_centre_distance() - shift,
            MeshKind::Internal => 0.0,
        };
        let gear = |index: usize, kind| {
            let spec = GearSpec {
                kind,
                teeth: teeth[index],
                shift: shifts[index],
                tip_alteration,
                thickness_allowance: 0.0,
                left_hand: false,
                working_pitch_diameter: pitch_diameters[index],
                ring_fillet_radius: 0.0,
            };
            Gear::new(&system, spec)
        };
        let gears = [gear(0, GearKind::External), gear(1, second_kind)];
        let both = [&gears[0], &gears[1]];
        let mut mesh = Mesh::of(kind, both, centre_distance, angle, pitch_diameters);
        // The values are of the path between the tip circles; a full ring's tip reaches past the planet's involute, where
        // the mesh itself rightly ends.
        mesh.contact_ratio = contact_ratio_of_tips(kind, both, centre_distance, angle);
        mesh.path_start = mesh.path_end - mesh.contact_ratio * gears[0].base_pitch();
        SpurPair { mesh, gears }
    }

    fn loss_factor(&self) -> f64 {
        mesh_loss_factor(&self.mesh, [&self.gears[0], &self.gears[1]]).expect("in range")
    }
}

#[test]
fn published_losses_and_efficiencies() {
    let values = values("losses");
    let mut seen = 0;
    for (kind, cases) in &values {
        for case in cases.as_array().expect("a list of cases") {
            let case = case.as_table().expect("a case");
            assert!(case.contains_key("source") && case.contains_key("mark"), "{case:?}");
            match kind.as_str() {
                "mesh" => published_mesh(case),
                "stage" => published_stage(case),
                "planetary" => published_planetary(case),
                "ring_driven" => published_ring_driven(case),
                other => panic!("no such kind: {other}"),
            }
            seen += 1;
        }
    }
    assert_eq!(seen, 6);
}

fn published_mesh(case: &Table) {
    let kind = match case["kind"].as_str() {
        Some("external") => MeshKind::External,
        Some("internal") => MeshKind::Internal,
        other => panic!("no such kind: {other:?}"),
    };
    let teeth = numbers(&case["teeth"]);
    let shifts = numbers(&case["shifts"]);
    let pair = SpurPair::new(kind, [teeth[0] as u32, teeth[1] as u32], [shifts[0], shifts[1]]);
    let parts = numbers(&case["parts"]);
    let [e1, e2] = path_parts(&pair.mesh, &pair.gears[0]);
    near(e1, parts[0], SIX_DECIMALS, "e1");
    near(e2, parts[1], SIX_DECIMALS, "e2");
    near(pair.mesh.contact_ratio, number(&case["contact_ratio"]), SIX_DECIMALS, "contact ratio");
    near(pair.loss_factor(), number(&case["loss_factor"]), SIX_DECIMALS, "HV");
}

fn published_stage(case: &Table) {
    let at_sun = SpurPair::new(MeshKind::External, [20, 40], [0.0; 2]).loss_factor();
    let at_ring = SpurPair::new(MeshKind::Internal, [40, 100], [0.0; 2]).loss_factor();
    for row in rows(case) {
        let [friction, sun, ring, basic, forward, back] = row[..] else { panic!("six columns: {row:?}") };
        near(1.0 - friction * at_sun, sun, SIX_DECIMALS, "sun mesh");
        near(friction * at_ring / (1.0 - ring), 1.0, 0.01, "loss of the ring mesh");
        near(sun * ring, basic, 2.0 * SIX_DECIMALS, "eta0 of its two printed factors");
        let found = StageEfficiency::from_basic(basic, number(&case["ring_over_sun"])).expect("a stage");
        near(found.forward, forward, SIX_DECIMALS, "forward");
        near(found.back, back, SIX_DECIMALS, "back");
    }
}

fn published_planetary(case: &Table) {
    for row in rows(case) {
        let [teeth_ratio, basic, forward, back] = row[..] else { panic!("four columns: {row:?}") };
        let found = StageEfficiency::from_basic(basic, teeth_ratio).expect("a stage");
        near(found.forward, forward, FIVE_DECIMALS, "forward");
        near(found.back, back, FIVE_DECIMALS, "back");
    }
}

fn published_ring_driven(case: &Table) {
    for row in rows(case) {
        let [teeth_ratio, basic, forward] = row[..] else { panic!("three columns: {row:?}") };
        let found = StageEfficiency::from_basic(basic, 1.0 / teeth_ratio).expect("a stage");
        near(found.forward, forward, FIVE_DECIMALS, "ring driven");
    }
}

/// Friction power over the power through the mesh, per unit of friction coefficient, by walking the gears through a base
/// pitch: sliding speed from the two radii of curvature, equal forces on all pairs between the ends of the path.
fn walked_loss_factor(mesh: &Mesh, [first, second]: [&Gear; 2], centre_distance: f64) -> f64 {
    const STEPS: u32 = 20_000;
    let line = centre_distance * libm::sin(mesh.working_pressure_angle);
    let second_speed = f64::from(first.teeth) / f64::from(second.teeth);
    let sliding = |place: f64| match mesh.kind {
        MeshKind::External => (place - (line - place) * second_speed).abs(),
        MeshKind::Internal => (place - (line + place) * second_speed).abs(),
    };
    let pitch = PI * first.base_diameter / f64::from(first.teeth);
    let mean_sliding = |phase: f64| {
        let places: Vec<f64> = (0..10)
            .map(|pair| mesh.path_start + (phase + f64::from(pair)) * pitch)
            .filter(|&place| place <= mesh.path_end)
            .collect();
        places.iter().map(|&place| sliding(place)).sum::<f64>() / places.len() as f64
    };
    let walked: f64 = (0..STEPS).map(|step| mean_sliding((f64::from(step) + 0.5) / f64::from(STEPS))).sum();
    // The tangential force at the base circle is the normal force times cos bb.
    walked / f64::from(STEPS) / (0.5 * first.base_diameter * libm::cos(first.base_helix_angle))
}

fn joint(teeth: [u32; 3], planets: u32, helix_deg: f64) -> Stage {
    let input = StageInput {
        sun_teeth: teeth[0],
        planet_teeth: teeth[1],
        ring_teeth: teeth[2],
        planets,
        rack: Rack::ISO_53_A,
        normal_module: 0.8,
        helix_angle: helix_deg.to_radians(),
        face_width: 14.0,
        backlash: 0.136,
        sun_shift: Shift::Auto,
        planet_shift: Shift::Auto,
        ring_shift: Shift::Auto,
        shift_rule: ShiftRule::UndercutFree,
        spacing: Spacing::Equal,
        tooth_form: ToothForm::Helical,
    };
    Stage::solve(&input).expect("a stage")
}

/// The rover's joints and a spur stage, shifts and cut-back ring tips and all.
#[test]
fn whole_stages_lose_what_a_walk_along_the_path_finds() {
    for (teeth, planets, helix) in
        [([12, 42, 96], 3, 20.0), ([15, 24, 63], 3, -20.0), ([16, 28, 72], 4, 20.0), ([20, 40, 100], 3, 0.0)]
    {
        let stage = joint(teeth, planets, helix);
        let (sun, planet, ring) = (&stage.sun, &stage.planet, &stage.ring);
        let at_sun = walked_loss_factor(&stage.sun_mesh, [sun, planet], stage.centre_distance);
        let at_ring = walked_loss_factor(&stage.ring_mesh, [planet, ring], stage.centre_distance);
        let basic = (1.0 - 0.2 * at_sun) * (1.0 - 0.2 * at_ring);
        let found = StageEfficiency::of(&stage, 0.2).expect("in range");
        // The walk errs by a step where pairs enter and leave: 1 / 20 000 of losses under 0.1.
        near(found.basic, basic, 1e-5, "eta0");
        let ring_over_sun = f64::from(teeth[2]) / f64::from(teeth[0]);
        near(found.forward, (1.0 + basic * ring_over_sun) / (1.0 + ring_over_sun), 1e-5, "forward");
        near(found.back, (1.0 + ring_over_sun) / (1.0 + ring_over_sun / basic), 1e-5, "back");
    }
}

proptest! {
    #[test]
    fn mean_is_the_closed_form_up_to_two_pairs(
        e1 in 0.01f64..1.0, e2 in 0.01f64..1.0, teeth in 5u32..100, ratio in 1.01f64..10.0, internal: bool,
    ) {
        prop_assume!(e1 + e2 >= 1.0);
        let (kind, sum) = if internal { (MeshKind::Internal, ratio - 1.0) } else { (MeshKind::External, ratio + 1.0) };
        let closed = PI * sum / (f64::from(teeth) * ratio) * (1.0 - (e1 + e2) + e1 * e1 + e2 * e2);
        let found = loss_factor(kind, teeth, ratio, 0.0, [e1, e2]).expect("in range");
        prop_assert!((found - closed).abs() <= 1e-12, "{} against {}", found, closed);
    }

    /// Friction takes its part both ways, and more of it back than forward; drag only adds.
    #[test]
    fn back_driving_is_the_worse_way(basic in 0.01f64..0.999, teeth_ratio in 0.1f64..20.0, drag in 0.01f64..1.0) {
        let stage = StageEfficiency::from_basic(basic, teeth_ratio).expect("a stage");
        prop_assert!(0.0 < stage.back && stage.back < stage.forward && stage.forward < 1.0);
        let drag = Drag { sun: drag, output: drag };
        prop_assert!(stage.forward_with(10.0, drag) < stage.forward);
        let holds = stage.backdrive_torque(drag);
        prop_assert_eq!(stage.back_with(0.999 * holds, drag), BackDriving::Locks);
        let BackDriving::Turns { efficiency } = stage.back_with(1.001 * holds, drag) else {
            return Err(TestCaseError::fail("locks above its back-drive torque"));
        };
        prop_assert!(0.0 < efficiency && efficiency < stage.back);
    }
}

/// Without tooth friction, ratio 4, by hand: 10 N m less 2 leaves 2 at the sun, less 1 arrives: 1 x 4 of 10. Forward
/// 10 + 2 wants 3 at the sun, and 1 more: 10 of 16.
#[test]
fn drag_by_hand() {
    let stage = StageEfficiency::from_basic(1.0, 3.0).expect("a stage");
    let drag = Drag { sun: 1.0, output: 2.0 };
    assert_eq!(stage.back_with(10.0, drag), BackDriving::Turns { efficiency: 0.4 });
    assert_eq!(stage.forward_with(10.0, drag), 0.625);
    assert_eq!(stage.backdrive_torque(drag), 6.0);
    assert_eq!(stage.back_with(6.0, drag), BackDriving::Locks);
    assert_eq!(stage.backdrive_torque(Drag::default()), 0.0);
    assert_eq!(stage.back_with(10.0, Drag::default()), BackDriving::Turns { efficiency: 1.0 });
}

/// Locking and nonsense are named, never a number.
#[test]
fn efficiencies_end_at_their_range() {
    for basic in [0.0, -0.2] {
        assert_eq!(StageEfficiency::from_basic(basic, 5.0), Err(NoEfficiency::SelfLocking));
    }
    for (basic, teeth_ratio) in [(1.1, 5.0), (0.9, 0.0), (0.9, -3.0), (f64::NAN, 5.0), (0.9, f64::INFINITY)] {
        let refused = StageEfficiency::from_basic(basic, teeth_ratio);
        assert!(matches!(refused, Err(NoEfficiency::OutOfRange { .. })), "{refused:?}");
    }
    let stage = joint([12, 42, 96], 3, 20.0);
    // Takes more than all at both meshes: two negative factors must not make a good stage.
    assert_eq!(StageEfficiency::of(&stage, 1000.0), Err(NoEfficiency::SelfLocking));
    let mut broken = stage;
    broken.sun_mesh.path_end = broken.sun_mesh.path_start;
    assert_eq!(StageEfficiency::of(&broken, 0.2), Err(NoEfficiency::ContactBroken));
    for parts in [[0.4, 0.5], [f64::NAN, 1.0], [f64::INFINITY, 1.0], [1e9, 1e9]] {
        assert_eq!(loss_factor(MeshKind::External, 20, 2.0, 0.0, parts), None, "{parts:?}");
    }
    assert_eq!(loss_factor(MeshKind::Internal, 20, 0.5, 0.0, [0.8, 0.8]), None, "a ring inside its planet");
    assert_eq!(loss_factor(MeshKind::External, 0, 2.0, 0.0, [0.8, 0.8]), None, "no teeth");
}
