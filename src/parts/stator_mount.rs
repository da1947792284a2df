//! Stator mount: disc in the base's bore, ears under J1, motor screws from the back, wire slot.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc, disc_at, sector};

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (mount, stations, joints) = (&actuator.mount, &actuator.stations, &actuator.joints);
    let z = [stations.mount_back, stations.mount_front];
    let mut body = Body::new();

    let ears = joints
        .stator_mount
        .angles()
        .map(|angle| sector(mount.disc_diameter / 2.0 - 1.0, mount.ear_radius, angle, mount.ear_half_angle));
    let outline = shapes::lobed(mount.disc_diameter, ears)?;
    shapes::add_chamfered(
        &mut body,
        "disc and ears",
        z,
        outline,
        actuator.design.printer.bed_chamfer,
        Opening::Front,
    )?;

    body.cut("shaft hole", z, disc(mount.centre_hole));
    shapes::clearance_holes(&mut body, "J1 hole", &joints.stator_mount, z);
    let motor = &joints.motor_to_mount;
    shapes::clearance_holes(&mut body, "motor screw", motor, z);
    let (recess, depth) = mount.recess;
    for angle in motor.angles() {
        body.cut("motor screw head", [z[0], z[0] + depth], disc_at(motor.radius(), angle, recess));
    }
    let slot = &mount.wire_slot;
    body.cut("wire slot", z, sector(slot.inner_radius, slot.outer_radius, slot.angle, slot.half_angle));
    Ok(body.stack()?)
}
