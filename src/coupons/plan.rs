//! What a design needs to know about its printer: which coupons, of which sizes, in which steps.

use crate::design::{GearSource, PartName, Printer, RingKind};
use crate::geometry::ShapeError;
use crate::layout::{Actuator, Anchor, PlanetSeat, SunJoint};
use crate::parts::PartFault;
use crate::tables::{FormingBoss, HoleSeries, Insert, Thread, forming_rules, forming_screws};

use super::hole_plate::HolePlate;
use super::{Coupon, GAUGE_DIAMETER, GearPair, Kind, Piece, bridge, gauge, ring_ladder, sun_socket};

/// Steps from the profile's present value, tightest first \[mm\]. 0.05 is what a hand tells apart in a press fit.
const SEAT_STEPS: [f64; 6] = [-0.10, -0.05, 0.0, 0.05, 0.10, 0.15];
/// A post is tight when it is large.
const POST_STEPS: [f64; 6] = [0.10, 0.05, 0.0, -0.05, -0.10, -0.15];
const CLEARANCE_STEPS: [f64; 5] = [-0.2, -0.1, 0.0, 0.1, 0.2];
const INSERT_STEPS: [f64; 4] = [-0.1, 0.0, 0.1, 0.2];
/// A hole too small splits the boss, one too large strips.
const PILOT_STEPS: [f64; 4] = [-0.1, 0.0, 0.1, 0.2];
/// The size one keeps.
const PILOT_SCREW: &str = "K30";
const RING_INSERT_STEPS: [f64; 3] = [-0.1, 0.0, 0.1];
const SOCKET_STEPS: [f64; 4] = [-0.05, 0.0, 0.05, 0.10];
/// Each opens the pair by four times as much: 0.1 mm along the normal.
const GROWTH_STEPS: [f64; 5] = [-0.025, 0.0, 0.025, 0.05, 0.075];
/// Shares of the profile's limits.
const BRIDGE_SHARES: [f64; 4] = [0.4, 0.6, 0.8, 1.0];
const OVERHANG_SHARES: [f64; 4] = [0.7, 0.8, 0.9, 1.0];
/// Pin holes, from tighter than the press fit to looser than the slip fit.
const PIN_STEPS: usize = 8;
const PIN_TIGHTER: f64 = 0.10;
const PIN_LOOSER: f64 = 0.15;
/// Steeper leaning walls than this stand on no foot \[rad\]; flatter limits of form have no coupon.
const MOST_LEAN: f64 = 60.0_f64.to_radians();
const LEAST_LEAN: f64 = 10.0_f64.to_radians();
/// Shorter bridges than this are no bridges, longer ones need most of a bed.
const LEAST_BRIDGE: f64 = 2.0;
const MOST_BRIDGE: f64 = 50.0;
/// Thickness of the bars of pins and screws, wall around their holes.
const BAR: f64 = 4.0;
const BAR_WALL: f64 = 2.5;
/// Under the pocket of an insert.
const INSERT_FLOOR: f64 = 1.0;
const INSERT_TIP_ROOM: f64 = 0.5;

/// Millimetres to a hundredth of a micrometre: sums of steps carry rounding, which would show in the sheet.
fn rounded(value: f64) -> f64 {
    (value * 1e5).round() / 1e5
}

/// Diameters of a list, each once.
fn distinct(mut sizes: Vec<f64>) -> Vec<f64> {
    sizes.sort_by(f64::total_cmp);
    sizes.dedup();
    sizes
}

/// A coupon before it has a shape.
pub struct Plan {
    pub name: String,
    kind: Kind,
    title: String,
    size: f64,
    part: PartName,
    steps: Vec<f64>,
    /// The insert that a pocket is for.
    insert: Option<Insert>,
    /// The boss that a pilot hole is for.
    boss: Option<FormingBoss>,
}

impl Plan {
    fn new(name: String, kind: Kind, title: String, size: f64, part: PartName, steps: Vec<f64>) -> Plan {
        let steps = steps.into_iter().map(rounded).collect();
        Plan { name, kind, title, size, part, steps, insert: None, boss: None }
    }

    pub fn made(self, actuator: &Actuator) -> Result<Coupon, PartFault> {
        let pieces = self.pieces(actuator)?;
        let Plan { name, kind, title, size, part, steps, .. } = self;
        Ok(Coupon { name, kind, title, size, part, steps, pieces }.scaled(actuator))
    }

