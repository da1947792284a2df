//! The axial chains of the actuator: which heights lie between two faces that must meet or must not.
//!
//! The output bearing locates the carrier both ways (lip and keeper outside, step and clamp ring inside); planets float on their
//! pins, ring and sun are longer than the planets, the rotor is located by the motor's own bearing. Screws close gaps and set
//! none, so they are in no chain.

use crate::design::PartName;
use crate::layout::{Actuator, PlanetSeat};
use crate::ratings::axial_chain::{Chain, Link};

/// Bought boards: 10 % of 1.6 mm (common practice, no source).
const BOARD_THICKNESS: f64 = 0.16;
/// Height of the sensor's package over the board (stated estimate).
const SENSOR: f64 = 0.1;
/// Shaft end and overall height of a motor from its drawing (stated estimate: hobby makers give no tolerance).
const MOTOR: f64 = 0.2;
/// Axial play of the motor's own bearings (stated estimate, band 0.02 to 0.2).
const MOTOR_PLAY: f64 = 0.1;
/// A bush as bought (stated estimate).
const BUSH: f64 = 0.1;
/// The spacers of a pair are printed together and lapped to one width.
const LAPPED: f64 = 0.02;

/// All chains.
#[derive(Clone, Debug)]
pub struct AxialChains {
    /// Magnet's face to the sensor.
    pub encoder: Chain,
    /// Free play of a planet between back plate and washer.
    pub planet: Chain,
    /// By how much the output bearing's outer rings stand proud of the seat: below 0 they have play and want a shim.
    pub outer_ring: Chain,
    /// By how much the inner rings stand proud of the hub: above 0 the clamp ring presses rings and not the hub.
    pub inner_ring: Chain,
    /// Rotor adapter to carrier back plate: motor bearing to output bearing.
    pub rotor: Chain,
}

impl AxialChains {
    pub fn of(actuator: &Actuator) -> AxialChains {
        AxialChains {
            encoder: encoder(actuator),
            planet: planet(actuator),
            outer_ring: outer_ring(actuator),
            inner_ring: inner_ring(actuator),
            rotor: rotor(actuator),
        }
    }

    /// With their names in the report, and the faces they lie between.
    pub fn named(&self) -> [(&'static str, &'static str, &Chain); 5] {
        [
            ("encoder_gap", "encoder magnet to sensor", &self.encoder),
            ("planet_float", "planet between back plate and washer", &self.planet),
            ("outer_ring_proud", "outer rings of the output bearing over their seat", &self.outer_ring),
            ("inner_ring_proud", "inner rings of the output bearing over the hub", &self.inner_ring),
            ("rotor_gap", "rotor adapter to carrier back plate", &self.rotor),
        ]
    }
}

/// A height within one printed part; negative when it takes from the gap.
fn within(actuator: &Actuator, part: PartName, what: &str, length: f64) -> Link {
    let layer = actuator.design.settings(part).layer_height;
    Link::printed(format!("{}: {what}", part.as_str()), length, layer)
}

fn encoder(actuator: &Actuator) -> Chain {
    let (stations, design, cup) = (&actuator.stations, &actuator.design, &actuator.cup);
    let board = &design.controller.board;
    let rise = stations.mount_back - stations.board_back;
    Chain::of(vec![
        within(actuator, PartName::VentedBase, "board to stator mount", rise),
        within(actuator, PartName::StatorMount, "thickness", stations.mount_front - stations.mount_back),
        Link::even("motor: shaft end", -design.motor.shaft_extension, MOTOR),
        Link::even("motor: play of its bearings", 0.0, MOTOR_PLAY),
        within(actuator, PartName::MagnetCup, "web", -cup.web),
        Link::even(
            "magnet, glued flush with the cup",
            -(stations.shaft_end - stations.magnet_back - cup.web),
            0.05,
        ),
        Link::even("board: thickness", -board.thickness, BOARD_THICKNESS),
        Link::even("board: sensor", -design.controller.encoder.sensor_height, SENSOR),
    ])
}

