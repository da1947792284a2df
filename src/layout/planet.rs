//! Planet: bearing, pin, washer, sleeve; and the pillars between the planets.

use crate::design::{Bush, Design, Joint};
use crate::gears::Stage;
use crate::tables::{Bearing, ScrewStandard, Thread, pin_of, planet_bearings};

use super::actuator::{Planet, PlanetSeat};
use super::fault::Faults;
use super::hardware::{self, FLOOR, TIP_ROOM};

/// Lip that stops the bearing at the back of the planet.
pub const LIP: f64 = 0.8;
/// Axial float of the planet on its pin.
pub const FLOAT: f64 = 0.2;
/// Washer between planet bearing and carrier plate.
pub const WASHER: f64 = 1.0;
/// From planet to carrier plate and to back plate.
pub const SIDE_GAP: f64 = 1.0;
/// Teeth of the ring stand this far over the planets at both ends.
pub const RING_OVERHANG: f64 = 0.5;
/// Boss wall around the sun's socket, on the diameter, over the sun's tip.
pub const SUN_BOSS: f64 = 4.8;
/// Adapter boss to back-plate bore, on the diameter.
pub const BOSS_CLEARANCE: f64 = 2.0;
/// Least plastic between planet root and bearing, on the diameter.
const RIM: f64 = 4.8;
/// Least wall between pin and back-plate bore, and between pin and plate edge.
pub const PIN_WALL: f64 = 2.4;
/// Washer and boss stand over the bush by this much, on the diameter, so that they bear on the planet too.
const BUSH_COLLAR: f64 = 3.0;
/// Least width of a washer.
const WASHER_WIDTH: f64 = 0.8;
/// Wall of a pillar around its screw or insert.
const PILLAR_WALL: f64 = 1.6;

/// Sun boss outside.
pub fn boss_diameter(stage: &Stage) -> f64 {
    stage.sun.tip_diameter + SUN_BOSS
}

/// Bore of the carrier's back plate.
pub fn back_plate_bore(stage: &Stage) -> f64 {
    boss_diameter(stage) + BOSS_CLEARANCE
}

/// Pillars with their screws and the back plate's thickness.
#[derive(Clone)]
pub struct Pillars {
    pub thread: Thread,
    pub radius: f64,
    pub distance: f64,
    pub screw_length: f64,
    pub plate_thickness: f64,
    pub head_diameter: f64,
}

/// Largest bearing by static rating that leaves rim, washer and sleeve; the design's own if given.
fn choose_bearing(design: &Design, stage: &Stage) -> Option<Bearing> {
    if let Some(bearing) = &design.bearings.planet {
        return Some(bearing.clone());
    }
    planet_bearings()
        .filter(|bearing| bearing_misfits(design, stage, bearing).is_empty())
        .max_by(|a, b| a.static_rating.total_cmp(&b.static_rating))
        .cloned()
}

/// Bore from which makers print a largest inner-ring shoulder; smaller rows carry the least one in its place.
const SHOULDERS_PRINTED: f64 = 10.0;

/// Inner-ring abutment: a maker's least value, or the usual quarter of the section where that is more and allowed.
fn shoulder(bearing: &Bearing) -> f64 {
    let quarter = bearing.bore + 0.25 * (bearing.outer - bearing.bore);
    let most = if bearing.bore >= SHOULDERS_PRINTED { bearing.shoulder_inner_max } else { quarter };
    f64::max(bearing.shoulder_inner_min, f64::min(quarter, most))
}

