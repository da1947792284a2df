//! How the demos go together and come apart, and designs that don't.

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::assembly::{Assembly, Exchange};
use hubwright::design::Joint;
use hubwright::interference;
use hubwright::layout::{Actuator, lay_out};
use hubwright::pipeline::make;

fn assembly(actuator: &Actuator) -> Assembly {
    let bodies = interference::bodies(actuator).expect("bodies");
    Assembly::of(actuator, &bodies).expect("sections")
}

fn exchange<'a>(assembly: &'a Assembly, target: &str) -> &'a Exchange {
    assembly.exchanges.iter().find(|exchange| exchange.target == target).expect("listed")
}

fn joints(exchange: &Exchange) -> Vec<Joint> {
    let mut joints: Vec<Joint> = exchange.joints().map(|(joint, _)| joint).collect();
    joints.sort();
    joints
}

/// Every screw and piece has its step, base and housing first, J2 last: the order of the layout's section on assembly.
#[test]
fn the_demos_go_together() {
    for name in [SHOULDER, WRIST, MAST] {
        let assembly = assembly(&lay_out(&demo(name)).expect("lays out"));
        assert_eq!(assembly.stuck().count(), 0, "{name}: {:?}", assembly.stuck().next());
        let bench = |wanted: &str| assembly.benches.iter().find(|bench| bench.name == wanted).expect("there");
        let actuator = bench("actuator");
        assert_eq!(actuator.first, "vented-base");
        let last: Vec<&str> = actuator.steps.iter().rev().map(|step| step.name.as_str()).take(2).collect();
        assert!(last[0].ends_with("service joint") && last[1] == "housing module", "{name}: {last:?}");
        let module = bench("housing module");
        assert_eq!(module.first, "ring-housing");
        let at = |what: &str| module.steps.iter().position(|step| step.name.contains(what)).expect("a step");
        assert!(at("output bearing") < at("bearing-keeper"), "{name}");
        assert!(at("bearing-keeper") < at("carrier with its pins"), "{name}");
        assert!(at("planets with") < at("carrier-back-plate"), "{name}");
        // Each item is handled once, or lies on a bench first.
        for (index, item) in assembly.items.iter().enumerate() {
            let single = assembly
                .benches
                .iter()
                .flat_map(|bench| &bench.steps)
                .filter(|step| step.items == [index])
                .count();
            let first = assembly.benches.iter().filter(|bench| bench.first == item.name).count();
            assert_eq!(single + first, 1, "{name}: {} has {single} steps", item.name);
        }
    }
}

/// Layout's rule: planets, sun and ring insert after J2 and the back plate; a cut ring takes all of it apart.
#[test]
fn the_demos_keep_the_service_rule() {
    for name in [SHOULDER, WRIST, MAST] {
        let assembly = assembly(&lay_out(&demo(name)).expect("lays out"));
        let planets = exchange(&assembly, "planets");
        assert_eq!(joints(planets), [Joint::Service, Joint::Pillars], "{name}");
        assert_eq!(planets.parts(), 2, "{name}: module and back plate");
        for change in &assembly.exchanges {
            assert!(change.steps.is_some(), "{name}: no way to the {}", change.target);
        }
        let ring = joints(exchange(&assembly, "ring"));
        if name == MAST {
            assert_eq!(ring, [Joint::Service, Joint::RingInsert]);
        } else {
            assert!(ring.contains(&Joint::Keeper) && ring.contains(&Joint::ClampRing), "{name}: {ring:?}");
        }
    }
}

/// Something behind the teeth narrower than they are: planets can't come out to the back, which the rule counts on.
#[test]
fn a_narrow_spigot_breaks_the_rule() {
    let mut actuator = lay_out(&demo(SHOULDER)).expect("lays out");
    actuator.housing.spigot_bore = actuator.stage.ring.tip_diameter - 1.0;
    let assembly = assembly(&actuator);
    let (_, stuck) = assembly.stuck().next().expect("stuck");
    assert!(stuck.unit.contains("planets") && stuck.blockers[1] == "ring-housing", "{stuck:?}");

    let mut made = make(&demo(SHOULDER)).expect("makes");
    made.product.fit.as_mut().expect("fits").assembly = assembly;
    for (id, culprit) in [("service-rule", "planets"), ("assembly-order", "ring-housing")] {
        let check = hubwright::checks::find(id).expect("there is one");
        let outcome = (check.run)(&made.product);
        assert_eq!(outcome.verdict.as_str(), "fails", "{id}");
        assert!(outcome.remark.to_string().contains(culprit), "{id}: {}", outcome.remark);
    }
}

/// A bore between ring and keeper that is narrower than the bearing: it can't get to its seat.
#[test]
fn a_bearing_that_cannot_pass_is_named() {
    let mut actuator = lay_out(&demo(SHOULDER)).expect("lays out");
    actuator.housing.free_bore = actuator.design.bearings.output.outer - 2.0;
    let assembly = assembly(&actuator);
    let (bench, stuck) = assembly.stuck().next().expect("stuck");
    assert_eq!(bench.name, "housing module");
    assert!(stuck.blockers.iter().any(|name| name == "ring-housing"), "{stuck:?}");
}

/// The page numbers its steps through and names key and torque of each screw.
#[test]
fn the_page_reads_like_a_bench() {
    let made = make(&demo(MAST)).expect("makes");
    let page = hubwright::export::assembly_sheet::markdown(&made.product);
    let steps = made
        .product
        .fit
        .as_ref()
        .map_or(0, |fit| fit.assembly.benches.iter().map(|bench| bench.steps.len()).sum::<usize>());
    for number in 1..=steps {
        assert!(page.contains(&format!("\n{number}. ")), "step {number}");
    }
    for line in page.lines().filter(|line| line.contains("Screws, ")) {
        assert!(line.contains(" mm key"), "{line}");
        assert!(line.contains("N m"), "{line}");
    }
}
