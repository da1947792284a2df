//! `[parts.<part>]`: how a part is printed.

use crate::design::key::Takes;
use crate::design::model::PartName;
use crate::design::section::{choice, section};
use crate::design::value::Choice;

/// Settings for every part that doesn't say otherwise.
pub const ALL_PARTS: &str = "all";

/// `all`, and the parts by the names of their files.
pub const PART_NAMES: &[&str] = &names();

const fn names() -> [&'static str; PartName::ALL.len() + 1] {
    let mut names = [ALL_PARTS; PartName::ALL.len() + 1];
    let mut index = 0;
    while index < PartName::ALL.len() {
        names[index + 1] = PartName::ALL[index].as_str();
        index += 1;
    }
    names
}

/// How a part is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PartMade {
    Print,
}

choice!(PartMade { "print" => PartMade::Print, });

section! {
    "How a part is printed."
    pub struct PartKeys {
        made: PartMade = Takes::Choice(<PartMade as Choice>::WORDS), [optional "Printed; gears that are bought say so in [gearset]."], "print", "How it is made.";
        material: crate::tables::Material = Takes::Material, [optional "PETG: tough, warm enough for a joint, prints anywhere."], "PETG", "Print material.";
        walls: u32 = Takes::Count { least: 1, most: 50 }, [optional "5: what bosses for heat-set inserts want."], "5", "Perimeters.";
        infill: f64 = Takes::Number { least: 0.0, most: 1.0 }, [optional "0.3; 1 for gears, washers, sleeves and spacers."], "0.3", "Share of the inside that is filled.";
        skins: u32 = Takes::Count { least: 0, most: 100 }, [optional "5: a millimetre of solid face at 0.2 mm."], "5", "Solid layers at faces that point up or down.";
        layer_height: f64 = Takes::length(0.04, 0.6), [optional "The printer's."], "0.2 mm", "Layer height.";
    }
}
