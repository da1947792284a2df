//! Print mass that no drawing undercuts, from the layout's sizes alone: what a search needs before it draws a part.
//!
//! A part is taken as rings that lie inside it, less the whole of every hole that might cut them. Of a ring the perimeters
//! inside its bore and the skins at faces that nothing covers print solid, whatever stands beside it; the rest counts at
//! the infill's share, as [`print_mass`](super::print_mass) does. Sectors stand outside rings; their perimeters are those of
//! the outer side and of both flanks. Teeth, ledges, flares, bosses within bores and small parts are left out: they only add.

use std::f64::consts::{PI, TAU};

use crate::design::{Design, GearSource, PartName, PartSettings, RingKind};
use crate::gears::Stage;
use crate::layout::{Actuator, Bolting, Core, Vent};

/// Chords, rounding and the growth of teeth never take more off a radius than this \[mm\].
const SLACK: f64 = 0.03;
/// Growth of a hole on its diameter, and what its lead-in takes \[mm\].
const HOLE_SLACK: f64 = 0.6;
/// Widest chamfer at a bed face, a lead-in or an edge \[mm\].
const CHAMFER: f64 = 0.6;
/// Plastic between ring root and service holes, less the slack: the layout keeps 1.6.
const RING_SHELL: f64 = 1.4;
/// A window in a round wall is longer on its slant.
const SLANT: f64 = 1.1;

/// A ring, or sectors of one, that lie inside a part.
#[derive(Clone, Copy)]
struct Ring {
    /// On the diameter.
    inner: f64,
    outer: f64,
    height: f64,
    /// Faces that nothing covers.
    faces: f64,
    /// Volume of all holes that might cut it.
    holes: f64,
    /// The outside is the part's own, with nothing beyond it.
    is_round: bool,
    /// Sectors and their half angle; the whole ring if there are none.
    sectors: Option<(f64, f64)>,
}

/// How a part is printed.
struct Print {
    inset: f64,
    skin: f64,
    infill: f64,
    /// \[kg/mm3\]
    density: f64,
}

fn area(inner: f64, outer: f64) -> f64 {
    PI / 4.0 * (outer * outer - inner * inner).max(0.0)
}

impl Ring {
    fn new([inner, outer]: [f64; 2], height: f64) -> Ring {
        Ring {
            inner: inner + 2.0 * SLACK,
            outer: outer - 2.0 * SLACK,
            height: height.max(0.0),
            faces: 0.0,
            holes: 0.0,
            is_round: false,
            sectors: None,
        }
    }

    /// Sectors between two radii.
    fn sectors([inner, outer]: [f64; 2], height: f64, count: u32, half_angle: f64) -> Ring {
        // A little outside the root, where the flanks begin.
        let ring = Ring::new([2.0 * inner + 0.2, 2.0 * outer], height);
        Ring { sectors: Some((f64::from(count), half_angle)), ..ring }
    }

    /// Faces that nothing covers.
    fn open(self, faces: f64) -> Ring {
        Ring { faces, ..self }
    }

    /// Nothing stands beyond the outside: perimeters follow it.
    fn round(self) -> Ring {
        Ring { is_round: true, ..self }
    }

    /// Less this volume.
    fn without(self, holes: f64) -> Ring {
        Ring { holes: self.holes + holes.max(0.0), ..self }
    }

    /// Less a chamfer inside and outside.
    fn chamfered(self) -> Ring {
        self.without(PI * (self.inner + self.outer) * CHAMFER * CHAMFER / 2.0)
    }

    /// Section, and what of it prints at the infill's share \[mm2\].
    fn section(&self, inset: f64) -> (f64, f64) {
        match self.sectors {
            // Bores are at least as wide as they are taken here less the slack.
            None => {
                let outer = if self.is_round { self.outer + 4.0 * SLACK - 2.0 * inset } else { self.outer };
                (area(self.inner, self.outer), area(self.inner - 4.0 * SLACK + 2.0 * inset, outer))
            }
            Some((count, half)) => {
                let core_half = (half - inset / (self.outer / 2.0).max(1.0)).max(0.0);
                let share = |half: f64| (count * 2.0 * half / TAU).min(1.0);
                let core = area(self.inner, self.outer + 4.0 * SLACK - 2.0 * inset);
                (share(half) * area(self.inner, self.outer), share(core_half) * core)
            }
        }
    }

    /// Plastic \[mm3\].
    fn plastic(&self, print: &Print) -> f64 {
        let (whole, core) = self.section(print.inset);
        let hollow = (self.height - self.faces * print.skin).max(0.0);
        (whole * self.height - (1.0 - print.infill) * core.min(whole) * hollow - self.holes).max(0.0)
    }
}

