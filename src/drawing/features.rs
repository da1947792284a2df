//! What is to be inspected on each printed part: sizes as drawn, the class or tolerance, the size in the print file.

use std::f64::consts::PI;

use crate::assessment::fit_classes::FitClasses;
use crate::design::PartName;
use crate::layout::{Actuator, Bolting, PlanetSeat};
use crate::tables::fit::{Class, limits};

/// One size of a part.
#[derive(Clone, Debug)]
pub struct Feature {
    pub name: &'static str,
    pub size: f64,
    pub class: Option<Class>,
    /// At which it is printed, where the printer's fits change it.
    pub file: Option<f64>,
    pub shown: Shown,
}

/// Where the drawing shows a size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shown {
    /// A diameter about the axis, seen at a height; over the section or under it.
    Diameter { z: f64, over: bool },
    /// Between two heights, at these distances from the axis.
    Height { z: [f64; 2], radius: f64 },
    /// Alike holes on a circle, in the plan.
    Holes { count: u32, circle: f64, angle: f64 },
    /// In the table alone.
    Table,
}

impl Feature {
    /// Least and most deviation \[mm\]: of the class, or of ISO 2768-1 m.
    pub fn deviations(&self) -> [f64; 2] {
        self.class.and_then(|class| limits(self.size, class)).unwrap_or_else(|| {
            let tolerance = medium(self.size);
            [-tolerance, tolerance]
        })
    }
}

/// ISO 2768-1, class m (from memory).
fn medium(size: f64) -> f64 {
    match size {
        size if size <= 6.0 => 0.1,
        size if size <= 30.0 => 0.2,
        size if size <= 120.0 => 0.3,
        _ => 0.5,
    }
}

fn plain(name: &'static str, size: f64, shown: Shown) -> Feature {
    Feature { name, size, class: None, file: None, shown }
}

fn fitted(name: &'static str, [size, file]: [f64; 2], class: Class, shown: Shown) -> Feature {
    Feature { name, size, class: Some(class), file: Some(file), shown }
}

fn holes(name: &'static str, joint: &Bolting, [size, file]: [f64; 2]) -> Feature {
    let shown = Shown::Holes { count: joint.count, circle: joint.circle, angle: joint.first_angle };
    Feature { name, size, class: None, file: Some(file), shown }
}

fn over(z: f64) -> Shown {
    Shown::Diameter { z, over: true }
}

fn under(z: f64) -> Shown {
    Shown::Diameter { z, over: false }
}

fn height(name: &'static str, z: [f64; 2], radius: f64) -> Feature {
    plain(name, z[1] - z[0], Shown::Height { z, radius })
}

/// Half planes, left and right, that show most of a part.
pub fn planes(actuator: &Actuator, part: PartName) -> [f64; 2] {
    let joints = &actuator.joints;
    let opposite = |angle: f64| [angle + PI, angle];
    match part {
        PartName::VentedBase => [joints.stator_mount.first_angle, joints.service.first_angle],
        PartName::StatorMount => [joints.stator_mount.first_angle, joints.motor_to_mount.first_angle],
        PartName::RotorAdapter => opposite(joints.adapter_to_rotor.first_angle),
        PartName::OutputCarrier => [joints.clamp_ring.first_angle, 0.0],
        PartName::CarrierBackPlate => [joints.pillars.first_angle, 0.0],
        PartName::RingHousing => [joints.keeper.first_angle, joints.service.first_angle],
        PartName::BearingKeeper => opposite(joints.keeper.first_angle),
        PartName::OutputClampRing => [joints.clamp_ring.first_angle, joints.output.first_angle],
        PartName::RingInsert | PartName::RingInsertBack => {
            opposite(joints.ring_insert.as_ref().map_or(0.0, |joint| joint.first_angle))
        }
        _ => opposite(0.0),
    }
}

