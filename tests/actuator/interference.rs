//! Every pair of bodies of the demos, designs broken on purpose, and tolerance chains.

use std::f64::consts::PI;
use std::sync::Arc;

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::assessment::axial::AxialChains;
use hubwright::assessment::fastening::Fastening;
use hubwright::bought::{self, Bought};
use hubwright::design::{PartName, PartSettings};
use hubwright::interference::body::place_all;
use hubwright::interference::{Body, Contact, Interference, Meeting, State};
use hubwright::layout::{Actuator, lay_out};
use hubwright::parts::{self, Part};
use hubwright::pipeline::make;
use hubwright::ratings::axial_chain::{Chain, Link, bearing_width};

struct Broken {
    actuator: Actuator,
    printed: Vec<Part>,
    bought: Vec<Bought>,
}

impl Broken {
    fn of(name: &str) -> Broken {
        let actuator = lay_out(&demo(name)).expect("lays out");
        let nominal = actuator.nominal();
        let printed = parts::all(&nominal).expect("parts");
        let bought = bought::all(&nominal).expect("bought");
        Broken { actuator, printed, bought }
    }

    fn move_part(&mut self, name: PartName, by: f64) {
        for part in self.printed.iter_mut().filter(|part| part.name == name) {
            part.stack = part.stack.translated_z(by);
        }
    }

    fn move_bought(&mut self, ending: &str, by: f64) {
        for body in self.bought.iter_mut().filter(|body| body.name.ends_with(ending)) {
            body.stack = body.stack.translated_z(by);
        }
    }

    fn bodies(&self) -> Vec<Body> {
        place_all(&self.actuator.nominal(), &self.printed, &self.bought).expect("bodies")
    }

    fn found(&self) -> Interference {
        Interference::among(&self.actuator, &self.bodies()).expect("compares")
    }
}

fn between<'a>(found: &'a Interference, a: &str, b: &str) -> Option<&'a Meeting> {
    let is = |meeting: &&Meeting| {
        let [one, other] = &meeting.bodies;
        (one.contains(a) && other.contains(b)) || (one.contains(b) && other.contains(a))
    };
    found.meetings.iter().find(is)
}

#[test]
fn the_demos_have_no_mistakes_and_touch_where_they_are_meant_to() {
    for name in [SHOULDER, WRIST, MAST] {
        let found = Broken::of(name).found();
        assert_eq!(found.mistakes().count(), 0, "{name}: {:?}", found.mistakes().next());
        for (a, b, contact) in [
            ("stator-mount", "vented-base", Contact::Seat),
            ("ring-housing", "outer ring", Contact::Seat),
            ("output-carrier", "planet pin", Contact::Seat),
            ("screw M3", "insert M3", Contact::Thread),
        ] {
            let meeting = between(&found, a, b).unwrap_or_else(|| panic!("{name}: {a} and {b} don't meet"));
            assert_eq!(meeting.state, State::Meant(contact), "{name}: {meeting:?}");
        }
    }
}

/// Gaps that the layout's rules state: rotor in its chamber 1.0 on the radius, adapter under the carrier 0.8.
#[test]
fn gaps_are_those_of_the_rules() {
    for name in [SHOULDER, WRIST, MAST] {
        let found = Broken::of(name).found();
        for (a, b, gap) in [("vented-base", "motor rotor", 1.0), ("rotor-adapter", "carrier-back-plate", 0.8)]
        {
            let meeting = between(&found, a, b).expect("within reach");
            assert!((meeting.gap - gap).abs() < 1e-6, "{name}: {meeting:?}");
        }
    }
}

