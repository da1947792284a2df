//! The fixed parts: base, stator mount, ring housing, keeper.

use std::f64::consts::TAU;

use crate::design::PartName;
use crate::layout::{Bolting, Enclosed, Vent};

use super::super::ring_housing::{RIM_HEIGHT, SEAT_LEAD_IN};
use super::super::vented_base::LEDGE_FLAT;
use super::section::{Print, Slab, Zone, chamfer, disc, flare, insert_holes, share};
use super::teeth;

/// Room around a chamfer's arithmetic at columns, whose outline is longer than the circle \[ratio\].
const LONGER: f64 = 1.5;

/// Angles at which two rings of sectors overlap, as a share of the circle.
fn overlap(one: &Bolting, one_half: f64, other: &Bolting, other_half: f64) -> f64 {
    let apart = |a: f64, b: f64| {
        let difference = a - b;
        libm::fabs(difference - TAU * (difference / TAU).round())
    };
    let pairs = one.angles().flat_map(|a| other.angles().map(move |b| apart(a, b)));
    pairs.map(|apart| (one_half + other_half - apart).clamp(0.0, 2.0 * one_half)).sum::<f64>() / TAU
}

/// Volume of the wall that a window takes.
fn window(vent: &Vent, bore: f64, wall: f64) -> f64 {
    let half = vent.width / bore.max(vent.width);
    // Through a round wall the way is longest at the window's sides.
    let slant = 1.0 / (1.0 - half * half).max(0.01).sqrt();
    let roof = ((vent.width - vent.ridge) / 2.0).min(vent.z[1] - vent.z[0]);
    let upright = vent.z[1] - vent.z[0] - roof;
    wall * slant * (vent.width * upright + (vent.width + vent.ridge) / 2.0 * roof)
}

