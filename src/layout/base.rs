//! Vented base: board bay, motor chamber, mouth; stator mount and magnet cup.

use std::f64::consts::TAU;

use crate::design::{Design, Joint};
use crate::tables::{ScrewStandard, Thread};

use super::actuator::{MagnetCup, Standoffs, StatorMount, Vent, VentedBase, WireSlot};
use super::fault::Faults;
use super::hardware::{self, Anchor, Bolting, FLOOR, TIP_ROOM};
use super::housing::WALL;

pub const FLOOR_THICKNESS: f64 = 3.0;
pub const MOUNT_THICKNESS: f64 = 5.0;
/// Rotor bell to base bore, on the radius.
const ROTOR_ROOM: f64 = 1.0;
/// Board corners to base bore, on the diameter.
const BOARD_ROOM: f64 = 2.0;
/// Room over the board's parts under the stator mount.
const PARTS_ROOM: f64 = 1.0;
/// Least plastic between encoder magnet and shaft end.
const WEB: f64 = 1.5;
/// Room around J1 heads in their slots, on the radius.
const SLOT_ROOM: f64 = 1.0;
/// Wall outside the slots.
const SLOT_WALL: f64 = 1.6;
/// Register depth at the mouth, a little over the spigot.
pub const MOUTH_DEPTH: f64 = 3.2;
/// Boss floor under a J2 hole.
const BOSS_FLOOR: f64 = 2.0;
/// Post left between two windows.
const POST: f64 = 5.0;
/// Flat ridge of a window's roof.
const RIDGE: f64 = 1.2;
/// Widest window: keeps its roof short.
const WIDEST_VENT: f64 = 14.0;
/// Narrowest window.
pub const LEAST_WINDOW: f64 = 4.0;
/// Window to anything else along z.
const VENT_ROOM: f64 = 1.0;

/// Screws of the bay: J0, J1 and the heights they set.
#[derive(Clone)]
pub struct Bay {
    pub machine: Bolting,
    pub stator_mount: Bolting,
    pub board_back: f64,
    pub board_front: f64,
    pub sensor_front: f64,
    pub magnet_back: f64,
    pub mount_back: f64,
    /// What sets the bay's height.
    pub governs: &'static str,
}

/// J0 and J1 on one circle outside the rotor, and the height of the stator mount.
pub fn bay(design: &Design, count: u32, first_angle: f64, faults: &mut Faults) -> Option<Bay> {
    let motor = &design.motor;
    let thread = hardware::forced(design, Joint::StatorMount).thread.unwrap_or(Thread::M3);
    let (head_diameter, head_height) = hardware::head(ScrewStandard::Cap, thread);
    // Outside of what passes the base's bore: the rotor, or a board that is larger.
    let circle = bore(design) + head_diameter + 0.5;
    let insert = hardware::insert(thread);
    let Some(length) = hardware::length(
        design,
        Joint::StatorMount,
        ScrewStandard::Cap,
        thread,
        MOUNT_THICKNESS + insert.length,
    ) else {
        faults.push(
            "mount-screws",
            format!(
                "No {thread} screw of {:.1} or longer is sold for the stator mount.",
                MOUNT_THICKNESS + insert.length
            ),
        );
        return None;
    };
    let stator_mount = Bolting {
        joint: Joint::StatorMount,
        thread,
        head: ScrewStandard::Cap,
        length,
        count,
        circle,
        first_angle,
        grip: MOUNT_THICKNESS,
        clearance: hardware::clearance(design, thread),
        head_diameter,
        head_height,
        anchor: Anchor::Insert(insert),
    };

    let small = motor.outer_diameter < 60.0;
    let machine_thread = hardware::forced(design, Joint::Machine).thread.unwrap_or(if small {
        Thread::M3
    } else {
        Thread::M4
    });
    let machine_insert = hardware::insert(machine_thread);
    let (machine_head, machine_head_height) = hardware::head(ScrewStandard::Cap, machine_thread);
    let machine = Bolting {
        joint: Joint::Machine,
        thread: machine_thread,
        head: ScrewStandard::Cap,
        length: 0.0,
        count,
        circle,
        first_angle,
        grip: 0.0,
        clearance: hardware::clearance(design, machine_thread),
        head_diameter: machine_head,
        head_height: machine_head_height,
        anchor: Anchor::Outside(machine_insert),
    };

    let board = &design.controller.board;
    let board_back = FLOOR_THICKNESS + board.underside;
    let board_front = board_back + board.thickness;
    let sensor_front = board_front + design.controller.encoder.sensor_height;
    let magnet_back = sensor_front + design.controller.encoder.gap;
    let by_parts = board_front + board.parts_height + PARTS_ROOM;
    let by_magnet = magnet_back + motor.magnet.thickness + WEB + motor.shaft_extension - MOUNT_THICKNESS;
    let by_inserts = stator_mount.hole_depth() + machine.hole_depth() + FLOOR;
    let candidates =
        [("board parts", by_parts), ("magnet and shaft", by_magnet), ("J0 and J1 inserts", by_inserts)];
    let (governs, mount_back) =
        candidates.into_iter().fold(("", 0.0), |best, next| if next.1 > best.1 { next } else { best });
    let gap = design.controller.encoder.gap;
    faults.require((0.5..=3.0).contains(&gap), "encoder-gap", || {
        format!("Encoder gap {gap:.2} outside 0.5 to 3.0: set controller.encoder.gap to about 1 mm; the cup's length follows.")
    });
    Some(Bay {
        machine,
        stator_mount,
        board_back,
        board_front,
        sensor_front,
        magnet_back,
        mount_back,
        governs,
    })
}

