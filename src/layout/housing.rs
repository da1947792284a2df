//! Ring housing, bearing keeper, ring insert and the service joint J2.

use std::f64::consts::{PI, TAU};

use crate::design::{Design, Joint, PartName, RingKind};
use crate::gears::Stage;
use crate::tables::{ScrewStandard, Thread};

use super::actuator::{Keeper, RingHousing, RingInsert, Stations, Torques, VentedBase};
use super::fault::{Faults, IN_HAND};
use super::hardware::{self, Anchor, Bolting, FLOOR};

/// Lip in front of the output bearing.
pub const LIP: f64 = 3.0;
/// The keeper presses the ring, not the housing: the seat is shallower by this at least.
const SEAT_SHY: f64 = 0.1;
/// Between a lobe insert's hole and the bore inside it: the rule for bosses.
const LOBE_HOLE_WALL: f64 = 2.0;
/// Wall outside bores that carry load; a multiple of usual line widths.
pub const WALL: f64 = 2.4;
/// Spigot into the base: length and wall.
pub const SPIGOT: f64 = 3.0;
pub const SPIGOT_WALL: f64 = 1.6;
/// Nothing behind the teeth is narrower than the ring's root plus this.
pub const PASS: f64 = 0.4;
/// Plastic around a lobe screw's countersink: a cone's rim stays this far from every other edge.
const LOBE_EDGE: f64 = 0.9;
/// Thinnest keeper.
pub const LEAST_KEEPER: f64 = 3.0;
/// Step that stops the ring insert, on the diameter.
pub const INSERT_STOP: f64 = 2.0;
/// Pressure allowed on printed lobes and crown teeth \[MPa\]. Assumed, not sourced.
pub const LOBE_PRESSURE: f64 = 20.0;
/// Effective side of a lobe that bears.
const LOBE_SIDE: f64 = 3.0;
/// Clamp force a 3 mm insert screw keeps in plastic \[N\]. Assumed, not sourced; band 0.5 to 1.5 of it.
pub const INSERT_CLAMP: f64 = 450.0;
/// Friction plastic on plastic. Assumed, not sourced.
pub const FRICTION: f64 = 0.2;
/// Largest pitch of service screws along their circle.
const SERVICE_PITCH: f64 = 55.0;

/// How much shallower the seat is than what stands in it: its depth is whole layers, so that a printer's rounding doesn't decide
/// whether the rings have play.
pub fn seat_shy(design: &Design) -> f64 {
    /// Depths of whole layers come out of divisions.
    const ROUNDING: f64 = 1e-9;
    let (rings, layer) = (output_rings(design), layer(design));
    let layers = ((rings - SEAT_SHY) / layer + ROUNDING).floor();
    rings - layers * layer
}

/// No seat is shallower than this below what stands in it.
pub fn most_seat_shy(design: &Design) -> f64 {
    SEAT_SHY + layer(design)
}

fn layer(design: &Design) -> f64 {
    design.settings(PartName::RingHousing).layer_height
}

/// Height of output bearing or pair with its spacer.
pub fn output_rings(design: &Design) -> f64 {
    let count = f64::from(design.bearings.output_count);
    count * design.bearings.output.width + (count - 1.0) * design.bearings.output_spacing
}

/// Bores behind the teeth.
#[derive(Clone, Copy)]
pub struct RingBores {
    /// Free bore in front of the ring: what bearing and keeper pass.
    pub free: f64,
    /// Least bore behind the teeth.
    pub behind: f64,
    pub insert_bore: Option<f64>,
    /// Wall of the tube around ring or insert.
    pub tube: f64,
    /// What the J2 holes must clear: ring root or insert bore.
    pub inner: f64,
}

/// Wall outside a printed ring's root: three normal modules or 2.4.
fn root_wall(design: &Design) -> f64 {
    f64::max(WALL, 3.0 * design.gearset.normal_module)
}

pub fn ring_bores(design: &Design, stage: &Stage) -> RingBores {
    let root = stage.ring.root_diameter;
    match design.gearset.ring_made {
        RingKind::Cut => RingBores {
            free: stage.ring.tip_diameter,
            behind: root + PASS,
            insert_bore: None,
            tube: root + 2.0 * root_wall(design),
            inner: root,
        },
        RingKind::Insert => {
            let bore = insert_outer(design, stage) + design.printer.ring_insert;
            RingBores {
                free: bore - INSERT_STOP,
                behind: bore,
                insert_bore: Some(bore),
                tube: bore + 2.0 * WALL,
                inner: bore,
            }
        }
    }
}

