//! The rig's bodies, each as it prints: lowest face at z = 0, nothing overhanging.

use std::f64::consts::PI;

use super::sizes::{DialHolder, Lever, Lock, POINTER_TIP, Sizes, Stand, WALL};
use crate::coupons::{DIGIT_DEPTH_IN_LAYERS, Digit};
use crate::design::PartName;
use crate::geometry::{Body, Point, Region, ShapeError, Stack};
use crate::layout::{Actuator, Bolting};
use crate::parts::{MadePart, Motion, Part, PartFault};

/// Width of a mark's line, in line widths.
const MARK_WIDTH_IN_LINES: f64 = 2.0;
/// The pointer is thin: it carries nothing.
const POINTER_THICKNESS: f64 = 6.0;
/// Pointer and tail go on so far beyond where the dial stands.
const BEYOND_DIAL: f64 = 5.0;
/// Their width at the hub.
const TAIL_ROOT: f64 = 12.0;

/// One printed part of the rig.
#[derive(Clone, Debug)]
pub struct RigPart {
    /// Plain, as in the file's name.
    pub name: &'static str,
    pub about: &'static str,
    /// As the base prints: its material and settings.
    pub made: MadePart,
    /// What is added to its heights where it stands on the actuator; none for what stands apart.
    pub lift: Option<f64>,
}

/// All parts of the rig, scaled for the printer's shrinkage.
///
/// # Errors
/// A part that has no shape.
pub fn parts(actuator: &Actuator, sizes: &Sizes) -> Result<Vec<RigPart>, PartFault> {
    let part = |name, about, lift, stack: Stack| -> Result<RigPart, PartFault> {
        let part =
            Part { name: PartName::VentedBase, count: 1, stack, flipped: false, motion: Motion::Fixed };
        Ok(RigPart { name, about, lift, made: MadePart::of(actuator, part)? })
    };
    let (face, stand_thickness) = (actuator.stations.output_face, sizes.stand.thickness);
    let mut all = vec![
        part(
            "lever",
            "on the output's screws; pushes a scale by its foot at a marked radius; the dial stands on its tail, which nothing bends",
            Some(face),
            lever(actuator, sizes)?,
        )?,
        part(
            "scale-foot",
            "round, screwed beside the lever at a mark: the force acts right below its hole",
            None,
            foot(sizes)?,
        )?,
        part(
            "stand",
            "under the base, upright; its tongue screwed to the edge of a bench, the actuator level over the bench's top",
            Some(-stand_thickness),
            stand(actuator, &sizes.stand)?,
        )?,
        part(
            "pointer",
            "on the output's screws in place of the lever; the dial stands at its end",
            Some(face),
            pointer(actuator, sizes)?,
        )?,
        part(
            "dial-holder",
            "stands on its long edge, screwed to the bench; holds a dial indicator's 8 mm stem level, at the height of pointer and tail",
            None,
            dial_holder(&sizes.dial)?,
        )?,
    ];
    if let Some(lock) = &sizes.lock {
        all.push(part(
            "input-lock",
            "between stand and housing in place of base and motor: holds the rotor adapter",
            Some(actuator.stations.rotor_front - lock.floor),
            input_lock(actuator, lock)?,
        )?);
    }
    Ok(all)
}

/// Hub and arm in one outline: two discs and the bar between them.
fn arm(hub: f64, width: f64, length: f64) -> Result<Region, ShapeError> {
    let end = length - width / 2.0;
    let bar = Region::rectangle(Point::new(0.0, -width / 2.0), Point::new(end, width / 2.0));
    Region::union_of(&[
        Region::disc(Point::ORIGIN, hub / 2.0),
        bar,
        Region::disc(Point::new(end, 0.0), width / 2.0),
    ])
}

/// Holes of the output's screws with pockets for their heads, which open upwards.
fn output_holes(body: &mut Body, output: &Bolting, lever: &Lever, [seat, top]: [f64; 2]) {
    for angle in output.angles() {
        let at = Point::polar(output.radius(), angle);
        body.cut("output screw", [0.0, top], Region::disc(at, lever.clearance / 2.0));
        if seat < top {
            body.cut("output screw head", [seat, top], Region::disc(at, lever.head_pocket / 2.0));
        }
    }
    body.cut("bore", [0.0, top], Region::disc(Point::ORIGIN, lever.bore / 2.0));
}

