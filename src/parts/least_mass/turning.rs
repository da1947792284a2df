//! The parts that turn: carrier, clamp ring, back plate, rotor adapter, magnet cup, planets and what stands on their pins.

use std::f64::consts::TAU;

use crate::design::{Design, GearSource, PartName};
use crate::gears::Stage;
use crate::layout::{Actuator, Bolting, OUTPUT_TIP_ROOM, SunJoint};

use super::super::output_carrier::HUB_CHAMFER;
use super::super::planet::THINNEST_SLEEVE;
use super::section::{Print, Slab, Zone, chamfer, countersink, disc, insert_holes};
use super::teeth;

/// Least height of a tooth that a planet's chamfers leave whole is reckoned without this much at the ends \[mm\].
const PLANET_ENDS: f64 = 0.6;

pub fn carrier(actuator: &Actuator) -> f64 {
    let Some(print) = Print::of(&actuator.design, PartName::OutputCarrier) else { return 0.0 };
    let (carrier, stations, joints) = (&actuator.carrier, &actuator.stations, &actuator.joints);
    let printer = &actuator.design.printer;
    let inserts = |joint: &Bolting, room: f64| {
        insert_holes(joint.count, printer.hole(joint.hole_diameter()), joint.hole_depth() + room)
    };
    let pins = f64::from(actuator.stage.planets)
        * disc(carrier.pin_hole)
        * (actuator.planet.pin_depth_carrier + 0.3).min(carrier.plate_thickness);
    let by = printer.bed_chamfer;
    let plate = Slab {
        height: carrier.plate_thickness,
        zones: &[Zone::ring(carrier.bore, carrier.plate_diameter)],
        faces: 2.0,
        covered: disc(carrier.step_diameter) - disc(carrier.bore),
        holes: pins
            + inserts(&joints.pillars, 0.0)
            + chamfer(carrier.plate_diameter, by)
            + chamfer(carrier.bore, by),
        ..Slab::default()
    };
    let shoulder = Slab {
        height: stations.bearing_back - stations.plate_front,
        zones: &[Zone::ring(carrier.bore, carrier.step_diameter)],
        ..Slab::default()
    };
    let crown = &carrier.crown;
    let crown_share = f64::from(crown.count) * 2.0 * crown.half_angle / TAU;
    let crown_zone = Zone::new(crown_share, crown.inner_radius, crown.outer_radius);
    let hub = Slab {
        height: stations.hub_front - stations.bearing_back,
        zones: &[Zone::ring(carrier.bore, carrier.hub_diameter)],
        faces: 1.0,
        covered: crown_share * (disc(2.0 * crown.outer_radius) - disc(2.0 * crown.inner_radius)),
        holes: inserts(&joints.output, OUTPUT_TIP_ROOM)
            + inserts(&joints.clamp_ring, 0.0)
            + chamfer(carrier.hub_diameter, HUB_CHAMFER),
        ..Slab::default()
    };
    let teeth = Slab { height: crown.height, zones: &[crown_zone], faces: 1.0, ..Slab::default() };
    let slabs = [plate, shoulder, hub, teeth];
    print.mass(slabs.iter().map(|slab| slab.plastic(&print)).sum())
}

