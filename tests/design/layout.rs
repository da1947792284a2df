//! Every condition of the layout, broken once: its name and the numbers in its message.

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::design::{Design, ForcedJoint, Joint};
use hubwright::layout::lay_out;
use hubwright::tables::{self, Thread};

/// Lays out a changed demo and returns the message of the fault `id`.
fn broken(base: &str, id: &str, change: impl FnOnce(&mut Design)) -> String {
    let mut design = demo(base);
    change(&mut design);
    let faults = lay_out(&design).expect_err("the change must break the layout");
    let messages: Vec<String> =
        faults.iter().map(|fault| format!("{}: {}", fault.id, fault.message)).collect();
    faults
        .iter()
        .find(|fault| fault.id == id)
        .map(|fault| fault.message.to_string())
        .unwrap_or_else(|| panic!("no fault {id} among {messages:#?}"))
}

fn bearing(designation: &str) -> tables::Bearing {
    tables::bearing(designation).expect("a row of the table").clone()
}

fn forced(design: &mut Design, joint: Joint, change: impl FnOnce(&mut ForcedJoint)) {
    change(design.fasteners.entry(joint).or_default());
}

#[test]
fn the_demos_lay_out() {
    for name in [SHOULDER, WRIST, MAST] {
        if let Err(faults) = lay_out(&demo(name)) {
            panic!("{name}: {faults:#?}");
        }
    }
}

#[test]
fn teeth_that_do_not_assemble() {
    let message = broken(SHOULDER, "gearset", |design| {
        (design.gearset.sun_teeth, design.gearset.planet_teeth, design.gearset.ring_teeth) = (16, 24, 64);
    });
    // 16 + 64 = 80 is no multiple of 3; 15/24/63 and 18/24/66 are (layout rule).
    for part in ["16/24/64", "15/24/63", "18/24/66", "4 planets"] {
        assert!(message.contains(part), "{part} in {message}");
    }
}

#[test]
fn planets_that_touch() {
    let message = broken(SHOULDER, "gearset", |design| design.gearset.planets = 4);
    assert!(message.contains("Planets would touch") || message.contains("touch"), "{message}");
}

#[test]
fn a_bearing_that_does_not_pass_the_teeth() {
    let message = broken(SHOULDER, "bearing-passes", |design| design.bearings.output = bearing("6816"));
    assert!(
        message.contains("6816") && message.contains("100.0") && message.contains("ring = \"insert\""),
        "{message}"
    );
}

#[test]
fn a_bearing_that_passes_where_the_keeper_does_not() {
    let message = broken(SHOULDER, "keeper-screws", |design| design.bearings.output = bearing("6811"));
    assert!(message.contains("6811") && message.contains("Largest bearing"), "{message}");
}

#[test]
fn a_carrier_plate_as_wide_as_the_ring() {
    let message = broken(SHOULDER, "plate-in-ring", |design| {
        // The layout's own pillars.
        design.fasteners.remove(&Joint::Pillars);
        (design.gearset.sun_teeth, design.gearset.planet_teeth, design.gearset.ring_teeth) = (30, 15, 60);
        design.gearset.face_width = 12.0;
        design.bearings.planet = Some(bearing("684"));
        design.bearings.output = bearing("6803");
    });
    assert!(message.contains("Carrier plate touches the ring teeth"), "{message}");
}

#[test]
fn a_carrier_plate_wider_than_the_base() {
    // Rotor and base's bore are now narrower than the carrier, which reaches down into the base.
    let message = broken(SHOULDER, "plate-in-base", |design| {
        design.motor.outer_diameter = 56.0;
        (design.controller.board.length, design.controller.board.width) = (30.0, 20.0);
    });
    // 56 and a millimetre on either side.
    assert!(message.contains("base bore 58.0"), "{message}");
}

#[test]
fn a_planet_rim_too_thin() {
    let message = broken(SHOULDER, "planet-rim", |design| design.bearings.planet = Some(bearing("6202")));
    assert!(message.contains("6202") && message.contains("Largest bearing"), "{message}");
}

#[test]
fn a_washer_too_narrow() {
    let message = broken(SHOULDER, "planet-washer", |design| design.bearings.planet = Some(bearing("MR128")));
    assert!(message.contains("MR128"), "{message}");
}

#[test]
fn planet_bearings_wider_than_the_face() {
    let message = broken(SHOULDER, "planet-sleeve", |design| design.gearset.face_width = 9.0);
    assert!(message.contains("widen the face to 11.0"), "{message}");
}

#[test]
fn a_sun_boss_too_wide_for_the_pins() {
    let message = broken(WRIST, "sun-boss", |design| design.bearings.planet = Some(bearing("608")));
    assert!(message.contains("Thinner pin"), "{message}");
}

#[test]
fn a_pin_that_is_not_the_bearings_bore() {
    let message = broken(SHOULDER, "planet-pin", |design| design.gearset.pin_diameter = Some(6.0));
    assert!(message.contains("6.0") && message.contains("8.0"), "{message}");
}

#[test]
fn no_room_for_pillars() {
    let message = broken(SHOULDER, "pillar-room", |design| {
        // The layout's own pillars.
        design.fasteners.remove(&Joint::Pillars);
        let gearset = &mut design.gearset;
        (gearset.sun_teeth, gearset.planet_teeth, gearset.ring_teeth, gearset.planets) = (32, 12, 56, 8);
        design.bearings.planet = Some(bearing("683"));
        design.bearings.output = bearing("6803");
    });
    assert!(
        message.contains("M3") && message.contains("M2.5") && message.contains("Fewer planets"),
        "{message}"
    );
}

