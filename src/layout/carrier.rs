//! Output side of the carrier: hub, bolt pattern, crown and clamp ring.

use std::f64::consts::{PI, TAU};

use crate::design::{Design, Joint};
use crate::gears::Stage;
use crate::tables::{ScrewStandard, Thread};

use super::actuator::{ClampRing, Crown, Planet, Stations, Torques};
use super::fault::Faults;
use super::hardware::{self, Anchor, Bolting, FLOOR};
use super::planet::{PIN_WALL, Pillars, plate_thickness};

/// The link's thickness is the user's; six millimetres is a usual printed or plate link (common practice, no source).
pub const LINK: f64 = 6.0;
/// Further room for the tip of an output bolt, whose length the user chooses.
pub const OUTPUT_TIP_ROOM: f64 = 0.5;
/// Plastic outside a pillar screw's countersink.
const HEAD_EDGE: f64 = 1.2;
/// Wall between neighbouring holes of one part.
pub const HOLE_WALL: f64 = 1.6;
/// Hub stands this far under the bearing's face, so that the clamp ring presses the inner ring: a ring is up to 0.15 mm narrower than
/// nominal, the printed hub up to half a layer higher. And so much further for a second ring.
const HUB_SHY: f64 = 0.3;
const SECOND_RING_SHY: f64 = 0.1;
/// The crown stands this far inside the hub, clear of the chamfer over which the bearing slides on.
const CROWN_INSET: f64 = 0.5;
/// Least depth of the crown's teeth along the radius, and least height.
const CROWN_LEAST_DEPTH: f64 = 2.0;
const CROWN_LEAST_HEIGHT: f64 = 1.5;
/// Share of the circle the crown's teeth take; the clamp ring's, held on three sides, take the rest.
const CROWN_SHARE: f64 = 0.6;
/// A little more than wanted, so that rounding doesn't decide.
const CROWN_ENOUGH: f64 = 1.05;
/// Plastic left in the clamp ring over a crown tooth.
const CROWN_COVER: f64 = 1.8;
/// Pressure allowed on the crown's sides \[MPa\]. Assumed, not sourced; band 0.6 to 1.4 of it.
pub const CROWN_PRESSURE: f64 = 20.0;
/// Bending allowed across layers at a crown tooth's foot \[MPa\]. Assumed, not sourced.
const CROWN_BENDING: f64 = super::sun::ACROSS_LAYERS;
/// Running room of the crown in its pockets, on every side.
pub const CROWN_ROOM: f64 = 0.1;
/// A countersink's rim to any other edge.
const COUNTERSINK_EDGE: f64 = 0.8;
/// Head of the sun's screw turns inside the carrier's bore.
const BORE: f64 = 7.0;

/// A blind or through hole of the carrier: place, radius, height.
#[derive(Clone, Debug)]
pub struct Hole {
    pub name: &'static str,
    pub distance: f64,
    pub angle: f64,
    pub radius: f64,
    pub z: [f64; 2],
}

/// Output bolts and clamp screws on one circle, before their turn against the planets is known.
pub struct OutputPattern {
    pub output: Bolting,
    pub clamp: Bolting,
    pub bore: f64,
}