pub fn base(of: &Enclosed) -> f64 {
    let Some(print) = Print::of(of.design, PartName::VentedBase) else { return 0.0 };
    let (base, stations) = (of.base, of.stations);
    let printer = &of.design.printer;
    let (bore, wall) = (base.bore / 2.0, base.outer / 2.0);
    let column_inner = base.column_inner_radius.min(bore);
    let column_outer = base.column_outer_radius.max(wall);
    let columns = share(of.stator_mount.count, base.column_half_angle);
    let slots = share(of.stator_mount.count, base.slot_half_angle).min(columns);
    let between = 1.0 - columns;
    let post = printer.post(base.standoffs.diameter);
    let standing = 4.0 * disc(post);

    // The wall, columns and standoffs go on over the floor's upper face.
    let walls = [Zone::new(between, bore, wall), Zone::new(columns, column_inner, column_outer)];
    let covered = disc(base.outer) - disc(base.bore)
        + columns * (disc(2.0 * column_outer) - disc(2.0 * column_inner))
        + standing;
    let floor = Slab {
        height: base.floor_thickness,
        zones: &[Zone::new(between, 0.0, wall), Zone::new(columns, 0.0, column_outer)],
        faces: 2.0,
        covered,
        holes: chamfer(2.0 * column_outer, printer.bed_chamfer) * LONGER,
        ..Slab::default()
    };
    let machine = of.machine;
    let mount = of.stator_mount;
    let inserts = insert_holes(machine.count, printer.hole(machine.hole_diameter()), machine.hole_depth())
        + insert_holes(mount.count, printer.hole(mount.hole_diameter()), mount.hole_depth());
    let ledge = base.ledge;
    let bay_height = stations.mount_back - base.floor_thickness;
    let ledge_height = if ledge > 0.0 { ledge + LEDGE_FLAT } else { 0.0 };
    let wall_below = Slab {
        height: bay_height - ledge_height,
        zones: &walls[..1],
        holes: base.cable_window.as_ref().map_or(0.0, |vent| window(vent, base.bore, base.wall)),
        ..Slab::default()
    };
    let boss_outer = base.boss_outer_radius.max(wall);
    let flares_end_above_bay = boss_outer - wall < stations.service - base.boss_height - stations.mount_back;
    // Columns: the slots above them lay their upper faces bare, but for the slots' sides.
    let count = f64::from(mount.count);
    let room = mount.radius() * libm::sin(base.column_half_angle) - print.inset;
    let around = |screws: &Bolting, within: f64| {
        walls[1].spared(&print, screws.radius(), printer.hole(screws.hole_diameter()), room) * within.max(0.0)
    };
    let (up, down) = (machine.hole_depth() - base.floor_thickness, mount.hole_depth() - print.skin);
    let sides = 2.0
        * (walls[1].along_side(&print, [0.0, bore]) * (bay_height - ledge_height - print.skin).max(0.0)
            + if flares_end_above_bay {
                walls[1].along_side(&print, [wall, f64::INFINITY]) * (bay_height - print.skin).max(0.0)
            } else {
                0.0
            });
    let column = Slab {
        height: bay_height,
        zones: &walls[1..],
        faces: 1.0,
        covered: (columns - slots) * (disc(2.0 * column_outer) - disc(base.bore)),
        spared: count
            * (sides + around(machine, up.min(bay_height - down)) + around(mount, down.min(bay_height))),
        holes: inserts,
    };
    // Over the ledge the wall is taken without what it gains, its core with all of it.
    let under_ledge = if ledge > 0.0 {
        let wide = Zone::new(between, bore - ledge, wall);
        let plain = Slab { height: ledge_height, zones: &walls[..1], ..Slab::default() };
        let with = Slab { height: ledge_height, zones: &[wide], ..Slab::default() };
        let missing = between * (disc(base.bore) - disc(base.bore - 2.0 * ledge)) * (ledge / 2.0);
        // Half of the underside is air; plain has neither its plastic nor its core.
        f64::min(plain.plastic(&print), with.plastic(&print) - missing)
    } else {
        0.0
    };

    let bosses_alone = share(of.service.count, base.boss_half_angle);
    let bosses =
        bosses_alone - overlap(of.service, base.boss_half_angle, of.stator_mount, base.column_half_angle);
    let bosses = bosses.clamp(0.0, between);
    let top = f64::max(base.boss_height, base.mouth_depth);
    let chamber = stations.service - stations.mount_back;
    let chamber_zones = [
        Zone::new(between, bore, wall),
        Zone::new(columns - slots, bore, column_outer),
        Zone::new(slots, base.slot_radius, column_outer),
    ];
    let lower = Slab {
        height: chamber - top,
        zones: &chamber_zones,
        holes: base.vents.iter().map(|vent| window(vent, base.bore, base.wall)).sum(),
        ..Slab::default()
    };
    let upper_zones = |inner: f64, outer: f64| {
        [
            Zone::new(between - bosses, inner, outer),
            Zone::new(bosses, inner, boss_outer.max(outer)),
            Zone::new(columns - slots, inner, column_outer.max(outer)),
            Zone::new(slots, base.slot_radius, column_outer.max(outer)),
        ]
    };
    let service_holes =
        insert_holes(of.service.count, printer.hole(of.service.hole_diameter()), of.service.hole_depth());
    let boss_zones = upper_zones(bore, wall);
    let under_mouth = Slab {
        height: if base.boss_height > base.mouth_depth { top - base.mouth_depth } else { 0.0 },
        zones: &boss_zones,
        holes: service_holes,
        spared: {
            let hole = printer.hole(of.service.hole_diameter());
            let room = of.service.radius() * libm::sin(base.boss_half_angle) - print.inset;
            let free = [f64::max(wall, base.mouth_outer / 2.0), f64::INFINITY];
            let each = boss_zones[1].spared(&print, of.service.radius(), hole, room)
                + 2.0 * boss_zones[1].along_side(&print, free);
            let deep =
                (of.service.hole_depth() - base.mouth_depth).clamp(0.0, (top - base.mouth_depth).max(0.0));
            // Where bosses run into columns, neither is whole.
            if bosses >= bosses_alone { f64::from(of.service.count) * each * deep } else { 0.0 }
        },
        ..Slab::default()
    };
    let foot = stations.service - base.boss_height;
    let room_below = foot - (stations.mount_back);
    let flares =
        if boss_outer - wall < room_below { flare(&print, bosses, bore, [wall, boss_outer]) } else { 0.0 };
    let mouth_zones =
        upper_zones(base.mouth_bore.max(base.bore) / 2.0, base.mouth_outer.max(base.outer) / 2.0);
    let mouth = Slab { height: base.mouth_depth, zones: &mouth_zones, faces: 1.0, ..Slab::default() };

    let post_wall = Zone::ring(printer.hole(base.standoffs.hole), post);
    let posts = |zone: Zone| {
        Slab { height: stations.board_back - base.floor_thickness, zones: &[zone], ..Slab::default() }
            .plastic(&print)
    };
    let standoffs = 4.0
        * f64::min(
            posts(post_wall),
            posts(Zone::ring(0.0, post))
                - insert_holes(1, printer.hole(base.standoffs.hole), base.standoffs.hole_depth),
        );

    let slabs = [floor, wall_below, column, lower, under_mouth, mouth];
    let plastic: f64 = slabs.iter().map(|slab| slab.plastic(&print)).sum();
    print.mass(plastic + under_ledge + flares + standoffs.max(0.0))
}