/// Motor screws from the back into the stator; low heads in recesses.
pub fn motor_screws(design: &Design, cup_outer: f64, faults: &mut Faults) -> Option<Bolting> {
    let bolts = &design.motor.stator_bolts;
    let kind = if bolts.thread >= Thread::M3 { ScrewStandard::Button } else { ScrewStandard::Cap };
    let (head_diameter, head_height) = hardware::head(kind, bolts.thread);
    let least_circle = cup_outer + 2.0 + head_diameter + 1.0;
    faults.require(bolts.circle >= least_circle, "stator-screws", || {
        format!(
            "Motor screws break into the shaft hole: stator circle {:.1}, wanted {least_circle:.1} with a cup of {cup_outer:.1}. Use a smaller magnet.",
            bolts.circle
        )
    });
    let grip = MOUNT_THICKNESS - head_height - 0.2;
    let longest = grip + design.motor.stator_thread_depth;
    let least = grip + 0.8 * bolts.thread.nominal();
    let length = hardware::forced(design, Joint::MotorToMount)
        .length
        .or_else(|| hardware::longest_length_within(kind, bolts.thread, longest))
        .filter(|&length| length >= least - 1e-6 && length <= longest + 1e-6);
    let Some(length) = length else {
        faults.push(
            "stator-screw-length",
            format!("No {} screw from {least:.1} to {longest:.1} mm is sold for the motor: the stator's thread takes {:.1}.", bolts.thread, design.motor.stator_thread_depth),
        );
        return None;
    };
    Some(Bolting {
        joint: Joint::MotorToMount,
        thread: bolts.thread,
        head: kind,
        length,
        count: bolts.count,
        circle: bolts.circle,
        first_angle: 0.0,
        grip,
        clearance: hardware::clearance(design, bolts.thread),
        head_diameter,
        head_height,
        anchor: Anchor::Thread,
    })
}