fn insert_outer(design: &Design, stage: &Stage) -> f64 {
    stage.ring.root_diameter + 2.0 * root_wall(design)
}

/// Keeper and its screws: the largest thread that lets bearing and keeper pass the free bore.
pub fn keeper(
    design: &Design,
    bores: &RingBores,
    lip_bore: f64,
    service_count: u32,
    faults: &mut Faults,
) -> Option<(Keeper, Bolting)> {
    let bearing = &design.bearings.output;
    faults.require(bores.free >= bearing.outer + PASS, "bearing-passes", || {
        format!(
            "Output bearing {} ({:.1} outside) cannot pass the teeth (free bore {:.2}). Use a bearing of {:.1} outside or less, ring = \"insert\", \
             or more ring teeth.",
            bearing.designation,
            bearing.outer,
            bores.free,
            bores.free - PASS
        )
    });
    let forced = hardware::forced(design, Joint::Keeper);
    let threads =
        forced.thread.map_or_else(|| vec![Thread::M3, Thread::M2_5, Thread::M2], |thread| vec![thread]);
    let seat = bearing.outer + design.printer.seat_fit(bearing.outer);
    let chosen = threads.iter().copied().find(|&thread| bores.free >= keeper_needs(seat, thread));
    let Some(thread) = chosen else {
        let smallest = threads.last().copied().unwrap_or(Thread::M2);
        let largest = bores.free - (keeper_needs(seat, smallest) - bearing.outer);
        faults.push(
            "keeper-screws",
            format!(
                "Bearing {} passes but the keeper's screws don't: {smallest} wants a free bore of {:.1}, there is {:.1}. Largest bearing: {largest:.1} outside.",
                bearing.designation,
                keeper_needs(seat, smallest),
                bores.free
            ),
        );
        return None;
    };
    let kind = head_kind(thread);
    let (head_diameter, head_height) = hardware::head(kind, thread);
    let insert = hardware::insert(thread);
    let circle = seat + 2.0 * insert.boss_wall() + insert.hole;
    let thickness = f64::max(LEAST_KEEPER, head_height + 1.6);
    let grip = thickness - head_height;
    let Some(length) = hardware::length(design, Joint::Keeper, kind, thread, grip + insert.length) else {
        faults.push(
            "keeper-screws",
            format!("No {thread} screw of {:.1} or longer is sold for the keeper.", grip + insert.length),
        );
        return None;
    };
    let count = forced.count.unwrap_or(if service_count == 4 { 4 } else { 6 });
    let screws = Bolting {
        joint: Joint::Keeper,
        thread,
        head: kind,
        length,
        count,
        circle,
        first_angle: keeper_angle(design, count),
        grip,
        clearance: hardware::clearance(design, thread),
        head_diameter,
        head_height,
        anchor: Anchor::Insert(insert),
    };
    let outer = f64::min(circle + screws.head_pocket() + WALL, bores.free - PASS);
    // Under two line widths a wall outside the head pocket doesn't print: the pocket is open there.
    let edge = (outer - circle - screws.head_pocket()) / 2.0;
    let keeper = Keeper {
        bore: lip_bore,
        outer,
        thickness,
        head_pocket_depth: head_height,
        open_pockets: edge < 2.0 * design.printer.line_width,
    };
    Some((keeper, screws))
}

/// Button heads are lower; the standard has none under M3.
fn head_kind(thread: Thread) -> ScrewStandard {
    if thread >= Thread::M3 { ScrewStandard::Button } else { ScrewStandard::Cap }
}

/// Free bore that lets keeper screws of a thread stand outside the bearing's seat.
fn keeper_needs(seat: f64, thread: Thread) -> f64 {
    let insert = hardware::insert(thread);
    let (head_diameter, _) = hardware::head(head_kind(thread), thread);
    let pocket = head_diameter + hardware::HEAD_ROOM;
    seat + 2.0 * (insert.boss_wall() + insert.hole / 2.0 + pocket / 2.0 + IN_HAND)
}

/// Between the J2 columns when the ring is cut, under them when lobes stand between.
fn keeper_angle(design: &Design, count: u32) -> f64 {
    match design.gearset.ring_made {
        RingKind::Cut => PI / f64::from(count.max(1)),
        RingKind::Insert => 0.0,
    }
}

