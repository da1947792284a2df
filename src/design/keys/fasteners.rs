//! `[fasteners]`: screws forced on a joint.

use crate::design::key::Takes;
use crate::design::model::Joint;
use crate::design::section::{choice, section};
use crate::design::value::Choice;
use crate::tables::PropertyClass;

/// The joints by the names in `[fasteners]`, in the order of the layout.
pub const JOINTS: [(&str, Joint); 12] = [
    ("machine", Joint::Machine),
    ("stator-mount", Joint::StatorMount),
    ("service", Joint::Service),
    ("motor-to-mount", Joint::MotorToMount),
    ("adapter-to-rotor", Joint::AdapterToRotor),
    ("sun", Joint::Sun),
    ("keeper", Joint::Keeper),
    ("pillars", Joint::Pillars),
    ("clamp-ring", Joint::ClampRing),
    ("output", Joint::Output),
    ("ring-insert", Joint::RingInsert),
    ("board", Joint::Board),
];

pub const JOINT_NAMES: &[&str] = &names();

const fn names() -> [&'static str; JOINTS.len()] {
    let mut names = [""; JOINTS.len()];
    let mut index = 0;
    while index < JOINTS.len() {
        names[index] = JOINTS[index].0;
        index += 1;
    }
    names
}

choice!(PropertyClass {
    "8.8" => PropertyClass::C8_8,
    "10.9" => PropertyClass::C10_9,
    "12.9" => PropertyClass::C12_9,
});

section! {
    "Screws of one joint."
    pub struct FastenerKeys {
        thread: crate::tables::Thread = Takes::Thread, [optional "By the layout's rules."], "M3", "Thread.";
        count: u32 = Takes::Count { least: 1, most: 24 }, [optional "By the layout's rules."], "6", "How many.";
        length: f64 = Takes::length(2.0, 150.0), [optional "The next length one can buy."], "40 mm", "Length as bought.";
        class: PropertyClass = Takes::Choice(<PropertyClass as Choice>::WORDS),
            [default "8.8" "What a shop hands out."], "10.9", "Property class (ISO 898-1).";
    }
}