/// Of one part \[kg\].
fn mass(design: &Design, part: PartName, rings: &[Ring]) -> f64 {
    let Some(settings) = design.parts.get(&part).or_else(|| design.parts.get(&PartName::RingHousing)) else {
        return 0.0;
    };
    let PartSettings { material, walls, infill, skins, layer_height } = settings;
    let scale = design.printer.scale(&material.name).min(1.0);
    let print = Print {
        inset: f64::from(*walls) * design.printer.line_width,
        skin: f64::from(*skins) * layer_height,
        infill: infill.min(1.0),
        density: scale.powi(3) * material.density * 1e-6,
    };
    rings.iter().map(|ring| ring.plastic(&print)).sum::<f64>() * print.density
}

/// All holes of a joint over this depth.
fn holes(joint: &Bolting, diameter: f64, depth: f64) -> f64 {
    f64::from(joint.count) * hole(diameter) * depth
}

fn hole(diameter: f64) -> f64 {
    area(0.0, diameter + HOLE_SLACK)
}

/// Planets, and what of the ring lies within its service screws: whatever the motor and the output bearing.
pub fn of_gearset(design: &Design, stage: &Stage, core: &Core) -> f64 {
    let face = design.gearset.face_width;
    let root = stage.ring.root_diameter;
    let shell = match design.gearset.ring_made {
        RingKind::Cut => {
            let ring = Ring::new([root, root + 2.0 * RING_SHELL], face);
            mass(design, PartName::RingHousing, &[ring])
        }
        RingKind::Insert => 0.0,
    };
    planets_of(design, stage, core.seat()) + shell
}

fn planets_of(design: &Design, stage: &Stage, seat: f64) -> f64 {
    if design.gearset.planet_made == GearSource::Buy {
        return 0.0;
    }
    let ring = Ring::new([seat, stage.planet.root_diameter], design.gearset.face_width).chamfered();
    f64::from(stage.planets) * mass(design, PartName::Planet, &[ring])
}

/// Of everything printed \[kg\], all of a kind together. Those first whose drawing says most for its time.
pub fn by_part(actuator: &Actuator) -> [(PartName, f64); 9] {
    [
        (PartName::OutputCarrier, carrier(actuator)),
        (PartName::OutputClampRing, clamp_ring(actuator)),
        (PartName::CarrierBackPlate, back_plate(actuator)),
        (PartName::VentedBase, base(actuator)),
        (PartName::RingHousing, housing(actuator)),
        (PartName::StatorMount, mount(actuator)),
        (PartName::Planet, planets_of(&actuator.design, &actuator.stage, actuator.planet.seat)),
        (PartName::RotorAdapter, adapter(actuator)),
        (PartName::BearingKeeper, keeper(actuator)),
    ]
}

fn base(actuator: &Actuator) -> f64 {
    let (base, stations, joints) = (&actuator.base, &actuator.stations, &actuator.joints);
    let (machine, mount, service) = (&joints.machine, &joints.stator_mount, &joints.service);
    let columns = f64::from(mount.count);
    let (wall, radius) = ([base.bore, base.outer], base.outer / 2.0);
    let thick = SLANT * base.wall;
    let window = |vent: &Vent| thick * vent.width * (vent.z[1] - vent.z[0]);
    let insert = f64::max(machine.hole_diameter(), mount.hole_diameter()) + HOLE_SLACK;
    let bay = stations.mount_back - base.floor_thickness;
    let chamber = stations.service - base.mouth_depth - stations.mount_back;
    let slot = thick * columns * 2.0 * (base.slot_half_angle + 0.01) * base.slot_radius;
    let mouth = [f64::max(base.mouth_bore, base.bore), f64::max(base.mouth_outer, base.outer)];
    // Standoffs and columns cover the floor's upper face.
    let covered = 4.0 * hole(base.standoffs.diameter);
    let free = 2.0 * base.column_inner_radius.min(base.bore / 2.0 - base.ledge);
    let machine_holes = holes(machine, machine.hole_diameter(), machine.hole_depth());
    let mount_holes = holes(mount, mount.hole_diameter(), mount.hole_depth());
    let rings = [
        Ring::new([0.0, free], base.floor_thickness).open(2.0).without(covered * base.floor_thickness),
        Ring::new([free, base.outer], base.floor_thickness).open(1.0).chamfered().without(machine_holes),
        Ring::new(wall, bay)
            .without(base.cable_window.as_ref().map_or(0.0, window))
            .without(thick * columns * insert * bay),
        Ring::new(wall, chamber).without(base.vents.iter().map(window).sum()).without(slot * chamber),
        Ring::new(mouth, base.mouth_depth).without(slot * base.mouth_depth),
        Ring::sectors([radius, base.column_outer_radius], bay, mount.count, base.column_half_angle)
            .without(machine_holes)
            .without(mount_holes),
        // The mouth covers the upper part of the bosses already.
        Ring::sectors(
            [f64::max(radius, mouth[1] / 2.0), base.boss_outer_radius],
            base.boss_height,
            service.count,
            base.boss_half_angle,
        )
        .without(holes(service, service.hole_diameter(), service.hole_depth())),
    ];
    mass(&actuator.design, PartName::VentedBase, &rings)
}