/// What the housing's service screws must clear and hold.
pub struct ServiceInputs {
    pub mouth_bore: f64,
    pub inner: f64,
    /// Service plane to front face.
    pub grip: f64,
}

/// J2: M3 to 20 N m, then M4; more or thicker when friction or length asks for it.
pub fn service_joint(
    design: &Design,
    inputs: &ServiceInputs,
    torques: &Torques,
    faults: &mut Faults,
) -> Option<Bolting> {
    let forced = hardware::forced(design, Joint::Service);
    let threads = match forced.thread {
        Some(thread) => vec![thread],
        None if torques.output <= 20.0 => vec![Thread::M3, Thread::M4],
        None => vec![Thread::M4],
    };
    let mut too_short = false;
    for (index, &thread) in threads.iter().enumerate() {
        let insert = hardware::insert(thread);
        let Some(length) =
            hardware::length(design, Joint::Service, ScrewStandard::Cap, thread, inputs.grip + insert.length)
        else {
            too_short = true;
            continue;
        };
        let clearance = hardware::clearance(design, thread);
        let circle = service_circle(design, inputs.mouth_bore, inputs.inner, thread);
        let wanted = design.limits.service_factor * torques.ring;
        let per_screw = clamp_force(thread) * FRICTION * circle / 2.0 * 1e-3;
        let by_friction = (wanted / per_screw).ceil() as u32;
        let by_pitch = (PI * circle / SERVICE_PITCH).ceil() as u32;
        let count = forced.count.unwrap_or_else(|| even(by_pitch.max(4)));
        let last = index + 1 == threads.len();
        if count < by_friction && forced.count.is_none() && !last {
            continue;
        }
        let count = if forced.count.is_some() { count } else { count.max(even(by_friction)) };
        let (head_diameter, head_height) = hardware::head(ScrewStandard::Cap, thread);
        return Some(Bolting {
            joint: Joint::Service,
            thread,
            head: ScrewStandard::Cap,
            length,
            count,
            circle,
            first_angle: 0.0,
            grip: inputs.grip,
            clearance,
            head_diameter,
            head_height,
            anchor: Anchor::Insert(insert),
        });
    }
    faults.require(!too_short, "service-screws", || {
        format!(
            "No service screw is long enough: the housing is {:.1} high and the insert wants more. Narrow the face, a single bearing, or a smaller spacing.",
            inputs.grip
        )
    });
    None
}

/// Circle of service screws of a thread: outside the mouth's register and the ring.
pub fn service_circle(design: &Design, mouth_bore: f64, inner: f64, thread: Thread) -> f64 {
    let insert = hardware::insert(thread);
    let outside_mouth = mouth_bore / 2.0 + insert.boss_wall() + insert.hole / 2.0;
    let outside_ring = inner / 2.0 + 1.6 + hardware::clearance(design, thread) / 2.0;
    2.0 * f64::max(outside_mouth, outside_ring)
}

fn even(count: u32) -> u32 {
    count + count % 2
}

/// Clamp force an insert screw keeps: 450 N at M3, with the thread's stress area for others.
pub fn clamp_force(thread: Thread) -> f64 {
    INSERT_CLAMP * thread.stress_area() / Thread::M3.stress_area()
}

