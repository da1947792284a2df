//! Limits that the requirement sets.

use super::Check;
use super::outcome::Outcome;
use crate::design::PartName;

pub static CHECKS: &[Check] = &[
    Check {
        id: "mass",
        title: "Mass against the limit",
        unit: "g",
        formula: "printed (walls, skins, infill) + bought",
        symbols: "",
        clause: "print mass by offset areas; bought masses from rows or volume",
        range: "band 10 %",
        not_covered: "wires, grease",
        parts: &[],
        run: |made| match made.actuator.design.requirement.mass_limit {
            Some(limit) => Outcome::at_most(made.bom.total_mass() * 1e3, limit * 1e3)
                .remedy("Less infill, fewer walls, a lighter motor."),
            None => Outcome::not_applicable("No limit is set."),
        },
    },
    Check {
        id: "outer-diameter",
        title: "Outside diameter against the limit",
        unit: "mm",
        formula: "largest ring of bosses",
        symbols: "",
        clause: "geometry",
        range: "",
        not_covered: "",
        parts: &[PartName::VentedBase],
        run: |made| match made.actuator.design.requirement.outer_diameter_limit {
            Some(limit) => {
                Outcome::at_most(made.actuator.outer_diameter(), limit).remedy("A smaller rotor or ring.")
            }
            None => Outcome::not_applicable("No limit is set."),
        },
    },
    Check {
        id: "height",
        title: "Height against the limit",
        unit: "mm",
        formula: "mounting face to output face",
        symbols: "",
        clause: "geometry",
        range: "",
        not_covered: "the link and its screws",
        parts: &[],
        run: |made| match made.actuator.design.requirement.height_limit {
            Some(limit) => Outcome::at_most(made.actuator.stations.output_face, limit)
                .remedy("A narrower face, one bearing, a flatter motor."),
            None => Outcome::not_applicable("No limit is set."),
        },
    },
];
