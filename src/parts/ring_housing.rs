//! Ring housing: lip, bearing seat, keeper shelf, ring teeth (or the insert's bore), spigot; J2 columns full height.
//!
//! Prints on its front face: every bore widens going up, every outside flare grows at 45 degrees.

use super::PartFault;
use crate::geometry::{Body, Region, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, START, disc, disc_at, sector, spread};
use super::teeth::End;

/// Height of rim and covers at the service plane before they fall back at 45 degrees.
pub(super) const RIM_HEIGHT: f64 = 1.6;
/// How far shapes that join a round wall reach into it.
const ROOT: f64 = 1.0;
/// Chamfer at the mouth of the bearing seat.
pub(super) const SEAT_LEAD_IN: f64 = 0.4;

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let mut body = Body::new();
    outside(actuator, &mut body)?;
    bores(actuator, &mut body)?;
    screws(actuator, &mut body);
    Ok(body.stack()?)
}

fn outside(actuator: &Actuator, body: &mut Body) -> Result<(), PartFault> {
    let (housing, stations) = (&actuator.housing, &actuator.stations);
    let (service, front) = (stations.service, stations.lip_front);
    let tube = housing.tube_diameter / 2.0;

    let columns = actuator
        .joints
        .service
        .angles()
        .map(|angle| sector(tube - ROOT, housing.column_radius, angle, housing.column_half_angle));
    let outline = shapes::lobed(housing.tube_diameter, columns)?;
    let chamfer = actuator.design.printer.bed_chamfer;
    shapes::add_chamfered(
        body,
        "tube and service columns",
        [service, front],
        outline,
        chamfer,
        Opening::Front,
    )?;

    // Rim that closes the base's mouth.
    let rim = housing.rim_diameter / 2.0;
    if rim > tube + START {
        body.add("rim", [service, service + RIM_HEIGHT], disc(housing.rim_diameter));
        let top = service + RIM_HEIGHT + rim - tube;
        body.add_taper(
            "rim flare",
            [service + RIM_HEIGHT, top],
            disc(housing.rim_diameter),
            disc(housing.tube_diameter),
        );
    }

    // A column over each lobe of the ring insert, as high as its screw.
    let lobe = housing.lobe_column.zip(actuator.joints.ring_insert.as_ref());
    if let Some(((radius, half), screws)) = lobe {
        let top = stations.ring_front + screws.hole_depth() + 1.2;
        flared(body, "lobe columns", screws.angles(), [service, top], tube, (radius, tube), half);
    }

    // Covers over the J1 slots of the base; over lobe columns where there are any.
    let ends_at = lobe.map_or(tube, |((radius, _), _)| radius);
    let half =
        lobe.map_or(housing.cover_half_angle, |((_, half), _)| f64::max(half, housing.cover_half_angle));
    let covers = actuator.joints.stator_mount.angles();
    if housing.cover_radius > ends_at + START {
        flared(
            body,
            "J1 covers",
            covers,
            [service, service + RIM_HEIGHT],
            tube,
            (housing.cover_radius, ends_at),
            half,
        );
    }
    Ok(())
}

/// Sectors that stand straight over `z`, then fall back at 45 degrees from the first radius to the second.
fn flared(
    body: &mut Body,
    name: &str,
    angles: impl Iterator<Item = f64>,
    z: [f64; 2],
    tube: f64,
    (from, to): (f64, f64),
    half: f64,
) {
    let end = to + START;
    let shape = |radius: f64, angle: f64| sector(tube - ROOT, radius, angle, half);
    for angle in angles {
        body.add(name, z, shape(from, angle));
        if from > end {
            body.add_taper(
                format!("{name} flare"),
                [z[1], z[1] + from - end],
                shape(from, angle),
                shape(end, angle),
            );
        }
    }
}

fn bores(actuator: &Actuator, body: &mut Body) -> Result<(), PartFault> {
    let (housing, stations) = (&actuator.housing, &actuator.stations);
    let (service, front) = (stations.service, stations.lip_front);

    body.add("spigot", [service - housing.spigot_length, service], disc(housing.spigot_diameter));
    body.cut("spigot bore", [service - housing.spigot_length, service], disc(housing.spigot_bore));

    body.cut("lip bore", [stations.bearing_front, front], disc(housing.lip_bore));
    shapes::bore_chamfer(
        body,
        "lip edge",
        housing.lip_bore,
        front,
        actuator.design.printer.bed_chamfer,
        Opening::Front,
    );
    body.cut("bearing seat", [housing.seat_back, stations.bearing_front], disc(housing.seat));
    shapes::bore_chamfer(body, "seat lead-in", housing.seat, housing.seat_back, SEAT_LEAD_IN, Opening::Back);
    body.cut("free bore", [stations.ring_front, housing.seat_back], disc(housing.free_bore));

    match (&actuator.ring_insert, housing.insert_bore) {
        (Some(insert), Some(bore)) => {
            body.cut("insert bore", [service, stations.ring_front], disc(bore));
            let fit = actuator.design.printer.ring_insert;
            let from = service - housing.spigot_length;
            if let Some(screws) = &actuator.joints.ring_insert {
                for angle in spread(insert.lobe_count, screws.first_angle) {
                    let pocket: Region = disc_at(insert.lobe_distance, angle, 2.0 * insert.lobe_radius + fit);
                    body.cut("lobe pocket", [from, stations.ring_front], pocket);
                }
            }
        }
        _ => {
            let ends = [End::Free, End::Free];
            super::ring_insert::teeth(actuator).make(body, [service, stations.ring_front], ends)?;
        }
    }
    Ok(())
}

fn screws(actuator: &Actuator, body: &mut Body) {
    let (housing, stations, joints) = (&actuator.housing, &actuator.stations, &actuator.joints);
    shapes::clearance_holes(body, "J2 hole", &joints.service, [stations.service, stations.lip_front]);
    let keeper = &joints.keeper;
    shapes::insert_holes(
        body,
        "keeper insert",
        actuator,
        keeper,
        housing.seat_back,
        keeper.hole_depth(),
        Opening::Back,
    );
    if let Some(lobes) = &joints.ring_insert {
        shapes::insert_holes(
            body,
            "lobe insert",
            actuator,
            lobes,
            stations.ring_front,
            lobes.hole_depth(),
            Opening::Back,
        );
    }
}
