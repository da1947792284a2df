//! Which bodies are meant to touch, and how.

use std::f64::consts::PI;

use super::body::Role;
use crate::design::{Joint, PartName};
use crate::layout::{Actuator, Anchor, Bolting, PlanetSeat, SunJoint};

/// How two bodies are meant to meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Contact {
    /// Flat on flat.
    Face,
    /// One in or on the other: bearing seats, registers, pins, sockets.
    Seat,
    /// A screw's head on what it clamps.
    Head,
    /// A screw in its thread.
    Thread,
    /// A heat-set insert in its hole: plastic flows into the knurl.
    Insert,
    /// Gears.
    Mesh,
    /// A bush on its pin and between its thrust faces.
    Sliding,
    /// Drawn into each other by what one gives when it is tightened: the keeper, drawn flat on the housing, on an outer ring that
    /// stands proud of its seat.
    Pressed,
    /// Inside the motor, which is drawn as a solid: no maker's drawing is in the tables.
    InMotor,
}

impl Contact {
    pub fn as_str(self) -> &'static str {
        match self {
            Contact::Face => "face",
            Contact::Seat => "seat",
            Contact::Head => "screw head",
            Contact::Thread => "thread",
            Contact::Insert => "insert in its hole",
            Contact::Mesh => "gear mesh",
            Contact::Sliding => "sliding",
            Contact::Pressed => "pressed",
            Contact::InMotor => "inside the motor",
        }
    }
}

/// How these two are meant to meet; none if they aren't.
pub fn meant(actuator: &Actuator, a: Role, b: Role) -> Option<Contact> {
    one_way(actuator, a, b).or_else(|| one_way(actuator, b, a))
}

fn one_way(actuator: &Actuator, a: Role, b: Role) -> Option<Contact> {
    use Contact::{Face, Head, InMotor, Insert, Mesh, Pressed, Seat, Sliding, Thread};
    use PartName::{
        BearingKeeper, CarrierBackPlate, InnerSpacer, MagnetCup, OuterSpacer, OutputCarrier, OutputClampRing,
        Planet, PlanetSleeve, PlanetWasher, RingHousing, RingInsert, RingInsertBack, RotorAdapter,
        StatorMount, Sun, VentedBase,
    };
    use Role::Printed;
    let on_bush = matches!(actuator.planet.turns_on, PlanetSeat::Bush(_));
    let one_piece = actuator.sun.joint == SunJoint::OnePiece;
    Some(match (a, b) {
        (Role::Screw(screw), Role::Insert(insert)) if screw == insert => Thread,
        (Role::Screw(Joint::MotorToMount), Role::Stator)
        | (Role::Screw(Joint::AdapterToRotor), Role::Rotor) => Thread,
        (Role::Screw(Joint::MotorToMount), Role::Rotor) => InMotor,
        (Role::Insert(joint), Printed(part)) if host(joint) == part => Insert,
        (Role::Insert(joint), Printed(part)) if clamped(joint).contains(&part) => Face,
        (Role::Insert(Joint::Board), Role::Board) => Face,
        (Role::Screw(joint), Printed(part)) if clamped(joint).contains(&part) => Head,
        (Role::Screw(Joint::Sun), Printed(RotorAdapter)) if one_piece => Head,
        (Role::Screw(Joint::Board), Role::Board) => Head,
        // Flush heads, which the base covers.
        (Role::Screw(Joint::RingInsert), Printed(VentedBase)) => Face,

        (Printed(VentedBase), Printed(StatorMount) | Role::Board) => Seat,
        (Printed(VentedBase), Printed(RingHousing | RingInsert | RingInsertBack)) => Face,
        (Printed(RingHousing), Printed(RingInsert | RingInsertBack | OuterSpacer)) => Seat,
        (Printed(RingInsert), Printed(RingInsertBack)) => Face,
        (Printed(OutputCarrier), Printed(CarrierBackPlate | PlanetWasher)) => Face,
        (Printed(RotorAdapter), Printed(Sun)) => Seat,
        (Role::Stator, Printed(StatorMount)) => Face,
        (Role::Rotor, Printed(RotorAdapter)) => Face,
        (Role::Rotor | Role::Magnet, Printed(MagnetCup)) => Seat,

        (Role::OutputInnerRing, Printed(OutputCarrier)) => Seat,
        (Role::OutputInnerRing, Printed(OutputClampRing | InnerSpacer)) => Face,
        (Role::OutputOuterRing, Printed(RingHousing)) => Seat,
        (Role::OutputOuterRing, Printed(BearingKeeper)) => Pressed,
        (Role::OutputOuterRing, Printed(OuterSpacer)) => Face,
        (Printed(BearingKeeper), Printed(RingHousing)) => Face,
        (Role::PlanetInnerRing, Role::Pin) => Seat,
        (Role::PlanetInnerRing, Printed(PlanetSleeve | PlanetWasher | CarrierBackPlate)) => Face,
        (Role::PlanetOuterRing | Role::Bush, Printed(Planet)) => Seat,
        (Role::Pin, Printed(OutputCarrier | CarrierBackPlate)) => Seat,
        (Role::Bush, Role::Pin) => Sliding,
        (Role::Bush | Printed(Planet), Printed(PlanetWasher | CarrierBackPlate)) if on_bush => Sliding,

        (Printed(Planet), Printed(Sun | RingInsert | RingInsertBack)) => Mesh,
        (Printed(Planet), Printed(RingHousing)) if actuator.ring_insert.is_none() => Mesh,
        (Printed(Planet), Printed(RotorAdapter)) if one_piece => Mesh,
        _ => return None,
    })
}

