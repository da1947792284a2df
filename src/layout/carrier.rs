//! Output side of the carrier: hub, bolt pattern, crown and clamp ring.

use std::f64::consts::{PI, TAU};
use std::sync::LazyLock;

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

/// Output bolts and clamp screws on one circle.
#[derive(Clone, Debug)]
struct OutputPattern {
    output: Bolting,
    clamp: Bolting,
    bore: f64,
}

/// Chooses output bolts and clamp screws. `clamp_thickness` is bearing face to output face.
fn output_pattern(
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
    let (clamp_head, clamp_head_height) = hardware::head(ScrewStandard::Countersunk, Thread::M3);
    // A clamp screw sits midway between two bolts: walls in the hub, and in the clamp ring beside its head.
    let fits = |count: u32| {
        let apart = circle * libm::sin(PI / f64::from(2 * count.max(1)));
        let beside_head = apart - clamp_head / 2.0 - hardware::clearance(design, thread) / 2.0;
        apart - insert.hole / 2.0 - clamp_insert.hole / 2.0 >= HOLE_WALL
            && beside_head >= COUNTERSINK_EDGE
            && bore_room >= BORE
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
                 between them the walls fall under {HOLE_WALL}, or {COUNTERSINK_EDGE} beside their heads. Use a larger output bearing, or force a smaller thread or count under [fasteners.output].",
                insert.hole
            ),
        );
        return None;
    };

    let clamps = clamp_count(count);
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
/// patterns come to lie as they did.
pub fn best_angle(fixed: &[Hole], turning: &[Hole], alike: u32) -> BestAngle {
    /// Better by more than rounding, so that the first of equal angles wins everywhere.
    const BETTER: f64 = 1e-9;
    let [fixed, turning] = [fixed, turning].map(|holes| holes.iter().map(PlacedHole::of).collect::<Vec<_>>());
    let pairs: Vec<HolePair> =
        turning.iter().flat_map(|hole| fixed.iter().map(move |other| HolePair::of(hole, other))).collect();
    let mut best = BestAngle { angle: 0.0, margin: f64::NEG_INFINITY, nearest: ["", ""] };
    // A pair that is too near at one angle is likely to be so at the next: asked first, it spares all others.
    let mut nearest_before = 0;
    // What follows repeats what was, but for rounding.
    let end = if alike > 0 && STEPS.is_multiple_of(alike) { STEPS / alike } else { STEPS } as usize;
    let mut step = 0;
    while let Some(turn) = TURNS.get(step).filter(|_| step < end) {
        let enough = best.margin + BETTER;
        let too_near = |pair: &HolePair| pair.has_at_most(enough, turn);
        let nearest = match pairs.get(nearest_before).filter(|pair| too_near(pair)) {
            Some(_) => Some(nearest_before),
            None => pairs.iter().position(too_near),
        };
        if let Some(index) = nearest {
            nearest_before = index;
            step += pairs.get(index).map_or(1, |pair| pair.steps_too_near(turn, enough));
            continue;
        }
        let margins = pairs.iter().map(|pair| (pair.margin(turn), pair.names));
        let (margin, nearest) = margins
            .fold((f64::INFINITY, ["", ""]), |least, here| if here.0 < least.0 { here } else { least });
        best = BestAngle { angle: TAU * step as f64 / f64::from(STEPS), margin, nearest };
        step += 1;
    }
    best
}

/// Steps of a turn.
const STEPS: u32 = 360;

/// Cosine and sine of each.
static TURNS: LazyLock<Vec<[f64; 2]>> = LazyLock::new(|| {
    let angle = |step: u32| TAU * f64::from(step) / f64::from(STEPS);
    (0..STEPS).map(|step| [libm::cos(angle(step)), libm::sin(angle(step))]).collect()
});

/// A hole where it is before any turn.
struct PlacedHole<'a> {
    hole: &'a Hole,
    x: f64,
    y: f64,
}

impl PlacedHole<'_> {
    fn of(hole: &Hole) -> PlacedHole<'_> {
        let (cosine, sine) = (libm::cos(hole.angle), libm::sin(hole.angle));
        PlacedHole { hole, x: hole.distance * cosine, y: hole.distance * sine }
    }
}

/// A turning hole and a fixed one.
struct HolePair {
    names: [&'static str; 2],
    /// By the law of cosines, their distance squared is the first less the others by cosine and sine of the turn.
    squared: f64,
    by_cosine: f64,
    by_sine: f64,
    radii: f64,
    /// Share of the wanted floor; less than 0 where one lies beside the other.
    floor: f64,
    /// No turn brings them apart by more than this times its angle.
    speed: f64,
}

impl HolePair {
    fn of(turning: &PlacedHole, fixed: &PlacedHole) -> HolePair {
        let (a, b) = (turning.hole, fixed.hole);
        let floor = f64::max(a.z[0] - b.z[1], b.z[0] - a.z[1]);
        HolePair {
            names: [a.name, b.name],
            squared: a.distance * a.distance + b.distance * b.distance,
            by_cosine: 2.0 * (turning.x * fixed.x + turning.y * fixed.y),
            by_sine: 2.0 * (turning.x * fixed.y - turning.y * fixed.x),
            radii: a.radius + b.radius,
            floor: floor / FLOOR,
            speed: f64::min(a.distance, b.distance),
        }
    }

    /// Square of their distance at cosine and sine of the turn.
    fn squared(&self, [cosine, sine]: &[f64; 2]) -> f64 {
        (self.squared - self.by_cosine * cosine - self.by_sine * sine).max(0.0)
    }