/// Chooses output bolts and clamp screws. `clamp_thickness` is bearing face to output face.
pub fn output_pattern(
    design: &Design,
    stage: &Stage,
    hub: f64,
    clamp_thickness: f64,
    faults: &mut Faults,
) -> Option<OutputPattern> {
    let forced = hardware::forced(design, Joint::Output);
    let thread = forced.thread.unwrap_or(if hub < 35.0 { Thread::M3 } else { Thread::M4 });
    let insert = hardware::insert(thread);
    let wall = insert.boss_wall();
    let circle = hub - insert.hole - 2.0 * wall;
    let clamp_insert = hardware::short_insert(Thread::M3);

    let bore_room = circle - insert.hole - 2.0 * HOLE_WALL;
    // A clamp screw sits midway between two bolts.
    let fits = |count: u32| {
        let apart = circle * libm::sin(PI / f64::from(2 * count.max(1)));
        apart - insert.hole / 2.0 - clamp_insert.hole / 2.0 >= HOLE_WALL && bore_room >= BORE
    };
    let planets = stage.planets;
    let count = match forced.count {
        Some(count) => Some(count).filter(|&count| fits(count)),
        None => {
            let symmetric = |count: &u32| count.is_multiple_of(planets) || planets.is_multiple_of(*count);
            let candidates = [6, 4, 3];
            candidates
                .iter()
                .copied()
                .filter(symmetric)
                .chain(candidates.iter().copied().filter(|count| !symmetric(count)))
                .find(|&count| fits(count))
        }
    };
    let Some(count) = count else {
        faults.push(
            "output-bolts",
            format!(
                "Output bolts don't fit: {thread} with {:.1} mm inserts on a hub of {hub:.1} give a circle of {circle:.1}; with the clamp screws \
                 between them the walls fall under {HOLE_WALL}. Use a larger output bearing, or force a smaller thread or count under [fasteners.output].",
                insert.hole
            ),
        );
        return None;
    };

    let clamps = clamp_count(count);
    let (clamp_head, clamp_head_height) = hardware::head(ScrewStandard::Countersunk, Thread::M3);
    let clamp_grip = clamp_thickness + hub_shy(design);
    let Some(clamp_length) = hardware::length(
        design,
        Joint::ClampRing,
        ScrewStandard::Countersunk,
        Thread::M3,
        clamp_grip + clamp_insert.length,
    ) else {
        faults.push(
            "clamp-screws",
            format!(
                "No M3 countersunk screw of {:.1} or longer is sold for the clamp ring.",
                clamp_grip + clamp_insert.length
            ),
        );
        return None;
    };
    let (bolt_head, bolt_head_height) = hardware::head(ScrewStandard::Cap, thread);
    let output = Bolting {
        joint: Joint::Output,
        thread,
        head: ScrewStandard::Cap,
        length: 0.0,
        count,
        circle,
        first_angle: 0.0,
        grip: clamp_grip,
        clearance: hardware::clearance(design, thread),
        head_diameter: bolt_head,
        head_height: bolt_head_height,
        anchor: Anchor::Outside(insert),
    };
    let clamp = Bolting {
        joint: Joint::ClampRing,
        thread: Thread::M3,
        head: ScrewStandard::Countersunk,
        length: clamp_length,
        count: clamps,
        circle,
        first_angle: PI / f64::from(count),
        grip: clamp_grip,
        clearance: hardware::clearance(design, Thread::M3),
        head_diameter: clamp_head,
        head_height: clamp_head_height,
        anchor: Anchor::Insert(clamp_insert),
    };
    let widest = f64::max(BORE, 0.4 * hub);
    let inner_wall = circle - output.hole_diameter() - 2.0 * wall;
    // The clamp screws' countersinks keep their edge towards the bore.
    let inside_heads = circle - clamp.head_diameter - 2.0 * COUNTERSINK_EDGE;
    let bore = f64::max(BORE, f64::min(f64::min(inner_wall, inside_heads), widest));
    Some(OutputPattern { bore, output, clamp })
}

/// Four clamp screws with four output bolts, else three (layout rule), so that each sits midway between two bolts.
fn clamp_count(bolts: u32) -> u32 {
    match bolts {
        4 => 4,
        5 => 5,
        _ => 3,
    }
}