/// Cup on the shaft end, its web and sleeve.
pub fn magnet_cup(design: &Design, magnet_back: f64, shaft_end: f64, faults: &mut Faults) -> MagnetCup {
    let motor = &design.motor;
    let outer = f64::max(motor.magnet.diameter + 4.0, motor.shaft_diameter + 3.0);
    let web = shaft_end - magnet_back - motor.magnet.thickness;
    // The sleeve ends clear of the stator; a shaft diameter holds well enough.
    let sleeve_length = f64::min(motor.shaft_extension - 2.0, motor.shaft_diameter);
    faults.require(sleeve_length >= 2.0, "shaft-extension", || {
        format!(
            "Shaft end too short: it stands {:.1} out of the mounting face, the cup's sleeve would be {sleeve_length:.1} long, wanted 2 or more. \
             A motor with a shaft of {:.1} or longer.",
            motor.shaft_extension,
            4.0
        )
    });
    MagnetCup {
        outer,
        pocket: motor.magnet.diameter + 0.15,
        pocket_depth: motor.magnet.thickness,
        web,
        shaft_bore: motor.shaft_diameter + design.printer.sun_socket,
        sleeve_length,
        length: motor.magnet.thickness + web + sleeve_length,
    }
}

/// What the base must enclose.
pub struct Enclosure<'a> {
    pub bay: &'a Bay,
    pub service: &'a Bolting,
    pub mouth_bore: f64,
    pub service_plane: f64,
    pub mount_front: f64,
    pub girth: &'a Girth,
}

/// Bore of the base: rotor and board pass.
pub fn bore(design: &Design) -> f64 {
    let board = &design.controller.board;
    let diagonal = libm::hypot(board.length, board.width);
    f64::max(design.motor.outer_diameter + 2.0 * ROTOR_ROOM, diagonal + BOARD_ROOM)
}

/// How far the base stands out, and what its bosses need.
#[derive(Clone)]
pub struct Girth {
    pub column_inner_radius: f64,
    pub column_outer_radius: f64,
    pub column_half_angle: f64,
    pub slot_radius: f64,
    pub slot_half_angle: f64,
    pub mouth_outer: f64,
    pub boss_outer_radius: f64,
    pub boss_half_angle: f64,
}

/// Columns of J1 and J0 with their slots.
struct Columns {
    inner_radius: f64,
    outer_radius: f64,
    half_width: f64,
    slot_radius: f64,
    slot_half_width: f64,
    mouth_outer: f64,
}

fn columns(bay: &Bay, mouth_bore: f64) -> Columns {
    let j1 = &bay.stator_mount;
    let radius = j1.radius();
    let holes = [hole_of(j1), hole_of(&bay.machine)];
    let slot_half_width = j1.head_diameter / 2.0 + SLOT_ROOM;
    // The mouth's register stays inside the slots, so that every height cuts the same shape.
    let slot_radius = f64::max(radius + slot_half_width, mouth_bore / 2.0 + 0.4);
    let outside_inserts = holes.iter().map(|(hole, wall)| radius + hole / 2.0 + wall).fold(0.0, f64::max);
    let mouth_outer = mouth_bore + 2.0 * WALL;
    Columns {
        inner_radius: holes
            .iter()
            .map(|(hole, wall)| radius - hole / 2.0 - wall)
            .fold(f64::INFINITY, f64::min),
        outer_radius: [slot_radius + SLOT_WALL, outside_inserts, mouth_outer / 2.0 + 0.4]
            .into_iter()
            .fold(0.0, f64::max),
        half_width: holes
            .iter()
            .map(|(hole, wall)| hole / 2.0 + wall)
            .fold(slot_half_width + SLOT_WALL, f64::max),
        slot_radius,
        slot_half_width,
        mouth_outer,
    }
}

/// Columns of J1 and J0 with their slots, and the bosses of J2, around a mouth of this bore.
pub fn girth(bay: &Bay, service: &Bolting, mouth_bore: f64) -> Girth {
    let radius = bay.stator_mount.radius();
    let columns = columns(bay, mouth_bore);
    let boss_reach = boss_reach(hole_of(service), service.head_diameter);
    Girth {
        column_inner_radius: columns.inner_radius,
        column_outer_radius: columns.outer_radius,
        column_half_angle: libm::asin((columns.half_width / radius).min(1.0)),
        slot_radius: columns.slot_radius,
        slot_half_angle: libm::asin((columns.slot_half_width / radius).min(1.0)),
        mouth_outer: columns.mouth_outer,
        boss_outer_radius: service.radius() + boss_reach,
        boss_half_angle: libm::asin((boss_reach / service.radius()).min(1.0)),
    }
}

