//! Every dimension of the rig, from the actuator it fits. Lengths mm.

use thiserror::Error;

use crate::design::PartName;
use crate::layout::{Actuator, Bolting, LINK};
use crate::ratings::joint::head_pressure::warm_strength;
use crate::tables::{HoleSeries, ScrewStandard, Thread, screw_head, screw_lengths};

/// Distance between marks, so that a number of centimetres names one.
const MARK_STEP: f64 = 50.0;
/// Longest lever that a hand holds level on a kitchen scale (common practice, no source).
const LONGEST: f64 = 250.0;
/// Plastic around holes (common practice, no source).
pub const WALL: f64 = 4.0;
/// Of a lever: thinnest and thickest, in steps.
const THICKNESS: [f64; 2] = [8.0, 24.0];
const STEP: f64 = 1.0;
/// Wanted of the lever over the limit's factor, so that it also stays straight.
const IN_HAND: f64 = 1.5;
/// Least seat under the screws' heads in the lever.
const LEAST_SEAT: f64 = 4.0;
/// Room around a head in its pocket, on the diameter, as the layout's.
pub const HEAD_ROOM: f64 = 0.5;
/// Thread of the scale foot's screw and of the stand's wood screws' holes.
pub const FOOT_THREAD: Thread = Thread::M5;
/// How far the foot stands out below the lever.
const FOOT_BELOW: f64 = 6.0;
/// Thick enough that it doesn't tilt on the scale.
const FOOT_THICKNESS: f64 = 12.0;
const STAND_THICKNESS: f64 = 12.0;
/// Below the base: what is screwed to the bench's edge.
const TONGUE: f64 = 70.0;
const TONGUE_SCREWS: u32 = 4;
/// Stem of dial indicators: 8 h6 (ISO 463, from memory), and how the printed bore holds it by its slit.
pub const DIAL_STEM: f64 = 8.0;
const DIAL_SLACK: f64 = 0.2;
/// Cup of the input lock.
const LOCK_WALL: f64 = 4.0;
const LOCK_FLOOR: f64 = 6.0;

/// Why no rig is made.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NoRig {
    #[error("the bed of {bed:.0} mm holds no lever that reaches a mark {wanted:.0} mm from the axis")]
    BedTooSmall { bed: f64, wanted: f64 },
    #[error(
        "no length of the output screws ({thread}) fits a lever between {least:.0} and {most:.0} mm thick"
    )]
    NoScrew { thread: Thread, least: f64, most: f64 },
}

/// The lever.
#[derive(Clone, Debug, PartialEq)]
pub struct Lever {
    pub hub_diameter: f64,
    pub bore: f64,
    pub width: f64,
    pub thickness: f64,
    /// Under the heads of the output screws.
    pub seat: f64,
    /// Output screws to buy.
    pub screw_length: f64,
    pub clearance: f64,
    pub head_pocket: f64,
    /// Distances from the axis, rising.
    pub marks: Vec<f64>,
    /// Of the foot's screw at each mark.
    pub mark_hole: f64,
    /// From the axis to the end.
    pub length: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    pub width: f64,
    pub thickness: f64,
    /// From the axis up and down.
    pub above: f64,
    pub below: f64,
    pub bore: f64,
    pub hole: f64,
    /// Of the screws into the bench, relative to the axis.
    pub bench_holes: Vec<[f64; 2]>,
    pub bench_hole: f64,
}

/// Foot: a round disc under the lever, so that the force acts right below its hole.
#[derive(Clone, Debug, PartialEq)]
pub struct Foot {
    pub diameter: f64,
    pub thickness: f64,
    pub hole: f64,
}

/// A post with a slit bore for a dial indicator's stem.
#[derive(Clone, Debug, PartialEq)]
pub struct DialHolder {
    pub length: f64,
    pub width: f64,
    pub height: f64,
    pub bore: f64,
    pub slit: f64,
    pub screw_hole: f64,
}