/// The best turn of the output pattern against the planets.
pub struct BestAngle {
    pub angle: f64,
    /// Least over all pairs of holes of max(wall / 1.6, floor / 1.2); 1 and more holds.
    pub margin: f64,
    /// The pair that is nearest there.
    pub nearest: [&'static str; 2],
}

/// Turns the output pattern to the angle that keeps its holes farthest from pins and pillar inserts; `alike` times a turn the
/// pattern comes to lie on itself.
pub fn best_angle(fixed: &[Hole], turning: &[Hole], alike: u32) -> BestAngle {
    const STEPS: u32 = 360;
    /// Better by more than rounding, so that the first of equal angles wins everywhere.
    const BETTER: f64 = 1e-9;
    let pairs: Vec<(&Hole, &Hole)> =
        turning.iter().flat_map(|hole| fixed.iter().map(move |other| (hole, other))).collect();
    let mut best = BestAngle { angle: 0.0, margin: f64::NEG_INFINITY, nearest: ["", ""] };
    // A pair that is too near at one angle is likely to be so at the next: asked first, it spares all others.
    let mut nearest_before = 0;
    // What follows repeats what was, but for rounding.
    let first = if alike > 0 && STEPS.is_multiple_of(alike) { STEPS / alike } else { STEPS };
    for step in 0..first {
        let angle = TAU * f64::from(step) / f64::from(STEPS);
        let too_near =
            |(hole, other): &(&Hole, &Hole)| pair_margin(hole, angle, other) <= best.margin + BETTER;
        if pairs.get(nearest_before).is_some_and(too_near) {
            continue;
        }
        if let Some(index) = pairs.iter().position(too_near) {
            nearest_before = index;
            continue;
        }
        let mut margin = f64::INFINITY;
        let mut nearest = ["", ""];
        for (hole, other) in &pairs {
            let here = pair_margin(hole, angle, other);
            if here < margin {
                (margin, nearest) = (here, [hole.name, other.name]);
            }
        }
        if margin > best.margin + BETTER {
            best = BestAngle { angle, margin, nearest };
        }
    }
    best
}

/// Greatest common divisor.
fn common(a: u32, b: u32) -> u32 {
    if b == 0 { a } else { common(b, a % b) }
}

fn pair_margin(turning: &Hole, turn: f64, fixed: &Hole) -> f64 {
    let angle = turning.angle + turn - fixed.angle;
    let (a, b) = (turning.distance, fixed.distance);
    let apart = (a * a + b * b - 2.0 * a * b * libm::cos(angle)).max(0.0).sqrt();
    let wall = apart - turning.radius - fixed.radius;
    let floor = f64::max(turning.z[0] - fixed.z[1], fixed.z[0] - turning.z[1]);
    f64::max(wall / HOLE_WALL, floor / FLOOR)
}

/// Holes of a bolting that start at `top` and go down by `depth`.
pub fn holes(name: &'static str, bolting: &Bolting, from: f64, to: f64) -> Vec<Hole> {
    bolting
        .angles()
        .map(|angle| Hole {
            name,
            distance: bolting.radius(),
            angle,
            radius: bolting.hole_diameter() / 2.0,
            z: [from, to],
        })
        .collect()
}

/// Holes of the planets' pins and of the pillars' inserts in the carrier plate.
pub fn plate_holes(stage: &Stage, planet: &Planet, pillars: &Bolting, plate_back: f64) -> Vec<Hole> {
    let pins = (0..stage.planets).map(|k| Hole {
        name: "pin",
        distance: stage.centre_distance,
        angle: stage.spacing.position(k),
        radius: planet.pin_diameter / 2.0,
        z: [plate_back, plate_back + planet.pin_depth_carrier + 0.3],
    });
    pins.chain(holes("pillar insert", pillars, plate_back, plate_back + pillars.hole_depth())).collect()
}

/// How far the hub stands under the face of the outermost output bearing.
pub fn hub_shy(design: &Design) -> f64 {
    HUB_SHY + SECOND_RING_SHY * f64::from(design.bearings.output_count.saturating_sub(1))
}

/// The crown that carries most: teeth in all gaps between screws, between bolts, or over them; the deeper the stronger
/// against bending, the lower the shorter the lever.
pub fn crown(
    hub: f64,
    hub_shy: f64,
    pattern: &OutputPattern,
    clamp_thickness: f64,
    torques: &Torques,
    factor: f64,
) -> Crown {
    let highest = clamp_thickness + hub_shy - CROWN_COVER;
    let bolts = pattern.output.count;
    let outer_radius = hub / 2.0 - CROWN_INSET;
    let deepest = outer_radius - pattern.bore / 2.0 - HOLE_WALL;
    let wanted = factor * torques.output;
    let arrangements = [(2 * bolts, PI / f64::from(2 * bolts)), (bolts, PI / f64::from(bolts)), (bolts, 0.0)];
    let mut best = Crown {
        count: 0,
        first_angle: 0.0,
        inner_radius: outer_radius,
        outer_radius,
        half_angle: 0.0,
        height: highest,
        capacity: 0.0,
    };
    let steps = |least: f64, most: f64| {
        (0..).map(move |step| least + 0.5 * f64::from(step)).take_while(move |&value| value <= most)
    };
    for (count, first_angle) in arrangements {
        let screws = Crown { count, first_angle, ..best.clone() }.screws(pattern);
        for depth in steps(CROWN_LEAST_DEPTH, deepest) {
            // Strong enough is enough: then the least plastic, which is the first found.
            if best.capacity >= CROWN_ENOUGH * wanted {
                return best;
            }
            let shape = Crown { count, first_angle, inner_radius: outer_radius - depth, ..best.clone() };
            let half_angle = shape.widest(&screws);
            for height in steps(CROWN_LEAST_HEIGHT, highest) {
                let mut crown = Crown { height, half_angle, ..shape.clone() };
                crown.capacity = crown.torque(hub_shy);
                if best.capacity < CROWN_ENOUGH * wanted && crown.capacity > best.capacity + 1e-9 {
                    best = crown;
                }
            }
        }
    }
    best
}

impl Crown {
    /// The widest half angle that leaves the screws room and the clamp ring its own teeth, in steps. Halved, since what is
    /// clear at one angle is clear at every smaller one: the tooth's side only comes nearer.
    fn widest(&self, screws: &[NearScrew]) -> f64 {
        const STEP: f64 = PI / 720.0;
        let most = CROWN_SHARE * TAU / f64::from(self.count.max(1)) / 2.0;
        let clear = |step: u32| {
            let half = STEP * f64::from(step);
            half <= most && screws.iter().all(|screw| self.clears(screw, half))
        };
        // A tooth is never wider than half a turn.
        let (mut clear_at, mut too_wide) = (0, 721);
        while too_wide - clear_at > 1 {
            let middle = (clear_at + too_wide) / 2;
            if clear(middle) {
                clear_at = middle;
            } else {
                too_wide = middle;
            }
        }
        STEP * f64::from(clear_at)
    }