pub fn clamp_ring(actuator: &Actuator) -> f64 {
    let Some(print) = Print::of(&actuator.design, PartName::OutputClampRing) else { return 0.0 };
    let (clamp, stations, joints) = (&actuator.clamp_ring, &actuator.stations, &actuator.joints);
    let crown = &actuator.carrier.crown;
    let by = actuator.design.printer.bed_chamfer;
    let room = clamp.crown_clearance;
    let through = stations.output_face - stations.bearing_front;
    let heads = &joints.clamp_ring;
    let screws = f64::from(joints.output.count) * disc(joints.output.clearance) * through
        + f64::from(heads.count)
            * (disc(heads.clearance) * through + countersink(heads.head_diameter, heads.clearance));
    let half = crown.half_angle + room / crown.inner_radius.max(1.0);
    let (inner, outer) = ((crown.inner_radius - room).max(0.0), crown.outer_radius + room);
    let pocket = half * (outer * outer - inner * inner);
    let depth = (stations.hub_front + crown.height + room - stations.bearing_front).clamp(0.0, through);
    let spigot = Slab {
        height: stations.flange_back - stations.bearing_front,
        zones: &[Zone::ring(clamp.bore, clamp.spigot_diameter)],
        faces: 1.0,
        holes: screws + f64::from(crown.count) * pocket * depth,
        ..Slab::default()
    };
    let flange = Slab {
        height: stations.output_face - stations.flange_back,
        zones: &[Zone::ring(clamp.bore, clamp.flange_diameter)],
        faces: 2.0,
        covered: (disc(clamp.spigot_diameter) - disc(clamp.bore)).max(0.0),
        holes: chamfer(clamp.flange_diameter, by) + chamfer(clamp.bore, by),
        ..Slab::default()
    };
    print.mass(spigot.plastic(&print) + flange.plastic(&print))
}

pub fn back_plate(actuator: &Actuator) -> f64 {
    let Some(print) = Print::of(&actuator.design, PartName::CarrierBackPlate) else { return 0.0 };
    let (plate, pillars) = (&actuator.back_plate, &actuator.joints.pillars);
    let printer = &actuator.design.printer;
    let planets = f64::from(actuator.stage.planets);
    let by = printer.bed_chamfer;
    let pillar = printer.post(2.0 * plate.pillar_radius);
    let depth = actuator.planet.pin_depth_back_plate.min(plate.thickness);
    let heads =
        disc(pillars.clearance) * plate.thickness + countersink(pillars.head_diameter, pillars.clearance);
    let disc_slab = Slab {
        height: plate.thickness,
        zones: &[Zone::ring(plate.bore, plate.diameter)],
        faces: 2.0,
        covered: planets * (disc(pillar) + disc(plate.boss_diameter)),
        holes: planets * disc(plate.pin_hole) * depth
            + f64::from(pillars.count) * heads
            + chamfer(plate.diameter, by)
            + chamfer(plate.bore, by),
        ..Slab::default()
    };
    let boss = Slab {
        height: plate.boss_height,
        zones: &[Zone::ring(plate.pin_hole, plate.boss_diameter)],
        ..Slab::default()
    };
    let standing = Slab {
        height: plate.pillar_length,
        zones: &[Zone::ring(pillars.clearance, pillar)],
        ..Slab::default()
    };
    // Pillars and bosses may touch the plate's other features, not each other: none is taken for more than itself.
    let each = standing.plastic(&print).max(0.0) + boss.plastic(&print).max(0.0);
    print.mass(disc_slab.plastic(&print).max(0.0) + planets * each)
}

pub fn adapter(actuator: &Actuator) -> f64 {
    let Some(print) = Print::of(&actuator.design, PartName::RotorAdapter) else { return 0.0 };
    let (adapter, stations, screws) =
        (&actuator.adapter, &actuator.stations, &actuator.joints.adapter_to_rotor);
    let by = actuator.design.printer.bed_chamfer;
    // Socket, insert and screw of the sun, whichever is widest; a sun in one piece fills it, which only adds.
    let sun = actuator.stage.sun.tip_diameter + actuator.design.printer.sun_socket.max(0.0) + 0.1;
    let middle = f64::max(sun, actuator.design.printer.hole(adapter.insert_hole.0) + 1.0);
    let pilot =
        adapter.pilot.map_or(0.0, |(diameter, depth)| (disc(diameter) - disc(middle)).max(0.0) * depth);
    let heads =
        disc(screws.clearance) * adapter.disc_thickness + countersink(screws.head_diameter, screws.clearance);
    let plate = Slab {
        height: adapter.disc_thickness,
        zones: &[Zone::ring(middle, adapter.disc_diameter)],
        faces: 2.0,
        covered: (disc(adapter.boss_diameter) - disc(middle)).max(0.0),
        holes: f64::from(screws.count) * heads + pilot + chamfer(adapter.disc_diameter, by),
        ..Slab::default()
    };
    let boss = Slab {
        height: stations.boss_front - stations.adapter_front,
        zones: &[Zone::ring(middle, adapter.boss_diameter)],
        ..Slab::default()
    };
    // The boss alone: what is left under a socket only adds.
    let boss = if matches!(actuator.sun.joint, SunJoint::Socket { .. }) { boss.plastic(&print) } else { 0.0 };
    print.mass(plate.plastic(&print).max(0.0) + boss.max(0.0))
}

