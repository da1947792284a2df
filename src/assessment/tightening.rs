//! What each screw of a laid-out actuator bears on, and so how far it is tightened.

use crate::design::{Design, GearSource, Joint, PartName};
use crate::layout::{Actuator, Anchor, Bolting, SunJoint};
use crate::ratings::heat::{Node, Temperatures};
use crate::ratings::joint::clamp_loss;
use crate::ratings::joint::thread_strip::ALUMINIUM;
use crate::ratings::joint::tightening::{HeadSeat, Nut, Rim, ScrewInJoint, Tightening};
use crate::tables::{Insert, Material, PropertyClass, ScrewStandard, screw_head};

/// Least real diameter of a countersunk head over its sharp one (5.82 / 6.72 at M3 and alike up to M6; ISO 10642 by GKN).
const REAL_COUNTERSUNK: f64 = 0.866;

/// A printed part at a joint, and what sets its temperature.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Print {
    pub part: PartName,
    pub node: Node,
}

/// Prints of a joint.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Prints {
    /// Under the head; none where it bears on metal, or on what the user brings.
    pub head: Option<Print>,
    /// Clamped, whether the head bears on it or not.
    pub clamped: Option<Print>,
    /// Holds the insert; none for a thread in a motor.
    pub nut: Option<Print>,
}

/// The prints at a joint.
pub fn prints(design: &Design, joint: Joint) -> Prints {
    let print = |part, node| Some(Print { part, node });
    let both = |head: Option<Print>, nut| Prints { head, clamped: head, nut };
    let (base, housing) = (print(PartName::VentedBase, Node::Wall), print(PartName::RingHousing, Node::Wall));
    let mount = print(PartName::StatorMount, Node::Mount);
    let adapter = print(PartName::RotorAdapter, Node::Rotor);
    let carrier = print(PartName::OutputCarrier, Node::Air);
    let flange = print(PartName::OutputClampRing, Node::Air);
    match joint {
        Joint::Machine | Joint::Board => both(None, base),
        Joint::StatorMount => both(mount, base),
        Joint::Service => both(housing, base),
        Joint::MotorToMount => both(mount, None),
        Joint::AdapterToRotor => both(adapter, None),
        Joint::Sun => match design.gearset.sun_made {
            GearSource::Print => both(adapter, adapter),
            GearSource::Buy => both(None, adapter),
        },
        Joint::Keeper => both(print(PartName::BearingKeeper, Node::Wall), housing),
        Joint::Pillars => both(print(PartName::CarrierBackPlate, Node::Air), carrier),
        Joint::ClampRing => both(flange, carrier),
        Joint::Output => Prints { head: None, clamped: flange, nut: carrier },
        Joint::RingInsert => both(print(PartName::RingInsert, Node::Wall), housing),
    }
}

/// Property class of a joint's screws.
pub fn class(design: &Design, joint: Joint) -> PropertyClass {
    design.fasteners.get(&joint).map(|forced| forced.class).unwrap_or_default()
}

/// A joint's screw with what it bears on.
pub fn screw_in_joint(actuator: &Actuator, joint: &Bolting) -> ScrewInJoint {
    let design = &actuator.design;
    let prints = prints(design, joint.joint);
    let material = |print: Print| &design.settings(print.part).material;
    let class = class(design, joint.joint);
    let nut = match &joint.anchor {
        Anchor::Thread => Nut::Metal { strength: ALUMINIUM },
        Anchor::Insert(insert) | Anchor::Outside(insert) => {
            let rim = rim(actuator, joint, &prints);
            match prints.nut.map(material) {
                Some(plastic) => held_insert(insert, plastic, rim),
                None => held_insert(insert, &Material::default(), rim),
            }
        }
    };
    let found = screw_head(joint.head, joint.thread);
    let outer = found.map_or(joint.head_diameter, |head| head.diameter);
    let countersunk = joint.head == ScrewStandard::Countersunk;
    ScrewInJoint {
        thread: joint.thread.into(),
        yield_stress: class.yield_stress(),
        tensile_strength: class.tensile_strength(),
        engagement: engagement(joint),
        head: HeadSeat {
            outer: if countersunk { REAL_COUNTERSUNK * outer } else { outer },
            hole: joint.clearance,
            cone: countersunk,
            plastic: prints.head.map(|print| material(print).strength_in_plane),
        },
        nut,
    }
}

/// Thread that carries; where the machine brings the screw, one that fills the insert.
pub fn engagement(joint: &Bolting) -> f64 {
    match joint.joint {
        Joint::Machine => joint.engagement_wanted(),
        _ => joint.engagement(),
    }
}

fn held_insert(insert: &Insert, plastic: &Material, rim: Rim) -> Nut {
    Nut::Insert {
        outside: insert.outside,
        length: insert.length,
        strength_across: plastic.strength_across,
        strength_in_plane: plastic.strength_in_plane,
        rim,
    }
}

/// What an insert's rim meets when the screw is tightened.
fn rim(actuator: &Actuator, joint: &Bolting, prints: &Prints) -> Rim {
    let on = |print: Option<Print>| match print {
        Some(print) => Rim::Plastic {
            strength: actuator.design.settings(print.part).material.strength_in_plane,
            hole: joint.clearance,
        },
        None => Rim::Nothing,
    };
    match joint.joint {
        // Keeper and clamp ring press a bearing's ring and stand off the insert; a board bears nothing on its hole's edge.
        Joint::Keeper | Joint::ClampRing | Joint::Output | Joint::Board => Rim::Nothing,
        // A machine's plate of unknown material with medium holes: it bears as much as the base's own plastic.
        Joint::Machine => on(prints.nut),
        Joint::Sun => match actuator.sun.joint {
            // The bought sun stands on the insert.
            SunJoint::Socket { .. } => Rim::Metal { hole: joint.clearance },
            // The insert hangs behind a step of the print.
            SunJoint::OnePiece => on(prints.nut),
        },
        Joint::StatorMount | Joint::Service | Joint::Pillars | Joint::RingInsert => on(prints.clamped),
        Joint::MotorToMount | Joint::AdapterToRotor => Rim::Nothing,
    }
}

/// Preload and torque of a joint's screws; none if the layout leaves no thread.
pub fn tightening(actuator: &Actuator, joint: &Bolting) -> Option<Tightening> {
    screw_in_joint(actuator, joint).tighten()
}

/// Share of the preload that stays at these temperatures: of the print that creeps most. None above a service temperature.
pub fn kept(actuator: &Actuator, joint: &Bolting, temperatures: &Temperatures) -> Option<f64> {
    let prints = prints(&actuator.design, joint.joint);
    let bought_sun = joint.joint == Joint::Sun && matches!(actuator.sun.joint, SunJoint::Socket { .. });
    if bought_sun {
        return Some(clamp_loss::METAL);
    }
    [prints.clamped, prints.nut].into_iter().flatten().try_fold(clamp_loss::METAL, |least, print| {
        let limit = actuator.design.settings(print.part).material.service_temperature;
        Some(f64::min(least, clamp_loss::kept(temperatures[print.node as usize], limit)?))
    })
}
