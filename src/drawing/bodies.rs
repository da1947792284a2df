//! Everything that the assembly's section cuts: each body in either half, its item number and how it is drawn.
//!
//! The section is stepped (ISO 128-3): the right half runs through a planet and a service screw, the left half through the
//! screws of stator mount, keeper and pillars; turning parts are drawn turned into the plane.

use std::f64::consts::PI;

use crate::bom::{BillOfMaterials, Kind};
use crate::bought::{Balls, Bought};
use crate::design::{Joint, PartName};
use crate::gears::Gear;
use crate::geometry::{ShapeError, Stack};
use crate::layout::{Actuator, Bolting};
use crate::parts::{Motion, Part, Place};

use super::cut::{Cut, HalfPlane, Toothing};

/// Which half of the section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Half {
    Left,
    Right,
}

impl Half {
    pub const BOTH: [Half; 2] = [Half::Left, Half::Right];

    /// Of a distance from the axis, on the sheet.
    pub fn sign(self) -> f64 {
        match self {
            Half::Left => -1.0,
            Half::Right => 1.0,
        }
    }
}

/// How a body is drawn where it is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    Hatched,
    /// Whole though the plane runs along it: screws, pins.
    Whole,
    /// A bought unit whose inside nobody knows.
    Unit,
}

/// A body of the section.
#[derive(Clone, Debug)]
pub struct Shown {
    pub name: String,
    /// As `bom.csv` counts.
    pub item: Option<usize>,
    pub look: Look,
    pub cuts: Vec<(Half, Cut)>,
    pub balls: Option<Balls>,
    pub toothing: Option<Toothing>,
    /// Distances of its own axis in each half in which it is seen, for centre lines.
    pub axes: Vec<(Half, f64)>,
    pub z: [f64; 2],
    /// Of screws: nominal diameter, whether the tip points to the front, length.
    pub screw: Option<(f64, f64)>,
}

/// Angles at which each half cuts, by what a body turns with.
struct Planes<'a> {
    actuator: &'a Actuator,
}

fn first(joint: &Bolting) -> f64 {
    joint.first_angle
}

impl Planes<'_> {
    /// The half plane for a body that turns with `motion`; `joint` of a screw or an insert, `part` of a print.
    fn of(&self, half: Half, motion: Motion, part: Option<PartName>, joint: Option<Joint>) -> HalfPlane {
        let (joints, stations) = (&self.actuator.joints, &self.actuator.stations);
        let below = f64::NEG_INFINITY;
        match (motion, half) {
            (Motion::Rotor, Half::Right) => HalfPlane::flat(first(&joints.adapter_to_rotor)),
            (Motion::Rotor, Half::Left) => HalfPlane::flat(first(&joints.adapter_to_rotor) + PI),
            (Motion::Fixed, Half::Right) => {
                if part == Some(PartName::StatorMount) || joint == Some(Joint::MotorToMount) {
                    return HalfPlane::flat(first(&joints.motor_to_mount));
                }
                let board =
                    self.actuator.base.standoffs.places.first().map_or(0.0, |&[x, y]| libm::atan2(y, x));
                let over_board = f64::max(stations.board_front, stations.floor);
                HalfPlane { steps: vec![(below, board), (over_board, first(&joints.service))] }
            }
            (Motion::Fixed, Half::Left) => {
                let keeper = first(&joints.keeper);
                let mut steps = vec![(below, first(&joints.stator_mount))];
                match &joints.ring_insert {
                    Some(screws) => steps.extend([
                        (stations.service, first(screws)),
                        (
                            f64::min(stations.ring_front + screws.hole_depth() + 0.2, stations.keeper_back),
                            keeper,
                        ),
                    ]),
                    None => steps.push((stations.service, keeper)),
                }
                HalfPlane { steps }
            }
            (Motion::Carrier | Motion::Planet, Half::Right) => {
                HalfPlane { steps: vec![(below, 0.0), (self.hub_step(), first(&joints.output))] }
            }
            (Motion::Carrier | Motion::Planet, Half::Left) => HalfPlane {
                steps: vec![(below, first(&joints.pillars)), (self.hub_step(), first(&joints.clamp_ring))],
            },
        }
    }

    /// Where the plane steps in the carrier: half way between the holes from the back and those from the front.
    fn hub_step(&self) -> f64 {
        let (joints, stations) = (&self.actuator.joints, &self.actuator.stations);
        let from_back = stations.plate_back
            + f64::max(joints.pillars.hole_depth(), self.actuator.planet.pin_depth_carrier + 0.3);
        let from_front = stations.hub_front - joints.clamp_ring.hole_depth();
        (from_back + from_front) / 2.0
    }
}

fn toothing(gear: &Gear) -> Toothing {
    Toothing {
        teeth: gear.teeth,
        root_diameter: gear.root_diameter,
        tip_diameter: gear.tip_diameter,
        reference_diameter: gear.reference_diameter,
    }
}

/// Teeth of a printed part, if it has any.
pub fn part_toothing(actuator: &Actuator, part: PartName) -> Option<Toothing> {
    match part {
        PartName::Planet => Some(toothing(&actuator.stage.planet)),
        PartName::RotorAdapter | PartName::Sun => Some(toothing(&actuator.stage.sun)),
        PartName::RingInsert | PartName::RingInsertBack => Some(toothing(&actuator.stage.ring)),
        PartName::RingHousing if actuator.ring_insert.is_none() => Some(toothing(&actuator.stage.ring)),
        _ => None,
    }
}

