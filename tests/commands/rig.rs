//! The bench rig: closed bodies of the right volume, a lever that bends as the handbook says, limits that are the predictions.

use std::f64::consts::PI;

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::checks::Verdict;
use hubwright::geometry::{Point, Region};
use hubwright::layout::LINK;
use hubwright::pipeline::{Made, make};
use hubwright::rig::clash::clashes;
use hubwright::rig::{self, Sizes};
use hubwright::trial::Bench;
use hubwright::trial::columns::TestKind;

fn made(name: &str) -> Made {
    make(&demo(name)).expect("the demo makes")
}

#[test]
fn parts_are_closed_and_checks_hold() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let actuator = &made.product.actuator;
        let sizes = Sizes::of(actuator).expect("sizes");
        let parts = rig::parts(actuator, &sizes).expect("parts");
        assert_eq!(parts.len(), 6);
        for part in &parts {
            let mesh = part.made.mesh().expect("closes");
            assert!(mesh.is_closed(), "{name}: {}", part.name);
        }
        let checks = rig::checks(&made.product, &sizes, &parts).expect("checks");
        let bad: Vec<String> = checks
            .iter()
            .filter(|check| check.outcome.verdict != Verdict::Holds)
            .map(|check| format!("{} {:?}", check.id, check.outcome))
            .collect();
        assert!(bad.is_empty(), "{name}: {bad:#?}");
    }
}

/// Volumes by hand: foot a disc with a hole; stand a disc and a bar about its middle with holes; lock a cup with holes.
#[test]
fn volumes_are_those_of_their_plain_shapes() {
    let disc = |diameter: f64| PI / 4.0 * diameter * diameter;
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let actuator = &made.product.actuator;
        let sizes = Sizes::of(actuator).expect("sizes");
        let parts = rig::parts(actuator, &sizes).expect("parts");
        let material = &actuator.design.settings(hubwright::design::PartName::VentedBase).material;
        let scale = actuator.design.printer.scale(&material.name).powi(3);
        let volume =
            |wanted: &str| parts.iter().find(|part| part.name == wanted).expect("there").made.volume / scale;
        let alike = |found: f64, wanted: f64, what: &str| {
            assert!((found / wanted - 1.0).abs() < 1e-9, "{name} {what}: {found}, by hand {wanted}");
        };
        let foot = &sizes.foot;
        alike(volume("scale-foot"), (disc(foot.diameter) - disc(foot.hole)) * foot.thickness, "foot");
        let (stand, joints) = (&sizes.stand, &actuator.joints);
        let plate = disc(2.0 * stand.above) / 2.0 + stand.width * stand.below;
        let holes = f64::from(joints.machine.count) * disc(stand.hole)
            + stand.bench_holes.len() as f64 * disc(stand.bench_hole)
            + disc(stand.bore);
        alike(volume("stand"), (plate - holes) * stand.thickness, "stand");
        let lock = sizes.lock.as_ref().expect("lock");
        let inside = disc(lock.inner) * (lock.depth - lock.mouth_depth) + disc(lock.mouth) * lock.mouth_depth;
        let insert = |count: u32, diameter: f64, depth: f64| f64::from(count) * disc(diameter) * depth;
        let hole = |joint| actuator.insert_hole(joint);
        let printer = &actuator.design.printer;
        let cup = disc(lock.outer) * lock.height()
            - inside
            - insert(
                joints.adapter_to_rotor.count,
                printer.hole(lock.adapter_insert.hole),
                lock.adapter_depth,
            )
            - insert(joints.service.count, hole(&joints.service), joints.service.hole_depth())
            - insert(joints.machine.count, hole(&joints.machine), joints.machine.hole_depth());
        alike(volume("input-lock"), cup, "lock");
    }
}