/// A cup in the place of base and motor: holds the rotor adapter against the housing.
#[derive(Clone, Debug, PartialEq)]
pub struct Lock {
    /// Height of the cup's inside: service plane over the rotor's face.
    pub depth: f64,
    pub inner: f64,
    pub outer: f64,
    pub mouth: f64,
    pub mouth_depth: f64,
    pub floor: f64,
    pub pilot: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Sizes {
    pub lever: Lever,
    pub foot: Foot,
    pub stand: Stand,
    pub dial: DialHolder,
    /// None where the rotor's face stands in front of the service plane.
    pub lock: Option<Lock>,
}

impl Sizes {
    /// # Errors
    /// A bed too small for a lever, or no screw that fits it.
    pub fn of(actuator: &Actuator) -> Result<Sizes, NoRig> {
        let printer = &actuator.design.printer;
        let hole =
            |thread: Thread| printer.hole(thread.clearance_hole(HoleSeries::Medium) + printer.clearance_hole);
        let lever = lever(actuator, hole(FOOT_THREAD))?;
        let foot = Foot {
            diameter: lever.width + 2.0 * FOOT_BELOW,
            thickness: FOOT_THICKNESS,
            hole: lever.mark_hole,
        };
        let dial = DialHolder {
            length: 40.0,
            width: DIAL_STEM + 4.0 * WALL,
            height: 20.0,
            bore: printer.hole(DIAL_STEM + DIAL_SLACK),
            slit: 2.0,
            screw_hole: hole(Thread::M4),
        };
        Ok(Sizes { lever, foot, stand: stand(actuator, hole(FOOT_THREAD)), dial, lock: lock(actuator) })
    }
}

fn lever(actuator: &Actuator, mark_hole: f64) -> Result<Lever, NoRig> {
    let (design, output) = (&actuator.design, &actuator.joints.output);
    let printer = &design.printer;
    let head_pocket = output.head_diameter + HEAD_ROOM;
    let hub_diameter = output.circle + head_pocket + 2.0 * WALL;
    let width = f64::max(mark_hole + 4.0 * WALL, 0.6 * hub_diameter);
    // Along the bed's longer side; the hub's half and the end's wall lie beyond the marks.
    let bed = f64::max(printer.bed[0], printer.bed[1]);
    let room = bed - 2.0 * MARGIN - hub_diameter / 2.0 - width / 2.0;
    let count = (f64::min(room, LONGEST) / MARK_STEP).floor();
    let first = ((hub_diameter / 2.0 + mark_hole) / MARK_STEP).ceil().max(1.0);
    if count < first {
        return Err(NoRig::BedTooSmall { bed, wanted: first * MARK_STEP });
    }
    let marks: Vec<f64> = (first as u32..=count as u32).map(|mark| f64::from(mark) * MARK_STEP).collect();
    let thickness = thickness(actuator, width, hub_diameter, mark_hole, &marks);
    let (seat, screw_length) = screw(output, thickness).ok_or(NoRig::NoScrew {
        thread: output.thread,
        least: LEAST_SEAT,
        most: thickness,
    })?;
    let length = marks.last().copied().unwrap_or(0.0) + width / 2.0;
    Ok(Lever {
        hub_diameter,
        bore: printer.hole(actuator.clamp_ring.bore.min(output.circle - head_pocket - 2.0 * WALL).max(3.0)),
        width,
        thickness,
        seat,
        screw_length,
        clearance: printer.hole(output.clearance),
        head_pocket: printer.hole(head_pocket),
        marks,
        mark_hole,
        length,
    })
}

/// Skirt around a part on the bed.
const MARGIN: f64 = 5.0;

/// Thinnest that bears the peak, or the thickest there is.
fn thickness(actuator: &Actuator, width: f64, hub: f64, hole: f64, marks: &[f64]) -> f64 {
    let design = &actuator.design;
    let material = design.settings(PartName::VentedBase).material;
    let strength =
        warm_strength(material.strength_in_plane, design.ambient.temperature, material.service_temperature);
    let wanted = IN_HAND * design.limits.joint_factor;
    let mut thickness = THICKNESS[0];
    while thickness < THICKNESS[1] {
        let stress = lever_stress(actuator.torques.output, [width, thickness], hub, hole, marks).stress;
        if strength.is_some_and(|strength| strength >= wanted * stress) {
            break;
        }
        thickness += STEP;
    }
    thickness
}

/// Where a lever is stressed most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeverStress {
    /// \[MPa\]
    pub stress: f64,
    /// From the axis.
    pub section: f64,
    /// Where the scale pushes.
    pub mark: f64,
}