/// From a service screw's axis to the outside of its boss.
fn boss_reach((hole, wall): (f64, f64), head_diameter: f64) -> f64 {
    f64::max(hole / 2.0 + wall, head_diameter / 2.0 + 1.5)
}

/// Outside that service screws of this thread, on this circle, can't undercut.
pub fn least_girth(bay: &Bay, mouth_bore: f64, service_circle: f64, thread: Thread) -> f64 {
    let insert = hardware::insert(thread);
    let (head_diameter, _) = hardware::head(ScrewStandard::Cap, thread);
    let reach = boss_reach((insert.hole, insert.boss_wall()), head_diameter);
    2.0 * f64::max(columns(bay, mouth_bore).outer_radius, service_circle / 2.0 + reach)
}

pub fn vented_base(design: &Design, inputs: &Enclosure, faults: &mut Faults) -> (VentedBase, Bolting) {
    let bore = bore(design);
    let outer = bore + 2.0 * WALL;
    let j1 = &inputs.bay.stator_mount;
    let service = inputs.service;
    let &Girth {
        column_inner_radius,
        column_outer_radius,
        column_half_angle,
        slot_radius,
        slot_half_angle,
        mouth_outer,
        boss_outer_radius,
        boss_half_angle,
    } = inputs.girth;
    let (service_hole, _) = hole_of(service);
    let boss_height = service.hole_depth() + BOSS_FLOOR;

    let column_clear = service.angles().all(|angle| {
        j1.angles().all(|other| {
            separation(angle, other)
                >= slot_half_angle + libm::asin(((service_hole / 2.0 + 1.6) / service.radius()).min(1.0))
        })
    });
    faults.require(column_clear, "service-columns", || {
        format!(
            "J1 slots and J2 holes meet: {} service screws on a circle of {:.1} leave no room between them for the stator mount's screws. \
             Fewer service screws, or a larger rotor.",
            service.count, service.circle
        )
    });

    let ledge_room = (bore - board_diagonal(design) - 1.0) / 2.0;
    // A ledge deeper than the columns would change the shape half way up its underside.
    let column_depth = bore / 2.0 - column_inner_radius;
    let ledge_room = if column_depth > 0.2 { f64::min(ledge_room, column_depth - 0.2) } else { ledge_room };
    let ledge = if ledge_room < 1.0 { 0.0 } else { f64::min(2.0, ledge_room) };
    let (board_angle, board_clears) = board_angle(design, j1, column_inner_radius, column_half_angle);
    faults.require(board_clears, "board-passes", || {
        let needed = board_diagonal(design) + 1.0;
        format!(
            "Board does not pass: its diagonal {:.1} wants {needed:.1} between the columns, there is {:.1} at every angle. \
             Base bore must be {:.1} (a rotor or board of other size), outside + {:.1}.",
            board_diagonal(design),
            2.0 * column_inner_radius,
            bore + needed - 2.0 * column_inner_radius,
            needed - 2.0 * column_inner_radius
        )
    });

    let flare_from = flare_start(inputs, outer, mouth_outer, boss_outer_radius, boss_height);
    let vents = vents(j1, [inputs.mount_front + VENT_ROOM, flare_from - VENT_ROOM], bore, column_half_angle);
    let cable_window = cable_window(
        j1,
        [FLOOR_THICKNESS + VENT_ROOM, inputs.bay.mount_back - ledge - VENT_ROOM],
        bore,
        column_half_angle,
    );
    let (standoffs, board_screws) = standoffs(design, inputs.bay.board_back, board_angle);

    let base = VentedBase {
        bore,
        wall: WALL,
        outer,
        floor_thickness: FLOOR_THICKNESS,
        mouth_bore: inputs.mouth_bore,
        mouth_depth: MOUTH_DEPTH,
        mouth_outer,
        column_inner_radius,
        column_outer_radius,
        column_half_angle,
        slot_radius,
        slot_half_angle,
        boss_outer_radius,
        boss_half_angle,
        boss_height,
        ledge,
        vents,
        cable_window,
        standoffs,
    };
    (base, board_screws)
}

