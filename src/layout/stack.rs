//! Heights: from the service plane up to the lip, then everything from the mounting face on.

use crate::design::Design;

use super::actuator::{Keeper, MagnetCup, Stations, SunJoint};
use super::base::{self, Bay};
use super::carrier;
use super::housing;
use super::planet::{RING_OVERHANG, SIDE_GAP};
use super::sun::SunDrive;

/// Step between plate and bearing where the plate turns inside the keeper.
const NESTED_STEP: f64 = 1.0;
/// A link swings this far over the service screws' heads.
const OVER_HEADS: f64 = 1.0;

/// Heights over the service plane.
pub struct Rise {
    pub planet_front: f64,
    pub plate_front: f64,
    pub bearing_back: f64,
    pub bearing_front: f64,
    pub lip_front: f64,
}

impl Rise {
    /// Planets, plate, bearing and lip over the service plane, where the ring begins.
    pub fn of(design: &Design, plate_thickness: f64, nests: bool, keeper: &Keeper) -> Rise {
        let running = design.printer.running_axial;
        let planet_front = RING_OVERHANG + design.gearset.face_width;
        let plate_front = planet_front + SIDE_GAP + plate_thickness;
        let step = if nests { NESTED_STEP } else { keeper.thickness + running };
        // Planets must also clear the keeper.
        let over_planets = planet_front + running + keeper.thickness - housing::seat_shy(design);
        let bearing_back = f64::max(plate_front + step, over_planets);
        let bearing_front = bearing_back + housing::output_rings(design);
        Rise {
            planet_front,
            plate_front,
            bearing_back,
            bearing_front,
            lip_front: bearing_front + housing::LIP,
        }
    }
}

/// What stands on the bay, bottom to top.
pub struct Column<'a> {
    pub bay: &'a Bay,
    pub drive: &'a SunDrive,
    pub back_plate_thickness: f64,
    pub rise: &'a Rise,
    pub keeper: &'a Keeper,
    pub cup: &'a MagnetCup,
    pub service_head: f64,
}

/// What stands on the bay, as little of it as there can be.
pub struct LeastColumn {
    pub mount_back: f64,
    pub disc_thickness: f64,
    pub back_plate_thickness: f64,
    pub plate_thickness: f64,
    pub service_head: f64,
}

/// Service plane, and the output face that nothing undercuts, without the bearings: as [`stations`], with the plate nested and
/// the least keeper where it does not.
pub fn least_height(design: &Design, column: &LeastColumn) -> (f64, f64) {
    let running = design.printer.running_axial;
    let mount_front = column.mount_back + base::MOUNT_THICKNESS;
    let back_plate_back = mount_front + design.motor.height + column.disc_thickness + running;
    let service = back_plate_back + column.back_plate_thickness + SIDE_GAP - RING_OVERHANG;
    let planet_front = RING_OVERHANG + design.gearset.face_width;
    let step = f64::min(NESTED_STEP, housing::LEAST_KEEPER + running);
    let over_plate = planet_front + SIDE_GAP + column.plate_thickness + step;
    let over_planets = planet_front + running + housing::LEAST_KEEPER - housing::most_seat_shy(design);
    let rise = f64::max(over_plate, over_planets) + housing::LIP;
    (service, service + rise + column.service_head + OVER_HEADS)
}

/// End of the shaft, on which the magnet cup sits.
pub fn shaft_end(design: &Design, bay: &Bay) -> f64 {
    bay.mount_back + base::MOUNT_THICKNESS - design.motor.shaft_extension
}

/// Every height of the actuator.
pub fn stations(design: &Design, column: &Column) -> Stations {
    let Column { bay, drive, rise, keeper, .. } = column;
    let running = design.printer.running_axial;
    let mount_front = bay.mount_back + base::MOUNT_THICKNESS;
    let rotor_front = mount_front + design.motor.height;
    let adapter_front = rotor_front + drive.adapter.disc_thickness;
    let back_plate_back = adapter_front + running;
    let back_plate_front = back_plate_back + column.back_plate_thickness;
    let planet_back = back_plate_front + SIDE_GAP;
    let boss_front = planet_back - running;
    let service = planet_back - RING_OVERHANG;
    let planet_front = service + rise.planet_front;
    let bearing_back = service + rise.bearing_back;
    let bearing_front = service + rise.bearing_front;
    let lip_front = service + rise.lip_front;
    Stations {
        floor: base::FLOOR_THICKNESS,
        board_back: bay.board_back,
        board_front: bay.board_front,
        sensor_front: bay.sensor_front,
        magnet_back: bay.magnet_back,
        shaft_end: shaft_end(design, bay),
        cup_front: bay.magnet_back + column.cup.length,
        mount_back: bay.mount_back,
        mount_front,
        rotor_front,
        adapter_front,
        boss_front,
        sun_back: match drive.sun.joint {
            SunJoint::Socket { depth } => boss_front - depth,
            SunJoint::OnePiece => boss_front,
        },
        plate_back: planet_front + SIDE_GAP,
        back_plate_back,
        back_plate_front,
        service,
        planet_back,
        planet_front,
        ring_front: planet_front + RING_OVERHANG,
        plate_front: service + rise.plate_front,
        keeper_back: bearing_back + housing::seat_shy(design) - keeper.thickness,
        bearing_back,
        bearing_front,
        hub_front: bearing_front - carrier::hub_shy(design),
        lip_front,
        flange_back: lip_front + running,
        output_face: lip_front + column.service_head + OVER_HEADS,
    }
}