/// Which conditions a bearing breaks in this planet.
fn bearing_misfits(design: &Design, stage: &Stage, bearing: &Bearing) -> Vec<(&'static str, String)> {
    let name = &bearing.designation;
    let mut misfits = Vec::new();
    let rim = stage.planet.root_diameter - bearing.outer;
    if rim < RIM {
        let largest = stage.planet.root_diameter - RIM;
        misfits.push((
            "planet-rim",
            format!(
                "Planet rim too thin: {name} ({:.1} mm outside) in a planet of root diameter {:.2} leaves {rim:.2}, wanted {RIM}. \
                 Largest bearing: {largest:.1} mm outside; or more planet teeth, or a larger module.",
                bearing.outer, stage.planet.root_diameter
            ),
        ));
    }
    let washer = (shoulder(bearing) - bearing.bore - design.printer.pin_slip) / 2.0;
    if washer < WASHER_WIDTH {
        misfits.push((
            "planet-washer",
            format!(
                "Planet washer too narrow: {name} has an inner-ring shoulder of {:.1}, the washer would be {washer:.2} wide, \
                 wanted {WASHER_WIDTH}. Use a bearing with a taller inner ring.",
                shoulder(bearing)
            ),
        ));
    }
    let sleeve =
        design.gearset.face_width - LIP - 2.0 * bearing.width_of(design.bearings.planet_shielded) - FLOAT;
    if sleeve < 0.0 {
        misfits.push((
            "planet-sleeve",
            format!(
                "Two {name} ({:.1} mm wide each) do not fit a face width of {:.1}: widen the face to {:.1}, or use narrower bearings \
                 (open instead of shielded).",
                bearing.width_of(design.bearings.planet_shielded),
                design.gearset.face_width,
                LIP + 2.0 * bearing.width_of(design.bearings.planet_shielded) + FLOAT
            ),
        ));
    }
    if pin_of(bearing.bore).is_none() {
        misfits.push((
            "planet-pin",
            format!(
                "No dowel pin of {} mm is sold for the bore of {name}: use a bearing of another bore.",
                bearing.bore
            ),
        ));
    }
    let wall = stage.centre_distance - bearing.bore / 2.0 - back_plate_bore(stage) / 2.0;
    if wall < PIN_WALL {
        misfits.push((
            "sun-boss",
            format!(
                "Sun boss too wide for the pin circle: between back-plate bore {:.1} and pin {:.1} on centre distance {:.2} stay {wall:.2}, \
                 wanted {PIN_WALL}. Thinner pin (smaller planet bearing), fewer sun teeth, or more planet teeth.",
                back_plate_bore(stage),
                bearing.bore,
                stage.centre_distance
            ),
        ));
    }
    misfits
}

/// Pillars: M3 if it fits between the planets, else M2.5.
pub fn pillars(design: &Design, stage: &Stage, faults: &mut Faults) -> Option<Pillars> {
    let forced = hardware::forced(design, Joint::Pillars);
    let threads = forced.thread.map_or_else(|| vec![Thread::M3, Thread::M2_5], |thread| vec![thread]);
    let mut refused = Vec::new();
    for thread in threads {
        match pillars_of(design, stage, thread) {
            Ok(found) => return Some(found),
            Err(why) => refused.push(why),
        }
    }
    faults.push(
        "pillar-room",
        format!(
            "No room for pillars between the planets: {}. Fewer planets, lower ratio, or a larger module.",
            refused.join("; ")
        ),
    );
    None
}