/// Sizes of a part. `actuator` as printed; what is drawn is its nominal form.
pub fn of(actuator: &Actuator, part: PartName) -> Vec<Feature> {
    let (drawn, fits) = (actuator.nominal(), FitClasses::of(actuator));
    let (stations, joints) = (&actuator.stations, &actuator.joints);
    let clear = |name, pick: fn(&Actuator) -> &Bolting| {
        holes(name, pick(actuator), [pick(&drawn).clearance, pick(actuator).clearance])
    };
    let inserts =
        |name, joint: &Bolting| holes(name, joint, [drawn.insert_hole(joint), actuator.insert_hole(joint)]);
    match part {
        PartName::VentedBase => {
            let base = &actuator.base;
            vec![
                plain("bore at the mouth", base.mouth_bore, over(stations.service)),
                plain("outside", base.outer, under(0.0)),
                height("height", [0.0, stations.service], base.outer / 2.0),
                height("seat of the mount", [0.0, stations.mount_back], base.column_inner_radius),
                height("standoffs", [0.0, stations.board_back], 20.0),
                inserts("machine inserts", &joints.machine),
                inserts("mount inserts", &joints.stator_mount),
                inserts("service inserts", &joints.service),
            ]
        }
        PartName::StatorMount => vec![
            Feature {
                file: Some(actuator.mount.disc_diameter),
                ..plain("register", drawn.mount.disc_diameter, over(stations.mount_front))
            },
            plain("shaft hole", actuator.mount.centre_hole, under(stations.mount_back)),
            height(
                "thickness",
                [stations.mount_back, stations.mount_front],
                actuator.mount.disc_diameter / 2.0,
            ),
            clear("motor screws", |a| &a.joints.motor_to_mount),
            clear("mount screws", |a| &a.joints.stator_mount),
        ],
        PartName::MagnetCup => vec![
            fitted(
                "shaft bore",
                [drawn.cup.shaft_bore, actuator.cup.shaft_bore],
                fits.cup,
                over(stations.cup_front),
            ),
            plain("magnet pocket", actuator.cup.pocket, under(stations.magnet_back)),
            plain("outside", actuator.cup.outer, under(stations.magnet_back)),
            height("length", [stations.magnet_back, stations.cup_front], actuator.cup.outer / 2.0),
            plain("depth of the pocket", actuator.cup.pocket_depth, Shown::Table),
        ],
        PartName::RotorAdapter | PartName::Sun => {
            let adapter = &actuator.adapter;
            let mut found = vec![
                plain("boss", adapter.boss_diameter, over(stations.boss_front)),
                plain("disc", adapter.disc_diameter, under(stations.rotor_front)),
                height(
                    "disc thickness",
                    [stations.rotor_front, stations.adapter_front],
                    adapter.disc_diameter / 2.0,
                ),
                height(
                    "to the boss's end",
                    [stations.rotor_front, stations.boss_front],
                    adapter.boss_diameter / 2.0,
                ),
                clear("rotor screws", |a| &a.joints.adapter_to_rotor),
            ];
            if actuator.sun.joint == crate::layout::SunJoint::OnePiece {
                found.extend(teeth(&actuator.stage.sun));
            }
            found
        }
        PartName::Planet => {
            let seat = match actuator.planet.turns_on {
                PlanetSeat::Bearings { .. } => "bearing seat",
                PlanetSeat::Bush(_) => "bush seat",
            };
            let mut found = vec![
                fitted(
                    seat,
                    [drawn.planet.seat, actuator.planet.seat],
                    fits.planet,
                    over(stations.planet_front),
                ),
                height(
                    "width",
                    [stations.planet_back, stations.planet_front],
                    actuator.stage.planet.tip_diameter / 2.0,
                ),
            ];
            if actuator.planet.lip_thickness > 0.0 {
                found.push(plain("lip bore", actuator.planet.lip_bore, under(stations.planet_back)));
            }
            found.extend(teeth(&actuator.stage.planet));
            found
        }
        PartName::PlanetWasher => {
            let z = [stations.plate_back - actuator.planet.washer_thickness, stations.plate_back];
            vec![
                plain("bore", actuator.planet.washer_bore, over(z[1])),
                plain("outside", actuator.planet.shoulder, under(z[0])),
                height("thickness", z, actuator.planet.shoulder / 2.0),
            ]
        }
        PartName::PlanetSleeve => {
            let width = match &actuator.planet.turns_on {
                PlanetSeat::Bearings { width, .. } => *width,
                PlanetSeat::Bush(_) => 0.0,
            };
            let back = stations.planet_back + actuator.planet.lip_thickness + width;
            let z = [back, back + actuator.planet.sleeve_length];
            vec![
                plain("bore", actuator.planet.washer_bore, over(z[1])),
                plain("outside", actuator.planet.shoulder, under(z[0])),
                height("length", z, actuator.planet.shoulder / 2.0),
            ]
        }
        PartName::OutputCarrier => {
            vec![
                fitted(
                    "bearing seat",
                    [drawn.carrier.hub_diameter, actuator.carrier.hub_diameter],
                    fits.hub,
                    over(stations.hub_front - 1.0),
                ),
                plain("bore", actuator.carrier.bore, over(stations.hub_front)),
                plain("plate", actuator.carrier.plate_diameter, under(stations.plate_back)),
                plain("shoulder", actuator.carrier.step_diameter, over(stations.bearing_back)),
                height(
                    "to the bearing",
                    [stations.plate_back, stations.bearing_back],
                    actuator.carrier.step_diameter / 2.0,
                ),
                height(
                    "to the hub's end",
                    [stations.plate_back, stations.hub_front],
                    actuator.carrier.hub_diameter / 2.0,
                ),
                pins(
                    "pin holes, press",
                    actuator,
                    [drawn.carrier.pin_hole, actuator.carrier.pin_hole],
                    fits.carrier_pins,
                ),
                inserts("pillar inserts", &joints.pillars),
                inserts("clamp inserts", &joints.clamp_ring),
                inserts("output inserts", &joints.output),
            ]
        }
        PartName::CarrierBackPlate => {
            let plate = &actuator.back_plate;
            let front = stations.back_plate_front;
            vec![
                plain("bore", plate.bore, under(stations.back_plate_back)),
                plain("outside", plate.diameter, under(stations.back_plate_back)),
                height("plate", [stations.back_plate_back, front], plate.diameter / 2.0),
                height(
                    "over the pillars",
                    [stations.back_plate_back, front + plate.pillar_length],
                    plate.pillar_distance + plate.pillar_radius,
                ),
                pins(
                    "pin holes, slip",
                    actuator,
                    [drawn.back_plate.pin_hole, plate.pin_hole],
                    fits.back_plate_pins,
                ),
                clear("pillar screws", |a| &a.joints.pillars),
            ]
        }
        PartName::RingHousing => {
            let housing = &actuator.housing;
            let mut found = vec![
                fitted(
                    "bearing seat",
                    [drawn.housing.seat, housing.seat],
                    fits.housing,
                    over(stations.bearing_front),
                ),
                plain("lip bore", housing.lip_bore, over(stations.lip_front)),
                plain("tube", housing.tube_diameter, over(stations.lip_front)),
                Feature {
                    file: Some(housing.spigot_diameter),
                    ..plain(
                        "spigot",
                        drawn.housing.spigot_diameter,
                        under(stations.service - housing.spigot_length),
                    )
                },
                height(
                    "service face to front",
                    [stations.service, stations.lip_front],
                    housing.tube_diameter / 2.0,
                ),
                height("depth of the seat", [housing.seat_back, stations.bearing_front], housing.seat / 2.0),
                height(
                    "spigot",
                    [stations.service - housing.spigot_length, stations.service],
                    housing.spigot_diameter / 2.0,
                ),
                clear("service screws", |a| &a.joints.service),
                inserts("keeper inserts", &joints.keeper),
            ];
            if actuator.ring_insert.is_none() {
                found.extend(teeth(&actuator.stage.ring));
            }
            if let Some(bore) = housing.insert_bore {
                found.push(Feature {
                    file: Some(bore),
                    ..plain(
                        "bore for the ring",
                        drawn.housing.insert_bore.unwrap_or(bore),
                        under(stations.service),
                    )
                });
            }
            found
        }
        PartName::BearingKeeper => {
            let keeper = &actuator.keeper;
            let z = [stations.keeper_back, stations.keeper_back + keeper.thickness];
            vec![
                plain("bore", keeper.bore, over(z[1])),
                plain("outside", keeper.outer, under(z[0])),
                height("thickness", z, keeper.outer / 2.0),
                clear("keeper screws", |a| &a.joints.keeper),
            ]
        }
        PartName::OutputClampRing => {
            let ring = &actuator.clamp_ring;
            vec![
                plain("bore", ring.bore, over(stations.output_face)),
                plain("flange", ring.flange_diameter, over(stations.output_face)),
                plain("spigot", ring.spigot_diameter, under(stations.bearing_front)),
                height(
                    "bearing to face",
                    [stations.bearing_front, stations.output_face],
                    ring.spigot_diameter / 2.0,
                ),
                height("flange", [stations.flange_back, stations.output_face], ring.flange_diameter / 2.0),
                clear("output bolts", |a| &a.joints.output),
                clear("clamp screws", |a| &a.joints.clamp_ring),
            ]
        }
        PartName::RingInsert | PartName::RingInsertBack => {
            let mut found = teeth(&actuator.stage.ring);
            if let Some(insert) = &actuator.ring_insert {
                found.push(plain("outside", insert.outer, over(stations.ring_front)));
            }
            if joints.ring_insert.is_some() {
                found.push(clear("lobe screws", |a| {
                    a.joints.ring_insert.as_ref().unwrap_or(&a.joints.keeper)
                }));
            }
            found
        }
        PartName::InnerSpacer | PartName::OuterSpacer => {
            let Some(spacers) = &actuator.spacers else { return Vec::new() };
            let back = stations.bearing_back + actuator.design.bearings.output.width;
            let (outer, inner) = match part {
                PartName::InnerSpacer => (spacers.inner_outer, spacers.inner_bore),
                _ => (spacers.outer_outer, spacers.outer_bore),
            };
            let z = [back, back + spacers.width];
            vec![
                plain("bore", inner, over(z[1])),
                plain("outside", outer, under(z[0])),
                height("width", z, outer / 2.0),
            ]
        }
    }
}

fn pins(name: &'static str, actuator: &Actuator, [size, file]: [f64; 2], class: Class) -> Feature {
    let shown = Shown::Holes {
        count: actuator.stage.planets,
        circle: 2.0 * actuator.stage.centre_distance,
        angle: 0.0,
    };
    fitted(name, [size, file], class, shown)
}

/// Measures of teeth; the gear sheets have the rest.
fn teeth(gear: &crate::gears::Gear) -> Vec<Feature> {
    let mut found = vec![plain("tip diameter", gear.tip_diameter, Shown::Table)];
    if gear.kind == crate::gears::GearKind::External {
        found.push(plain("span (see gears.md)", gear.span, Shown::Table));
    }
    found
}
