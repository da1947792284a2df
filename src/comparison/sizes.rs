//! The sizes that are compared: outside, gears, heights along the axis, diameters, bolted joints.

use crate::bom::place;
use crate::design::{Joint, keys};
use crate::layout::{Actuator, Bolting, PlanetSeat};
use crate::product::Product;

use super::figures::{Better, FigureRow, Reading};

/// A size that every design may have.
struct Size {
    group: &'static str,
    id: &'static str,
    label: &'static str,
    unit: &'static str,
    better: Better,
    of: fn(&Actuator) -> Reading,
}

const fn size(
    group: &'static str,
    id: &'static str,
    label: &'static str,
    better: Better,
    of: fn(&Actuator) -> Reading,
) -> Size {
    Size { group, id, label, unit: "mm", better, of }
}

const fn count(
    group: &'static str,
    id: &'static str,
    label: &'static str,
    of: fn(&Actuator) -> Reading,
) -> Size {
    Size { group, id, label, unit: "", better: Better::Open, of }
}

const OUTSIDE: &str = "Outside";
const GEARS: &str = "Gears and bearings";
const HEIGHTS: &str = "Heights along the axis, from the mounting face";
const ACROSS: &str = "Diameters";
const BOLTED: &str = "Bolted joints";

use Better::{Less, Open};

/// From the outside in, from the back to the front.
const SIZES: &[Size] = &[
    size(OUTSIDE, "outer_diameter_mm", "Outside diameter", Less, |a| a.outer_diameter().into()),
    size(OUTSIDE, "height_mm", "Height to the output face", Less, |a| a.stations.output_face.into()),
    count(GEARS, "teeth", "Teeth of sun, planets, ring", |a| {
        format!("{}/{}/{}", a.stage.sun.teeth, a.stage.planet.teeth, a.stage.ring.teeth).into()
    }),
    count(GEARS, "planets", "Planets", |a| f64::from(a.stage.planets).into()),
    size(GEARS, "normal_module_mm", "Normal module", Open, |a| a.design.gearset.normal_module.into()),
    size(GEARS, "centre_distance_mm", "Centre distance", Open, |a| a.stage.centre_distance.into()),
    size(GEARS, "face_width_mm", "Face width", Open, |a| a.stage.face_width.into()),
    size(GEARS, "sun_length_mm", "Length of the sun", Open, |a| a.sun.length.into()),
    count(GEARS, "output_bearing", "Output bearing", |a| {
        format!("{} x {}", a.design.bearings.output_count, a.design.bearings.output.designation).into()
    }),
    count(GEARS, "planets_turn_on", "Planets turn on", |a| match &a.planet.turns_on {
        PlanetSeat::Bearings { bearing, .. } => bearing.designation.clone().into(),
        PlanetSeat::Bush(_) => "bush".to_string().into(),
    }),
    size(GEARS, "pin_length_mm", "Length of a planet pin", Open, |a| a.planet.pin_length.into()),
    size(HEIGHTS, "board_mm", "Board, back", Open, |a| a.stations.board_back.into()),
    size(HEIGHTS, "encoder_magnet_mm", "Encoder magnet", Open, |a| a.stations.magnet_back.into()),
    size(HEIGHTS, "mount_back_mm", "Stator mount, back", Open, |a| a.stations.mount_back.into()),
    size(HEIGHTS, "mount_front_mm", "Motor's mounting face", Open, |a| a.stations.mount_front.into()),
    size(HEIGHTS, "rotor_front_mm", "Rotor face", Open, |a| a.stations.rotor_front.into()),
    size(HEIGHTS, "adapter_front_mm", "Rotor adapter's disc, front", Open, |a| {
        a.stations.adapter_front.into()
    }),
    size(HEIGHTS, "service_mm", "Service joint, where it opens", Open, |a| a.stations.service.into()),
    size(HEIGHTS, "planet_back_mm", "Planets, back", Open, |a| a.stations.planet_back.into()),
    size(HEIGHTS, "plate_back_mm", "Carrier plate, back", Open, |a| a.stations.plate_back.into()),
    size(HEIGHTS, "bearing_back_mm", "Output bearing, back", Open, |a| a.stations.bearing_back.into()),
    size(HEIGHTS, "lip_front_mm", "Lip, front", Open, |a| a.stations.lip_front.into()),
    size(ACROSS, "base_bore_mm", "Bore of the vented base", Open, |a| a.base.bore.into()),
    size(ACROSS, "mouth_bore_mm", "Mouth of the vented base", Open, |a| a.base.mouth_bore.into()),
    size(ACROSS, "rim_mm", "Rim of the ring housing", Open, |a| a.housing.rim_diameter.into()),
    size(ACROSS, "tube_mm", "Tube of the ring housing", Open, |a| a.housing.tube_diameter.into()),
    size(ACROSS, "adapter_disc_mm", "Rotor adapter's disc", Open, |a| a.adapter.disc_diameter.into()),
    size(ACROSS, "mount_hole_mm", "Centre hole of the stator mount", Open, |a| a.mount.centre_hole.into()),
    size(ACROSS, "carrier_plate_mm", "Carrier plate", Open, |a| a.carrier.plate_diameter.into()),
    size(ACROSS, "keeper_mm", "Bearing keeper", Open, |a| a.keeper.outer.into()),
    size(ACROSS, "flange_mm", "Output flange", Open, |a| a.clamp_ring.flange_diameter.into()),
];

/// Digits of a length for people: hundredths, as a caliper reads.
const DIGITS: usize = 2;

/// All sizes of both, then their bolted joints.
pub fn rows(sides: [&Product; 2]) -> Vec<FigureRow> {
    let actuators = sides.map(|side| &*side.actuator);
    let sizes = SIZES.iter().map(|size| FigureRow {
        group: size.group,
        id: size.id.to_string(),
        label: size.label.to_string(),
        unit: size.unit,
        digits: if size.unit.is_empty() { 0 } else { DIGITS },
        better: size.better,
        values: actuators.map(size.of),
    });
    sizes.chain(keys::JOINTS.iter().filter_map(|(id, joint)| bolted(id, *joint, actuators))).collect()
}

/// A size of one design by its name here: label, unit, value; none for a name that isn't.
pub fn number(id: &str, actuator: &Actuator) -> Option<(&'static str, &'static str, Option<f64>)> {
    let size = SIZES.iter().find(|size| size.id == id)?;
    Some((size.label, size.unit, (size.of)(actuator).number()))
}

/// A joint as one buys and drills it; none where neither has it.
fn bolted(id: &str, joint: Joint, actuators: [&Actuator; 2]) -> Option<FigureRow> {
    let found = actuators.map(|actuator| actuator.joints.iter().find(|one| one.joint == joint));
    found.iter().any(Option::is_some).then(|| FigureRow {
        group: BOLTED,
        id: id.to_string(),
        label: first_upper(place(joint)),
        unit: "",
        digits: 0,
        better: Better::Open,
        values: found.map(|one| one.map_or(Reading::None, |one| Reading::Text(words(one)))),
    })
}

fn words(joint: &Bolting) -> String {
    let circle =
        if joint.circle > 0.0 { format!("on {:.2} mm", joint.circle) } else { "on the axis".to_string() };
    format!("{} {circle}", screws(joint))
}

/// "8 M3 x 50"; screws of the machine and of the link have the length these need.
pub(super) fn screws(joint: &Bolting) -> String {
    let length = if joint.length > 0.0 { format!(" x {}", joint.length) } else { String::new() };
    format!("{} {}{length}", joint.count, joint.thread)
}

fn first_upper(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |first| first.to_uppercase().chain(letters).collect())
}
