//! The rig's bodies, each as it prints: lowest face at z = 0, nothing overhanging.

use std::f64::consts::PI;

use super::sizes::{Lever, Lock, Sizes, Stand};
use crate::coupons::{DIGIT_DEPTH_IN_LAYERS, Digit};
use crate::geometry::{Body, Mesh, Point, Region, ShapeError, Stack};
use crate::layout::{Actuator, Bolting};
use crate::parts::fine_mesh;

/// Depth of a mark's line and its width, in line widths.
const MARK_WIDTH_IN_LINES: f64 = 2.0;
/// The pointer is thin: it carries nothing.
const POINTER_THICKNESS: f64 = 6.0;
const POINTER_TIP: f64 = 8.0;

/// One printed part of the rig.
#[derive(Clone, Debug)]
pub struct RigPart {
    /// Plain, as in the file's name.
    pub name: &'static str,
    pub count: u32,
    pub about: &'static str,
    pub stack: Stack,
}

impl RigPart {
    /// # Errors
    /// A boundary that doesn't close.
    pub fn mesh(&self) -> Result<Mesh, ShapeError> {
        fine_mesh(&self.stack, self.stack.volume()?)
    }
}

/// All parts of the rig, scaled for the printer's shrinkage.
///
/// # Errors
/// A part that has no shape.
pub fn parts(actuator: &Actuator, sizes: &Sizes) -> Result<Vec<RigPart>, ShapeError> {
    let part = |name, about, stack| RigPart { name, count: 1, about, stack };
    let mut all = vec![
        part(
            "lever",
            "on the output's screws; pushes a scale by its foot at a marked radius",
            lever(actuator, sizes)?,
        ),
        part(
            "scale-foot",
            "round, screwed beside the lever at a mark: the force acts right below its hole",
            foot(sizes)?,
        ),
        part(
            "stand",
            "under the base, upright; its tongue screwed to the edge of a bench, the axis level",
            stand(actuator, &sizes.stand)?,
        ),
        part(
            "pointer",
            "on the output's screws in place of the lever; its end moves the dial",
            pointer(actuator, sizes)?,
        ),
        part("dial-holder", "holds a dial indicator's 8 mm stem; screwed to the bench", dial_holder(sizes)?),
    ];
    if let Some(lock) = &sizes.lock {
        all.push(part(
            "input-lock",
            "in place of base and motor: holds the rotor adapter against the housing",
            input_lock(actuator, lock)?,
        ));
    }
    let material = actuator.design.settings(crate::design::PartName::VentedBase).material;
    let scale = actuator.design.printer.scale(&material.name);
    if scale != 1.0 {
        for part in &mut all {
            part.stack = part.stack.scaled(scale);
        }
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
    body.add("arm", [0.0, top], arm(lever.hub_diameter, lever.width, lever.length)?);
    output_holes(&mut body, &actuator.joints.output, lever, [lever.seat, top]);
    let depth = top
        - DIGIT_DEPTH_IN_LAYERS * actuator.design.settings(crate::design::PartName::VentedBase).layer_height;
    let line = MARK_WIDTH_IN_LINES * printer.line_width;
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

fn pointer(actuator: &Actuator, sizes: &Sizes) -> Result<Stack, ShapeError> {
    let lever = &sizes.lever;
    let top = POINTER_THICKNESS;
    let reach = lever.marks.last().copied().unwrap_or(lever.length);
    let mut body = Body::new();
    let root = lever.width / 2.0;
    let tip = POINTER_TIP / 2.0;
    // Tapered, with a straight end whose side faces the dial.
    let blade = Region::polygon(&[
        Point::new(0.0, -root),
        Point::new(reach - 15.0, -tip),
        Point::new(reach + 5.0, -tip),
        Point::new(reach + 5.0, tip),
        Point::new(reach - 15.0, tip),
        Point::new(0.0, root),
    ]);
    let outline = Region::union_of(&[Region::disc(Point::ORIGIN, lever.hub_diameter / 2.0), blade])?;
    body.add("pointer", [0.0, top], outline);
    output_holes(&mut body, &actuator.joints.output, lever, [top, top]);
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

/// A block with an upright slit bore; a screw along the bed would hang over, so that a cable tie in the notch closes the slit.
fn dial_holder(sizes: &Sizes) -> Result<Stack, ShapeError> {
    let dial = &sizes.dial;
    let (half, top) = (dial.width / 2.0, dial.height);
    let mut body = Body::new();
    let foot = Region::rectangle(Point::new(-half, -half), Point::new(dial.length, half));
    body.add("foot", [0.0, FOOT_HEIGHT], foot);
    body.add("block", [FOOT_HEIGHT, top], Region::disc(Point::ORIGIN, half));
    body.cut("stem", [0.0, top], Region::disc(Point::ORIGIN, dial.bore / 2.0));
    let slit = Region::rectangle(Point::new(-half - 1.0, -dial.slit / 2.0), Point::new(0.0, dial.slit / 2.0));
    body.cut("slit", [FOOT_HEIGHT, top], slit);
    let screw = Point::new(dial.length - dial.screw_hole - 2.0, 0.0);
    body.cut("bench screw", [0.0, FOOT_HEIGHT], Region::disc(screw, dial.screw_hole / 2.0));
    body.stack()
}

/// Of the dial holder's foot.
pub const FOOT_HEIGHT: f64 = 6.0;

fn input_lock(actuator: &Actuator, lock: &Lock) -> Result<Stack, ShapeError> {
    let printer = &actuator.design.printer;
    let top = lock.floor + lock.depth;
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
    for (name, joint, height) in [
        ("adapter screw", &actuator.joints.adapter_to_rotor, lock.floor + 2.0),
        ("housing screw", &actuator.joints.service, top),
    ] {
        for angle in joint.angles() {
            let hole = printer.hole(joint.clearance);
            body.cut(name, [0.0, height], Region::disc(Point::polar(joint.radius(), angle), hole / 2.0));
        }
    }
    body.stack()
}

/// Volume \[mm3\] of an arm without its holes: two discs and a bar, what they share counted once.
pub fn arm_volume(lever: &Lever) -> f64 {
    let (hub, half) = (lever.hub_diameter / 2.0, lever.width / 2.0);
    let end = lever.length - half;
    // The half disc at the end, the bar from the axis on, and the hub less what lies under the bar.
    let under = half * (hub * hub - half * half).sqrt() + hub * hub * libm::asin(half / hub);
    (PI * half * half / 2.0 + 2.0 * half * end + PI * hub * hub - under) * lever.thickness
}