/// The printed part a joint's inserts sit in; of joints without inserts the part they would.
pub fn host(joint: Joint) -> PartName {
    match joint {
        Joint::Machine | Joint::StatorMount | Joint::Service | Joint::Board => PartName::VentedBase,
        Joint::MotorToMount => PartName::StatorMount,
        Joint::AdapterToRotor | Joint::Sun => PartName::RotorAdapter,
        Joint::Keeper | Joint::RingInsert => PartName::RingHousing,
        Joint::Pillars | Joint::ClampRing | Joint::Output => PartName::OutputCarrier,
    }
}

/// The printed parts a joint's screws pass through, the head's first.
pub fn clamped(joint: Joint) -> &'static [PartName] {
    match joint {
        Joint::StatorMount | Joint::MotorToMount => &[PartName::StatorMount],
        Joint::Service => &[PartName::RingHousing],
        Joint::AdapterToRotor => &[PartName::RotorAdapter],
        Joint::Sun => &[PartName::Sun],
        Joint::Keeper => &[PartName::BearingKeeper],
        Joint::Pillars => &[PartName::CarrierBackPlate],
        Joint::ClampRing | Joint::Output => &[PartName::OutputClampRing],
        Joint::RingInsert => &[PartName::RingInsertBack, PartName::RingInsert],
        Joint::Machine | Joint::Board => &[],
    }
}

/// The joint's sizes.
pub fn bolting(actuator: &Actuator, joint: Joint) -> Option<&Bolting> {
    actuator.joints.iter().find(|bolting| bolting.joint == joint)
}

/// Volume two bodies may share where they are meant to: thread in a bought part, knurl in plastic; none for the rest.
pub fn shared_volume(actuator: &Actuator, contact: Contact, a: Role, b: Role) -> f64 {
    let joint = [a, b].into_iter().find_map(|role| match role {
        Role::Insert(joint) => Some(joint),
        Role::Screw(joint) => Some(joint),
        _ => None,
    });
    let Some(bolting) = joint.and_then(|joint| bolting(actuator, joint)) else { return 0.0 };
    match (contact, &bolting.anchor) {
        (Contact::Insert, Anchor::Insert(insert) | Anchor::Outside(insert)) => {
            PI / 4.0 * (insert.outside * insert.outside - insert.hole * insert.hole) * insert.length
        }
        (Contact::Thread, Anchor::Thread) => {
            let nominal = bolting.thread.nominal();
            PI / 4.0 * nominal * nominal * bolting.reach()
        }
        _ => 0.0,
    }
}
