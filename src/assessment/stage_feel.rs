//! How the laid-out stage feels at the output: the sizes that stiffness, play and inertia are reckoned from.
//!
//! Lengths mm, inertias kg m2, masses kg.

use crate::design::{Design, GearSource, PartName};
use crate::gears::{Growth, PlayInput, RadialShift, ShiftCause, StagePlay};
use crate::geometry::ShapeError;
use crate::layout::{Actuator, Anchor, Bolting, PlanetSeat, SunJoint};
use crate::parts::MadePart;
use crate::parts::Motion;
use crate::ratings::reflected_inertia::{MovingBodies, ReflectedInertia, Speeds, cylinder, ring_inertia};
use crate::ratings::stage_stiffness::{Bodies, Moduli, StageStiffness};
use crate::tables::{STEEL_EXPANSION, gear_metal, screw_mass, thermal_expansion};

/// Young's modulus \[MPa\] and density \[kg/mm3\] of steel: pins, and bought gears whose metal the table doesn't know.
const STEEL_MODULUS: f64 = 206_000.0;
const STEEL_DENSITY: f64 = 7.85e-6;
/// Densities \[kg/mm3\] of encoder magnets (NdFeB) and bush plastics. Common practice, no source.
const MAGNET_DENSITY: f64 = 7.5e-6;
const BUSH_DENSITY: f64 = 1.4e-6;
/// Expansion of a plastic that the table doesn't know: the middle of the table.
const PLASTIC_EXPANSION: f64 = 70e-6;

/// All of it; none where it is out of its range.
#[derive(Clone, Debug)]
pub struct Feel {
    /// At the peak torque.
    pub stiffness: Option<StageStiffness>,
    pub play: Option<StagePlay>,
    pub inertia: Option<Inertia>,
}

impl Feel {
    pub fn of(actuator: &Actuator, parts: &[MadePart]) -> Feel {
        Feel {
            stiffness: stiffness(actuator),
            play: play(actuator, &Departures::default()),
            // Shapes that gave a volume give their moments too.
            inertia: inertia(actuator, parts).ok(),
        }
    }

    /// Before a part is drawn: without the inertia.
    pub fn undrawn(actuator: &Actuator) -> Feel {
        let play = play(actuator, &Departures::default());
        Feel { stiffness: stiffness(actuator), play, inertia: None }
    }
}

/// Stiffness at the peak torque; none where the mesh stiffness is out of its range.
pub fn stiffness(actuator: &Actuator) -> Option<StageStiffness> {
    StageStiffness::of(&actuator.stage, &bodies(actuator), actuator.torques.output)
}

/// What yields, from the layout.
pub fn bodies(actuator: &Actuator) -> Bodies {
    let (stage, planet, plate) = (&actuator.stage, &actuator.planet, &actuator.back_plate);
    let (bearing, seat_width, bearing_spread) = match &planet.turns_on {
        PlanetSeat::Bearings { bearing, width, spread } => {
            (Some([bearing.bore, bearing.outer]), 2.0 * width, *spread)
        }
        PlanetSeat::Bush(_) => (None, stage.face_width, 0.5 * stage.face_width),
    };
    let stations = &actuator.stations;
    let held = match actuator.sun.joint {
        // Half of the socket: its teeth take the torque over their whole length.
        SunJoint::Socket { depth } => 0.5 * depth,
        SunJoint::OnePiece => 0.0,
    };
    Bodies {
        moduli: moduli(&actuator.design),
        pin_diameter: planet.pin_diameter,
        pin_span: planet.pin_length - planet.pin_depth_carrier - planet.pin_depth_back_plate,
        pin_depths: [planet.pin_depth_carrier, planet.pin_depth_back_plate],
        bearing_spread,
        bearing,
        seat_width,
        pillar_radius: plate.pillar_radius,
        pillar_bore: actuator.joints.pillars.clearance,
        pillar_distance: plate.pillar_distance,
        pillar_length: plate.pillar_length,
        plate_thickness: actuator.carrier.plate_thickness,
        back_plate_thickness: plate.thickness,
        shoulder_diameter: actuator.carrier.step_diameter,
        hub_diameter: actuator.carrier.hub_diameter,
        hub_bore: actuator.carrier.bore,
        hub_length: stations.hub_front - stations.plate_front,
        sun_bore: actuator.sun.bore,
        sun_shaft: 0.5 * (stations.planet_back + stations.planet_front) - stations.boss_front + held,
    }
}

