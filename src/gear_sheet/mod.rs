//! The gear sheet: all that a gear maker, or someone with a caliper, asks about a gear.
//!
//! One table of rows; the report, the sheets beside it and every other page draw on the same rows. Values are nominal.
//! Symbols and definitions follow ISO 21771:2007, with the sign of a ring's shift as in [`crate::gears`].

mod ball; // dimension over balls or pins
mod mesh; // with the mate: contact ratios, backlash
mod part; // made or bought, material, bore, notes
mod row; // a line: label, symbol, value, unit
mod teeth; // the teeth alone, of any gear

pub use ball::BallMeasure;
pub use row::{Row, Section, Value};
pub use teeth::sections as tooth_sections;

use crate::gears::{Gear, Member};
use crate::layout::Actuator;

/// One gear's sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct GearSheet {
    pub member: Member,
    pub sections: Vec<Section>,
    /// Accuracy, conventions, why a value is absent.
    pub notes: Vec<String>,
}

impl GearSheet {
    pub fn of(actuator: &Actuator, member: Member) -> GearSheet {
        let stage = &actuator.stage;
        let gear: &Gear = match member {
            Member::Sun => &stage.sun,
            Member::Planet => &stage.planet,
            Member::Ring => &stage.ring,
        };
        let mut sections = vec![part::section(actuator, member)];
        sections.extend(teeth::sections(gear));
        sections.extend(mesh::sections(stage, member));
        let mut notes = part::notes(actuator, member, gear);
        notes.extend(absences(&sections));
        GearSheet { member, sections, notes }
    }

    /// Sun, planet, ring.
    pub fn all(actuator: &Actuator) -> [GearSheet; 3] {
        [Member::Sun, Member::Planet, Member::Ring].map(|member| GearSheet::of(actuator, member))
    }
}

/// Each reason once.
fn absences(sections: &[Section]) -> Vec<String> {
    let mut notes: Vec<String> = Vec::new();
    for row in sections.iter().flat_map(|section| &section.rows) {
        let Value::Absent(why) = &row.value else { continue };
        let note = format!("{}: {why}.", row.label);
        if !notes.iter().any(|told| told.ends_with(&format!(": {why}."))) {
            notes.push(note);
        }
    }
    notes
}