/// The lever's section between its pockets and marks, counted square by square from the sizes alone: hub, arm, end, tail, holes.
#[test]
fn the_lever_has_the_area_of_its_plain_shapes() {
    const SQUARE: f64 = 0.1;
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let sizes = Sizes::of(&made.product.actuator).expect("sizes");
        let (lever, output) = (&sizes.lever, &made.product.actuator.joints.output);
        let within = |x: f64, y: f64, cx: f64, cy: f64, diameter: f64| {
            (x - cx).powi(2) + (y - cy).powi(2) < diameter * diameter / 4.0
        };
        let end = lever.length - lever.width / 2.0;
        let holes: Vec<[f64; 3]> = output
            .angles()
            .map(|angle| [output.radius() * angle.cos(), output.radius() * angle.sin(), lever.clearance])
            .chain(lever.marks.iter().map(|mark| [*mark, 0.0, lever.mark_hole]))
            .chain([[0.0, 0.0, lever.bore]])
            .collect();
        // Along the tail from 6 mm at the axis to 4 mm ten before the dial, then straight for fifteen.
        let tail_half = |y: f64| {
            let straight = lever.tail - 10.0;
            if y < straight { 6.0 - 2.0 * y / straight } else { 4.0 }
        };
        // Squares askew to all edges, so that none is counted wrong along its whole length.
        let (sine, cosine) = 0.37_f64.sin_cos();
        let side = (2.0 * (lever.length + lever.hub_diameter) / SQUARE) as i64;
        let mut count = 0_u64;
        for column in 0..side {
            let u = (column as f64 + 0.5 - side as f64 / 2.0) * SQUARE;
            for line in 0..side {
                let v = (line as f64 + 0.5 - side as f64 / 2.0) * SQUARE;
                let (x, y) = (u * cosine - v * sine, u * sine + v * cosine);
                let arm = (0.0..end).contains(&x) && y.abs() < lever.width / 2.0;
                let tail = (0.0..lever.tail + 5.0).contains(&y) && x.abs() < tail_half(y);
                let solid = arm
                    || tail
                    || within(x, y, 0.0, 0.0, lever.hub_diameter)
                    || within(x, y, end, 0.0, lever.width);
                let hole = holes.iter().any(|[cx, cy, diameter]| within(x, y, *cx, *cy, *diameter));
                count += u64::from(solid && !hole);
            }
        }
        let counted = count as f64 * SQUARE * SQUARE;
        let parts = rig::parts(&made.product.actuator, &sizes).expect("parts");
        let stack = &parts.iter().find(|part| part.name == "lever").expect("there").made.part.stack;
        let area = stack.region_at(1.0).expect("section").area();
        // Some 600 mm of outline cut 8000 squares, each half wrong either way: 0.5 mm2 by chance, of 3000 and more.
        assert!((counted / area - 1.0).abs() < 2e-4, "{name}: {counted} counted, {area}");
    }
}

/// Rig and actuator fit: holes where the actuator's are, bodies that keep out of each other, and a lock that fails to when it is moved.
#[test]
fn the_rig_fits_the_actuator() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let actuator = &made.product.actuator;
        let sizes = Sizes::of(actuator).expect("sizes");
        let mut parts = rig::parts(actuator, &sizes).expect("parts");
        let bodies = &made.product.fit.as_ref().expect("bodies").bodies;
        assert_eq!(clashes(actuator, bodies, &parts).expect("sections"), [], "{name}");
        // A pin through each hole of the actuator's pattern leaves the part's sections free; beside it there is plastic.
        let joints = &actuator.joints;
        for (wanted, joint, z) in [
            ("lever", &joints.output, 0.5),
            ("pointer", &joints.output, 0.5),
            ("stand", &joints.machine, 0.5),
            ("input-lock", &joints.machine, 0.5),
        ] {
            let part = parts.iter().find(|part| part.name == wanted).expect("there");
            let section = part.made.part.stack.region_at(z).expect("section");
            for angle in joint.angles() {
                let at = Point::polar(joint.radius(), angle);
                assert!(!section.contains(at), "{name}: {wanted} has no hole at {at:?}");
                let pin = Region::disc(at, joint.thread.nominal() / 2.0);
                assert!(section.intersection(&pin).expect("regions").is_empty(), "{name}: {wanted}");
                let around = Region::annulus(at, joint.head_diameter / 2.0, joint.head_diameter / 2.0 + 1.0);
                let plastic = section.intersection(&around).expect("regions").area() / around.area();
                assert!(plastic > 0.95, "{name}: {wanted} has {plastic} of a wall at {at:?}");
            }
        }
        // The lever's screws reach as deep as the design's with its link.
        assert!((sizes.lever.screw_length - sizes.lever.seat - (joints.output.length - LINK)).abs() < 1e-9);
        // The stand's reach into the inserts and not to the bottom of their holes.
        let reach = sizes.stand.screw_length - sizes.stand.thickness;
        assert!(reach > 0.6 * joints.machine.engagement_wanted() && reach <= joints.machine.hole_depth());
        // The axis stands over the bench, and a scale fits under the foot.
        assert!(sizes.stand.axis_height > actuator.outer_diameter() / 2.0);
        // A lock a millimetre too high runs into the housing.
        let lock = parts.iter_mut().find(|part| part.name == "input-lock").expect("there");
        lock.lift = lock.lift.map(|lift| lift + 1.0);
        let found = clashes(actuator, bodies, &parts).expect("sections");
        assert!(found.iter().any(|clash| clash.body == "ring-housing"), "{name}: {found:?}");
    }
}