    /// Share of the wanted wall.
    fn wall(&self, turn: &[f64; 2]) -> f64 {
        (self.squared(turn).sqrt() - self.radii) / HOLE_WALL
    }

    /// Whether its margin is no more, without a root.
    fn has_at_most(&self, margin: f64, turn: &[f64; 2]) -> bool {
        let apart = margin * HOLE_WALL + self.radii;
        self.floor <= margin && apart >= 0.0 && self.squared(turn) <= apart * apart
    }

    /// Larger of wall and floor as shares of those wanted.
    fn margin(&self, turn: &[f64; 2]) -> f64 {
        f64::max(self.wall(turn), self.floor)
    }

    /// Steps to go from a turn until it may have `enough`: at least one.
    fn steps_too_near(&self, turn: &[f64; 2], enough: f64) -> usize {
        /// A little less, so that rounding leaves out nothing.
        const CLEARLY: f64 = 1.0 - 1e-9;
        let lacking = (enough - self.wall(turn)) * HOLE_WALL * CLEARLY;
        let a_step = self.speed * TAU / f64::from(STEPS);
        // A saturating cast: what never moves never comes apart.
        ((lacking / a_step) as usize).clamp(1, STEPS as usize)
    }
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
fn crown(
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

    /// Output bolts and clamp screws as the crown's teeth see them: the nearest of each.
    fn screws(&self, pattern: &OutputPattern) -> [NearScrew; 2] {
        // In the hub a tooth keeps off the inserts' holes; in the clamp ring its pocket keeps two lines off the screws'.
        const ROOM: f64 = 0.6;
        const POCKET_WALL: f64 = 0.8;
        let tooth = |k: u32| self.first_angle + TAU * f64::from(k) / f64::from(self.count);
        [&pattern.output, &pattern.clamp].map(|bolting| {
            let radius = f64::max(
                bolting.hole_diameter() / 2.0 + ROOM,
                // The pocket's corner has the room both ways.
                bolting.clearance / 2.0 + POCKET_WALL + std::f64::consts::SQRT_2 * CROWN_ROOM,
            );
            // Screws of one circle differ in nothing else: the nearest speaks for all.
            let to_tooth = |angle: f64| (0..self.count).map(move |k| libm::fabs(wrapped(angle - tooth(k))));
            let to_nearest = bolting.angles().flat_map(to_tooth).fold(f64::INFINITY, f64::min);
            NearScrew { distance: bolting.radius(), radius, to_nearest }
        })
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

/// Output bolts, clamp screws and crown on a hub, before their turn against the planets is known.
#[derive(Clone, Debug)]
pub struct CrownedHub {
    pattern: OutputPattern,
    crown: Crown,
}

impl CrownedHub {
    /// On the design's output bearing; `clamp_thickness` is bearing face to output face. Of the stage only the planets count.
    pub fn of(
        design: &Design,
        stage: &Stage,
        clamp_thickness: f64,
        torques: &Torques,
        faults: &mut Faults,
    ) -> Option<CrownedHub> {
        let hub = hub(design);
        let pattern = output_pattern(design, stage, hub, clamp_thickness, faults)?;
        let (shy, factor) = (hub_shy(design), design.limits.joint_factor);
        let crown = crown(hub, shy, &pattern, clamp_thickness, torques, factor);
        Some(CrownedHub { pattern, crown })
    }

    /// Torque that the crown will carry \[N m\].
    pub fn capacity(&self) -> f64 {
        self.crown.capacity
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
    /// Holes that open at the plate's back.
    pub fixed: &'a [Hole],
    /// How often in a turn they come to lie on themselves.
    pub fixed_alike: u32,
}

/// Turns what is on the hub to its place.
pub fn output_side(design: &Design, hub: CrownedHub, place: &OutputPlace, faults: &mut Faults) -> OutputSide {
    let stations = place.stations;
    let CrownedHub { pattern, mut crown } = hub;
    let from = |bolting: &Bolting, room: f64| stations.hub_front - bolting.hole_depth() - room;
    // Where turning and fixed holes repeat together, one of each alike speaks for all.
    let turning_alike = hardware::alike(pattern.output.count, pattern.clamp.count);
    let both_alike = hardware::alike(turning_alike, place.fixed_alike).max(1);
    let some = |name, bolting: &Bolting, room: f64| {
        let mut all = holes(name, bolting, from(bolting, room), stations.hub_front);
        all.truncate((bolting.count / both_alike) as usize);
        all
    };
    let mut turning = some("output insert", &pattern.output, OUTPUT_TIP_ROOM);
    turning.extend(some("clamp insert", &pattern.clamp, 0.0));
    let best = best_angle(place.fixed, &turning, turning_alike / both_alike * place.fixed_alike);
    faults.require(best.margin >= 1.0, "carrier-holes", || {
        format!(
            "Holes of the carrier meet at every angle of the output pattern: {} and {} keep at best {:.0} % of the wanted wall {HOLE_WALL} \
             and floor {FLOOR}. Fewer output bolts, a shorter pin, or a larger output bearing.",
            best.nearest[0],
            best.nearest[1],
            best.margin * 100.0
        )
    });
    let OutputPattern { mut output, mut clamp, bore } = pattern;
    crown.first_angle += best.angle;
    output.first_angle += best.angle;
    clamp.first_angle += best.angle;
    let reach = LINK + output.grip + output.engagement_wanted();
    output.length =
        hardware::length(design, Joint::Output, ScrewStandard::Cap, output.thread, reach).unwrap_or(0.0);
    OutputSide { output, clamp, bore, crown, angle: best.angle, margin: best.margin }
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