fn pillars_of(design: &Design, stage: &Stage, thread: Thread) -> Result<Pillars, String> {
    let printer = &design.printer;
    let insert = hardware::insert(thread);
    let clearance = hardware::clearance(design, thread);
    let (head_diameter, _) = hardware::head(ScrewStandard::Countersunk, thread);
    let radius = f64::max(clearance, insert.hole) / 2.0 + PILLAR_WALL;

    let from_bore = back_plate_bore(stage) / 2.0 + f64::max(radius, head_diameter / 2.0 + LIP);
    let to_ring = stage.ring.tip_diameter / 2.0 - printer.running_radial - 0.1 - radius;
    // Centre distance pillar to planet that clears: law of cosines at the angle to the nearest planet.
    let wanted = stage.planet.tip_diameter / 2.0 + radius + printer.running_radial + 0.1;
    let centre = stage.centre_distance;
    let half = stage.spacing.least_angle_to_middle();
    let along = centre * libm::cos(half);
    let discriminant = along * along - centre * centre + wanted * wanted;
    let clears = if discriminant > 0.0 { along + discriminant.sqrt() } else { 0.0 };
    let distance = f64::max(from_bore, clears);
    if distance > to_ring {
        return Err(format!(
            "{thread} needs its pillar at {distance:.1} from the axis, the ring allows {to_ring:.1} (pillar radius {radius:.1})"
        ));
    }

    let span = design.gearset.face_width + 2.0 * SIDE_GAP;
    let (plate_thickness, screw_length) = back_plate(design, thread, span, insert.length)
        .ok_or_else(|| format!("{thread} is not sold long enough for pillars of {span:.1} mm"))?;
    Ok(Pillars { thread, radius, distance, screw_length, plate_thickness, head_diameter })
}

/// Thinnest plate of 4 to 8 that makes the screw end with its insert: (thickness, screw length).
fn back_plate(design: &Design, thread: Thread, span: f64, insert_length: f64) -> Option<(f64, f64)> {
    const THIN: f64 = 4.0;
    const THICK: f64 = 8.0;
    let mut shortest = THIN + span + insert_length;
    let fallback = hardware::length(design, Joint::Pillars, ScrewStandard::Countersunk, thread, shortest)?;
    loop {
        let screw = hardware::length(design, Joint::Pillars, ScrewStandard::Countersunk, thread, shortest)?;
        let layer = design.printer.layer_height;
        let thickness = ((screw - span - insert_length) / layer + 1e-9).floor() * layer;
        if (THIN..=THICK).contains(&thickness) {
            return Some((thickness, screw));
        }
        if thickness > THICK || screw < shortest {
            return (fallback >= THIN + span + insert_length).then_some((THIN, fallback));
        }
        shortest = screw + 0.1;
    }
}

/// Seat and pin of the planet.
pub fn planet(design: &Design, stage: &Stage, plate_thickness: f64, faults: &mut Faults) -> Option<Planet> {
    match design.gearset.planet_bush {
        Some(bush) => on_bush(design, stage, plate_thickness, bush, faults),
        None => on_bearings(design, stage, plate_thickness, faults),
    }
}

fn on_bearings(design: &Design, stage: &Stage, plate_thickness: f64, faults: &mut Faults) -> Option<Planet> {
    let Some(bearing) = choose_bearing(design, stage) else {
        let largest = stage.planet.root_diameter - RIM;
        faults.push(
            "planet-rim",
            format!(
                "No planet bearing of the table fits: outside at most {largest:.1}, two of them within a face width of {:.1}, bore at most {:.1}. \
                 Widen the face, use more planet teeth, a bush, or bring a row of your own.",
                design.gearset.face_width,
                2.0 * (stage.centre_distance - back_plate_bore(stage) / 2.0 - PIN_WALL)
            ),
        );
        return None;
    };
    for (id, message) in bearing_misfits(design, stage, &bearing) {
        faults.push(id, message);
    }
    let what = || format!("planet bearing's bore ({:.1} mm, {})", bearing.bore, bearing.designation);
    let pin = pin(design, bearing.bore, what, plate_thickness, faults)?;
    let (face, width) = (design.gearset.face_width, bearing.width_of(design.bearings.planet_shielded));
    Some(Planet {
        seat: bearing.outer + design.printer.seat_fit(bearing.outer),
        lip_thickness: LIP,
        lip_bore: bearing.outer - 2.0,
        pin_diameter: bearing.bore,
        pin_length: pin.length,
        pin_depth_carrier: pin.in_carrier,
        pin_depth_back_plate: pin.in_back_plate,
        shoulder: shoulder(&bearing),
        washer_bore: bearing.bore + design.printer.pin_slip,
        washer_thickness: WASHER,
        sleeve_length: face - LIP - 2.0 * width - FLOAT,
        turns_on: PlanetSeat::Bearings { spread: face - LIP - width, width, bearing: Box::new(bearing) },
    })
}