    /// Output bolts and clamp screws as the crown's teeth see them.
    fn screws(&self, pattern: &OutputPattern) -> Vec<NearScrew> {
        // In the hub a tooth keeps off the inserts' holes; in the clamp ring its pocket keeps two lines off the screws'.
        const ROOM: f64 = 0.6;
        const POCKET_WALL: f64 = 0.8;
        let tooth = |k: u32| self.first_angle + TAU * f64::from(k) / f64::from(self.count);
        [&pattern.output, &pattern.clamp]
            .into_iter()
            .flat_map(|bolting| {
                let radius = f64::max(
                    bolting.hole_diameter() / 2.0 + ROOM,
                    // The pocket's corner has the room both ways.
                    bolting.clearance / 2.0 + POCKET_WALL + std::f64::consts::SQRT_2 * CROWN_ROOM,
                );
                bolting.angles().map(move |angle| {
                    let to_tooth = |k: u32| libm::fabs(wrapped(angle - tooth(k)));
                    let to_nearest = (0..self.count).map(to_tooth).fold(f64::INFINITY, f64::min);
                    NearScrew { distance: bolting.radius(), radius, to_nearest }
                })
            })
            .collect()
    }

    /// Whether a tooth of this half angle keeps off a screw.
    fn clears(&self, screw: &NearScrew, half_angle: f64) -> bool {
        let NearScrew { distance, radius, to_nearest } = *screw;
        let off = to_nearest - half_angle;
        if off <= 0.0 {
            return self.inner_radius - distance >= radius;
        }
        // Nearest point of the tooth's side: on it between inner and outer radius.
        let cosine = libm::cos(off);
        let along = (distance * cosine).clamp(self.inner_radius, self.outer_radius);
        let squared = distance * distance + along * along - 2.0 * distance * along * cosine;
        squared.max(0.0).sqrt() >= radius
    }