#[test]
fn rotor_screws_under_the_sun_boss() {
    let message = broken(SHOULDER, "rotor-screws", |design| design.motor.rotor_bolts.circle = 20.0);
    assert!(message.contains("20.0") && message.contains("two parts"), "{message}");
}

#[test]
fn motor_screws_in_the_shaft_hole() {
    let message = broken(SHOULDER, "stator-screws", |design| design.motor.stator_bolts.circle = 15.0);
    assert!(message.contains("smaller magnet"), "{message}");
}

#[test]
fn threads_too_shallow_for_any_screw() {
    let message = broken(SHOULDER, "rotor-screw-length", |design| design.motor.rotor_thread_depth = 1.0);
    assert!(message.contains("winding"), "{message}");
    broken(SHOULDER, "stator-screw-length", |design| design.motor.stator_thread_depth = 0.5);
}

#[test]
fn an_encoder_gap_out_of_range() {
    let message = broken(SHOULDER, "encoder-gap", |design| design.controller.encoder.gap = 4.0);
    assert!(message.contains("0.5 to 3"), "{message}");
}

#[test]
fn a_shaft_too_short_for_the_cup() {
    let message = broken(SHOULDER, "shaft-extension", |design| design.motor.shaft_extension = 3.0);
    assert!(message.contains("Shaft end too short"), "{message}");
}

#[test]
fn more_service_screws_than_there_is_room() {
    broken(SHOULDER, "service-columns", |design| {
        forced(design, Joint::Service, |joint| joint.count = Some(24))
    });
}

#[test]
fn a_board_that_meets_the_columns_at_every_angle() {
    let message = broken(SHOULDER, "board-passes", |design| {
        // Twelve columns 30 degrees apart; corners at 37.5 degrees fall 15 degrees apart between them.
        forced(design, Joint::Service, |joint| joint.count = Some(24));
        (design.controller.board.length, design.controller.board.width) = (67.2, 51.6);
    });
    assert!(message.contains("Board does not pass") && message.contains("84.7"), "{message}");
}

#[test]
fn holes_of_the_carrier_that_meet_at_every_angle() {
    let message = broken(SHOULDER, "carrier-holes", |design| {
        // The layout's own pillars.
        design.fasteners.remove(&Joint::Pillars);
        design.gearset.planets = 2;
    });
    assert!(message.contains("output insert") && message.contains("Fewer output bolts"), "{message}");
}

#[test]
fn a_housing_higher_than_any_screw() {
    broken(MAST, "service-screws", |design| {
        design.bearings.output_spacing = 60.0;
        forced(design, Joint::Service, |joint| joint.thread = Some(Thread::M3));
    });
}

#[test]
fn a_keeper_screw_that_comes_out_at_the_front() {
    let message = broken(SHOULDER, "hole-floor", |design| {
        forced(design, Joint::Keeper, |joint| joint.length = Some(16.0))
    });
    assert!(message.contains("Keeper"), "{message}");
}

#[test]
fn output_bolts_that_do_not_fit_the_hub() {
    let message =
        broken(WRIST, "output-bolts", |design| forced(design, Joint::Output, |joint| joint.count = Some(8)));
    assert!(message.contains("1.6"), "{message}");
}

#[test]
fn a_face_wider_than_any_screw() {
    let message = broken(SHOULDER, "pillar-room", |design| design.gearset.face_width = 60.0);
    assert!(message.contains("not sold long enough"), "{message}");
}

#[test]
fn every_fault_comes_at_once() {
    let mut design = demo(SHOULDER);
    design.motor.rotor_bolts.circle = 20.0;
    design.controller.encoder.gap = 4.0;
    design.motor.stator_bolts.circle = 15.0;
    let faults = lay_out(&design).expect_err("three conditions are broken");
    for id in ["rotor-screws", "encoder-gap", "stator-screws"] {
        assert!(faults.iter().any(|fault| fault.id == id), "{id} in {faults:#?}");
    }
}

/// Rule 4 of the layout: blind holes follow the screw; its tip has room, its insert is engaged whole.
#[test]
fn screws_reach_and_do_not_bottom() {
    for name in [SHOULDER, WRIST, MAST] {
        let actuator = lay_out(&demo(name)).expect("demo");
        for joint in actuator.joints.iter() {
            if matches!(joint.anchor, hubwright::layout::Anchor::Insert(_)) && joint.joint != Joint::Board {
                assert!(
                    joint.reach() >= joint.engagement_wanted() - 1e-6,
                    "{name} {:?} reaches {}",
                    joint.joint,
                    joint.reach()
                );
                assert!(joint.hole_depth() >= joint.reach() + 0.5 - 1e-6, "{name} {:?} bottoms", joint.joint);
            }
        }
    }
}

/// NSK prints 12 mm, no more, for the inner-ring shoulder of its 6800; a quarter of the section would be 12.25.
#[test]
fn planet_washers_keep_the_makers_largest_shoulder() {
    let mut design = demo(SHOULDER);
    design.bearings.planet = Some(bearing("6800@NSK"));
    let planet = lay_out(&design).expect("fits").planet;
    assert_eq!(planet.shoulder, 12.0);
}