fn moduli(design: &Design) -> Moduli {
    let printed = |part| design.settings(part).material.modulus;
    let gear = |made, metal: &str, part| match made {
        GearSource::Print => printed(part),
        GearSource::Buy => gear_metal(metal).map_or(STEEL_MODULUS, |metal| metal.modulus),
    };
    let gearset = &design.gearset;
    Moduli {
        sun: gear(gearset.sun_made, &gearset.sun_bought_of, PartName::RotorAdapter),
        planet: gear(gearset.planet_made, &gearset.planet_bought_of, PartName::Planet),
        ring: printed(ring_part(design)),
        carrier: printed(PartName::OutputCarrier),
        back_plate: printed(PartName::CarrierBackPlate),
    }
}

/// The printed part that has the ring's teeth.
fn ring_part(design: &Design) -> PartName {
    match design.gearset.ring_made {
        crate::design::RingKind::Cut => PartName::RingHousing,
        crate::design::RingKind::Insert => PartName::RingInsert,
    }
}

/// What the drawing does not know of a print and its work. Defaults: common practice, no source, after the tooth growth of
/// the printer's own coupon has been taken off.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Departures {
    /// Residual of a printed flank along its normal.
    pub fat: [f64; 2],
    /// Scale error of prints, relative, each way.
    pub print_scale: f64,
    /// Tooth thickness of one gear against the next, each way.
    pub thickness: f64,
    /// Runout of a gear, total indicator reading.
    pub runout: f64,
    /// Place of a printed pin hole, each way.
    pub pin_place: f64,
    /// Radial clearance of the bearings, diametral.
    pub bearing_clearance: f64,
    /// Warmer than when put together \[K\], cold and hot: the gears, and the housing with the ring.
    pub gears_warmer: [f64; 2],
    pub housing_warmer: [f64; 2],
}

impl Default for Departures {
    fn default() -> Departures {
        Departures {
            fat: [-0.02, 0.02],
            print_scale: 0.001,
            thickness: 0.02,
            runout: 0.05,
            pin_place: 0.05,
            bearing_clearance: 0.01,
            gears_warmer: [-30.0, 40.0],
            housing_warmer: [-30.0, 25.0],
        }
    }
}