    /// Torque carried \[N m\]: side pressure n h w p r, and bending at the teeth's feet; the lesser.
    fn torque(&self, hub_shy: f64) -> f64 {
        let depth = self.outer_radius - self.inner_radius;
        let bearing_height = self.height - CROWN_ROOM - hub_shy;
        let radius = (self.outer_radius + self.inner_radius) / 2.0;
        let count = f64::from(self.count);
        let by_pressure = count * depth * bearing_height * CROWN_PRESSURE * radius;
        let width = 2.0 * self.half_angle * radius;
        let section_modulus = depth * width * width / 6.0;
        let by_bending = count * CROWN_BENDING * section_modulus / (hub_shy + bearing_height / 2.0) * radius;
        f64::min(by_pressure, by_bending) * 1e-3
    }
}

/// A screw beside the crown.
struct NearScrew {
    /// From the axis.
    distance: f64,
    /// That it wants clear around it.
    radius: f64,
    /// From the middle of the nearest tooth \[rad\].
    to_nearest: f64,
}

/// An angle brought to -pi .. pi.
fn wrapped(angle: f64) -> f64 {
    let turns = (angle / TAU).round();
    angle - turns * TAU
}

/// The clamp ring, which is the output flange.
pub fn clamp_ring(step_diameter: f64, outer: f64, service: &Bolting, thickness: f64, bore: f64) -> ClampRing {
    ClampRing {
        bore,
        spigot_diameter: step_diameter,
        flange_diameter: f64::min(outer + 8.0, service.circle - service.head_diameter - 1.0),
        thickness,
        crown_clearance: CROWN_ROOM,
    }
}

/// Outside of the hub, in the output bearing's bore.
pub fn hub(design: &Design) -> f64 {
    design.bearings.output.bore + design.printer.bearing_post
}

/// The carrier's plate, and whether it turns inside the keeper.
#[derive(Clone)]
pub struct Plate {
    pub diameter: f64,
    pub thickness: f64,
    pub nests: bool,
}

/// Plate around pins and pillars, within the ring.
pub fn plate(
    design: &Design,
    stage: &Stage,
    pillars: &Pillars,
    planet: &Planet,
    [step_diameter, lip_bore]: [f64; 2],
    faults: &mut Faults,
) -> Plate {
    let running = design.printer.running_radial;
    let around_pillars = pillars.distance + f64::max(pillars.radius, pillars.head_diameter / 2.0 + HEAD_EDGE);
    let around_pins = stage.centre_distance + planet.pin_diameter / 2.0 + PIN_WALL;
    // The carrier only narrows towards the output.
    let diameter = f64::max(2.0 * f64::max(around_pins, around_pillars), step_diameter);
    let widest = stage.ring.tip_diameter - 2.0 * running;
    faults.require(diameter <= widest, "plate-in-ring", || {
        format!(
            "Carrier plate touches the ring teeth: plate {diameter:.1}, ring tip {:.1} leaves {widest:.1}. \
             Thinner pin, M2.5 pillars, or more ring teeth.",
            stage.ring.tip_diameter
        )
    });
    Plate {
        diameter,
        thickness: plate_thickness(design, pillars, planet),
        nests: diameter <= lip_bore - 2.0 * running,
    }
}

/// Output bolts, clamp screws and crown, turned clear of the plate's holes.
pub struct OutputSide {
    pub output: Bolting,
    pub clamp: Bolting,
    pub bore: f64,
    pub crown: Crown,
    pub angle: f64,
    pub margin: f64,
}

/// Where the output side sits.
pub struct OutputPlace<'a> {
    pub stations: &'a Stations,
    pub hub: f64,
    /// Holes that open at the plate's back.
    pub fixed: &'a [Hole],
}

