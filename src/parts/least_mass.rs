//! Print mass that no drawing undercuts, from the layout's sizes alone: what a search needs before it draws a part.
//!
//! A part is taken as rings that lie inside it, less the whole of every hole that might cut them. Of a ring the perimeters
//! inside its bore print solid, whatever stands outside it; the rest counts at the infill's share, as
//! [`print_mass`](super::print_mass) does. Teeth, lips, bosses, ledges, skins and small parts are left out: they only add.

use std::f64::consts::PI;

use crate::design::{Design, GearSource, PartName, PartSettings, RingKind};
use crate::gears::Stage;
use crate::layout::{Actuator, Bolting, Core};

/// Growth of holes, chamfers and rounded corners never take more off a radius than this \[mm\].
const SLACK: f64 = 0.3;
/// Plastic between ring root and service holes, less the slack: the layout keeps 1.6.
const RING_SHELL: f64 = 1.2;

/// A ring that lies inside a part.
#[derive(Clone, Copy, Default)]
struct Ring {
    inner: f64,
    outer: f64,
    height: f64,
    /// Volume of all holes that might cut it.
    holes: f64,
}

fn area(inner: f64, outer: f64) -> f64 {
    PI / 4.0 * (outer * outer - inner * inner).max(0.0)
}

impl Ring {
    fn new([inner, outer]: [f64; 2], height: f64) -> Ring {
        Ring { inner: inner + 2.0 * SLACK, outer: outer - 2.0 * SLACK, height: height.max(0.0), holes: 0.0 }
    }

    /// Less this volume.
    fn without(self, holes: f64) -> Ring {
        Ring { holes: self.holes + holes.max(0.0), ..self }
    }

    /// Plastic \[mm3\].
    fn plastic(&self, inset: f64, infill: f64) -> f64 {
        let whole = area(self.inner, self.outer);
        // Bores are at least as wide as they are taken here less the slack.
        let core = area(self.inner - 4.0 * SLACK + 2.0 * inset, self.outer);
        ((whole - (1.0 - infill) * core.min(whole)) * self.height - self.holes).max(0.0)
    }
}

/// Of one part \[kg\].
fn mass(design: &Design, part: PartName, rings: &[Ring]) -> f64 {
    let Some(settings) = design.parts.get(&part).or_else(|| design.parts.get(&PartName::RingHousing)) else {
        return 0.0;
    };
    let PartSettings { material, walls, infill, .. } = settings;
    let inset = f64::from(*walls) * design.printer.line_width;
    let scale = design.printer.scale(&material.name).min(1.0);
    let plastic: f64 = rings.iter().map(|ring| ring.plastic(inset, infill.min(1.0))).sum();
    plastic * scale.powi(3) * material.density * 1e-6
}

/// All holes of a joint over this depth.
fn holes(joint: &Bolting, diameter: f64, depth: f64) -> f64 {
    f64::from(joint.count) * area(0.0, diameter + 2.0 * SLACK) * depth
}

/// Planets, and what of the ring lies within its service screws: whatever the motor and the output bearing.
pub fn of_gearset(design: &Design, stage: &Stage, core: &Core) -> f64 {
    let face = design.gearset.face_width;
    let planets = match design.gearset.planet_made {
        GearSource::Print => {
            let ring = Ring::new([core.seat(), stage.planet.root_diameter], face);
            f64::from(stage.planets) * mass(design, PartName::Planet, &[ring])
        }
        GearSource::Buy => 0.0,
    };
    let root = stage.ring.root_diameter;
    let shell = match design.gearset.ring_made {
        RingKind::Cut => {
            let ring = Ring::new([root, root + 2.0 * (RING_SHELL + SLACK)], face);
            mass(design, PartName::RingHousing, &[ring])
        }
        RingKind::Insert => 0.0,
    };
    planets + shell
}

/// Of everything printed \[kg\].
pub fn of(actuator: &Actuator) -> f64 {
    planets(actuator)
        + base(actuator)
        + mount(actuator)
        + adapter(actuator)
        + back_plate(actuator)
        + carrier(actuator)
        + housing(actuator)
        + clamp_ring(actuator)
}