pub fn cup(actuator: &Actuator) -> f64 {
    let Some(print) = Print::of(&actuator.design, PartName::MagnetCup) else { return 0.0 };
    let cup = &actuator.cup;
    let wall = |bore: f64, height: f64| {
        Slab { height, zones: &[Zone::ring(bore, cup.outer)], ..Slab::default() }.plastic(&print).max(0.0)
    };
    let chamfer = chamfer(cup.outer, actuator.design.printer.bed_chamfer);
    print.mass(wall(cup.pocket, cup.pocket_depth) + wall(cup.shaft_bore, cup.sleeve_length) - chamfer)
}

/// All planets.
pub fn planets(design: &Design, stage: &Stage, seat: f64) -> f64 {
    if design.gearset.planet_made == GearSource::Buy {
        return 0.0;
    }
    let Some(print) = Print::of(design, PartName::Planet) else { return 0.0 };
    let gear = &stage.planet;
    let face = design.gearset.face_width;
    let growth = design.printer.tooth_growth.max(0.0);
    // Chamfers thin the ends by as much on the radius.
    let root = gear.root_diameter - 2.0 * growth;
    let thinned = f64::max(design.gearset.face_chamfer, 0.15);
    let ends = 2.0 * (chamfer(root, thinned.max(PLANET_ENDS))) + chamfer(seat, 0.4);
    let rim = Slab { height: face, zones: &[Zone::ring(seat, root)], holes: ends, ..Slab::default() };
    let each = rim.plastic(&print).max(0.0) + teeth::plastic(design, gear, face);
    f64::from(stage.planets) * print.mass(each)
}

/// Washers, sleeves and spacers are rings and nothing else.
pub fn washers(actuator: &Actuator) -> f64 {
    let planet = &actuator.planet;
    f64::from(actuator.stage.planets)
        * ring(
            &actuator.design,
            PartName::PlanetWasher,
            [planet.washer_bore, planet.shoulder],
            planet.washer_thickness,
        )
}

pub fn sleeves(actuator: &Actuator) -> f64 {
    let planet = &actuator.planet;
    if planet.sleeve_length <= THINNEST_SLEEVE {
        return 0.0;
    }
    f64::from(actuator.stage.planets)
        * ring(
            &actuator.design,
            PartName::PlanetSleeve,
            [planet.washer_bore, planet.shoulder],
            planet.sleeve_length,
        )
}

pub fn spacers(actuator: &Actuator) -> [f64; 2] {
    actuator.spacers.as_ref().map_or([0.0; 2], |spacers| {
        let one = |part, diameters| ring(&actuator.design, part, diameters, spacers.width);
        [
            one(PartName::InnerSpacer, [spacers.inner_bore, spacers.inner_outer]),
            one(PartName::OuterSpacer, [spacers.outer_bore, spacers.outer_outer]),
        ]
    })
}

fn ring(design: &Design, part: PartName, [inner, outer]: [f64; 2], height: f64) -> f64 {
    let Some(print) = Print::of(design, part) else { return 0.0 };
    print.mass(
        Slab { height, zones: &[Zone::ring(inner, outer)], faces: 2.0, ..Slab::default() }.plastic(&print),
    )
}
