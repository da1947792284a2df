//! Where everything sits: from a resolved design to every dimension of the actuator.
//!
//! - [`actuator`]: the result, one struct a part
//! - [`fault`]: conditions that make a design impossible, with the numbers that clash
//! - [`hardware`]: screws, inserts and their holes as a joint sees them
//! - [`planet`], [`sun`], [`carrier`], [`housing`], [`base`]: the rules, from the axis outwards and front to back
//!
//! The reference arrangement: vented base, controller board, magnet on the shaft end, stator mount, motor, rotor
//! adapter and sun, service joint, back plate, planets in the ring, carrier, keeper, output bearing, lip, clamp ring.

mod actuator;
mod base;
mod carrier;
mod fault;
mod hardware;
mod housing;
mod planet;
mod sun;

pub use actuator::*;
pub use fault::{Fault, IN_HAND};
pub use hardware::{Anchor, Bolting, FLOOR, HEAD_ROOM, TIP_ROOM, boss_wall};
pub use housing::{FRICTION, INSERT_CLAMP, clamp_force};
pub use planet::{FLOAT, RING_OVERHANG, SIDE_GAP};

use crate::design::{Design, GearSource, Hand, Joint, RingKind};
use crate::gears::{Rack, Stage, StageInput};
use crate::tables::{Bearing, ScrewStandard};

use fault::Faults;

/// Lays a design out. All conditions that fail come back at once.
pub fn lay_out(design: &Design) -> Result<Actuator, Vec<Fault>> {
    let stage = Stage::solve(&stage_input(design)).map_err(|faults| {
        faults.iter().map(|fault| Fault { id: "gearset", message: fault.to_string() }).collect::<Vec<_>>()
    })?;
    let mut faults = Faults::default();
    match assemble(design, stage, &mut faults) {
        Some(actuator) if faults.0.is_empty() => Ok(actuator),
        _ => Err(faults.0),
    }
}

fn stage_input(design: &Design) -> StageInput {
    let gearset = &design.gearset;
    StageInput {
        sun_teeth: gearset.sun_teeth,
        planet_teeth: gearset.planet_teeth,
        ring_teeth: gearset.ring_teeth,
        planets: gearset.planets,
        rack: Rack { pressure_angle: gearset.pressure_angle, ..Rack::ISO_53_A },
        normal_module: gearset.normal_module,
        helix_angle: match gearset.sun_hand {
            Hand::Right => gearset.helix_angle,
            Hand::Left => -gearset.helix_angle,
        },
        face_width: gearset.face_width,
        backlash: gearset.backlash,
        sun_shift: gearset.sun_shift,
        planet_shift: gearset.planet_shift,
        ring_shift: gearset.ring_shift,
    }
}

fn torques(design: &Design, stage: &Stage) -> Torques {
    let output = design.requirement.peak_torque;
    let sun = output / (stage.ratio * design.gearset.efficiency);
    Torques { output, sun, ring: output - sun }
}

/// Abutment diameter at the inner ring: a quarter of the section, within the maker's limits.
fn inner_abutment(bearing: &Bearing) -> f64 {
    let quarter = bearing.bore + 0.25 * (bearing.outer - bearing.bore);
    f64::min(
        f64::max(quarter, bearing.shoulder_inner_min),
        f64::max(bearing.shoulder_inner_max, bearing.shoulder_inner_min),
    )
}

/// Lip and keeper bore: 0.22 of the section in from the outside, at most the maker's limit.
fn outer_abutment(bearing: &Bearing) -> f64 {
    f64::min(bearing.outer - 0.22 * (bearing.outer - bearing.bore), bearing.shoulder_outer_max)
}