fn planets(actuator: &Actuator) -> f64 {
    if actuator.design.gearset.planet_made == GearSource::Buy {
        return 0.0;
    }
    let (planet, stage) = (&actuator.planet, &actuator.stage);
    let ring = Ring::new([planet.seat, stage.planet.root_diameter], actuator.design.gearset.face_width);
    f64::from(stage.planets) * mass(&actuator.design, PartName::Planet, &[ring])
}

fn base(actuator: &Actuator) -> f64 {
    let (base, stations, joints) = (&actuator.base, &actuator.stations, &actuator.joints);
    let wall = [base.bore, base.outer];
    let thick = base.wall + 2.0 * SLACK;
    let windows = |vents: &[crate::layout::Vent]| -> f64 {
        vents.iter().map(|vent| vent.width * (vent.z[1] - vent.z[0])).sum()
    };
    let bay = stations.mount_back - base.floor_thickness;
    let hole = f64::max(joints.machine.hole_diameter(), joints.stator_mount.hole_diameter()) + 2.0 * SLACK;
    let cable: Vec<_> = base.cable_window.iter().cloned().collect();
    // A window in a round wall is longer on its slant.
    const SLANT: f64 = 1.1;
    let chamber = stations.service - base.mouth_depth - stations.mount_back;
    let mouth = [f64::max(base.mouth_bore, base.bore), f64::max(base.mouth_outer, base.outer)];
    let slot = 2.0 * base.slot_half_angle * base.slot_radius + 2.0 * SLACK;
    let columns = f64::from(joints.stator_mount.count);
    mass(
        &actuator.design,
        PartName::VentedBase,
        &[
            Ring::new([0.0, base.outer], base.floor_thickness - SLACK).without(holes(
                &joints.machine,
                joints.machine.hole_diameter(),
                base.floor_thickness,
            )),
            Ring::new(wall, bay).without(SLANT * thick * (windows(&cable) + columns * hole * bay)),
            Ring::new(wall, chamber)
                .without(SLANT * thick * (windows(&base.vents) + columns * slot * chamber)),
            Ring::new(mouth, base.mouth_depth).without(SLANT * thick * columns * slot * base.mouth_depth),
        ],
    )
}

fn mount(actuator: &Actuator) -> f64 {
    let (mount, joints) = (&actuator.mount, &actuator.joints);
    let slot = &mount.wire_slot;
    let wires = (slot.outer_radius.powi(2) - slot.inner_radius.powi(2)).abs() * (slot.half_angle + 0.1);
    let disc = Ring::new([mount.centre_hole, mount.disc_diameter], mount.thickness)
        .without(holes(&joints.motor_to_mount, mount.recess.0, mount.thickness))
        .without(wires * mount.thickness);
    mass(&actuator.design, PartName::StatorMount, &[disc])
}

fn adapter(actuator: &Actuator) -> f64 {
    let (adapter, joints) = (&actuator.adapter, &actuator.joints);
    let pilot = adapter.pilot.map_or(0.0, |(diameter, depth)| area(0.0, diameter + 2.0 * SLACK) * depth);
    let bore = f64::max(adapter.insert_hole.0, actuator.stage.sun.tip_diameter) + 2.0;
    let disc = Ring::new([bore, adapter.disc_diameter], adapter.disc_thickness - SLACK)
        .without(holes(
            &joints.adapter_to_rotor,
            joints.adapter_to_rotor.head_pocket(),
            adapter.disc_thickness,
        ))
        .without(pilot);
    mass(&actuator.design, PartName::RotorAdapter, &[disc])
}

fn back_plate(actuator: &Actuator) -> f64 {
    let (plate, pillars) = (&actuator.back_plate, &actuator.joints.pillars);
    let planets = f64::from(actuator.stage.planets);
    let pins = planets * area(0.0, plate.pin_hole + 2.0 * SLACK) * plate.thickness;
    let disc = Ring::new([plate.bore, plate.diameter], plate.thickness - SLACK)
        .without(holes(pillars, pillars.head_pocket(), plate.thickness))
        .without(pins);
    let pillar = Ring::new([pillars.clearance, 2.0 * plate.pillar_radius], plate.pillar_length);
    let standing = mass(&actuator.design, PartName::CarrierBackPlate, &[pillar]);
    mass(&actuator.design, PartName::CarrierBackPlate, &[disc]) + planets * standing
}