/// Bending of the lever, a cantilever with one force at a mark: `M(x) = T (1 - x / r)`, `sigma = 6 M w / (t (w^3 - d^3))` with a hole d in
/// the middle of the section, d = 0 at the hub's edge (beam formula; W. Young, R. Budynas, Roark's Formulas, table 8.1, from
/// memory). `torque` \[N m\], width and thickness of the section.
pub fn lever_stress(
    torque: f64,
    [width, thickness]: [f64; 2],
    hub: f64,
    hole: f64,
    marks: &[f64],
) -> LeverStress {
    let mut worst = LeverStress { stress: 0.0, section: 0.0, mark: 0.0 };
    for mark in marks {
        let at_hub = std::iter::once((hub / 2.0, 0.0));
        let at_holes = marks.iter().map(|other| (*other, hole));
        for (section, hole) in at_hub.chain(at_holes).filter(|(section, _)| section < mark) {
            let moment = torque * 1e3 * (1.0 - section / mark);
            let stress = 6.0 * moment * width / (thickness * (width.powi(3) - hole.powi(3)));
            if stress > worst.stress {
                worst = LeverStress { stress, section, mark: *mark };
            }
        }
    }
    worst
}

/// Deflection \[mm\] of the lever's end under the peak torque at the last mark: `F L^3 / (3 E I)` from the hub's edge (as above).
pub fn lever_deflection(torque: f64, lever: &Lever, modulus: f64) -> f64 {
    let mark = lever.marks.last().copied().unwrap_or(lever.length);
    let free = mark - lever.hub_diameter / 2.0;
    let second_moment = lever.thickness * lever.width.powi(3) / 12.0;
    torque * 1e3 / mark * free.powi(3) / (3.0 * modulus * second_moment)
}

/// Seat under the heads and length, so that the screws reach into the output's inserts just as with the link that is meant.
fn screw(output: &Bolting, thickness: f64) -> Option<(f64, f64)> {
    let beyond = output.length - LINK;
    // The layout's screw reaches this far under a link's face: no deeper, its hole is blind.
    screw_lengths(ScrewStandard::Cap, output.thread)
        .map(|length| (length - beyond, length))
        .filter(|(seat, _)| *seat >= LEAST_SEAT && *seat <= thickness)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
}

fn stand(actuator: &Actuator, bench_hole: f64) -> Stand {
    let machine = &actuator.joints.machine;
    let printer = &actuator.design.printer;
    let hole = printer.hole(machine.clearance);
    let head = screw_head(ScrewStandard::Cap, machine.thread)
        .map_or(2.0 * machine.thread.nominal(), |head| head.diameter);
    let half = f64::max(actuator.base.outer / 2.0, machine.radius() + head / 2.0 + WALL);
    let below = half + TONGUE;
    let pitch = (2.0 * half - 2.0 * (bench_hole + WALL)) / f64::from(TONGUE_SCREWS / 2 - 1).max(1.0);
    let bench_holes = (0..TONGUE_SCREWS)
        .map(|index| {
            let (row, column) = (f64::from(index / 2), f64::from(index % 2));
            let x = (column - 0.5) * pitch;
            [x, -(half + TONGUE * (0.35 + 0.45 * row))]
        })
        .collect();
    Stand {
        width: 2.0 * half,
        thickness: STAND_THICKNESS,
        above: half,
        below,
        // Open for leads and for a look at the magnet.
        bore: machine.circle - head - 2.0 * WALL - 2.0,
        hole,
        bench_holes,
        bench_hole,
    }
}

fn lock(actuator: &Actuator) -> Option<Lock> {
    let (stations, base, service) = (&actuator.stations, &actuator.base, &actuator.joints.service);
    let depth = stations.service - stations.rotor_front;
    let printer = &actuator.design.printer;
    let pilot = actuator.adapter.pilot.map_or(0.0, |(diameter, _)| diameter);
    (depth > 0.0).then(|| Lock {
        depth,
        inner: base.bore.min(base.mouth_bore),
        outer: f64::max(base.mouth_bore, service.circle + service.head_diameter) + 2.0 * LOCK_WALL,
        mouth: base.mouth_bore,
        mouth_depth: base.mouth_depth.min(depth),
        floor: LOCK_FLOOR,
        // A raised pilot centres the adapter as the rotor's does.
        pilot: if pilot > 0.0 { printer.post(pilot) } else { 0.0 },
    })
}