/// The rules in the order in which their numbers depend on each other.
fn assemble(design: &Design, stage: Stage, faults: &mut Faults) -> Option<Actuator> {
    let torques = torques(design, &stage);
    let printer = &design.printer;
    let mut notes = Vec::new();
    let least_tip_gap = 0.5;
    faults.require(stage.planet_gap >= least_tip_gap, "planet-gap", || {
        format!("Planets would touch: gap {:.2}, wanted {least_tip_gap}. Fewer planets, lower ratio, or more teeth.", stage.planet_gap)
    });

    // The rotating stage, from the axis outwards.
    let pillars = planet::pillars(design, &stage, faults);
    let planet =
        pillars.as_ref().and_then(|pillars| planet::planet(design, &stage, pillars.plate_thickness, faults));
    let bores = housing::ring_bores(design, &stage);
    let (pillars, planet) = (pillars?, planet?);
    let back_plate_thickness = pillars.plate_thickness;
    let plate_thickness = planet::plate_thickness(design, &pillars, &planet);
    let drive = sun::sun_drive(design, &stage, &torques, back_plate_thickness, faults);

    // Bearing, lip and the plate's nesting.
    let bearing = &design.bearings.output;
    let lip_bore = outer_abutment(bearing);
    let step_diameter = inner_abutment(bearing);
    let hub_diameter = bearing.bore + printer.bearing_post;
    let edge = f64::max(pillars.radius, pillars.head_diameter / 2.0 + 1.2);
    let plate_radius = f64::max(
        stage.centre_distance + planet.pin_diameter / 2.0 + planet::PIN_WALL,
        pillars.distance + edge,
    );
    // The carrier only narrows towards the output.
    let plate_diameter = f64::max(2.0 * plate_radius, step_diameter);
    let widest_plate = stage.ring.tip_diameter - 2.0 * printer.running_radial;
    faults.require(plate_diameter <= widest_plate, "plate-in-ring", || {
        format!(
            "Carrier plate touches the ring teeth: plate {plate_diameter:.1}, ring tip {:.1} leaves {widest_plate:.1}. \
             Thinner pin, M2.5 pillars, or more ring teeth.",
            stage.ring.tip_diameter
        )
    });
    let nests = plate_diameter <= lip_bore - 2.0 * printer.running_radial;

    // Service joint count first guess sets the keeper's count; both follow the mouth.
    let mouth_bore =
        f64::max(base::bore(design), bores.behind + 2.0 * housing::SPIGOT_WALL + printer.register);
    let keeper_pair = housing::keeper(design, &bores, lip_bore, 6, faults);
    let (drive, (keeper, keeper_screws)) = (drive?, keeper_pair?);

    // Heights.
    let motor = &design.motor;
    let face = design.gearset.face_width;
    let from_service = {
        let planet_front = housing_height_to_planet_front(face);
        let plate_front = planet_front + SIDE_GAP + plate_thickness;
        let step = if nests { 1.0 } else { keeper.thickness + printer.running_axial };
        // Planets must also clear the keeper.
        let bearing_back = f64::max(
            plate_front + step,
            planet_front + printer.running_axial + keeper.thickness - housing::SEAT_SHY,
        );
        let count = f64::from(design.bearings.output_count);
        let stack = count * bearing.width + (count - 1.0) * design.bearings.output_spacing;
        (planet_front, plate_front, bearing_back, bearing_back + stack)
    };
    let (planet_front_up, plate_front_up, bearing_back_up, bearing_front_up) = from_service;
    let lip_front_up = bearing_front_up + housing::LIP;
    let service_inputs = housing::ServiceInputs { mouth_bore, inner: bores.inner, grip: lip_front_up };
    let service = housing::service_joint(design, &service_inputs, &torques, faults)?;

    let (keeper, keeper_screws) = if service.count == 4 {
        housing::keeper(design, &bores, lip_bore, service.count, faults)?
    } else {
        (keeper, keeper_screws)
    };
    let side_count = if service.count == 4 { 4 } else { service.count / 2 };
    let side_angle = housing::midway(&service);
    let bay = base::bay(design, side_count, side_angle, faults)?;

    let mount_front = bay.mount_back + base::MOUNT_THICKNESS;
    let rotor_front = mount_front + motor.height;
    let adapter_front = rotor_front + drive.adapter.disc_thickness;
    let back_plate_back = adapter_front + printer.running_axial;
    let back_plate_front = back_plate_back + back_plate_thickness;
    let planet_back = back_plate_front + SIDE_GAP;
    let service_plane = planet_back - RING_OVERHANG;
    let sun_back = match drive.sun.joint {
        SunJoint::Socket { depth } => planet_back - printer.running_axial - depth,
        SunJoint::OnePiece => planet_back - printer.running_axial,
    };
    let shaft_end = mount_front - motor.shaft_extension;
    let cup = base::magnet_cup(design, bay.magnet_back, shaft_end, faults);
    let bearing_back = service_plane + bearing_back_up;
    let bearing_front = service_plane + bearing_front_up;
    let lip_front = service_plane + lip_front_up;
    let output_face = lip_front + service.head_height + 1.0;
    let clamp_thickness = output_face - bearing_front;
    let stations = Stations {
        floor: base::FLOOR_THICKNESS,
        board_back: bay.board_back,
        board_front: bay.board_front,
        sensor_front: bay.sensor_front,
        magnet_back: bay.magnet_back,
        shaft_end,
        cup_front: bay.magnet_back + cup.length,
        mount_back: bay.mount_back,
        mount_front,
        rotor_front,
        adapter_front,
        boss_front: planet_back - printer.running_axial,
        sun_back,
        plate_back: service_plane + planet_front_up + SIDE_GAP,
        back_plate_back,
        back_plate_front,
        service: service_plane,
        planet_back,
        planet_front: service_plane + planet_front_up,
        ring_front: service_plane + planet_front_up + RING_OVERHANG,
        plate_front: service_plane + plate_front_up,
        keeper_back: bearing_back + housing::SEAT_SHY - keeper.thickness,
        bearing_back,
        bearing_front,
        hub_front: bearing_front - carrier::HUB_SHY,
        lip_front,
        flange_back: lip_front + printer.running_axial,
        output_face,
    };
    notes.push(Note {
        id: "bay-height",
        message: format!(
            "The board bay is {:.1} high; {} set it.",
            bay.mount_back - base::FLOOR_THICKNESS,
            bay.governs
        ),
    });
    let gap = design.controller.encoder.gap;
    faults.require((0.5..=3.0).contains(&gap), "encoder-gap", || {
        format!("Encoder gap {gap:.2} outside 0.5 to 3.0: set controller.encoder.gap to about 1 mm; the cup's length follows.")
    });

    // Output side.
    let pattern = carrier::output_pattern(design, &stage, hub_diameter, clamp_thickness, faults)?;
    let pillar_screws = pillar_bolting(design, &stage, &pillars, face);
    let fixed = carrier::plate_holes(&stage, &planet, &pillar_screws, stations.plate_back);
    let mut turning = carrier::holes(
        "output insert",
        &pattern.output,
        stations.hub_front - pattern.output.hole_depth() - 0.5,
        stations.hub_front,
    );
    turning.extend(carrier::holes(
        "clamp insert",
        &pattern.clamp,
        stations.hub_front - pattern.clamp.hole_depth(),
        stations.hub_front,
    ));
    let carrier::BestAngle { angle: output_angle, margin: hole_margin, nearest } =
        carrier::best_angle(&fixed, &turning);
    faults.require(hole_margin >= 1.0, "carrier-holes", || {
        format!(
            "Holes of the carrier meet at every angle of the output pattern: {} and {} keep at best {:.0} % of the wanted wall {} and floor {}. \
             Fewer output bolts, a shorter pin, or a larger output bearing.",
            nearest[0],
            nearest[1],
            hole_margin * 100.0,
            carrier::HOLE_WALL,
            FLOOR
        )
    });
    let mut crown =
        carrier::crown(hub_diameter, &pattern, clamp_thickness, &torques, design.limits.joint_factor);
    crown.first_angle += output_angle;
    let carrier::OutputPattern { mut output, mut clamp, bore: carrier_bore } = pattern;
    output.first_angle += output_angle;
    clamp.first_angle += output_angle;
    // The link's thickness is the user's; six millimetres is a usual printed or plate link (common practice, no source).
    const LINK: f64 = 6.0;
    output.length = hardware::length(
        design,
        Joint::Output,
        ScrewStandard::Cap,
        output.thread,
        LINK + clamp_thickness + carrier::HUB_SHY + output.engagement_wanted(),
    )
    .unwrap_or(0.0);

    let clamp_ring =
        carrier::clamp_ring(step_diameter, bearing.outer, &service, clamp_thickness, carrier_bore);
    let lobes =
        housing::ring_insert(design, &stage, face + 2.0 * RING_OVERHANG, side_count, side_angle, faults);
    let (ring_insert, lobe_screws) = lobes.unzip();
    housing::floors(
        &stations,
        bearing_back + housing::SEAT_SHY,
        &keeper_screws,
        lobe_screws.as_ref(),
        faults,
    );
    let motor_to_mount = base::motor_screws(design, cup.outer, faults)?;
    let enclosure = base::Enclosure { bay: &bay, service: &service, mouth_bore, service_plane, mount_front };
    let (base, board_screws) = base::vented_base(design, &enclosure, faults);
    let mount = base::stator_mount(design, &base, &cup, &motor_to_mount, &bay.stator_mount);

    let tube_diameter = [
        bores.tube,
        keeper_screws.circle + keeper_screws.hole_diameter() + 2.0 * 2.0,
        bores.free + 2.0 * housing::WALL,
    ]
    .into_iter()
    .fold(0.0, f64::max);
    let ring_housing = RingHousing {
        lip_bore,
        lip_thickness: housing::LIP,
        seat: bearing.outer + printer.seat_fit(bearing.outer),
        seat_back: bearing_back + housing::SEAT_SHY,
        free_bore: bores.free,
        insert_bore: bores.insert_bore,
        spigot_diameter: mouth_bore - printer.register,
        spigot_bore: mouth_bore - printer.register - 2.0 * housing::SPIGOT_WALL,
        spigot_length: housing::SPIGOT,
        tube_diameter,
        rim_diameter: f64::max(base.mouth_outer, tube_diameter),
        column_radius: base.boss_outer_radius,
        column_half_angle: base.boss_half_angle,
        cover_radius: base.column_outer_radius,
        cover_half_angle: base.column_half_angle,
        lobe_column: ring_insert.as_ref().map(|insert| {
            let reach = insert.lobe_radius + printer.ring_insert / 2.0 + housing::WALL;
            (insert.lobe_distance + reach, libm::asin((reach / insert.lobe_distance).min(1.0)))
        }),
    };
    if design.gearset.ring_made == RingKind::Cut {
        notes.push(Note {
            id: "ring-cut",
            message: "Ring exchange means a new housing: clamp ring, carrier, keeper and bearing come out too. Use ring = \"insert\" for bench swapping."
                .to_string(),
        });
    }
    let spacers = (design.bearings.output_count == 2).then_some(Spacers {
        width: design.bearings.output_spacing,
        inner_bore: bearing.bore + 0.1,
        inner_outer: step_diameter,
        outer_bore: lip_bore,
        outer_outer: bearing.outer,
    });
    if design.gearset.sun_made == GearSource::Print && motor.outer_diameter > 0.0 {
        notes.push(Note {
            id: "sun-printed",
            message: "Sun and rotor adapter are printed in one.".to_string(),
        });
    }

    Some(Actuator {
        back_plate: BackPlate {
            diameter: plate_diameter,
            thickness: back_plate_thickness,
            bore: planet::back_plate_bore(&stage),
            pillar_radius: pillars.radius,
            pillar_distance: pillars.distance,
            pillar_length: face + 2.0 * SIDE_GAP,
            pin_hole: planet.pin_diameter + printer.pin_slip,
            boss_diameter: planet.shoulder,
            boss_height: SIDE_GAP + planet::LIP,
        },
        carrier: Carrier {
            plate_diameter,
            plate_thickness,
            nests,
            step_diameter,
            hub_diameter,
            bore: carrier_bore,
            output_angle,
            hole_margin,
            pin_hole: planet.pin_diameter + printer.pin_press,
            crown,
        },
        joints: Joints {
            machine: bay.machine,
            stator_mount: bay.stator_mount,
            service,
            motor_to_mount,
            adapter_to_rotor: drive.rotor_screws,
            sun: drive.sun_screw,
            keeper: keeper_screws,
            pillars: pillar_screws,
            clamp_ring: clamp,
            output,
            ring_insert: lobe_screws,
            board: board_screws,
        },
        sun: drive.sun,
        adapter: drive.adapter,
        housing: ring_housing,
        design: design.clone(),
        stage,
        torques,
        stations,
        planet,
        keeper,
        clamp_ring,
        ring_insert,
        spacers,
        base,
        mount,
        cup,
        notes,
    })
}

/// Service plane to the planets' front: the ring stands over the planets at the back.
fn housing_height_to_planet_front(face: f64) -> f64 {
    RING_OVERHANG + face
}

fn pillar_bolting(design: &Design, stage: &Stage, pillars: &planet::Pillars, face: f64) -> Bolting {
    let (_, head_height) = hardware::head(ScrewStandard::Countersunk, pillars.thread);
    Bolting {
        joint: Joint::Pillars,
        thread: pillars.thread,
        head: ScrewStandard::Countersunk,
        length: pillars.screw_length,
        count: stage.planets,
        circle: 2.0 * pillars.distance,
        first_angle: std::f64::consts::PI / f64::from(stage.planets.max(1)),
        grip: pillars.plate_thickness + face + 2.0 * SIDE_GAP,
        clearance: hardware::clearance(design, pillars.thread),
        head_diameter: pillars.head_diameter,
        head_height,
        anchor: Anchor::Insert(hardware::insert(pillars.thread)),
    }
}
