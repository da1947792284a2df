//! The vented base and the stator mount in it.

use crate::design::PartName;
use crate::layout::{Bolting, Enclosed, Vent};

use super::super::vented_base::LEDGE_FLAT;
use super::section::{LONGER, Print, Slab, Zone, chamfer, disc, flare, insert_holes, overlap, share};

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
    let base = Base::of(of, &print);
    let plastic = base.floor() + base.bay() + base.columns() + base.ledge() + base.chamber();
    print.mass(plastic + base.top() + base.standoffs())
}

/// The base by its angles: columns, bosses, and the wall between.
struct Base<'a> {
    of: &'a Enclosed<'a>,
    print: &'a Print,
    /// Radii of the wall.
    bore: f64,
    wall: f64,
    /// Radii of the columns.
    inner: f64,
    outer: f64,
    boss_outer: f64,
    /// Shares of the circle: columns, the slots over them, bosses clear of columns.
    columns: f64,
    slots: f64,
    bosses: f64,
    /// Bosses run into no column.
    apart: bool,
    /// The bosses' flares end above the bay.
    clear_of_bay: bool,
}

impl<'a> Base<'a> {
    fn of(of: &'a Enclosed<'a>, print: &'a Print) -> Base<'a> {
        let (base, stations) = (of.base, of.stations);
        let (bore, wall) = (base.bore / 2.0, base.outer / 2.0);
        let columns = share(of.stator_mount.count, base.column_half_angle);
        let bosses = share(of.service.count, base.boss_half_angle);
        let overlap = overlap(of.service, base.boss_half_angle, of.stator_mount, base.column_half_angle);
        let boss_outer = base.boss_outer_radius.max(wall);
        let room = stations.service - base.boss_height - stations.mount_back;
        Base {
            of,
            print,
            bore,
            wall,
            inner: base.column_inner_radius.min(bore),
            outer: base.column_outer_radius.max(wall),
            boss_outer,
            columns,
            slots: share(of.stator_mount.count, base.slot_half_angle).min(columns),
            bosses: (bosses - overlap).clamp(0.0, 1.0 - columns),
            apart: overlap <= 0.0,
            clear_of_bay: boss_outer - wall < room,
        }
    }

    /// The wall between columns, and the columns, in the bay.
    fn walls(&self) -> [Zone; 2] {
        [Zone::new(1.0 - self.columns, self.bore, self.wall), Zone::new(self.columns, self.inner, self.outer)]
    }

    fn floor(&self) -> f64 {
        let (base, printer) = (self.of.base, &self.of.design.printer);
        // Wall, columns and standoffs go on over its upper face.
        let covered = disc(base.outer) - disc(base.bore)
            + self.columns * (disc(2.0 * self.outer) - disc(2.0 * self.inner))
            + 4.0 * disc(printer.post(base.standoffs.diameter));
        Slab {
            height: base.floor_thickness,
            zones: &[Zone::new(1.0 - self.columns, 0.0, self.wall), Zone::new(self.columns, 0.0, self.outer)],
            faces: 2.0,
            covered,
            holes: chamfer(2.0 * self.outer, printer.bed_chamfer) * LONGER,
            ..Slab::default()
        }
        .plastic(self.print)
    }

    fn bay_height(&self) -> f64 {
        self.of.stations.mount_back - self.of.base.floor_thickness
    }

    fn ledge_height(&self) -> f64 {
        let ledge = self.of.base.ledge;
        if ledge > 0.0 { ledge + LEDGE_FLAT } else { 0.0 }
    }

    /// The wall up to the ledge.
    fn bay(&self) -> f64 {
        let base = self.of.base;
        Slab {
            height: self.bay_height() - self.ledge_height(),
            zones: &self.walls()[..1],
            holes: base.cable_window.as_ref().map_or(0.0, |vent| window(vent, base.bore, base.wall)),
            ..Slab::default()
        }
        .plastic(self.print)
    }

    /// Columns: the slots above lay their upper faces bare, but for the slots' sides.
    fn columns(&self) -> f64 {
        let (of, base, printer) = (self.of, self.of.base, &self.of.design.printer);
        let (machine, mount) = (of.machine, of.stator_mount);
        let [_, column] = self.walls();
        let hole = |screws: &Bolting| printer.hole(screws.hole_diameter());
        let under_skin = (self.bay_height() - self.print.skin).max(0.0);
        let inside = column.along_side(self.print, [0.0, self.bore]);
        let outside =
            if self.clear_of_bay { column.along_side(self.print, [self.wall, f64::INFINITY]) } else { 0.0 };
        let sides = 2.0 * (inside * (under_skin - self.ledge_height()).max(0.0) + outside * under_skin);
        let room = mount.radius() * libm::sin(base.column_half_angle) - self.print.inset;
        let around = |screws: &Bolting, deep: f64| {
            column.spared(self.print, screws.radius(), hole(screws), room)
                * deep.clamp(0.0, self.bay_height())
        };
        let down = mount.hole_depth() - self.print.skin;
        let up = f64::min(machine.hole_depth() - base.floor_thickness, self.bay_height() - down);
        Slab {
            height: self.bay_height(),
            zones: &[column],
            faces: 1.0,
            covered: (self.columns - self.slots) * (disc(2.0 * self.outer) - disc(base.bore)),
            spared: f64::from(mount.count) * (sides + around(machine, up) + around(mount, down)),
            holes: insert_holes(machine.count, hole(machine), machine.hole_depth())
                + insert_holes(mount.count, hole(mount), mount.hole_depth()),
        }
        .plastic(self.print)
    }

    /// The wall at the ledge: plain, or with half of the ledge's volume and all of its core, whichever is less.
    fn ledge(&self) -> f64 {
        let (ledge, height, between) = (self.of.base.ledge, self.ledge_height(), 1.0 - self.columns);
        let plastic = |zone: Zone| Slab { height, zones: &[zone], ..Slab::default() }.plastic(self.print);
        let missing = between * (disc(2.0 * self.bore) - disc(2.0 * (self.bore - ledge))) * (ledge / 2.0);
        let with = plastic(Zone::new(between, self.bore - ledge, self.wall)) - missing;
        f64::min(plastic(self.walls()[0]), with)
    }

    /// From the bay to where the bosses begin.
    fn chamber(&self) -> f64 {
        let (base, stations) = (self.of.base, self.of.stations);
        let zones = [
            Zone::new(1.0 - self.columns, self.bore, self.wall),
            Zone::new(self.columns - self.slots, self.bore, self.outer),
            Zone::new(self.slots, base.slot_radius, self.outer),
        ];
        let flares = if self.clear_of_bay {
            flare(self.print, self.bosses, self.bore, [self.wall, self.boss_outer])
        } else {
            0.0
        };
        let wall = Slab {
            height: stations.service - stations.mount_back - self.top_height(),
            zones: &zones,
            holes: base.vents.iter().map(|vent| window(vent, base.bore, base.wall)).sum(),
            ..Slab::default()
        };
        wall.plastic(self.print) + flares
    }

    /// Of bosses or mouth, whichever reach deeper.
    fn top_height(&self) -> f64 {
        f64::max(self.of.base.boss_height, self.of.base.mouth_depth)
    }

    /// Bosses and mouth.
    fn top(&self) -> f64 {
        let (of, base) = (self.of, self.of.base);
        let service = of.service;
        let zones = |inner: f64, outer: f64| {
            [
                Zone::new(1.0 - self.columns - self.bosses, inner, outer),
                Zone::new(self.bosses, inner, self.boss_outer.max(outer)),
                Zone::new(self.columns - self.slots, inner, self.outer.max(outer)),
                Zone::new(self.slots, base.slot_radius, self.outer.max(outer)),
            ]
        };
        let below =
            if base.boss_height > base.mouth_depth { base.boss_height - base.mouth_depth } else { 0.0 };
        let boss_zones = zones(self.bore, self.wall);
        let hole = of.design.printer.hole(service.hole_diameter());
        let room = service.radius() * libm::sin(base.boss_half_angle) - self.print.inset;
        let free = [f64::max(self.wall, base.mouth_outer / 2.0), f64::INFINITY];
        let each = boss_zones[1].spared(self.print, service.radius(), hole, room)
            + 2.0 * boss_zones[1].along_side(self.print, free);
        let deep = (service.hole_depth() - base.mouth_depth).clamp(0.0, below);
        let bosses = Slab {
            height: below,
            zones: &boss_zones,
            // Where bosses run into columns, neither is whole.
            spared: if self.apart { f64::from(service.count) * each * deep } else { 0.0 },
            holes: insert_holes(service.count, hole, service.hole_depth()),
            ..Slab::default()
        };
        let mouth_zones = zones(base.mouth_bore.max(base.bore) / 2.0, base.mouth_outer.max(base.outer) / 2.0);
        let mouth = Slab { height: base.mouth_depth, zones: &mouth_zones, faces: 1.0, ..Slab::default() };
        bosses.plastic(self.print) + mouth.plastic(self.print)
    }

    /// Drilled through or not at all, whichever is less.
    fn standoffs(&self) -> f64 {
        let (standoffs, printer) = (&self.of.base.standoffs, &self.of.design.printer);
        let (hole, post) = (printer.hole(standoffs.hole), printer.post(standoffs.diameter));
        let height = self.of.stations.board_back - self.of.base.floor_thickness;
        let plastic = |inner: f64| {
            Slab { height, zones: &[Zone::ring(inner, post)], ..Slab::default() }.plastic(self.print)
        };
        let drilled = plastic(0.0) - insert_holes(1, hole, standoffs.hole_depth);
        4.0 * f64::min(plastic(hole), drilled).max(0.0)
    }
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