fn carrier(actuator: &Actuator) -> f64 {
    let (carrier, stations, joints) = (&actuator.carrier, &actuator.stations, &actuator.joints);
    let thickness = carrier.plate_thickness;
    let planets = f64::from(actuator.stage.planets);
    let pins = planets * area(0.0, carrier.pin_hole + 2.0 * SLACK) * thickness;
    let plate = Ring::new([carrier.bore, carrier.plate_diameter], thickness - SLACK)
        .without(holes(&joints.pillars, joints.pillars.hole_diameter(), thickness))
        .without(pins);
    let hub_height = stations.hub_front - stations.plate_front;
    let hub_holes = |joint: &Bolting| holes(joint, joint.hole_diameter(), joint.hole_depth() + 1.0);
    let hub = Ring::new([carrier.bore, carrier.hub_diameter], hub_height - SLACK)
        .without(hub_holes(&joints.output))
        .without(hub_holes(&joints.clamp_ring));
    mass(&actuator.design, PartName::OutputCarrier, &[plate, hub])
}

fn housing(actuator: &Actuator) -> f64 {
    let (housing, stations, joints) = (&actuator.housing, &actuator.stations, &actuator.joints);
    let tube = housing.tube_diameter;
    let service = |height: f64| holes(&joints.service, joints.service.clearance, height);
    let keeper = |height: f64| holes(&joints.keeper, joints.keeper.hole_diameter(), height);
    let ring_height = stations.ring_front - stations.service;
    let ring_bore = housing.insert_bore.unwrap_or(actuator.stage.ring.root_diameter);
    let lobes = match (&actuator.ring_insert, &joints.ring_insert) {
        (Some(insert), Some(screws)) => holes(screws, 2.0 * insert.lobe_radius + 1.0, ring_height),
        _ => 0.0,
    };
    let lobe_inserts = joints
        .ring_insert
        .as_ref()
        .map_or(0.0, |screws| holes(screws, screws.hole_diameter(), screws.hole_depth()));
    let free_height = housing.seat_back - stations.ring_front;
    let seat_height = stations.bearing_front - housing.seat_back;
    let lip = stations.lip_front - stations.bearing_front;
    let rings = [
        Ring::new([housing.spigot_bore, housing.spigot_diameter], housing.spigot_length)
            .without(lobes / ring_height.max(1.0) * housing.spigot_length),
        Ring::new([ring_bore, tube], ring_height).without(service(ring_height)).without(lobes),
        Ring::new([housing.free_bore, tube], free_height).without(service(free_height)).without(lobe_inserts),
        Ring::new([housing.seat, tube], seat_height)
            .without(service(seat_height))
            .without(keeper(joints.keeper.hole_depth())),
        Ring::new([housing.lip_bore, tube], lip - SLACK).without(service(lip)),
    ];
    mass(&actuator.design, PartName::RingHousing, &rings)
}

fn clamp_ring(actuator: &Actuator) -> f64 {
    let (clamp, joints) = (&actuator.clamp_ring, &actuator.joints);
    let flange = actuator.stations.output_face - actuator.stations.flange_back;
    let disc = Ring::new([clamp.bore, clamp.flange_diameter], flange - SLACK)
        .without(holes(&joints.output, joints.output.clearance, flange))
        .without(holes(&joints.clamp_ring, joints.clamp_ring.head_pocket(), flange))
        .without(f64::from(actuator.carrier.crown.count) * crown_pocket(actuator, flange));
    mass(&actuator.design, PartName::OutputClampRing, &[disc])
}

/// Of one crown tooth in the clamp ring \[mm3\].
fn crown_pocket(actuator: &Actuator, height: f64) -> f64 {
    let crown = &actuator.carrier.crown;
    let (inner, outer) = (crown.inner_radius - SLACK, crown.outer_radius + SLACK);
    let half = crown.half_angle + SLACK / inner.max(1.0);
    half * (outer * outer - inner * inner) * height
}