fn planet(actuator: &Actuator) -> Chain {
    let (planet, plate, face) = (&actuator.planet, &actuator.back_plate, actuator.design.gearset.face_width);
    let mut links = vec![
        within(actuator, PartName::CarrierBackPlate, "pillars", plate.pillar_length),
        within(actuator, PartName::CarrierBackPlate, "pin bosses", -plate.boss_height),
        within(actuator, PartName::PlanetWasher, "thickness", -planet.washer_thickness),
    ];
    match &planet.turns_on {
        PlanetSeat::Bearings { bearing, width, .. } => {
            links.extend((0..2).map(|_| Link::bearing("planet bearing", -width, bearing.bore)));
            if planet.sleeve_length > 0.0 {
                links.push(within(actuator, PartName::PlanetSleeve, "length", -planet.sleeve_length));
            }
        }
        PlanetSeat::Bush(_) => links.push(Link::even("bush", -face, BUSH)),
    }
    Chain::of(links)
}

fn outer_ring(actuator: &Actuator) -> Chain {
    let (bearings, stations) = (&actuator.design.bearings, &actuator.stations);
    let count = bearings.output_count;
    let seat = stations.bearing_front - actuator.housing.seat_back;
    let mut links = vec![within(actuator, PartName::RingHousing, "seat depth", -seat)];
    links.extend(
        (0..count).map(|_| Link::bearing("output bearing", bearings.output.width, bearings.output.bore)),
    );
    if let Some(spacers) = &actuator.spacers {
        links.push(within(actuator, PartName::OuterSpacer, "width", spacers.width));
    }
    Chain::of(links)
}

fn inner_ring(actuator: &Actuator) -> Chain {
    let (bearings, stations) = (&actuator.design.bearings, &actuator.stations);
    let count = bearings.output_count;
    let mut links =
        vec![within(actuator, PartName::OutputCarrier, "hub", -(stations.hub_front - stations.bearing_back))];
    links.extend(
        (0..count).map(|_| Link::bearing("output bearing", bearings.output.width, bearings.output.bore)),
    );
    if let Some(spacers) = &actuator.spacers {
        links.push(Link::even("inner-spacer: lapped to the outer one", spacers.width, LAPPED));
    }
    Chain::of(links)
}

fn rotor(actuator: &Actuator) -> Chain {
    let (stations, design) = (&actuator.stations, &actuator.design);
    let bearings = &design.bearings;
    let count = bearings.output_count;
    let spacer = actuator.spacers.as_ref().map_or(0.0, |spacers| spacers.width * f64::from(count - 1));
    let mut links = vec![
        within(
            actuator,
            PartName::VentedBase,
            "stator mount to service joint",
            stations.service - stations.mount_back,
        ),
        within(
            actuator,
            PartName::RingHousing,
            "service joint to lip",
            stations.bearing_front - stations.service,
        ),
        within(
            actuator,
            PartName::OutputCarrier,
            "plate and step",
            -(stations.bearing_back - stations.plate_back),
        ),
        within(actuator, PartName::CarrierBackPlate, "pillars", -actuator.back_plate.pillar_length),
        within(actuator, PartName::CarrierBackPlate, "plate", -actuator.back_plate.thickness),
        within(actuator, PartName::StatorMount, "thickness", -(stations.mount_front - stations.mount_back)),
        Link::even("motor: height", -(stations.rotor_front - stations.mount_front), MOTOR),
        Link::even("motor: play of its bearings", 0.0, MOTOR_PLAY),
        within(actuator, PartName::RotorAdapter, "disc", -(stations.adapter_front - stations.rotor_front)),
    ];
    links.extend(
        (0..count).map(|_| Link::bearing("output bearing", -bearings.output.width, bearings.output.bore)),
    );
    if spacer > 0.0 {
        links.push(within(actuator, PartName::InnerSpacer, "width", -spacer));
    }
    Chain::of(links)
}