/// Least and most play; none where the departures leave no mesh.
pub fn play(actuator: &Actuator, departures: &Departures) -> Option<StagePlay> {
    let design = &actuator.design;
    let gearset = &design.gearset;
    let sun_printed = gearset.sun_made == GearSource::Print;
    let planet_printed = gearset.planet_made == GearSource::Print;
    let printed = |yes: bool, range: [f64; 2]| if yes { range } else { [0.0; 2] };
    let scale = [-departures.print_scale, departures.print_scale];
    let expansion = |is_printed: bool, part| {
        if is_printed {
            thermal_expansion(&design.settings(part).material.name).unwrap_or(PLASTIC_EXPANSION)
        } else {
            STEEL_EXPANSION
        }
    };
    let expansions = [
        expansion(sun_printed, PartName::RotorAdapter),
        expansion(planet_printed, PartName::Planet),
        expansion(true, ring_part(design)),
        expansion(true, PartName::OutputCarrier),
    ];
    let (gears, housing) = (departures.gears_warmer, departures.housing_warmer);
    let shift = |cause, amount| RadialShift { cause, amount };
    let insert_fit = if actuator.ring_insert.is_some() { design.printer.ring_insert } else { 0.0 };
    let planet_clearance = match &actuator.planet.turns_on {
        PlanetSeat::Bearings { .. } => departures.bearing_clearance,
        PlanetSeat::Bush(bush) => {
            (bush.bore - actuator.planet.pin_diameter).max(departures.bearing_clearance)
        }
    };
    let shifts = [
        shift(ShiftCause::MountRegister, 0.5 * design.printer.register),
        shift(ShiftCause::HousingRegister, 0.5 * design.printer.register),
        shift(ShiftCause::SunRunout, 0.5 * departures.runout),
        shift(ShiftCause::OutputBearingPlay, 0.5 * departures.bearing_clearance),
        shift(ShiftCause::RingInsertFit, 0.5 * insert_fit),
        shift(ShiftCause::RingRunout, 0.5 * departures.runout),
        shift(ShiftCause::PinHoles, departures.pin_place),
        shift(ShiftCause::PlanetBearingPlay, 0.5 * planet_clearance),
        shift(ShiftCause::PlanetRunout, 0.5 * departures.runout),
    ];
    let thickness = [-departures.thickness, departures.thickness];
    let input = PlayInput {
        fat: [
            printed(sun_printed, departures.fat),
            printed(planet_printed, departures.fat),
            printed(true, departures.fat),
        ],
        thickness: [printed(sun_printed, thickness), printed(planet_printed, thickness), thickness],
        // One printer makes one scale error: all prints at the same end.
        print_growth: Growth {
            sun: printed(sun_printed, scale),
            planet: printed(planet_printed, scale),
            ring: scale,
            carrier: scale,
        },
        heat: Growth::of_heat(expansions, [gears, gears, housing, gears]),
        shifts: &shifts,
    };
    StagePlay::of(&actuator.stage, &input)
}

/// Inertia at the output, and how sure its largest part is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Inertia {
    pub bodies: MovingBodies,
    pub reflected: ReflectedInertia,
    /// The motor's sheet gives none: half of its mass at 0.4 of its diameter. Common practice, no source, band 0.5 to 1.5.
    pub rotor_estimated: bool,
}

/// From the real bodies.
///
/// A print's inertia is that of its exact shape at the mean density of its print mass: infill lies inside, so the true one
/// is a little higher.
///
/// # Errors
/// A part without a shape.
pub fn inertia(actuator: &Actuator, parts: &[MadePart]) -> Result<Inertia, ShapeError> {
    let motor = &actuator.design.motor;
    let rotor = motor.rotor_inertia.unwrap_or_else(|| {
        let radius = 0.4 * motor.outer_diameter * 1e-3;
        0.5 * motor.mass * radius * radius
    });
    let mut bodies = MovingBodies { rotor, ..bought_bodies(actuator) };
    for part in parts.iter().filter(|part| part.part.motion != Motion::Fixed) {
        let printed = part_inertia(part)?;
        let count = f64::from(part.part.count);
        match part.part.motion {
            Motion::Fixed => {}
            Motion::Rotor => bodies.sun += count * printed,
            Motion::Planet => {
                bodies.planet += printed;
                bodies.planet_mass += part.mass.mass;
            }
            Motion::Carrier if part.part.on_pin() => {
                bodies.carrier +=
                    count * (printed + part.mass.mass * square_metres(actuator.stage.centre_distance));
            }
            Motion::Carrier => bodies.carrier += count * printed,
        }
    }
    let reflected = ReflectedInertia::of(&bodies, &Speeds::of(&actuator.stage));
    Ok(Inertia { bodies, reflected, rotor_estimated: motor.rotor_inertia.is_none() })
}

/// About the z axis of its own frame.
fn part_inertia(part: &MadePart) -> Result<f64, ShapeError> {
    let properties = part.part.stack.mass_properties()?;
    // mm5 times kg/mm3, and mm2 to m2.
    Ok(properties.inertia_z * part.mass.mass / properties.volume * 1e-6)
}

