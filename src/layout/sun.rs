//! Sun and rotor adapter: how the motor's torque gets into the gears.

use std::f64::consts::PI;

use crate::design::{Design, GearSource, Joint};
use crate::gears::Stage;
use crate::tables::{Head, Thread, longest_length_within};

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
/// Sums of layer heights carry rounding.
const ROUNDING: f64 = 1e-6;
/// Shallowest useful socket, in sun reference diameters: less doesn't guide the sun straight (common practice).
const SOCKET_GUIDE: f64 = 1.0 / 3.0;

/// Sun, adapter and the two screws that hold them, with the adapter's disc thickness settled.
pub struct SunDrive {
    pub sun: Sun,
    pub adapter: RotorAdapter,
    pub sun_screw: Bolting,
    pub rotor_screws: Bolting,
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

/// Lays out the sun's joint to the rotor. `back_plate` is the thickness of the carrier's back plate.
pub fn sun_drive(
    design: &Design,
    stage: &Stage,
    torques: &Torques,
    back_plate: f64,
    faults: &mut Faults,
) -> Option<SunDrive> {
    let face = design.gearset.face_width;
    let gap = design.printer.running_axial;
    let insert = hardware::short_insert(Thread::M3);
    let bore = Thread::M3.nominal() + 0.4;
    let wanted = design.limits.joint_factor * torques.sun;

    let bolts = &design.motor.rotor_bolts;
    let (head_diameter, head_height) = hardware::head(Head::Countersunk, bolts.thread);
    let thinnest = f64::max(DISC, head_diameter / 2.0 + UNDER_COUNTERSINK);
    // Rotor face to boss end: disc, gap, back plate, side gap, less the gap under the planets.
    let boss_end = |disc: f64| disc + gap + back_plate + SIDE_GAP - gap;

    let (disc_thickness, joint, sun_length, screw_length, insert_depth) = match design.gearset.sun_made {
        GearSource::Print => {
            let disc = round_up(thinnest, design.printer.layer_height);
            // The screw runs the sun's whole height; its insert is pushed up from the rotor side to meet its end.
            let height = boss_end(disc) + gap + face;
            let forced = hardware::forced(design, Joint::Sun).length;
            let length = forced.or_else(|| longest_length_within(Head::Cap, Thread::M3, height - IN_HAND));
            let Some(length) = length.filter(|&length| length <= height - IN_HAND) else {
                faults.push(
                    "sun-screw",
                    format!("No M3 screw ends inside the printed sun, {height:.1} mm from rotor to head. Force its length under [fasteners.sun]."),
                );
                return None;
            };
            (disc, SunJoint::OnePiece, face + gap, length, height - length + insert.length)
        }
        GearSource::Buy => {
            let per_depth = socket_capacity(stage, design.gearset.normal_module, 1.0);
            let shallowest = f64::max(wanted / per_depth, SOCKET_GUIDE * stage.sun.reference_diameter);
            let mut disc = round_up(thinnest, design.printer.layer_height);
            loop {
                // Screw from the sun's front through socket bottom and insert; its tip stays over the rotor face.
                let least = face + gap + shallowest + insert.length;
                let most = face + gap + boss_end(disc) - IN_HAND;
                let Some(length) = hardware::length(design, Joint::Sun, Head::Cap, Thread::M3, least) else {
                    faults.push("sun-screw", format!("No M3 screw reaches through the sun: {least:.1} mm or longer wanted. Narrow the face."));
                    return None;
                };
                if length <= most {
                    let depth = length - insert.length - face - gap;
                    break (
                        disc,
                        SunJoint::Socket { depth },
                        face + gap + depth,
                        length,
                        insert.length + TIP_ROOM,
                    );
                }
                let layers = ((length - most) / design.printer.layer_height).ceil().max(1.0);
                disc += layers * design.printer.layer_height;
            }
        }
    };

    let sun_capacity = match joint {
        SunJoint::OnePiece => one_piece_capacity(stage.sun.root_diameter, bore),
        SunJoint::Socket { depth } => socket_capacity(stage, design.gearset.normal_module, depth),
    };
    let boss = boss_diameter(stage);
    faults.require(bolts.circle >= boss + head_diameter + 0.4, "rotor-screws", || {
        format!(
            "Rotor screws lie under the sun boss: rotor circle {:.1}, boss {boss:.1} and countersunk head {head_diameter:.1} want {:.1}. \
             Fewer sun teeth or a smaller module; or an adapter in two parts (disc on the rotor, sun holder on the disc at a wider circle).",
            bolts.circle,
            boss + head_diameter + 0.4
        )
    });

    let grip = disc_thickness;
    let deepest = design.motor.rotor_thread_depth;
    let longest = grip + deepest;
    let rotor_length = hardware::forced(design, Joint::AdapterToRotor)
        .length
        .or_else(|| longest_length_within(Head::Countersunk, bolts.thread, longest));
    let least_engagement = 0.8 * bolts.thread.nominal();
    let rotor_length = match rotor_length {
        Some(length) if length <= longest + ROUNDING && length - grip >= least_engagement - ROUNDING => {
            length
        }
        _ => {
            faults.push(
                "rotor-screw-length",
                format!(
                    "No {} countersunk screw holds the adapter: disc {grip:.1} thick, the rotor's thread takes {deepest:.1} before the winding; \
                     wanted a length from {:.1} to {longest:.1}.",
                    bolts.thread,
                    grip + least_engagement
                ),
            );
            return None;
        }
    };

    let sun_grip = match joint {
        SunJoint::OnePiece => screw_length - insert.length,
        SunJoint::Socket { .. } => sun_length,
    };
    let (sun_head_diameter, sun_head_height) = hardware::head(Head::Cap, Thread::M3);
    Some(SunDrive {
        sun: Sun { length: sun_length, bore, joint, capacity: sun_capacity },
        adapter: RotorAdapter {
            disc_diameter: bolts.circle + head_diameter + DISC_EDGE,
            disc_thickness,
            boss_diameter: boss,
            pilot: design.motor.rotor_pilot.as_ref().map(|pilot| (pilot.diameter + 0.3, pilot.height + 0.3)),
            insert_hole: (insert.hole, insert_depth),
        },
        sun_screw: Bolting {
            joint: Joint::Sun,
            thread: Thread::M3,
            head: Head::Cap,
            length: screw_length,
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
            head: Head::Countersunk,
            length: rotor_length,
            count: bolts.count,
            circle: bolts.circle,
            first_angle: 0.0,
            grip,
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