fn lever(actuator: &Actuator, sizes: &Sizes) -> Result<Stack, ShapeError> {
    let (lever, printer) = (&sizes.lever, &actuator.design.printer);
    let top = lever.thickness;
    let mut body = Body::new();
    let arm = arm(lever.hub_diameter, lever.width, lever.length)?;
    let outline = Region::union_of(&[arm, blade(lever.tail).rotated(PI / 2.0)])?;
    body.add("arm", [0.0, top], outline);
    output_holes(&mut body, &actuator.joints.output, lever, [lever.seat, top]);
    let depth = mark_depth(actuator, top);
    let line = MARK_WIDTH_IN_LINES * printer.line_width;
    let across = dial_mark(lever.tail, line).rotated(PI / 2.0);
    body.cut("dial mark", [depth, top], across);
    let digit = Digit::of(printer.line_width);
    for mark in &lever.marks {
        let at = Point::new(*mark, 0.0);
        body.cut("foot screw", [0.0, top], Region::disc(at, lever.mark_hole / 2.0));
        // A line to either side of the hole, and the distance in centimetres beside it.
        for side in [-1.0, 1.0] {
            let [inner, outer] = [side * (lever.mark_hole / 2.0 + 1.0), side * (lever.width / 2.0 - 1.0)];
            body.cut(
                "mark",
                [depth, top],
                Region::rectangle(
                    Point::new(mark - line / 2.0, inner.min(outer)),
                    Point::new(mark + line / 2.0, inner.max(outer)),
                ),
            );
        }
        let centimetres = (mark / 10.0).round() as u32;
        let digits: Vec<u32> =
            if centimetres >= 10 { vec![centimetres / 10, centimetres % 10] } else { vec![centimetres] };
        let pitch = digit.width + 2.0 * digit.stroke;
        let right = mark - lever.mark_hole / 2.0 - 2.0 - digit.width / 2.0;
        for (place, number) in digits.iter().rev().enumerate() {
            let centre = Point::new(right - place as f64 * pitch, 0.0);
            body.cut("distance", [depth, top], digit.region(*number, centre)?);
        }
    }
    body.stack()
}

/// Where marks end below a top face.
fn mark_depth(actuator: &Actuator, top: f64) -> f64 {
    top - DIGIT_DEPTH_IN_LAYERS * actuator.design.settings(PartName::VentedBase).layer_height
}

/// Pointer or tail along x, tapered, with a straight end whose side faces the dial.
fn blade(reach: f64) -> Region {
    let (root, tip) = (TAIL_ROOT / 2.0, POINTER_TIP);
    let (straight, end) = (reach - 10.0, reach + BEYOND_DIAL);
    Region::polygon(&[
        Point::new(0.0, -root),
        Point::new(straight, -tip),
        Point::new(end, -tip),
        Point::new(end, tip),
        Point::new(straight, tip),
        Point::new(0.0, root),
    ])
}

/// A line across the blade's middle, where the dial stands.
fn dial_mark(reach: f64, line: f64) -> Region {
    let half = POINTER_TIP - 1.0;
    Region::rectangle(Point::new(reach - line / 2.0, -half), Point::new(reach + line / 2.0, half))
}

fn pointer(actuator: &Actuator, sizes: &Sizes) -> Result<Stack, ShapeError> {
    let lever = &sizes.lever;
    let top = POINTER_THICKNESS;
    let mut body = Body::new();
    let outline =
        Region::union_of(&[Region::disc(Point::ORIGIN, lever.hub_diameter / 2.0), blade(lever.tail)])?;
    body.add("pointer", [0.0, top], outline);
    output_holes(&mut body, &actuator.joints.output, lever, [top, top]);
    let line = MARK_WIDTH_IN_LINES * actuator.design.printer.line_width;
    body.cut("dial mark", [mark_depth(actuator, top), top], dial_mark(lever.tail, line));
    body.stack()
}

fn foot(sizes: &Sizes) -> Result<Stack, ShapeError> {
    let foot = &sizes.foot;
    let mut body = Body::new();
    body.add("disc", [0.0, foot.thickness], Region::disc(Point::ORIGIN, foot.diameter / 2.0));
    body.cut("screw", [0.0, foot.thickness], Region::disc(Point::ORIGIN, foot.hole / 2.0));
    body.stack()
}