/// Cantilever with an end load (any handbook): 100 N at 200 mm on a section 10 mm thick and 30 mm high, foot at 20 mm:
/// M = 100 (200 - 20) = 18,000 N mm; W = 10 30^2 / 6 = 1500 mm3; 12 MPa. With a hole of 6 mm at 100 mm: M = 10,000 N mm,
/// W = 10 (30^3 - 6^3) / (6 30) = 1488 mm3; 6.72 MPa, less.
#[test]
fn the_lever_bends_as_the_handbook_says() {
    // The scale at 200 mm alone: a nearer one pushes harder and bends less at the hub.
    let worst = rig_stress(&[200.0], 0.0);
    assert!((worst.equivalent - 12.0).abs() < 1e-9 && worst.shear == 0.0, "{worst:?}");
    // 100 N beside the lever by 10 mm: 1000 N mm on 30 x 10, three to one; tau = 1000 / (0.267 30 10^2) = 1.248 MPa (exact factor to
    // three digits: Timoshenko and Goodier, Theory of Elasticity, from memory).
    let twisted = rig_stress(&[200.0], 10.0);
    assert!((twisted.shear / 1.248 - 1.0).abs() < 0.005, "{twisted:?}");
    assert!((twisted.equivalent - (144.0 + 3.0 * twisted.shear.powi(2)).sqrt()).abs() < 1e-9);
    // With a second hole the nearer mark doubles the torsion.
    let both = rig_stress(&[100.0, 200.0], 10.0);
    assert_eq!(both.mark, 200.0);
}

fn rig_stress(marks: &[f64], offset: f64) -> hubwright::rig::sizes::lever::LeverStress {
    hubwright::rig::lever_stress(20.0, [30.0, 10.0], [40.0, 6.0], offset, marks)
}

#[test]
fn limits_of_the_plan_are_the_predictions() {
    let made = made(SHOULDER);
    let sizes = Sizes::of(&made.product.actuator).expect("sizes");
    let plan = rig::plan(&made.product, &sizes);
    let value = |test: TestKind| plan.iter().find(|step| step.test == test).expect("step").expected[0].value;
    let bench = Bench::of(&made.product);
    assert_eq!(value(TestKind::Resistance), made.product.actuator.design.motor.phase_resistance);
    assert_eq!(value(TestKind::Spin), 90.0); // the file's Kv, line peak
    assert_eq!(value(TestKind::Stiffness), made.product.feel.stiffness.as_ref().expect("rated").output());
    // The last step makes the peak torque, which the rig is rated for, and no more.
    let torque = &plan.iter().find(|step| step.test == TestKind::Torque).expect("step").expected;
    let last = torque.last().expect("steps").value;
    assert!((last / made.product.actuator.torques.output - 1.0).abs() < 1e-9, "{last}");
    assert!(
        (value(TestKind::FreeRun) - bench.circuit.current(bench.friction()).expect("turns")).abs() < 1e-12
    );
    let heat = made.product.heat.as_ref().expect("heat");
    assert_eq!(value(TestKind::Heat), heat.continuous.expect("held").temperatures[0]);
    let speed = heat.circuit.no_load_speed(&heat.supply, heat.network.ambient()).expect("turns")
        / heat.reduction.ratio;
    assert!((value(TestKind::TopSpeed) - speed * 30.0 / std::f64::consts::PI).abs() < 1e-9);
    // Each step that moves or heats has its caution.
    assert!(plan.iter().all(|step| !step.cautions.is_empty()));
}
