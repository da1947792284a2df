//! The ring housing and the keeper in it.

use crate::design::PartName;
use crate::layout::Enclosed;

use super::super::ring_housing::{RIM_HEIGHT, SEAT_LEAD_IN};
use super::section::{LONGER, Print, Slab, Zone, chamfer, disc, flare, insert_holes, overlap, share};
use super::teeth;

pub fn housing(of: &Enclosed) -> f64 {
    let Some(print) = Print::of(of.design, PartName::RingHousing) else { return 0.0 };
    let housing = Housing::of(of, &print);
    let plastic = housing.spigot() + housing.ring() + housing.free() + housing.seat() + housing.lip();
    print.mass(plastic - housing.service_holes())
}

/// The housing by its angles: service columns, and the tube between.
struct Housing<'a> {
    of: &'a Enclosed<'a>,
    print: &'a Print,
    /// Outside of tube and columns.
    tube: f64,
    column: f64,
    /// Shares of the circle: service columns, covers clear of them.
    columns: f64,
    covers: f64,
    /// Teeth are cut into it: there are no lobes of an insert.
    is_cut: bool,
}

impl<'a> Housing<'a> {
    fn of(of: &'a Enclosed<'a>, print: &'a Print) -> Housing<'a> {
        let housing = of.housing;
        let tube = housing.tube_diameter / 2.0;
        let columns = share(of.service.count, housing.column_half_angle).min(1.0);
        let covers = share(of.stator_mount.count, housing.cover_half_angle)
            - overlap(of.stator_mount, housing.cover_half_angle, of.service, housing.column_half_angle);
        Housing {
            of,
            print,
            tube,
            column: housing.column_radius.max(tube),
            columns,
            covers: covers.clamp(0.0, 1.0 - columns),
            is_cut: of.ring_insert.is_none(),
        }
    }

    fn zones(&self, inner: f64) -> [Zone; 2] {
        [Zone::new(1.0 - self.columns, inner, self.tube), Zone::new(self.columns, inner, self.column)]
    }

    /// What perimeters along the columns' sides and around the service screws' holes take of the core. Columns over the lobes
    /// of an insert stand beside the service columns: what is free there isn't known.
    fn spared(&self, inner: f64, height: f64) -> f64 {
        let screws = self.of.service;
        if !self.is_cut {
            return 0.0;
        }
        let [_, zone] = self.zones(inner);
        let room = screws.radius() * libm::sin(self.of.housing.column_half_angle) - self.print.inset;
        let each = zone.spared(self.print, screws.radius(), screws.clearance, room)
            + 2.0 * zone.along_side(self.print, [self.tube, f64::INFINITY]);
        f64::from(screws.count) * each * height.max(0.0)
    }

    /// The same section all the way.
    fn stretch(&self, inner: f64, height: f64, holes: f64) -> f64 {
        let height = height.max(0.0);
        let zones = self.zones(inner);
        Slab { height, zones: &zones, spared: self.spared(inner, height), holes, ..Slab::default() }
            .plastic(self.print)
    }

    /// Area of the pockets for an insert's lobes.
    fn lobes(&self) -> f64 {
        self.of.ring_insert.map_or(0.0, |insert| {
            let pocket = 2.0 * insert.lobe_radius + self.of.design.printer.ring_insert;
            f64::from(insert.lobe_count) * disc(pocket)
        })
    }

    fn spigot(&self) -> f64 {
        let housing = self.of.housing;
        Slab {
            height: housing.spigot_length,
            zones: &[Zone::ring(housing.spigot_bore, housing.spigot_diameter)],
            faces: 1.0,
            holes: self.lobes() * housing.spigot_length,
            ..Slab::default()
        }
        .plastic(self.print)
    }

    /// From the service plane to the front of the ring: rim and covers, their flares, the tube; the teeth.
    fn ring(&self) -> f64 {
        let (of, housing, stations) = (self.of, self.of.housing, self.of.stations);
        let printer = &of.design.printer;
        let bore = if self.is_cut {
            of.stage.ring.root_diameter / 2.0 + printer.tooth_growth.max(0.0)
        } else {
            housing.insert_bore.unwrap_or(0.0) / 2.0
        };
        let whole = (stations.ring_front - stations.service).max(0.0);
        let rim_height = RIM_HEIGHT.min(whole);
        let rim = f64::max(housing.rim_diameter / 2.0, self.tube);
        let cover = housing.cover_radius.max(rim);
        let between = 1.0 - self.columns - self.covers;
        let lobe_inserts = of.lobe_screws.map_or(0.0, |lobe| {
            insert_holes(lobe.count, printer.hole(lobe.hole_diameter()), lobe.hole_depth())
        });
        let rims = Slab {
            height: rim_height,
            zones: &[
                Zone::new(between, bore, rim),
                Zone::new(self.covers, bore, cover),
                Zone::new(self.columns, bore, self.column.max(rim)),
            ],
            faces: 1.0,
            covered: disc(housing.spigot_diameter) - disc(housing.spigot_bore),
            holes: self.lobes() * whole + lobe_inserts,
            ..Slab::default()
        };
        let above = whole - rim_height;
        let falling = cover - self.tube;
        let flares = if falling < above {
            flare(self.print, between, bore, [self.tube, rim])
                + flare(self.print, self.covers, bore, [self.tube, cover])
        } else {
            0.0
        };
        let tube = Slab {
            height: above,
            zones: &self.zones(bore),
            // Rim and covers lie along the columns' sides as far as they fall back.
            spared: self.spared(bore, above - falling),
            ..Slab::default()
        };
        let teeth = if self.is_cut { teeth::plastic(of.design, &of.stage.ring, whole) } else { 0.0 };
        rims.plastic(self.print) + flares + tube.plastic(self.print) + teeth
    }

    /// Between ring and seat.
    fn free(&self) -> f64 {
        let housing = self.of.housing;
        self.stretch(housing.free_bore / 2.0, housing.seat_back - self.of.stations.ring_front, 0.0)
    }

    fn seat(&self) -> f64 {
        let (housing, keeper, screws) = (self.of.housing, self.of.keeper_screws, self.of.service);
        let inner = housing.seat / 2.0;
        let height = (self.of.stations.bearing_front - housing.seat_back).max(0.0);
        let hole = self.of.design.printer.hole(keeper.hole_diameter());
        // Around the keeper's inserts, as far as the service screws' perimeters don't reach.
        let reach = f64::min(self.tube, screws.radius() - screws.clearance / 2.0);
        let each = Zone::new(1.0, inner, reach).spared(self.print, keeper.radius(), hole, f64::INFINITY);
        let around = f64::from(keeper.count) * each * keeper.hole_depth().min(height);
        Slab {
            height,
            zones: &self.zones(inner),
            spared: self.spared(inner, height) + if self.is_cut { around } else { 0.0 },
            holes: insert_holes(keeper.count, hole, keeper.hole_depth())
                + chamfer(housing.seat, SEAT_LEAD_IN),
            ..Slab::default()
        }
        .plastic(self.print)
    }

    fn lip(&self) -> f64 {
        let (housing, stations) = (self.of.housing, self.of.stations);
        let by = self.of.design.printer.bed_chamfer;
        let inner = housing.lip_bore / 2.0;
        let height = (stations.lip_front - stations.bearing_front).max(0.0);
        Slab {
            height,
            zones: &self.zones(inner),
            faces: 1.0,
            spared: self.spared(inner, height - self.print.skin),
            holes: chamfer(2.0 * self.column, by) * LONGER + chamfer(housing.lip_bore, by),
            ..Slab::default()
        }
        .plastic(self.print)
    }

    fn service_holes(&self) -> f64 {
        let (screws, stations) = (self.of.service, self.of.stations);
        f64::from(screws.count) * disc(screws.clearance) * (stations.lip_front - stations.service).max(0.0)
    }
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