pub fn mount(of: &Enclosed) -> f64 {
    let Some(print) = Print::of(of.design, PartName::StatorMount) else { return 0.0 };
    let mount = of.mount;
    let by = of.design.printer.bed_chamfer;
    let ears = share(of.stator_mount.count, mount.ear_half_angle);
    let (hole, rim) = (mount.centre_hole / 2.0, mount.disc_diameter / 2.0);
    let zones = [
        Zone::new(1.0 - ears, hole, rim),
        // The screws' holes lie in the ears, or nearly: the whole of each is taken off below.
        Zone::new(ears, hole, mount.ear_radius.max(rim)),
    ];
    let slot = &mount.wire_slot;
    let wires = (slot.outer_radius.powi(2) - slot.inner_radius.powi(2)).abs() * slot.half_angle;
    let motor = of.motor_to_mount;
    let (recess, depth) = mount.recess;
    let heads =
        f64::from(motor.count) * (disc(recess) * depth + disc(motor.clearance) * (mount.thickness - depth));
    let ear_holes = f64::from(of.stator_mount.count) * disc(of.stator_mount.clearance) * mount.thickness;
    let plate = Slab {
        height: mount.thickness,
        zones: &zones,
        faces: 2.0,
        holes: heads
            + ear_holes
            + wires * mount.thickness
            + chamfer(2.0 * mount.ear_radius.max(rim), by) * LONGER,
        ..Slab::default()
    };
    print.mass(plate.plastic(&print))
}