/// Keyed ring with lobes between the J2 columns, and the screws that hold it.
pub fn ring_insert(
    design: &Design,
    stage: &Stage,
    height: f64,
    lobes: u32,
    first_angle: f64,
    faults: &mut Faults,
) -> Option<(RingInsert, Bolting)> {
    if design.gearset.ring_made != RingKind::Insert {
        return None;
    }
    let outer = insert_outer(design, stage);
    let countersink = hardware::head(ScrewStandard::Countersunk, Thread::M3).0 / 2.0;
    // The countersinks stay clear of the teeth, the inserts' holes behind them of the bore in front of the ring.
    let free_bore = outer + design.printer.ring_insert - INSERT_STOP;
    let distance = [
        (outer + 2.0) / 2.0,
        stage.ring.root_diameter / 2.0 + countersink + LOBE_EDGE,
        free_bore / 2.0 + hardware::insert(Thread::M3).hole / 2.0 + LOBE_HOLE_WALL,
    ]
    .into_iter()
    .fold(0.0, f64::max);
    let lobe_radius = countersink + LOBE_EDGE;
    let capacity = f64::from(lobes) * design.gearset.face_width * LOBE_SIDE * LOBE_PRESSURE * distance * 1e-3;
    let insert = hardware::insert(Thread::M3);
    let (head_diameter, head_height) = hardware::head(ScrewStandard::Countersunk, Thread::M3);
    let Some(length) = hardware::length(
        design,
        Joint::RingInsert,
        ScrewStandard::Countersunk,
        Thread::M3,
        height + insert.length,
    ) else {
        faults.push(
            "lobe-screws",
            format!(
                "No M3 countersunk screw of {:.1} or longer is sold for the ring insert.",
                height + insert.length
            ),
        );
        return None;
    };
    let screws = Bolting {
        joint: Joint::RingInsert,
        thread: Thread::M3,
        head: ScrewStandard::Countersunk,
        length,
        count: lobes,
        circle: 2.0 * distance,
        first_angle,
        grip: height,
        clearance: hardware::clearance(design, Thread::M3),
        head_diameter,
        head_height,
        anchor: Anchor::Insert(insert),
    };
    Some((RingInsert { outer, lobe_radius, lobe_distance: distance, lobe_count: lobes, capacity }, screws))
}

/// Floors over the blind holes that open at the back: keeper and lobe inserts against the front face.
pub fn floors(
    stations: &Stations,
    seat_back: f64,
    keeper: &Bolting,
    lobes: Option<&Bolting>,
    faults: &mut Faults,
) {
    let mut check = |name: &str, from: f64, bolting: &Bolting| {
        let floor = stations.lip_front - from - bolting.hole_depth();
        faults.require(floor >= FLOOR, "hole-floor", || {
            format!("{name} insert comes within {floor:.1} of the front face, wanted {FLOOR}. Force a shorter screw.")
        });
    };
    check("Keeper", seat_back, keeper);
    if let Some(lobes) = lobes {
        check("Ring-insert", stations.ring_front, lobes);
    }
}

/// Angle of the first of `count` features midway between service screws.
pub fn midway(service: &Bolting) -> f64 {
    TAU / f64::from(service.count.max(1)) / 2.0
}

/// What the ring housing is drawn from.
pub struct HousingInputs<'a> {
    pub bores: &'a RingBores,
    pub lip_bore: f64,
    pub mouth_bore: f64,
    pub bearing_back: f64,
    pub keeper: &'a Bolting,
    pub base: &'a VentedBase,
    pub insert: Option<&'a RingInsert>,
}

/// Outside of the tube around ring, keeper and its inserts.
pub fn tube_diameter(bores: &RingBores, keeper: &Bolting) -> f64 {
    let around_inserts = keeper.circle + keeper.hole_diameter() + 2.0 * 2.0;
    [bores.tube, around_inserts, bores.free + 2.0 * WALL].into_iter().fold(0.0, f64::max)
}

/// Bores, outside and bosses of the ring housing.
pub fn ring_housing(design: &Design, inputs: &HousingInputs) -> RingHousing {
    let (bores, base, printer) = (inputs.bores, inputs.base, &design.printer);
    let outer = design.bearings.output.outer;
    let tube_diameter = tube_diameter(bores, inputs.keeper);
    let spigot_diameter = inputs.mouth_bore - printer.register;
    RingHousing {
        lip_bore: inputs.lip_bore,
        lip_thickness: LIP,
        seat: outer + printer.seat_fit(outer),
        seat_back: inputs.bearing_back + seat_shy(design),
        free_bore: bores.free,
        insert_bore: bores.insert_bore,
        spigot_diameter,
        spigot_bore: spigot_diameter - 2.0 * SPIGOT_WALL,
        spigot_length: SPIGOT,
        tube_diameter,
        rim_diameter: f64::max(base.mouth_outer, tube_diameter),
        column_radius: base.boss_outer_radius,
        column_half_angle: base.boss_half_angle,
        cover_radius: base.column_outer_radius,
        cover_half_angle: base.column_half_angle,
        lobe_column: inputs.insert.map(|insert| {
            let reach = insert.lobe_radius + printer.ring_insert / 2.0 + WALL;
            (insert.lobe_distance + reach, libm::asin((reach / insert.lobe_distance).min(1.0)))
        }),
    }
}