/// A keeper a millimetre too far in shares the outer ring's face with it, 1.2 deep: it is drawn 0.2 in already, since 34 layers of
/// 0.2 are the most that leave 0.1 of a ring of 7. The ring is drawn
/// from 0.55 of a ball outside the pitch circle, a ball being 0.32 of the section.
#[test]
fn a_keeper_moved_forward_is_named_with_place_and_size() {
    let mut broken = Broken::of(SHOULDER);
    broken.move_part(PartName::BearingKeeper, 1.0);
    let found = broken.found();
    let meeting = between(&found, "bearing-keeper", "outer ring").expect("meets");
    let bearing = &broken.actuator.design.bearings.output;
    let land = (bearing.bore + bearing.outer) / 2.0 + 2.0 * 0.55 * 0.32 * (bearing.outer - bearing.bore);
    let ring = PI / 4.0 * (bearing.outer * bearing.outer - land * land) * 1.2;
    let volume = meeting.volume.expect("doesn't turn");
    assert!((volume / ring - 1.0).abs() < 1e-6, "{volume} against {ring}");
    let State::Overlaps { depth } = meeting.state else { panic!("{meeting:?}") };
    // The section's width: twice its area over its outline.
    assert!((depth - (bearing.outer - land) / 2.0).abs() < 1e-6 || (depth - 1.2).abs() < 1e-6, "{depth}");
    let z = broken.actuator.stations.bearing_back;
    assert!((z..z + 1.2).contains(&meeting.at[2]), "{meeting:?}");
}

#[test]
fn a_carrier_moved_back_rubs_on_the_rotor_side() {
    let mut broken = Broken::of(WRIST);
    broken.move_part(PartName::CarrierBackPlate, -1.0);
    let found = broken.found();
    let meeting = between(&found, "carrier-back-plate", "rotor-adapter").expect("meets");
    // 0.8 apart, moved by 1.
    let State::Overlaps { depth } = meeting.state else { panic!("{meeting:?}") };
    assert!((depth - 0.2).abs() < 1e-6, "{meeting:?}");
    assert!(meeting.turning);
}

#[test]
fn the_check_names_the_worst_pair() {
    let mut made = make(&demo(SHOULDER)).expect("makes");
    let mut broken = Broken::of(SHOULDER);
    broken.move_part(PartName::BearingKeeper, 1.0);
    let fit = made.product.fit.as_mut().expect("fits");
    fit.interference = broken.found();
    let check = hubwright::checks::find("interference").expect("there is one");
    let outcome = (check.run)(&made.product);
    assert_eq!(outcome.verdict.as_str(), "fails");
    assert!(
        outcome.remark.to_string().contains("bearing-keeper") && outcome.remark.to_string().contains("mm3"),
        "{}",
        outcome.remark
    );
}

/// Screws one millimetre deeper lose a millimetre at their tips; inserts moved out of their holes find none.
#[test]
fn screws_and_inserts_out_of_place_are_named() {
    let made = make(&demo(SHOULDER)).expect("makes");
    let measure = |broken: &Broken| {
        Fastening::of(&broken.actuator, &broken.bodies(), &made.product.bom).expect("sections")
    };
    let mut broken = Broken::of(SHOULDER);
    let before = measure(&broken);
    assert!(before.unmatched.is_empty(), "{:?}", before.unmatched);
    broken.move_bought("keeper", 1.0);
    let after = measure(&broken);
    let (tip, was) = (after.tip.expect("tips"), before.tip.expect("tips"));
    assert!((was.value - 0.5).abs() < 1e-6, "{was:?}");
    assert!((tip.value + 0.5).abs() < 1e-6 && tip.whose.contains("keeper"), "{tip:?}");

    let mut broken = Broken::of(SHOULDER);
    for body in broken
        .bought
        .iter_mut()
        .filter(|body| body.name.starts_with("screw") && body.name.ends_with("pillar"))
    {
        for place in &mut body.places {
            place.angle += 0.3;
        }
    }
    let found = measure(&broken);
    assert!(
        found.unmatched.iter().any(|what| what.contains("pillar") && what.contains("carrier-back-plate")),
        "{:?}",
        found.unmatched
    );

    let mut broken = Broken::of(SHOULDER);
    broken.bought.retain(|body| !body.name.ends_with("service joint"));
    let found = measure(&broken);
    assert!(found.unmatched.iter().any(|what| what.contains("takes nothing")), "{:?}", found.unmatched);
    assert!(found.unmatched.iter().any(|what| what.contains("bill of materials")), "{:?}", found.unmatched);
}

/// By hand: 10 +-0.1 less 4 +-0.2 less 5.5 +-0.05.
#[test]
fn a_chain_of_even_tolerances() {
    let chain =
        Chain::of(vec![Link::even("a", 10.0, 0.1), Link::even("b", -4.0, 0.2), Link::even("c", -5.5, 0.05)]);
    let close = |a: f64, b: f64| assert!((a - b).abs() < 1e-9, "{a} against {b}");
    close(chain.nominal, 0.5);
    close(chain.worst[0], 0.15);
    close(chain.worst[1], 0.85);
    let spread = (0.01 + 0.04 + 0.0025_f64).sqrt();
    close(chain.likely[0], 0.5 - spread);
    close(chain.likely[1], 0.5 + spread);
}