/// Insert hole of a joint and the wall it wants.
fn hole_of(bolting: &Bolting) -> (f64, f64) {
    match &bolting.anchor {
        Anchor::Insert(insert) | Anchor::Outside(insert) => (insert.hole, insert.boss_wall()),
        Anchor::Thread => (bolting.thread.nominal(), 2.0),
    }
}

fn board_diagonal(design: &Design) -> f64 {
    libm::hypot(design.controller.board.length, design.controller.board.width)
}

/// Where bosses or mouth begin to grow out of the wall.
fn flare_start(
    inputs: &Enclosure,
    outer: f64,
    mouth_outer: f64,
    boss_outer_radius: f64,
    boss_height: f64,
) -> f64 {
    let boss = inputs.service_plane - boss_height - (boss_outer_radius - outer / 2.0).max(0.0);
    let mouth = inputs.service_plane - MOUTH_DEPTH - ((mouth_outer - outer) / 2.0).max(0.0);
    f64::min(boss, mouth)
}

/// Unsigned angle between two directions.
fn separation(a: f64, b: f64) -> f64 {
    let difference = a - b;
    libm::fabs(difference - TAU * (difference / TAU).round())
}

/// Angle of the board at which its corners turn clear of the columns, and whether there is one.
fn board_angle(design: &Design, columns: &Bolting, inner_radius: f64, half_angle: f64) -> (f64, bool) {
    let board = &design.controller.board;
    let corner_radius = board_diagonal(design) / 2.0 + 0.5;
    if corner_radius <= inner_radius {
        return (0.0, true);
    }
    let corner = libm::atan2(board.width, board.length);
    let corners = [corner, -corner, corner + TAU / 2.0, TAU / 2.0 - corner];
    // Half a millimetre of arc beyond the column's side.
    let wanted = half_angle + 0.5 / corner_radius;
    let least = |turn: f64| {
        columns
            .angles()
            .flat_map(|column| corners.map(|c| separation(c + turn, column)))
            .fold(f64::INFINITY, f64::min)
    };
    let best = (0..360).map(|degree| f64::from(degree).to_radians()).map(|turn| (turn, least(turn))).fold(
        (0.0, 0.0),
        |best, next| {
            if next.1 > best.1 + 1e-9 { next } else { best }
        },
    );
    (best.0, best.1 >= wanted)
}

/// Windows of the motor chamber: as many as fit between two columns, posts between them.
fn vents(columns: &Bolting, z: [f64; 2], bore: f64, column_half_angle: f64) -> Vec<Vent> {
    let height = z[1] - z[0];
    let gap = TAU / f64::from(columns.count.max(1)) - 2.0 * column_half_angle;
    let radius = bore / 2.0;
    let arc = gap * radius - POST;
    // At 45 degrees the roof is half as high as the window is wide; a third of the height at least stays upright.
    let width = f64::min(WIDEST_VENT, 2.0 * (height * 2.0 / 3.0) + RIDGE);
    if width < LEAST_WINDOW || arc < width + POST {
        return Vec::new();
    }
    let count = (arc / (width + POST)).floor() as u32;
    let pitch = gap / f64::from(count);
    let between = |column: f64| {
        let first = column + column_half_angle + pitch / 2.0;
        (0..count).map(move |k| Vent { angle: first + pitch * f64::from(k), width, ridge: RIDGE, z })
    };
    columns.angles().flat_map(between).collect()
}

/// Share of the way round that windows take at most: the widest ones, a post between any two.
pub fn most_window_share() -> f64 {
    WIDEST_VENT / (WIDEST_VENT + POST)
}

/// One window in the bay for supply and bus cables, between the first two columns.
fn cable_window(columns: &Bolting, z: [f64; 2], bore: f64, column_half_angle: f64) -> Option<Vent> {
    let gap = TAU / f64::from(columns.count.max(1)) - 2.0 * column_half_angle;
    let widest = gap * bore / 2.0 - 2.0 * POST;
    let width = f64::min(WIDEST_VENT, widest).min(2.0 * (z[1] - z[0] - 3.0) + RIDGE);
    let angle = columns.first_angle + TAU / f64::from(columns.count.max(1)) / 2.0;
    (width >= LEAST_WINDOW).then_some(Vent { angle, width, ridge: RIDGE, z })
}

