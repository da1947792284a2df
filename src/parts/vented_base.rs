//! Vented base: floor and board bay, motor chamber with windows, mouth with the J2 bosses.
//!
//! Prints on its floor: bosses and mouth grow out of the wall at 45 degrees, windows end in a 45 degree roof.

use super::PartFault;
use crate::geometry::{Body, Point, Region, Stack};
use crate::layout::{Actuator, Vent};

use super::shapes::{self, Opening, START, disc, ring, sector};

/// How far shapes that join a round wall reach into it.
const ROOT: f64 = 1.0;
/// Flat part of the ledge over its 45 degree underside.
pub(super) const LEDGE_FLAT: f64 = 1.0;

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let mut body = Body::new();
    shell(actuator, &mut body)?;
    mouth(actuator, &mut body);
    columns_and_ledge(actuator, &mut body);
    board(actuator, &mut body);
    for vent in actuator.base.vents.iter().chain(&actuator.base.cable_window) {
        window(actuator, &mut body, vent);
    }
    screws(actuator, &mut body);
    Ok(body.stack()?)
}

/// Floor, wall and the outside of the J1 columns.
fn shell(actuator: &Actuator, body: &mut Body) -> Result<(), PartFault> {
    let (base, top) = (&actuator.base, actuator.stations.service);
    let wall = base.outer / 2.0;
    let columns = actuator
        .joints
        .stator_mount
        .angles()
        .map(|angle| sector(wall - ROOT, base.column_outer_radius, angle, base.column_half_angle));
    let outline = shapes::lobed(base.outer, columns)?;
    Ok(shapes::add_chamfered(
        body,
        "shell",
        [0.0, top],
        outline,
        actuator.design.printer.bed_chamfer,
        Opening::Back,
    )?)
}

/// Widened mouth, J2 bosses, and the chamber's bore through them.
fn mouth(actuator: &Actuator, body: &mut Body) {
    let (base, stations) = (&actuator.base, &actuator.stations);
    let (wall, top) = (base.outer / 2.0, stations.service);
    let mouth = base.mouth_outer / 2.0;
    if mouth > wall + 1e-6 {
        let shoulder = top - base.mouth_depth;
        body.add("mouth", [shoulder, top], disc(base.mouth_outer));
        body.add_taper(
            "mouth flare",
            [shoulder - (mouth - wall), shoulder],
            disc(base.outer),
            disc(base.mouth_outer),
        );
    }
    let reach = base.boss_outer_radius;
    let boss = |radius: f64, angle: f64| sector(wall - ROOT, radius, angle, base.boss_half_angle);
    let foot = top - base.boss_height;
    for angle in actuator.joints.service.angles() {
        body.add("J2 boss", [foot, top], boss(reach, angle));
        if reach > wall + START {
            body.add_taper(
                "J2 boss flare",
                [foot - (reach - wall - START), foot],
                boss(wall + START, angle),
                boss(reach, angle),
            );
        }
    }
    body.cut("chamber", [stations.floor, top], disc(base.bore));
    if base.mouth_bore > base.bore + 1e-6 {
        body.cut("mouth register", [top - base.mouth_depth, top], disc(base.mouth_bore));
    }
}

fn columns_and_ledge(actuator: &Actuator, body: &mut Body) {
    let (base, stations) = (&actuator.base, &actuator.stations);
    let bore = base.bore / 2.0;
    let mount = stations.mount_back;
    if base.ledge > 0.0 {
        let outer = base.bore + base.wall;
        let narrow = base.bore - 2.0 * base.ledge;
        let flat = mount - LEDGE_FLAT;
        body.add_taper(
            "ledge underside",
            [flat - base.ledge, flat],
            ring(outer, base.bore),
            ring(outer, narrow),
        );
        body.add("ledge", [flat, mount], ring(outer, narrow));
    }
    for angle in actuator.joints.stator_mount.angles() {
        if base.column_inner_radius < bore {
            body.add(
                "J1 column",
                [stations.floor, mount],
                sector(base.column_inner_radius, bore + ROOT, angle, base.column_half_angle),
            );
        }
        body.cut(
            "J1 slot",
            [mount, stations.service],
            sector(bore - ROOT, base.slot_radius, angle, base.slot_half_angle),
        );
    }
}

fn board(actuator: &Actuator, body: &mut Body) {
    let (standoffs, stations) = (&actuator.base.standoffs, &actuator.stations);
    for &[x, y] in &standoffs.places {
        body.add(
            "standoff",
            [stations.floor, stations.board_back],
            Region::disc(Point { x, y }, actuator.design.printer.post(standoffs.diameter) / 2.0),
        );
    }
    for &[x, y] in &standoffs.places {
        let centre = Point { x, y };
        shapes::insert_hole(
            body,
            "board insert",
            centre,
            actuator.design.printer.hole(standoffs.hole),
            stations.board_back,
            standoffs.hole_depth,
            Opening::Front,
        );
    }
}

/// Upright window with a 45 degree roof that stops at a flat ridge.
fn window(actuator: &Actuator, body: &mut Body, vent: &Vent) {
    let base = &actuator.base;
    let (bore, half) = (base.bore / 2.0, vent.width / 2.0);
    // The inner end lies inside the bore over the whole width, by half a millimetre.
    let inner = (bore * bore - half * half).max(0.0).sqrt() - 0.5;
    let outer = base.outer / 2.0 + 1.0;
    let roof = (vent.width - vent.ridge) / 2.0;
    let springing = vent.z[1] - roof;
    let opening = |width: f64| Region::slot(inner, outer, width, vent.angle);
    body.cut("window", [vent.z[0], springing], opening(vent.width));
    body.cut_taper("window roof", [springing, vent.z[1]], opening(vent.width), opening(vent.ridge));
}

fn screws(actuator: &Actuator, body: &mut Body) {
    let (stations, joints) = (&actuator.stations, &actuator.joints);
    shapes::insert_holes(
        body,
        "J0 insert",
        actuator,
        &joints.machine,
        0.0,
        joints.machine.hole_depth(),
        Opening::Back,
    );
    let j1 = &joints.stator_mount;
    shapes::insert_holes(
        body,
        "J1 insert",
        actuator,
        j1,
        stations.mount_back,
        j1.hole_depth(),
        Opening::Front,
    );
    let j2 = &joints.service;
    shapes::insert_holes(body, "J2 insert", actuator, j2, stations.service, j2.hole_depth(), Opening::Front);
}
