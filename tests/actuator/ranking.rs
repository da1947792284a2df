//! What gives way first: the torque said is the torque at which the check turns.

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::checks::{Checked, Ranking, Verdict};
use hubwright::design::Design;
use hubwright::pipeline::{Made, make};

fn made(design: &Design) -> Made {
    make(design).unwrap_or_else(|error| panic!("{error:?}"))
}

fn check<'a>(made: &'a Made, id: &str) -> &'a Checked {
    made.checks.iter().find(|checked| checked.check.id == id).expect("the check")
}

/// The design made again at the torque said, a thousandth under and over it. Only checks of parts that the layout doesn't size
/// by the torque: their value then goes by the law alone.
#[test]
fn a_check_turns_at_the_torque_said() {
    for (name, id) in [
        (SHOULDER, "planet-root"),
        (SHOULDER, "planet-bearing"),
        (MAST, "planet-bearing"),
        (WRIST, "planet-root"),
    ] {
        let design = demo(name);
        let first = made(&design);
        let ranking = Ranking::of(&first.product, &first.checks);
        let place = ranking.peak.iter().find(|place| place.checked.check.id == id).expect("ranked");
        let torque = place.torque.expect("a law");
        for (share, verdict) in [(0.999, Verdict::Holds), (1.001, Verdict::Fails)] {
            let mut turned = design.clone();
            turned.requirement.peak_torque = share * torque;
            let again = made(&turned);
            assert_eq!(check(&again, id).outcome.verdict, verdict, "{name}: {id} at {share} of {torque} N m");
        }
    }
}

/// What heat lets the motor hold doesn't depend on what is asked: ranked, it is that torque itself.
#[test]
fn the_continuous_torque_is_its_own_limit() {
    let made = made(&demo(SHOULDER));
    let ranking = Ranking::of(&made.product, &made.checks);
    let place = ranking
        .continuous
        .iter()
        .find(|place| place.checked.check.id == "continuous-torque")
        .expect("ranked");
    let held = made.product.heat.as_ref().expect("heat").continuous.as_ref().expect("held").torque;
    assert!((place.torque.expect("a law") - held).abs() < 1e-9 * held);
}

#[test]
fn lists_are_in_order_and_leave_out_what_does_not_apply() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = made(&demo(name));
        let ranking = Ranking::of(&made.product, &made.checks);
        for places in [&ranking.peak, &ranking.continuous] {
            assert!(places.len() > 3, "{name}");
            let times: Vec<f64> = places.iter().filter_map(|place| place.times).collect();
            assert!(times.is_sorted(), "{name}: {times:?}");
            for place in places {
                assert_ne!(place.checked.outcome.verdict, Verdict::NotApplicable);
                // Holding means more than the load, failing less.
                if let Some(times) = place.times {
                    let holds = place.checked.outcome.verdict == Verdict::Holds;
                    assert_eq!(times >= 1.0, holds, "{name}: {} at {times}", place.checked.check.id);
                }
            }
        }
    }
}