/// The bush is as long as the planet and flush with it; boss and washer bear on both.
fn on_bush(
    design: &Design,
    stage: &Stage,
    plate_thickness: f64,
    bush: Bush,
    faults: &mut Faults,
) -> Option<Planet> {
    let rim = stage.planet.root_diameter - bush.outer;
    faults.require(rim >= RIM, "planet-rim", || {
        format!(
            "Planet rim too thin: a bush of {:.1} mm outside in a planet of root diameter {:.2} leaves {rim:.2}, wanted {RIM}. \
             Largest bush: {:.1} mm outside.",
            bush.outer,
            stage.planet.root_diameter,
            stage.planet.root_diameter - RIM
        )
    });
    let wall = stage.centre_distance - bush.bore / 2.0 - back_plate_bore(stage) / 2.0;
    faults.require(wall >= PIN_WALL, "sun-boss", || {
        format!(
            "Sun boss too wide for the pin circle: between back-plate bore and pin stay {wall:.2}, wanted {PIN_WALL}. A thinner \
             pin (smaller bush), fewer sun teeth, or more planet teeth."
        )
    });
    let what = || format!("bush's bore ({:.1} mm)", bush.bore);
    let pin = pin(design, bush.bore, what, plate_thickness, faults)?;
    Some(Planet {
        seat: bush.outer + design.printer.pin_press,
        lip_thickness: 0.0,
        lip_bore: bush.outer,
        pin_diameter: bush.bore,
        pin_length: pin.length,
        pin_depth_carrier: pin.in_carrier,
        pin_depth_back_plate: pin.in_back_plate,
        shoulder: bush.outer + BUSH_COLLAR,
        washer_bore: bush.bore + 0.2,
        washer_thickness: SIDE_GAP - FLOAT,
        sleeve_length: 0.0,
        turns_on: PlanetSeat::Bush(bush),
    })
}

/// A planet's pin and how deep it stands.
struct PinFit {
    length: f64,
    in_carrier: f64,
    in_back_plate: f64,
}

/// `what` names the bore it must fill.
fn pin(
    design: &Design,
    diameter: f64,
    what: impl Fn() -> String,
    plate_thickness: f64,
    faults: &mut Faults,
) -> Option<PinFit> {
    if let Some(pin) = design.gearset.pin_diameter {
        faults.require((pin - diameter).abs() < 1e-6, "planet-pin", || {
            format!("The pin ({pin:.1} mm) must be as thick as the {}.", what())
        });
    }
    let span = design.gearset.face_width + 2.0 * SIDE_GAP;
    let in_back_plate = plate_thickness - FLOOR;
    let least_press = f64::max(4.0, 0.7 * diameter);
    let least = in_back_plate + span + least_press;
    let Some(length) = next_pin(diameter, least) else {
        faults.push("planet-pin", format!("No dowel pin {diameter:.0} x {least:.0} or longer is sold."));
        return None;
    };
    Some(PinFit { length, in_carrier: length - in_back_plate - span, in_back_plate })
}

/// The shortest dowel pin of a diameter that is at least so long.
fn next_pin(diameter: f64, at_least: f64) -> Option<f64> {
    pin_of(diameter).and_then(|pin| pin.next_length(at_least))
}

/// Thickness of the carrier plate: pillar insert and pin both end in it.
pub fn plate_thickness(design: &Design, pillars: &Pillars, planet: &Planet) -> f64 {
    let grip = pillars.plate_thickness + design.gearset.face_width + 2.0 * SIDE_GAP;
    let insert_hole =
        f64::max(pillars.screw_length - grip, hardware::insert(pillars.thread).length) + TIP_ROOM;
    let pin_hole = planet.pin_depth_carrier + 0.3;
    f64::max(insert_hole + 1.3, pin_hole + 1.0)
}