fn mount(actuator: &Actuator) -> f64 {
    let (mount, joints) = (&actuator.mount, &actuator.joints);
    let slot = &mount.wire_slot;
    let wires = (slot.outer_radius.powi(2) - slot.inner_radius.powi(2)).abs() * (slot.half_angle + 0.05);
    let disc = Ring::new([mount.centre_hole, mount.disc_diameter], mount.thickness)
        .open(2.0)
        .round()
        .chamfered()
        .without(holes(&joints.motor_to_mount, mount.recess.0, mount.thickness))
        .without(wires * mount.thickness);
    mass(&actuator.design, PartName::StatorMount, &[disc])
}

fn adapter(actuator: &Actuator) -> f64 {
    let (adapter, joints) = (&actuator.adapter, &actuator.joints);
    let pilot = adapter.pilot.map_or(0.0, |(diameter, depth)| hole(diameter) * depth);
    let bore = f64::max(adapter.insert_hole.0, actuator.stage.sun.tip_diameter) + 2.0;
    let screws = &joints.adapter_to_rotor;
    let disc = Ring::new([bore, adapter.disc_diameter], adapter.disc_thickness)
        .open(1.0)
        .round()
        .chamfered()
        .without(holes(screws, screws.head_pocket(), adapter.disc_thickness))
        .without(pilot);
    mass(&actuator.design, PartName::RotorAdapter, &[disc])
}

fn back_plate(actuator: &Actuator) -> f64 {
    let (plate, pillars) = (&actuator.back_plate, &actuator.joints.pillars);
    let planets = f64::from(actuator.stage.planets);
    let pins = planets * hole(plate.pin_hole) * plate.thickness;
    let disc = Ring::new([plate.bore, plate.diameter], plate.thickness)
        .open(1.0)
        .round()
        .chamfered()
        .without(holes(pillars, pillars.head_pocket(), plate.thickness))
        .without(pins);
    // A post may be printed thinner, so that it comes out at its size.
    let pillar = Ring::new(
        [pillars.clearance + HOLE_SLACK, 2.0 * plate.pillar_radius - HOLE_SLACK],
        plate.pillar_length,
    );
    let standing = mass(&actuator.design, PartName::CarrierBackPlate, &[pillar]);
    mass(&actuator.design, PartName::CarrierBackPlate, &[disc]) + planets * standing
}

fn carrier(actuator: &Actuator) -> f64 {
    let (carrier, stations, joints) = (&actuator.carrier, &actuator.stations, &actuator.joints);
    let thickness = carrier.plate_thickness;
    let pins = f64::from(actuator.stage.planets)
        * hole(carrier.pin_hole)
        * (actuator.planet.pin_depth_carrier + 0.3);
    let pillars = &joints.pillars;
    let plate = Ring::new([carrier.bore, carrier.plate_diameter], thickness)
        .open(1.0)
        .round()
        .chamfered()
        .without(holes(pillars, pillars.hole_diameter(), pillars.hole_depth()))
        .without(pins);
    let hub_holes = |joint: &Bolting| holes(joint, joint.hole_diameter(), joint.hole_depth() + 1.0);
    let step = stations.bearing_back - stations.plate_front;
    let shoulder = Ring::new([carrier.bore, carrier.step_diameter], step).round();
    let hub = Ring::new([carrier.bore, carrier.hub_diameter], stations.hub_front - stations.bearing_back)
        .round()
        .chamfered()
        .without(hub_holes(&joints.output))
        .without(hub_holes(&joints.clamp_ring));
    let crown = &carrier.crown;
    let teeth =
        Ring::sectors([crown.inner_radius, crown.outer_radius], crown.height, crown.count, crown.half_angle);
    mass(&actuator.design, PartName::OutputCarrier, &[plate, shoulder, hub, teeth])
}