    /// Its numbered steps.
    fn numbered(&self) -> impl Iterator<Item = (u32, f64)> + '_ {
        (1..).zip(self.steps.iter().copied())
    }

    fn pieces(&self, actuator: &Actuator) -> Result<Vec<Piece>, PartFault> {
        let printer = &actuator.design.printer;
        let pieces: Result<Vec<Piece>, PartFault> = match self.kind {
            Kind::Seat | Kind::RingInsert => self
                .numbered()
                .map(|(number, step)| Ok(ring_ladder::seat(printer, self.size + step, number)?))
                .collect(),
            Kind::Post => self
                .numbered()
                .map(|(number, step)| Ok(ring_ladder::post(printer, self.size + step, number)?))
                .collect(),
            Kind::RingInsertGauge => Ok(vec![ring_ladder::post(printer, self.size, 0)?]),
            Kind::Pin | Kind::Clearance | Kind::Insert | Kind::Pilot => Ok(vec![self.bar(printer)?]),
            Kind::SunSocket => {
                self.numbered().map(|(number, step)| sun_socket::socket(actuator, step, number)).collect()
            }
            Kind::GearPair => self.gears(actuator),
            Kind::Bridge => {
                self.numbered().map(|(number, span)| Ok(bridge::bridge(printer, span, number)?)).collect()
            }
            Kind::Overhang => self
                .numbered()
                .map(|(number, angle)| Ok(bridge::leaning_wall(printer, angle, number)?))
                .collect(),
            Kind::Gauge => Ok(vec![gauge::post(printer)?]),
        };
        pieces
    }

    fn bar(&self, printer: &Printer) -> Result<Piece, ShapeError> {
        let diameters: Vec<f64> = self.steps.iter().map(|step| self.size + step).collect();
        let plate = match (&self.insert, &self.boss) {
            (None, Some(boss)) => HolePlate {
                printer,
                diameters: &diameters,
                wall: (boss.outside - boss.hole) / 2.0,
                thickness: boss.depth,
                floor: None,
            },
            (Some(insert), _) => HolePlate {
                printer,
                diameters: &diameters,
                wall: insert.boss_wall(),
                thickness: INSERT_FLOOR + insert.length + INSERT_TIP_ROOM,
                floor: Some(INSERT_FLOOR),
            },
            (None, None) => {
                HolePlate { printer, diameters: &diameters, wall: BAR_WALL, thickness: BAR, floor: None }
            }
        };
        plate.piece()
    }

    fn gears(&self, actuator: &Actuator) -> Result<Vec<Piece>, PartFault> {
        let Some(pair) = GearPair::of(actuator) else { return Ok(Vec::new()) };
        let mates = self.numbered().map(|(number, growth)| pair.mate_piece(actuator, growth, number));
        let plate_and_gear = [pair.plate(actuator), pair.base_piece(actuator)];
        plate_and_gear.into_iter().chain(mates).collect()
    }
}

/// What the design uses, in the order in which one prints it.
pub fn plans(actuator: &Actuator) -> Vec<Plan> {
    let mut plans = Vec::new();
    seats(actuator, &mut plans);
    posts(actuator, &mut plans);
    pins(actuator, &mut plans);
    screws(actuator, &mut plans);
    pilots(actuator, &mut plans);
    ring_insert(actuator, &mut plans);
    gears(actuator, &mut plans);
    form(actuator, &mut plans);
    plans
}

fn around(value: f64, steps: &[f64]) -> Vec<f64> {
    steps.iter().map(|step| value + step).collect()
}

fn seats(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let printer = &actuator.design.printer;
    let output = actuator.design.bearings.output.outer;
    let planet = match &actuator.planet.turns_on {
        PlanetSeat::Bearings { bearing, .. } => Some(bearing.outer),
        PlanetSeat::Bush(_) => None,
    };
    for size in distinct(planet.into_iter().chain([output]).collect()) {
        let part = if size == output { PartName::RingHousing } else { PartName::Planet };
        let title = format!("Seat of a bearing of {size} mm outside");
        let steps = around(printer.seat_fit(size), &SEAT_STEPS);
        plans.push(Plan::new(format!("seat-{size}"), Kind::Seat, title, size, part, steps));
    }
}

fn posts(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let size = actuator.design.bearings.output.bore;
    let title = format!("Post in a bearing of {size} mm bore");
    let steps = around(actuator.design.printer.bearing_post, &POST_STEPS);
    plans.push(Plan::new(format!("post-{size}"), Kind::Post, title, size, PartName::OutputCarrier, steps));
}

fn pins(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let printer = &actuator.design.printer;
    let size = actuator.planet.pin_diameter;
    let from = f64::min(printer.pin_press, printer.pin_slip) - PIN_TIGHTER;
    let to = f64::max(printer.pin_press, printer.pin_slip) + PIN_LOOSER;
    let step = (to - from) / (PIN_STEPS - 1) as f64;
    let steps = (0..PIN_STEPS).map(|index| from + step * index as f64).collect();
    let title = format!("Holes of {size} mm pins, pressed and sliding");
    plans.push(Plan::new(format!("pin-{size}"), Kind::Pin, title, size, PartName::CarrierBackPlate, steps));
}

