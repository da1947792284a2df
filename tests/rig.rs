//! The bench rig: closed bodies of the right volume, a lever that bends as the handbook says, limits that are the predictions.

mod support;

use hubwright::checks::Verdict;
use hubwright::pipeline::{Made, make};
use hubwright::rig::{self, Sizes};
use hubwright::trial::Bench;
use hubwright::trial::columns::TestKind;
use support::{MAST, SHOULDER, WRIST, demo};

fn made(name: &str) -> Made {
    make(&demo(name)).expect("the demo makes")
}

#[test]
fn parts_are_closed_and_the_foot_and_lever_have_their_volumes() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(name);
        let actuator = &made.product.actuator;
        let sizes = Sizes::of(actuator).expect("sizes");
        let parts = rig::parts(actuator, &sizes).expect("parts");
        assert_eq!(parts.len(), 6);
        let material = actuator.design.settings(hubwright::design::PartName::VentedBase).material;
        let scale = actuator.design.printer.scale(&material.name).powi(3);
        for part in &parts {
            let mesh = part.mesh().expect("closes");
            assert!(mesh.is_closed(), "{name}: {}", part.name);
        }
        // A disc less its hole.
        let foot = &sizes.foot;
        let disc = std::f64::consts::PI / 4.0 * (foot.diameter.powi(2) - foot.hole.powi(2)) * foot.thickness;
        let volume = |wanted: &str| {
            parts.iter().find(|part| part.name == wanted).expect("there").stack.volume().expect("volume")
        };
        assert!((volume("scale-foot") / (disc * scale) - 1.0).abs() < 1e-9);
        // Two discs and a bar: the lever is that less its holes, which are a small part.
        let whole = hubwright::rig::parts::arm_volume(&sizes.lever) * scale;
        assert!(volume("lever") < whole && volume("lever") > 0.7 * whole, "{} of {whole}", volume("lever"));
        let checks = rig::checks(&made.product, &sizes, &parts).expect("checks");
        let failed: Vec<&str> =
            checks.iter().filter(|c| c.outcome.verdict == Verdict::Fails).map(|c| c.id).collect();
        assert!(failed.is_empty(), "{name}: {failed:?}");
    }
}

/// Cantilever with an end load (any handbook): 100 N at 200 mm on a section 10 mm thick and 30 mm high, foot at 20 mm:
/// M = 100 (200 - 20) = 18,000 N mm; W = 10 30^2 / 6 = 1500 mm3; 12 MPa. With a hole of 6 mm at 100 mm: M = 10,000 N mm,
/// W = 10 (30^3 - 6^3) / (6 30) = 1488 mm3; 6.72 MPa, less.
#[test]
fn the_lever_bends_as_the_handbook_says() {
    let worst = rig_stress(&[100.0, 200.0]);
    assert!((worst - 12.0).abs() < 1e-9, "{worst}");
}

fn rig_stress(marks: &[f64]) -> f64 {
    hubwright::rig::lever_stress(20.0, [30.0, 10.0], 40.0, 6.0, marks).stress
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
    let tenth = 0.1 * bench.circuit.current_limit;
    assert_eq!(value(TestKind::Torque), bench.reduction.output(bench.circuit.torque(tenth)));
    let heat = made.product.heat.as_ref().expect("heat");
    assert_eq!(value(TestKind::Heat), heat.continuous.expect("held").temperatures[0]);
    let speed = heat.circuit.no_load_speed(&heat.supply, heat.network.ambient()).expect("turns")
        / heat.reduction.ratio;
    assert!((value(TestKind::TopSpeed) - speed * 30.0 / std::f64::consts::PI).abs() < 1e-9);
    // Each step that moves or heats has its caution.
    assert!(plan.iter().all(|step| !step.cautions.is_empty()));
}
