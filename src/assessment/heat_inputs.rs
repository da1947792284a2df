//! What the heat network needs of a laid-out actuator: areas, walls, stored heat.
//!
//! Assumptions, each stated where it is made: what a motor doesn't say is estimated from its mass and size; the base alone
//! counts as a wall (ring housing and machine take no heat); walls and plate print solid.

use std::f64::consts::{PI, TAU};

use crate::design::{PartName, PartSettings};
use crate::layout::{Actuator, Enclosed};
use crate::ratings::heat::estimate::{self, MAGNET_GAP, MotorHeat};
use crate::ratings::heat::inputs::{
    Capacities, HeatInputs, Limits, Openings, Plate, Rotor, Stator, Surroundings, Wall,
};

/// Wall of the stator's carrier around its screws \[mm\].
const CONTACT_WALL: f64 = 3.0;
/// Gap that no fit shuts: between rim of plate and base \[mm\].
const LEAST_GAP: f64 = 0.05;
/// Laminate, copper and parts of a board \[J/(kg K)\] (from memory).
const BOARD_HEAT: f64 = 900.0;
/// Air inside \[J/(mm3 K)\].
const AIR_HEAT: f64 = 1.2e-6;
/// Share of the stator's end that is bare copper and iron, not carrier (common practice, no source).
const BARE_END: f64 = 0.6;
/// g/cm3 times mm3 is 1e-6 kg.
const DENSITY: f64 = 1e-6;

/// The inputs of one actuator.
pub fn heat_inputs(actuator: &Actuator) -> HeatInputs {
    enclosed_inputs(&Enclosed::of(actuator))
}

/// The same where the output side isn't laid out yet.
pub fn enclosed_inputs(actuator: &Enclosed) -> HeatInputs {
    let (design, base) = (actuator.design, actuator.base);
    let (motor, stations) = (&design.motor, actuator.stations);
    let estimated = estimate::motor_heat(motor.mass, motor.outer_diameter, motor.height);
    let wall_print = design.settings(PartName::VentedBase);
    let plate_print = design.settings(PartName::StatorMount);
    HeatInputs {
        winding_to_mount: motor.thermal.winding_to_mount.unwrap_or(estimated.winding_to_mount),
        measured_mount_to_air: motor.thermal.mount_to_air,
        capacities: capacities(actuator, &estimated, wall_print, plate_print),
        stator: Stator {
            gap_area: estimated.gap_area,
            gap: MAGNET_GAP,
            open_area: BARE_END * disc(estimated.stator_diameter),
            height: estimated.stator_diameter,
        },
        rotor: Rotor {
            diameter: motor.outer_diameter,
            side_area: PI * motor.outer_diameter * motor.height,
            face_area: disc(motor.outer_diameter),
            gap: (base.bore - motor.outer_diameter) / 2.0,
        },
        openings: openings(actuator),
        plate: Plate {
            conductivity: plate_print.material.conductivity,
            thickness: actuator.mount.thickness,
            contact_radius: (motor.stator_bolts.circle + motor.stator_bolts.thread.nominal()) / 2.0
                + CONTACT_WALL,
            outer_radius: actuator.mount.disc_diameter / 2.0,
            rim_gap: f64::max((base.bore - actuator.mount.disc_diameter) / 2.0, LEAST_GAP),
        },
        wall: Wall {
            conductivity: wall_print.material.conductivity,
            thickness: base.wall,
            // Bay, and what is left of the chamber in front of the rotor.
            inside_area: PI * base.bore * (stations.service - stations.floor - motor.height).max(1.0),
            inside_height: (stations.mount_back - stations.floor).max(1.0),
            outside_area: PI * base.outer * stations.service,
            outside_diameter: base.outer,
        },
        ambient: Surroundings { temperature: design.ambient.temperature, airflow: design.ambient.airflow },
        limits: Limits {
            winding: motor.winding_limit,
            plate: plate_print.material.service_temperature,
            wall: wall_print.material.service_temperature,
        },
    }
}

/// Area of a disc \[mm2\].
fn disc(diameter: f64) -> f64 {
    PI * diameter * diameter / 4.0
}

/// Given values win; a given mount capacity holds the plate too.
fn capacities(
    actuator: &Enclosed,
    estimated: &MotorHeat,
    wall: &PartSettings,
    plate: &PartSettings,
) -> Capacities {
    let (design, base) = (actuator.design, actuator.base);
    let thermal = &design.motor.thermal;
    let plate_volume = disc(actuator.mount.disc_diameter) * actuator.mount.thickness;
    let wall_volume =
        PI * base.bore * base.wall * actuator.stations.service + disc(base.outer) * base.floor_thickness;
    let stored = |volume: f64, print: &PartSettings| {
        volume * print.material.density * DENSITY * print.material.specific_heat
    };
    let air = disc(base.bore) * (actuator.stations.service - actuator.stations.floor) * AIR_HEAT;
    Capacities {
        winding: thermal.winding_capacity.unwrap_or(estimated.winding_capacity),
        mount: thermal.mount_capacity.unwrap_or(estimated.stator_capacity + stored(plate_volume, plate)),
        rotor: estimated.rotor_capacity,
        air: air + design.controller.mass * BOARD_HEAT,
        wall: stored(wall_volume, wall),
    }
}

/// The windows in front of the rotor; air comes in past the rotor's gap, and half of them are the way out.
fn openings(actuator: &Enclosed) -> Openings {
    let (base, motor, stations) = (actuator.base, &actuator.design.motor, actuator.stations);
    let rotor = [stations.mount_front, stations.rotor_front];
    let seen = |z: [f64; 2]| (z[1].min(rotor[1]) - z[0].max(rotor[0])).max(0.0);
    let area: f64 = base.vents.iter().map(|vent| vent.width * seen(vent.z)).sum();
    let width = base.vents.iter().map(|vent| vent.width).fold(0.0, f64::max);
    let gap = (base.bore - motor.outer_diameter) / 2.0;
    let around = TAU * motor.outer_diameter / 2.0 * gap;
    Openings {
        // A turning wall can't be opened wider than it is.
        area: f64::min(area, PI * motor.outer_diameter * motor.height),
        width: f64::max(width, 1.0),
        passage: f64::min(area / 2.0, around),
        // The joint lies on its side: from its middle up.
        height: motor.outer_diameter / 4.0,
    }
}