fn screws(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let printer = &actuator.design.printer;
    let mut threads: Vec<Thread> = actuator.joints.iter().map(|joint| joint.thread).collect();
    threads.sort();
    threads.dedup();
    for thread in &threads {
        let name = format!("clearance-{}", thread.to_string().to_lowercase());
        let size = thread.clearance_hole(HoleSeries::Medium);
        let title = format!("Clearance holes of {thread}");
        let steps = around(printer.clearance_hole, &CLEARANCE_STEPS);
        plans.push(Plan::new(name, Kind::Clearance, title, size, PartName::RingHousing, steps));
    }
    for thread in threads {
        // Short and standard inserts of a thread share their hole; the longer one tells more.
        let longest = actuator
            .joints
            .iter()
            .filter(|joint| joint.thread == thread)
            .filter_map(|joint| match &joint.anchor {
                Anchor::Insert(insert) => Some(*insert),
                Anchor::Thread | Anchor::Outside(_) => None,
            })
            .max_by(|one, other| one.length.total_cmp(&other.length));
        let Some(insert) = longest else { continue };
        let name = format!("insert-{}", thread.to_string().to_lowercase());
        let title = format!("Pockets of {thread} heat-set inserts");
        let growth = printer.hole(insert.hole) - insert.hole;
        let steps = around(growth, &INSERT_STEPS);
        let mut plan = Plan::new(name, Kind::Insert, title, insert.hole, PartName::VentedBase, steps);
        plan.insert = Some(insert);
        plans.push(plan);
    }
}

/// Self-tapping: for covers and brackets of one's own, since the actuator's joints use inserts.
fn pilots(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let part = PartName::VentedBase;
    let plastic = &actuator.design.settings(part).material.name;
    let rule_of = |name: &str| forming_rules().iter().find(|rule| rule.plastic == name);
    let screw = forming_screws().iter().find(|screw| screw.name == PILOT_SCREW);
    // The table has moulded plastics; for those it lacks the row of ABS stands in (a choice).
    let (Some(rule), Some(screw)) = (rule_of(plastic).or_else(|| rule_of("ABS")), screw) else { return };
    let boss = rule.boss_of(screw.diameter);
    let printer = &actuator.design.printer;
    let steps = around(printer.hole(boss.hole) - boss.hole, &PILOT_STEPS);
    let title = format!(
        "Pilot holes of {} mm thread-forming screws, by the rule for {}",
        screw.diameter, rule.plastic
    );
    let mut plan = Plan::new(format!("pilot-{}", screw.diameter), Kind::Pilot, title, boss.hole, part, steps);
    plan.boss = Some(boss);
    plans.push(plan);
}

fn ring_insert(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let Some(insert) = &actuator.ring_insert else { return };
    let steps = around(actuator.design.printer.ring_insert, &RING_INSERT_STEPS);
    let size = insert.outer;
    let title = "Bore of the ring insert".to_string();
    plans.push(Plan::new("ring-bore".into(), Kind::RingInsert, title, size, PartName::RingHousing, steps));
    let title = "The ring that goes into the bore of the ring insert".to_string();
    let gauge = Kind::RingInsertGauge;
    plans.push(Plan::new("ring-gauge".into(), gauge, title, size, PartName::RingInsert, Vec::new()));
}

fn gears(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let gearset = &actuator.design.gearset;
    let printer = &actuator.design.printer;
    if let SunJoint::Socket { .. } = actuator.sun.joint {
        let steps = around(printer.sun_socket, &SOCKET_STEPS);
        let title = "Toothed socket of the sun".to_string();
        let (kind, part) = (Kind::SunSocket, PartName::RotorAdapter);
        plans.push(Plan::new("sun-socket".into(), kind, title, 0.0, part, steps));
    }
    if GearPair::of(actuator).is_some() {
        let part = match (gearset.planet_made, gearset.ring_made) {
            (GearSource::Print, _) => PartName::Planet,
            (GearSource::Buy, RingKind::Insert) => PartName::RingInsert,
            (GearSource::Buy, RingKind::Cut) => PartName::RingHousing,
        };
        let steps = around(printer.tooth_growth, &GROWTH_STEPS);
        let title = format!("Gear pair of module {} mm", gearset.normal_module);
        plans.push(Plan::new("gear-pair".into(), Kind::GearPair, title, 0.0, part, steps));
    }
}

fn form(actuator: &Actuator, plans: &mut Vec<Plan>) {
    let printer = &actuator.design.printer;
    // What holds for every part is tried in the base's material: the design's general one.
    let part = PartName::VentedBase;
    let bridge = f64::min(printer.bridge, MOST_BRIDGE);
    if bridge >= LEAST_BRIDGE {
        let steps = BRIDGE_SHARES.iter().map(|share| share * bridge).collect();
        plans.push(Plan::new("bridge".into(), Kind::Bridge, "Bridges".into(), 0.0, part, steps));
    }
    let lean = f64::min(printer.overhang, MOST_LEAN);
    if lean >= LEAST_LEAN {
        let steps = OVERHANG_SHARES.iter().map(|share| share * lean).collect();
        plans.push(Plan::new("overhang".into(), Kind::Overhang, "Leaning walls".into(), 0.0, part, steps));
    }
    let title = "Post to measure".to_string();
    plans.push(Plan::new("gauge".into(), Kind::Gauge, title, GAUGE_DIAMETER, part, Vec::new()));
}