/// All bodies, those to be drawn first at the front of the list.
///
/// # Errors
/// A body whose walls have no shape between two heights.
pub fn shown(
    actuator: &Actuator,
    bom: &BillOfMaterials,
    printed: &[Part],
    bought: &[Bought],
) -> Result<Vec<Shown>, ShapeError> {
    let planes = Planes { actuator };
    let mut found = Vec::new();
    for part in printed {
        let teeth = part_toothing(actuator, part.name);
        let places = part.places(&actuator.stage);
        let plane = |half| planes.of(half, part.motion, Some(part.name), None);
        let (cuts, axes) = cuts(&part.stack, &places, plane, teeth.as_ref())?;
        found.push(Shown {
            name: part.name.as_str().to_owned(),
            item: bom.number_of_part(part.name),
            look: Look::Hatched,
            cuts,
            balls: None,
            toothing: teeth,
            axes,
            z: part.stack.z_range(),
            screw: None,
        });
    }
    for body in bought {
        let teeth = match (body.kind, body.name.as_str()) {
            (Kind::Gear, "sun") => Some(toothing(&actuator.stage.sun)),
            (Kind::Gear, _) => Some(toothing(&actuator.stage.planet)),
            _ => None,
        };
        let plane = |half| planes.of(half, body.motion, None, body.joint);
        let (mut cuts, axes) = cuts(&body.stack, &body.places, plane, teeth.as_ref())?;
        groove(bought, body, &mut cuts);
        let look = match body.kind {
            Kind::Fastener | Kind::Pin => Look::Whole,
            Kind::Motor => Look::Unit,
            _ => Look::Hatched,
        };
        let joint = body.joint.and_then(|name| actuator.joints.iter().find(|joint| joint.joint == name));
        found.push(Shown {
            name: body.name.clone(),
            item: bom.number_of(actuator, body),
            look,
            cuts,
            balls: body.balls,
            toothing: teeth,
            axes,
            z: body.stack.z_range(),
            screw: joint
                .filter(|_| body.kind == Kind::Fastener)
                .map(|joint| (joint.thread.nominal(), joint.length)),
        });
    }
    found.retain(|body| !body.cuts.is_empty());
    // Painted over each other: what is held, then what holds it.
    found.sort_by_key(|body| match body.look {
        Look::Unit => 0,
        Look::Hatched if body.toothing.is_none() => 1,
        Look::Hatched => 2,
        Look::Whole => 3,
    });
    Ok(found)
}

/// Lands of a bearing's rings, so that its balls lie in grooves: the bodies to look at keep clear of the balls, a section
/// after ISO 8826 doesn't.
fn groove(bought: &[Bought], body: &Bought, cuts: &mut [(Half, Cut)]) {
    /// Of the ball's diameter, from the pitch circle.
    const LAND: f64 = 0.3;
    let bearing =
        |name: &str| name.trim_end_matches(" inner ring").trim_end_matches(" outer ring").to_owned();
    let own = bearing(&body.name);
    if own == body.name {
        return;
    }
    let Some(balls) = bought.iter().filter(|other| bearing(&other.name) == own).find_map(|other| other.balls)
    else {
        return;
    };
    let inner = body.balls.is_none();
    for (_, cut) in cuts {
        let distance = body.places.first().map_or(0.0, |place| place.distance);
        for span in cut.bands.iter_mut().flat_map(|band| band.bottom.iter_mut().chain(&mut band.top)) {
            let side = if (span[0] + span[1]) / 2.0 < distance { -1.0 } else { 1.0 };
            let pitch = distance + side * balls.circle / 2.0;
            let land = pitch - side * if inner { LAND } else { -LAND } * balls.diameter;
            // The inner ring grows outwards, the outer one inwards.
            let end = if (side > 0.0) == inner { 1 } else { 0 };
            if let Some(end) = span.get_mut(end) {
                *end = land;
            }
        }
    }
}

type Seen = (Vec<(Half, Cut)>, Vec<(Half, f64)>);

/// Cuts of all copies in both halves, and where the copies' own axes lie in the planes.
fn cuts(
    stack: &Stack,
    places: &[Place],
    plane: impl Fn(Half) -> HalfPlane,
    toothing: Option<&Toothing>,
) -> Result<Seen, ShapeError> {
    let mut found = Vec::new();
    let mut axes = Vec::new();
    for half in Half::BOTH {
        let plane = plane(half);
        for place in places {
            let cut = Cut::of(stack, *place, &plane, toothing)?;
            if cut.is_empty() {
                continue;
            }
            let off = plane.off_axis(place, stack.z_range());
            // A copy that the plane merely grazes is not drawn: only those it halves.
            if place.distance > 0.0 && off > 0.05 {
                continue;
            }
            axes.push((half, place.distance));
            found.push((half, cut));
        }
    }
    Ok((found, axes))
}

impl HalfPlane {
    /// How far a place's own axis stands off the plane at a body's middle height \[mm\]; far behind it counts as off.
    fn off_axis(&self, place: &Place, z: [f64; 2]) -> f64 {
        let turn = place.angle - self.angle_at((z[0] + z[1]) / 2.0);
        if libm::cos(turn) < 0.0 { place.distance } else { place.distance * libm::sin(turn).abs() }
    }
}
