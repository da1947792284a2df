//! Sun and rotor adapter: how the motor's torque gets into the gears.

use std::f64::consts::PI;

use crate::design::{Design, GearSource, Joint};
use crate::gears::Stage;
use crate::tables::{ScrewStandard, Thread};

use super::actuator::{RotorAdapter, Sun, SunJoint, Torques};
use super::fault::{Faults, IN_HAND};
use super::hardware::{self, Anchor, Bolting, TIP_ROOM};
use super::planet::{SIDE_GAP, boss_diameter};

/// Shear allowed across printed layers \[MPa\]. Assumed, not sourced; band 0.6 to 1.4 of it.
pub const ACROSS_LAYERS: f64 = 18.0;
/// Pressure allowed on printed socket teeth \[MPa\]. Assumed, not sourced; band 0.6 to 1.4 of it.
pub const SOCKET_PRESSURE: f64 = 40.0;
/// Height of a socket tooth that bears, in modules.
const SOCKET_TOOTH: f64 = 1.2;
/// Share of the socket's teeth that carry. Assumed, not sourced.
const SOCKET_SHARE: f64 = 0.5;
/// Thinnest adapter disc.
const DISC: f64 = 4.0;
/// Plastic under a countersink.
const UNDER_COUNTERSINK: f64 = 1.2;
/// Edge outside the rotor screws' heads, on the diameter.
const DISC_EDGE: f64 = 3.2;
/// Least thread of a rotor screw, in diameters (common practice, no source).
const LEAST_ENGAGEMENT: f64 = 0.8;
/// Sums of layer heights carry rounding.
const ROUNDING: f64 = 1e-6;
/// Shallowest useful socket, in sun reference diameters: less doesn't guide the sun straight (common practice).
const SOCKET_GUIDE: f64 = 1.0 / 3.0;

/// Sun, adapter and the two screws that hold them, with the adapter's disc thickness settled.
#[derive(Clone)]
pub struct SunDrive {
    pub sun: Sun,
    pub adapter: RotorAdapter,
    pub sun_screw: Bolting,
    pub rotor_screws: Bolting,
}

impl SunDrive {
    pub fn screws(&self) -> [&Bolting; 2] {
        [&self.sun_screw, &self.rotor_screws]
    }
}

/// Torque a toothed socket of `depth` carries \[N m\]: z x 1.2 mn x L x p x r/2.
pub fn socket_capacity(stage: &Stage, normal_module: f64, depth: f64) -> f64 {
    let teeth = f64::from(stage.sun.teeth);
    let radius = stage.sun.reference_diameter / 2.0;
    SOCKET_SHARE * teeth * SOCKET_TOOTH * normal_module * depth * SOCKET_PRESSURE * radius * 1e-3
}

/// Torque a printed sun carries across its layers \[N m\]: tau pi (d^4 - b^4) / (16 d).
pub fn one_piece_capacity(root_diameter: f64, bore: f64) -> f64 {
    let polar = PI * (root_diameter.powi(4) - bore.powi(4)) / 16.0 / root_diameter;
    ACROSS_LAYERS * polar * 1e-3
}

/// A disc thickness with the screws that fit it.
struct Seat {
    disc: f64,
    joint: SunJoint,
    sun_length: f64,
    sun_screw: f64,
    /// Depth of the hole for the sun screw's insert.
    insert_depth: f64,
    rotor_screw: f64,
}

/// Thicknesses of the adapter's disc, thinnest first, by layers.
fn discs(design: &Design) -> impl Iterator<Item = f64> {
    /// Twice the usual disc: beyond, the joint grows taller than a longer screw is worth.
    const THICKEST: f64 = 12.0;
    let (head_diameter, _) = hardware::head(ScrewStandard::Countersunk, design.motor.rotor_bolts.thread);
    let layer = design.printer.layer_height;
    let thinnest = round_up(f64::max(DISC, head_diameter / 2.0 + UNDER_COUNTERSINK), layer);
    (0..).map(move |layers| thinnest + layer * f64::from(layers)).take_while(|&disc| disc <= THICKEST)
}

/// The rotor screw for a disc: as long as the rotor's thread takes, and held well enough.
fn rotor_screw(design: &Design, disc: f64) -> Option<f64> {
    let bolts = &design.motor.rotor_bolts;
    let longest = disc + design.motor.rotor_thread_depth;
    let shortest = disc + LEAST_ENGAGEMENT * bolts.thread.nominal();
    hardware::forced(design, Joint::AdapterToRotor)
        .length
        .or_else(|| hardware::longest_length_within(ScrewStandard::Countersunk, bolts.thread, longest))
        .filter(|&length| length <= longest + ROUNDING && length >= shortest - ROUNDING)
}