/// Lays out the output side on the hub.
pub fn output_side(
    design: &Design,
    stage: &Stage,
    place: &OutputPlace,
    torques: &Torques,
    faults: &mut Faults,
) -> Option<OutputSide> {
    let stations = place.stations;
    let clamp_thickness = stations.output_face - stations.bearing_front;
    let pattern = output_pattern(design, stage, place.hub, clamp_thickness, faults)?;
    let from = |bolting: &Bolting, room: f64| stations.hub_front - bolting.hole_depth() - room;
    let mut turning =
        holes("output insert", &pattern.output, from(&pattern.output, OUTPUT_TIP_ROOM), stations.hub_front);
    turning.extend(holes("clamp insert", &pattern.clamp, from(&pattern.clamp, 0.0), stations.hub_front));
    let best = best_angle(place.fixed, &turning, common(pattern.output.count, pattern.clamp.count));
    faults.require(best.margin >= 1.0, "carrier-holes", || {
        format!(
            "Holes of the carrier meet at every angle of the output pattern: {} and {} keep at best {:.0} % of the wanted wall {HOLE_WALL} \
             and floor {FLOOR}. Fewer output bolts, a shorter pin, or a larger output bearing.",
            best.nearest[0],
            best.nearest[1],
            best.margin * 100.0
        )
    });
    let mut crown =
        crown(place.hub, hub_shy(design), &pattern, clamp_thickness, torques, design.limits.joint_factor);
    let OutputPattern { mut output, mut clamp, bore } = pattern;
    crown.first_angle += best.angle;
    output.first_angle += best.angle;
    clamp.first_angle += best.angle;
    let reach = LINK + output.grip + output.engagement_wanted();
    output.length =
        hardware::length(design, Joint::Output, ScrewStandard::Cap, output.thread, reach).unwrap_or(0.0);
    Some(OutputSide { output, clamp, bore, crown, angle: best.angle, margin: best.margin })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(count: u32, distance: f64, radius: f64, z: [f64; 2]) -> Vec<Hole> {
        let angle = |k: u32| TAU * f64::from(k) / f64::from(count);
        (0..count).map(|k| Hole { name: "hole", distance, angle: angle(k), radius, z }).collect()
    }

    #[test]
    fn patterns_turn_clear_of_each_other_when_they_can() {
        // Six holes against three on one circle: 30 degrees apart at best.
        let best = best_angle(&ring(3, 20.0, 3.0, [0.0, 5.0]), &ring(6, 20.0, 2.0, [2.0, 9.0]), 6);
        let apart = 2.0 * 20.0 * libm::sin(PI / 12.0);
        assert!((best.margin - (apart - 5.0) / HOLE_WALL).abs() < 1e-9, "{}", best.margin);
        assert!((best.angle.to_degrees() - 30.0).abs() < 1e-9);
    }

    #[test]
    fn crowded_patterns_say_that_they_meet() {
        let best = best_angle(&ring(8, 20.0, 3.0, [0.0, 5.0]), &ring(9, 20.0, 2.0, [2.0, 9.0]), 1);
        assert!(best.margin < 1.0, "{}", best.margin);
        // A floor between them makes the same patterns possible.
        let apart = best_angle(&ring(8, 20.0, 3.0, [0.0, 5.0]), &ring(9, 20.0, 2.0, [5.0 + FLOOR, 9.0]), 9);
        assert!(apart.margin >= 1.0 - 1e-9, "{}", apart.margin);
    }
}