fn square_metres(millimetres: f64) -> f64 {
    millimetres * millimetres * 1e-6
}

/// Gears, bearings, pins, screws and inserts as cylinders and points.
fn bought_bodies(actuator: &Actuator) -> MovingBodies {
    let mut bodies = MovingBodies::default();
    let (design, stage, joints) = (&actuator.design, &actuator.stage, &actuator.joints);
    let density = |metal: &str| gear_metal(metal).map_or(STEEL_DENSITY, |metal| metal.density * 1e-6);
    if design.gearset.sun_made == GearSource::Buy {
        let of = density(&design.gearset.sun_bought_of);
        bodies.sun += cylinder(stage.sun.reference_diameter, actuator.sun.bore, actuator.sun.length, of)[1];
    }
    if design.gearset.planet_made == GearSource::Buy {
        let of = density(&design.gearset.planet_bought_of);
        let [mass, inertia] =
            cylinder(stage.planet.reference_diameter, actuator.planet.seat, stage.face_width, of);
        bodies.planet_mass += mass;
        bodies.planet += inertia;
    }
    let magnet = &design.motor.magnet;
    bodies.sun += cylinder(magnet.diameter, 0.0, magnet.thickness, MAGNET_DENSITY)[1];
    bodies.sun += on_circle(&joints.adapter_to_rotor) + on_circle(&joints.sun);
    bodies.carrier += on_circle(&joints.pillars) + on_circle(&joints.clamp_ring) + inserts(&joints.output);
    add_planet_seat(actuator, &mut bodies);
    let planets = f64::from(stage.planets);
    let pin = actuator.planet.pin_diameter;
    let [mass, inertia] = cylinder(pin, 0.0, actuator.planet.pin_length, STEEL_DENSITY);
    bodies.carrier += planets * (inertia + mass * square_metres(stage.centre_distance));
    // The inner ring of the output bearing turns: half of the mass.
    let output = &design.bearings.output;
    let inner = 0.5 * output.mass * f64::from(design.bearings.output_count);
    bodies.carrier += ring_inertia(inner, output.mean_diameter(), output.bore);
    bodies
}

/// The outer half of a bearing turns with its planet, the inner half stands on its pin; a bush turns with the planet.
fn add_planet_seat(actuator: &Actuator, bodies: &mut MovingBodies) {
    match &actuator.planet.turns_on {
        PlanetSeat::Bearings { bearing, .. } => {
            // Two bearings, half of each.
            let half = bearing.mass;
            let (middle, arm) = (bearing.mean_diameter(), square_metres(actuator.stage.centre_distance));
            bodies.planet_mass += half;
            bodies.planet += ring_inertia(half, bearing.outer, middle);
            let on_pin = ring_inertia(half, middle, bearing.bore) + half * arm;
            bodies.carrier += f64::from(actuator.stage.planets) * on_pin;
        }
        PlanetSeat::Bush(bush) => {
            let [mass, inertia] = cylinder(bush.outer, bush.bore, actuator.stage.face_width, BUSH_DENSITY);
            bodies.planet_mass += mass;
            bodies.planet += inertia;
        }
    }
}

/// Screws and inserts of a joint as points on its circle; on the axis they count for nothing.
fn on_circle(joint: &Bolting) -> f64 {
    let screw = screw_mass(joint.head, joint.thread, joint.length).unwrap_or(0.0);
    f64::from(joint.count) * screw * square_metres(joint.radius()) + inserts(joint)
}

fn inserts(joint: &Bolting) -> f64 {
    let mass = match &joint.anchor {
        Anchor::Insert(insert) | Anchor::Outside(insert) => insert.mass(),
        Anchor::Thread => 0.0,
    };
    f64::from(joint.count) * mass * square_metres(joint.radius())
}