fn housing(actuator: &Actuator) -> f64 {
    let (housing, stations, joints) = (&actuator.housing, &actuator.stations, &actuator.joints);
    let tube = housing.tube_diameter;
    let screws = &joints.service;
    let ring_height = stations.ring_front - stations.service;
    let ring_bore = housing.insert_bore.unwrap_or(actuator.stage.ring.root_diameter);
    let lobes = match (&actuator.ring_insert, &joints.ring_insert) {
        (Some(insert), Some(screws)) => f64::from(screws.count) * hole(2.0 * insert.lobe_radius + 1.0),
        _ => 0.0,
    };
    let lobe_inserts =
        joints.ring_insert.as_ref().map_or(0.0, |lobe| holes(lobe, lobe.hole_diameter(), lobe.hole_depth()));
    let free_height = housing.seat_back - stations.ring_front;
    let seat_height = stations.bearing_front - housing.seat_back;
    let lip = stations.lip_front - stations.bearing_front;
    let whole = stations.lip_front - stations.service;
    let service = holes(screws, screws.clearance, 1.0);
    let columns =
        Ring::sectors([tube / 2.0, housing.column_radius], whole, screws.count, housing.column_half_angle);
    let rings = [
        Ring::new([housing.spigot_bore, housing.spigot_diameter], housing.spigot_length)
            .without(lobes * housing.spigot_length),
        // Service screws stand outside the ring's root by more than the shell.
        Ring::new([ring_bore, tube], ring_height).without(lobes * ring_height),
        Ring::new([housing.free_bore, tube], free_height).without(lobe_inserts),
        Ring::new([housing.seat, tube], seat_height).chamfered().without(holes(
            &joints.keeper,
            joints.keeper.hole_diameter(),
            joints.keeper.hole_depth(),
        )),
        Ring::new([housing.lip_bore, tube], lip).open(1.0).chamfered(),
        columns.chamfered().without(service * whole),
    ];
    mass(&actuator.design, PartName::RingHousing, &rings)
}

fn keeper(actuator: &Actuator) -> f64 {
    let (keeper, screws) = (&actuator.keeper, &actuator.joints.keeper);
    let pocket = screws.head_pocket() + HOLE_SLACK;
    // An open pocket goes on to the rim.
    let open = f64::from(screws.count) * pocket * (keeper.outer / 2.0 - screws.radius()).max(0.0);
    let ring = Ring::new([keeper.bore, keeper.outer], keeper.thickness)
        .open(1.0)
        .round()
        .chamfered()
        .without(holes(screws, pocket, keeper.thickness))
        .without(open * keeper.thickness);
    mass(&actuator.design, PartName::BearingKeeper, &[ring])
}

fn clamp_ring(actuator: &Actuator) -> f64 {
    let (clamp, joints) = (&actuator.clamp_ring, &actuator.joints);
    let flange = actuator.stations.output_face - actuator.stations.flange_back;
    let screws = &joints.clamp_ring;
    let disc = Ring::new([clamp.bore, clamp.flange_diameter], flange)
        .open(1.0)
        .round()
        .chamfered()
        .without(holes(&joints.output, joints.output.clearance, flange))
        .without(holes(screws, screws.head_pocket(), flange))
        .without(f64::from(actuator.carrier.crown.count) * crown_pocket(actuator, flange));
    let spigot_height = actuator.stations.flange_back - actuator.stations.bearing_front;
    let pockets = f64::from(actuator.carrier.crown.count);
    let spigot = Ring::new([clamp.bore, clamp.spigot_diameter], spigot_height)
        .round()
        .without(holes(&joints.output, joints.output.clearance, spigot_height))
        .without(holes(screws, screws.clearance, spigot_height))
        .without(pockets * crown_pocket(actuator, spigot_height));
    mass(&actuator.design, PartName::OutputClampRing, &[disc, spigot])
}

/// Of one crown tooth in the clamp ring \[mm3\].
fn crown_pocket(actuator: &Actuator, height: f64) -> f64 {
    let crown = &actuator.carrier.crown;
    let (inner, outer) = (crown.inner_radius - 0.2, crown.outer_radius + 0.2);
    let half = crown.half_angle + 0.2 / inner.max(1.0);
    half * (outer * outer - inner * inner) * height
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::product::made_parts;

    /// Each demo's own drawing is the reference.
    #[test]
    fn no_part_of_the_demos_is_lighter() {
        for name in ["weeder-shoulder", "weeder-wrist", "mast-pan"] {
            let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("designs/{name}.toml"));
            let design = crate::design::load(&path).expect("the demo").design;
            let actuator = crate::layout::lay_out(&design).expect("laid out");
            let bounds = by_part(&actuator);
            let made = made_parts(&actuator).expect("drawn");
            let mass = |made: &crate::parts::MadePart| made.mass.mass * f64::from(made.part.count);
            for (part, bound) in bounds {
                let drawn: f64 = made.iter().filter(|made| made.part.name == part).map(mass).sum();
                assert!(bound <= drawn, "{name} {part:?}: {bound} over {drawn}");
            }
            let bound: f64 = bounds.iter().map(|(_, bound)| bound).sum();
            let whole: f64 = made.iter().map(mass).sum();
            assert!(bound > 0.5 * whole, "worth little: {bound} of {whole}");
        }
    }
}