/// The thinnest disc for which both the rotor's and the sun's screws are sold.
fn seat(
    design: &Design,
    stage: &Stage,
    torques: &Torques,
    back_plate: f64,
    faults: &mut Faults,
) -> Option<Seat> {
    let face = design.gearset.face_width;
    let gap = design.printer.running_axial;
    let insert = hardware::short_insert(Thread::M3);
    // Rotor face to boss end: disc, gap, back plate, side gap, less the gap under the planets.
    let boss_end = |disc: f64| disc + gap + back_plate + SIDE_GAP - gap;
    let carried = design.limits.joint_factor * torques.sun;
    let per_depth = socket_capacity(stage, design.gearset.normal_module, 1.0);
    let shallowest = f64::max(carried / per_depth, SOCKET_GUIDE * stage.sun.reference_diameter);

    // From the sun's front, through face, socket and insert: whatever the disc.
    let through = face + gap + shallowest + insert.length;
    let bought = hardware::length(design, Joint::Sun, ScrewStandard::Cap, Thread::M3, through);
    let sun_seat = |disc: f64| {
        let height = boss_end(disc) + gap + face;
        // Its tip stays over the rotor face.
        let longest = height - IN_HAND;
        let (sun_screw, joint) = match design.gearset.sun_made {
            GearSource::Print => {
                // The screw runs the sun's whole height; its insert is pushed up from the rotor side to meet its end.
                let forced = hardware::forced(design, Joint::Sun).length;
                let within = || hardware::longest_length_within(ScrewStandard::Cap, Thread::M3, longest);
                (forced.or_else(within)?, SunJoint::OnePiece)
            }
            // Through the socket's bottom and the insert; the sun is cut to length.
            GearSource::Buy => {
                let screw = bought?;
                (screw, SunJoint::Socket { depth: screw - insert.length - face - gap })
            }
        };
        let (depth, insert_depth) = match joint {
            SunJoint::OnePiece => (0.0, height - sun_screw + insert.length),
            SunJoint::Socket { depth } => (depth, insert.length + TIP_ROOM),
        };
        let sun_length = face + gap + depth;
        (sun_screw <= longest + ROUNDING).then_some((sun_screw, joint, sun_length, insert_depth))
    };
    let found = discs(design).find_map(|disc| {
        let (sun_screw, joint, sun_length, insert_depth) = sun_seat(disc)?;
        let rotor_screw = rotor_screw(design, disc)?;
        Some(Seat { disc, joint, sun_length, sun_screw, insert_depth, rotor_screw })
    });
    if found.is_some() {
        return found;
    }
    let rotor_screw_found = discs(design).any(|disc| rotor_screw(design, disc).is_some());
    if rotor_screw_found {
        faults.push("sun-screw", move || {
            format!(
                "No M3 screw holds the sun: through {face:.1} of face, a socket of {shallowest:.1} and its insert it wants {through:.1} or more. \
                 Narrow the face, lower the peak torque, or force its length under [fasteners.sun]."
            )
        });
    } else {
        let thinnest = discs(design).next().unwrap_or(DISC);
        let (thread, depth) = (design.motor.rotor_bolts.thread, design.motor.rotor_thread_depth);
        faults.push("rotor-screw-length", move || {
            format!(
                "No {thread} countersunk screw holds the adapter: disc {thinnest:.1} or thicker, the rotor's thread takes {depth:.1} before the winding; \
                 wanted at least {:.1} of thread. A motor with deeper threads, or force a length under [fasteners.adapter-to-rotor].",
                LEAST_ENGAGEMENT * thread.nominal()
            )
        });
    }
    None
}

/// Lays out the sun's joint to the rotor. `back_plate` is the thickness of the carrier's back plate.
pub fn sun_drive(
    design: &Design,
    stage: &Stage,
    torques: &Torques,
    back_plate: f64,
    faults: &mut Faults,
) -> Option<SunDrive> {
    let bolts = &design.motor.rotor_bolts;
    let bore = Thread::M3.nominal() + 0.4;
    let (head_diameter, head_height) = hardware::head(ScrewStandard::Countersunk, bolts.thread);
    let boss = boss_diameter(stage);
    let circle = bolts.circle;
    faults.require(circle >= boss + head_diameter + 0.4, "rotor-screws", || {
        move || {
            format!(
                "Rotor screws lie under the sun boss: rotor circle {circle:.1}, boss {boss:.1} and countersunk head {head_diameter:.1} want {:.1}. \
                 Fewer sun teeth or a smaller module; or an adapter in two parts (disc on the rotor, sun holder on the disc at a wider circle).",
                boss + head_diameter + 0.4
            )
        }
    });
    let seat = seat(design, stage, torques, back_plate, faults)?;
    let insert = hardware::short_insert(Thread::M3);
    let sun_capacity = match seat.joint {
        SunJoint::OnePiece => one_piece_capacity(stage.sun.root_diameter, bore),
        SunJoint::Socket { depth } => socket_capacity(stage, design.gearset.normal_module, depth),
    };
    let sun_grip = match seat.joint {
        SunJoint::OnePiece => seat.sun_screw - insert.length,
        SunJoint::Socket { .. } => seat.sun_length,
    };
    let (sun_head_diameter, sun_head_height) = hardware::head(ScrewStandard::Cap, Thread::M3);
    Some(SunDrive {
        sun: Sun { length: seat.sun_length, bore, joint: seat.joint, capacity: sun_capacity },
        adapter: RotorAdapter {
            disc_diameter: bolts.circle + head_diameter + DISC_EDGE,
            disc_thickness: seat.disc,
            boss_diameter: boss,
            pilot: design.motor.rotor_pilot.as_ref().map(|pilot| (pilot.diameter + 0.3, pilot.height + 0.3)),
            insert_hole: (insert.hole, seat.insert_depth),
        },
        sun_screw: Bolting {
            joint: Joint::Sun,
            thread: Thread::M3,
            head: ScrewStandard::Cap,
            length: seat.sun_screw,
            count: 1,
            circle: 0.0,
            first_angle: 0.0,
            grip: sun_grip,
            clearance: bore,
            head_diameter: sun_head_diameter,
            head_height: sun_head_height,
            anchor: Anchor::Insert(insert),
        },
        rotor_screws: Bolting {
            joint: Joint::AdapterToRotor,
            thread: bolts.thread,
            head: ScrewStandard::Countersunk,
            length: seat.rotor_screw,
            count: bolts.count,
            circle: bolts.circle,
            first_angle: 0.0,
            grip: seat.disc,
            clearance: hardware::clearance(design, bolts.thread),
            head_diameter,
            head_height,
            anchor: Anchor::Thread,
        },
    })
}

fn round_up(value: f64, step: f64) -> f64 {
    ((value / step) - 1e-9).ceil() * step
}