/// A bearing may only be narrower: 7 with 0/-0.12 in a depth of 6.9 is proud by -0.02 to 0.1, 0.04 in the middle.
#[test]
fn a_bearings_width_is_lopsided() {
    let chain = Chain::of(vec![Link::bearing("bearing", 7.0, 40.0), Link::even("depth", -6.9, 0.0)]);
    assert!((chain.worst[0] + 0.02).abs() < 1e-9 && (chain.worst[1] - 0.1).abs() < 1e-9, "{chain:?}");
    assert!((chain.likely[0] + 0.02).abs() < 1e-9, "{chain:?}");
    assert_eq!(bearing_width(40.0), 0.12);
}

/// The chains' nominal values are the layout's own gaps.
#[test]
fn chains_close_on_the_layouts_gaps() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = make(&demo(name)).expect("makes");
        let (chains, actuator) = (made.product.axial(), &made.product.actuator);
        let stations = &actuator.stations;
        let hub_shy = if actuator.design.bearings.output_count == 2 { 0.4 } else { 0.3 };
        for (chain, gap) in [
            (&chains.encoder, stations.magnet_back - stations.sensor_front),
            (&chains.planet, 0.2),
            (&chains.outer_ring, 0.2),
            (&chains.inner_ring, hub_shy),
            (&chains.rotor, stations.back_plate_back - stations.adapter_front),
        ] {
            assert!((chain.nominal - gap).abs() < 1e-6, "{name}: {} against {gap}", chain.nominal);
            assert!(chain.worst[0] <= chain.likely[0] && chain.likely[1] <= chain.worst[1], "{chain:?}");
        }
    }
}

/// The demos with one output bearing and with two, a part of theirs in layers of each usual height.
fn in_layers(part: PartName, check: impl Fn(&str, f64, &Actuator)) {
    for name in [SHOULDER, WRIST, MAST] {
        for (count, layer_height) in
            [1, 2].into_iter().flat_map(|count| [0.1, 0.16, 0.2, 0.25, 0.28, 0.3].map(|layer| (count, layer)))
        {
            let mut design = demo(name);
            design.bearings.output_count = count;
            design.bearings.output_spacing = if count == 2 { 6.1 } else { 0.0 };
            let settings = PartSettings { layer_height, ..design.settings(part).clone() };
            Arc::make_mut(&mut design.parts).insert(part, settings);
            let what = format!("{name}, {count} bearings, layers of {layer_height}");
            let actuator = lay_out(&design).unwrap_or_else(|faults| panic!("{what}: {faults:?}"));
            check(&what, layer_height, &actuator);
        }
    }
}

/// No rounding to layers gives the outer rings play.
#[test]
fn the_seat_is_whole_layers_and_shallower_than_its_rings() {
    in_layers(PartName::RingHousing, |what, layer_height, actuator| {
        let layers = (actuator.stations.bearing_front - actuator.housing.seat_back) / layer_height;
        assert!((layers - layers.round()).abs() < 1e-6, "{what}: {layers} layers");
        let proud = actuator.rings_proud();
        assert!((0.1 - 1e-9..0.1 + layer_height).contains(&proud), "{what}: {proud}");
        let seat = AxialChains::of(actuator).outer_ring;
        let [seat_link, ..] = seat.links.as_slice() else { panic!("{seat:?}") };
        // Scatter and growth alone are left of the print's tolerance.
        assert!(
            (seat_link.over - 0.05 - 0.001 * seat_link.length.abs()).abs() < 1e-9,
            "{what}: {seat_link:?}"
        );
    });
}

/// Whatever the hub's height is rounded to, the clamp ring presses the inner rings.
#[test]
fn the_hub_stays_under_one_ring_or_two_at_any_layer() {
    in_layers(PartName::OutputCarrier, |what, _, actuator| {
        let chain = AxialChains::of(actuator).inner_ring;
        assert!(chain.likely[0] > 0.0, "{what}: {chain:?}");
    });
}