fn standoffs(design: &Design, board_back: f64, board_angle: f64) -> (Standoffs, Bolting) {
    let board = &design.controller.board;
    let thread = hardware::forced(design, Joint::Board).thread.unwrap_or(board.hole_thread);
    let insert = hardware::short_insert(thread);
    let [length, width] = board.hole_pattern;
    let corners = [(1.0, 1.0), (-1.0, 1.0), (-1.0, -1.0), (1.0, -1.0)];
    let places = corners
        .iter()
        .map(|(sx, sy)| {
            let (x, y) = (sx * length / 2.0, sy * width / 2.0);
            let (sin, cos) = (libm::sin(board_angle), libm::cos(board_angle));
            [x * cos - y * sin, x * sin + y * cos]
        })
        .collect();
    let deepest = board_back - FLOOR;
    let hole_depth = f64::min(insert.length + TIP_ROOM, deepest);
    let (head_diameter, head_height) = hardware::head(ScrewStandard::Cap, thread);
    let screw = crate::tables::next_length(ScrewStandard::Cap, thread, board.thickness + insert.length - 1.0)
        .unwrap_or(0.0);
    let standoffs = Standoffs {
        places,
        diameter: insert.hole + 2.0 * insert.boss_wall(),
        hole: insert.hole,
        hole_depth,
        board_angle,
    };
    let screws = Bolting {
        joint: Joint::Board,
        thread,
        head: ScrewStandard::Cap,
        length: screw,
        count: 4,
        circle: libm::hypot(length, width),
        first_angle: board_angle,
        grip: board.thickness,
        clearance: hardware::clearance(design, thread),
        head_diameter,
        head_height,
        anchor: Anchor::Insert(insert),
    };
    (standoffs, screws)
}

/// Outside of a phase lead where the design doesn't say: 20 AWG in silicone (from memory).
const LEAD: f64 = 2.0;

/// Plate that carries the stator; ears under J1.
pub fn stator_mount(
    design: &Design,
    base: &VentedBase,
    cup: &MagnetCup,
    motor_screws: &Bolting,
    j1: &Bolting,
) -> StatorMount {
    let side_room = design.printer.register / 2.0;
    let ear_radius = base.slot_radius - side_room;
    let slot_half_width = j1.head_diameter / 2.0 + SLOT_ROOM;
    let outer = base.bore / 2.0;
    // Phase wires leave midway between two ears, outside the stator's screws.
    let wire = design.motor.lead_diameter.unwrap_or(LEAD);
    let width = 3.0 * wire + 1.0;
    let outer_radius = outer - 4.0;
    let inner_radius =
        f64::max(motor_screws.radius() + motor_screws.head_pocket() / 2.0 + 1.6, outer_radius - 3.0 * wire);
    let angle = j1.first_angle + TAU / f64::from(j1.count.max(1)) / 2.0;
    StatorMount {
        disc_diameter: base.bore - design.printer.register,
        thickness: MOUNT_THICKNESS,
        centre_hole: cup.outer + 2.0,
        ear_radius,
        ear_half_angle: libm::asin(((slot_half_width - side_room) / j1.radius()).min(1.0)),
        recess: (motor_screws.head_pocket(), motor_screws.head_height + 0.2),
        wire_slot: WireSlot {
            inner_radius: inner_radius.min(outer_radius - wire),
            outer_radius,
            half_angle: width / 2.0 / outer_radius.max(1.0),
            angle: wrapped_first(angle, motor_screws),
        },
    }
}

/// The angle nearest to `angle` that lies midway between two motor screws.
fn wrapped_first(angle: f64, screws: &Bolting) -> f64 {
    let pitch = TAU / f64::from(screws.count.max(1));
    let from_first = (angle - screws.first_angle) / pitch - 0.5;
    screws.first_angle + (from_first.round() + 0.5) * pitch
}