fn stand(actuator: &Actuator, stand: &Stand) -> Result<Stack, ShapeError> {
    let (half, top) = (stand.width / 2.0, stand.thickness);
    let mut body = Body::new();
    let plate = Region::union_of(&[
        Region::rectangle(Point::new(-half, -stand.below), Point::new(half, 0.0)),
        Region::disc(Point::ORIGIN, stand.above),
    ])?;
    body.add("plate", [0.0, top], plate);
    let machine = &actuator.joints.machine;
    for angle in machine.angles() {
        body.cut(
            "machine screw",
            [0.0, top],
            Region::disc(Point::polar(machine.radius(), angle), stand.hole / 2.0),
        );
    }
    if stand.bore > 0.0 {
        body.cut("opening", [0.0, top], Region::disc(Point::ORIGIN, stand.bore / 2.0));
    }
    for [x, y] in &stand.bench_holes {
        body.cut("bench screw", [0.0, top], Region::disc(Point::new(*x, *y), stand.bench_hole / 2.0));
    }
    body.stack()
}

/// Lies on its side: y is up on the bench. The stem's bore and the bench screws' slots then have no roof.
fn dial_holder(dial: &DialHolder) -> Result<Stack, ShapeError> {
    let (half, top) = (dial.width / 2.0, dial.depth);
    let head = Point::new(0.0, dial.height);
    let mut body = Body::new();
    let outline = Region::union_of(&[
        Region::rectangle(
            Point::new(-dial.foot_length / 2.0, 0.0),
            Point::new(dial.foot_length / 2.0, dial.foot_height),
        ),
        Region::rectangle(Point::new(-half, 0.0), Point::new(half, dial.height)),
        Region::disc(head, half),
    ])?;
    body.add("post", [0.0, top], outline);
    body.cut("stem", [0.0, top], Region::disc(head, dial.bore / 2.0));
    // From the bore out of the head's top; a cable tie round the head closes it.
    let slit = Region::rectangle(
        head + Point::new(-dial.slit / 2.0, 0.0),
        head + Point::new(dial.slit / 2.0, half + 1.0),
    );
    body.cut("slit", [0.0, top], slit);
    for side in [-1.0, 1.0] {
        let middle = side * 0.5 * (half + dial.foot_length / 2.0);
        let slot = Region::rectangle(
            Point::new(middle - dial.slot / 2.0, -1.0),
            Point::new(middle + dial.slot / 2.0, dial.foot_height + 1.0),
        );
        body.cut("bench screw", [(top - dial.slot) / 2.0, top], slot);
    }
    body.stack()
}

fn input_lock(actuator: &Actuator, lock: &Lock) -> Result<Stack, ShapeError> {
    let (joints, printer) = (&actuator.joints, &actuator.design.printer);
    let top = lock.height();
    let mut body = Body::new();
    let disc = |diameter: f64| Region::disc(Point::ORIGIN, diameter / 2.0);
    body.add("cup", [0.0, top], disc(lock.outer));
    body.cut("inside", [lock.floor, top], disc(lock.inner));
    if lock.mouth > lock.inner {
        body.cut("mouth", [top - lock.mouth_depth, top], disc(lock.mouth));
    }
    if let Some((_, depth)) = actuator.adapter.pilot.filter(|_| lock.pilot > 0.0) {
        // A little lower than its recess, so that the faces meet.
        body.add("pilot", [lock.floor, lock.floor + 0.8 * depth], disc(lock.pilot));
    }
    let adapter_hole = printer.hole(lock.adapter_insert.hole);
    let service_bottom = (top - joints.service.hole_depth()).max(WALL);
    for (name, joint, diameter, z) in [
        (
            "adapter insert",
            &joints.adapter_to_rotor,
            adapter_hole,
            [lock.floor - lock.adapter_depth, lock.floor],
        ),
        ("housing insert", &joints.service, actuator.insert_hole(&joints.service), [service_bottom, top]),
        (
            "stand insert",
            &joints.machine,
            actuator.insert_hole(&joints.machine),
            [0.0, joints.machine.hole_depth()],
        ),
    ] {
        for angle in joint.angles() {
            body.cut(name, z, Region::disc(Point::polar(joint.radius(), angle), diameter / 2.0));
        }
    }
    body.stack()
}