pub fn housing(of: &Enclosed) -> f64 {
    let Some(print) = Print::of(of.design, PartName::RingHousing) else { return 0.0 };
    let (housing, stations, screws) = (of.housing, of.stations, of.service);
    let printer = &of.design.printer;
    let tube = housing.tube_diameter / 2.0;
    let column = housing.column_radius.max(tube);
    let columns = share(screws.count, housing.column_half_angle).min(1.0);
    let covers = share(of.stator_mount.count, housing.cover_half_angle)
        - overlap(of.stator_mount, housing.cover_half_angle, screws, housing.column_half_angle);
    let covers = covers.clamp(0.0, 1.0 - columns);
    let rim = f64::max(housing.rim_diameter / 2.0, tube);
    let cover = housing.cover_radius.max(rim);
    let cut = of.ring_insert.is_none();
    let growth = printer.tooth_growth.max(0.0);
    let ring_bore = if cut {
        of.stage.ring.root_diameter / 2.0 + growth
    } else {
        housing.insert_bore.unwrap_or(0.0) / 2.0
    };

    // Around a service screw's hole the perimeters take what would be core.
    let hole = screws.clearance;
    let height = |from: f64, to: f64| (to - from).max(0.0);
    let plain = |inner: f64| [Zone::new(1.0 - columns, inner, tube), Zone::new(columns, inner, column)];
    // Columns over the lobes of a ring insert stand beside the service columns: what is free there isn't known.
    let room = screws.radius() * libm::sin(housing.column_half_angle) - print.inset;
    let spared = |zone: &Zone, height: f64| {
        let sides = 2.0 * zone.along_side(&print, [tube, f64::INFINITY]);
        let each = zone.spared(&print, screws.radius(), hole, room) + sides;
        if cut { f64::from(screws.count) * each * height.max(0.0) } else { 0.0 }
    };
    let lobes = of.ring_insert.map_or(0.0, |insert| {
        let pocket = 2.0 * insert.lobe_radius + printer.ring_insert;
        f64::from(insert.lobe_count) * disc(pocket)
    });
    let lobe_inserts = of
        .lobe_screws
        .map_or(0.0, |lobe| insert_holes(lobe.count, printer.hole(lobe.hole_diameter()), lobe.hole_depth()));

    let spigot = Slab {
        height: housing.spigot_length,
        zones: &[Zone::ring(housing.spigot_bore, housing.spigot_diameter)],
        faces: 1.0,
        holes: lobes * housing.spigot_length,
        ..Slab::default()
    };
    let ring_height = height(stations.service, stations.ring_front);
    let rim_zones = [
        Zone::new(1.0 - columns - covers, ring_bore, rim),
        Zone::new(covers, ring_bore, cover),
        Zone::new(columns, ring_bore, column.max(rim)),
    ];
    let rims = Slab {
        height: RIM_HEIGHT.min(ring_height),
        zones: &rim_zones,
        faces: 1.0,
        covered: disc(housing.spigot_diameter) - disc(housing.spigot_bore),
        holes: lobes * ring_height + lobe_inserts,
        ..Slab::default()
    };
    let ring_zones = plain(ring_bore);
    let above_rim = ring_height - RIM_HEIGHT.min(ring_height);
    // Rim and covers fall back at 45 degrees.
    let rim_flare = f64::max(rim, cover) - tube;
    let flares = if rim_flare < above_rim {
        flare(&print, 1.0 - columns - covers, ring_bore, [tube, rim])
            + flare(&print, covers, ring_bore, [tube, cover])
    } else {
        0.0
    };
    let ring = Slab {
        height: above_rim,
        zones: &ring_zones,
        spared: spared(&ring_zones[1], above_rim - rim_flare),
        ..Slab::default()
    };
    let free_zones = plain(housing.free_bore / 2.0);
    let free_height = height(stations.ring_front, housing.seat_back);
    let free = Slab {
        height: free_height,
        zones: &free_zones,
        spared: spared(&free_zones[1], free_height),
        ..Slab::default()
    };
    let keeper = of.keeper_screws;
    let seat_zones = plain(housing.seat / 2.0);
    let seat_height = height(housing.seat_back, stations.bearing_front);
    // The keeper's inserts, as far as the service screws' perimeters don't reach.
    let service_reach = screws.radius() - hole / 2.0;
    let around_inserts = Zone::new(1.0, housing.seat / 2.0, f64::min(tube, service_reach));
    let insert = printer.hole(keeper.hole_diameter());
    let inserts_spared = f64::from(keeper.count)
        * around_inserts.spared(&print, keeper.radius(), insert, f64::INFINITY)
        * keeper.hole_depth().min(seat_height);
    let seat = Slab {
        height: seat_height,
        zones: &seat_zones,
        spared: spared(&seat_zones[1], seat_height) + if cut { inserts_spared } else { 0.0 },
        holes: insert_holes(keeper.count, printer.hole(keeper.hole_diameter()), keeper.hole_depth())
            + chamfer(housing.seat, SEAT_LEAD_IN),
        ..Slab::default()
    };
    let lip_zones = plain(housing.lip_bore / 2.0);
    let lip = Slab {
        height: height(stations.bearing_front, stations.lip_front),
        zones: &lip_zones,
        faces: 1.0,
        spared: spared(&lip_zones[1], stations.lip_front - stations.bearing_front - print.skin),
        holes: chamfer(2.0 * column, printer.bed_chamfer) * LONGER
            + chamfer(housing.lip_bore, printer.bed_chamfer),
        ..Slab::default()
    };
    let through = f64::from(screws.count) * disc(hole) * height(stations.service, stations.lip_front);
    let teeth = if cut { teeth::plastic(of.design, &of.stage.ring, ring_height) } else { 0.0 };
    let slabs = [spigot, rims, ring, free, seat, lip];
    let plastic: f64 = slabs.iter().map(|slab| slab.plastic(&print)).sum();
    print.mass(plastic + flares + teeth - through)
}

pub fn keeper(of: &Enclosed) -> f64 {
    let Some(print) = Print::of(of.design, PartName::BearingKeeper) else { return 0.0 };
    let (keeper, screws) = (of.keeper, of.keeper_screws);
    let by = of.design.printer.bed_chamfer;
    let pocket = screws.head_pocket();
    // An open pocket goes on to the rim.
    let open =
        if keeper.open_pockets { pocket * (keeper.outer / 2.0 - screws.radius()).max(0.0) } else { 0.0 };
    let depth = keeper.head_pocket_depth.min(keeper.thickness);
    let each = (disc(pocket) + open) * depth + disc(screws.clearance) * (keeper.thickness - depth);
    let ring = Slab {
        height: keeper.thickness,
        zones: &[Zone::ring(keeper.bore, keeper.outer)],
        faces: 2.0,
        holes: f64::from(screws.count) * each + chamfer(keeper.outer, by) + chamfer(keeper.bore, by),
        ..Slab::default()
    };
    print.mass(ring.plastic(&print))
}
