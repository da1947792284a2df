//! Leads: whether they carry the current, go through their slot, and bend.

use super::Check;
use super::outcome::Outcome;
use super::ranking::Load;
use crate::assessment::wiring::Wiring;
use crate::design::PartName;
use crate::product::Product;
use crate::ratings::wiring::{BEND, DENSITY, FILL, RISE};

pub static CHECKS: &[Check] = &[
    Check {
        id: "lead-slot",
        title: "Room for the phase leads in the stator mount's slot",
        unit: "mm2",
        load: Load::None,
        formula: "area of the slot >= 3 pi d^2 / 4 / 0.6",
        symbols: "d outside of the thinnest lead whose copper carries I / sqrt 2 at 8 A/mm2 for hours and warms by 60 K at most over the peak, or motor.lead_diameter",
        clause: "common practice, no source; copper by ASTM B258, outsides from memory",
        range: "three leads, AWG 26 to 12; current density band 5 to 12 A/mm2",
        not_covered: "plugs: pull the leads through before soldering; tie them down behind the slot",
        parts: &[PartName::StatorMount],
        run: |made| {
            wired(made, |&wiring| {
                Outcome::at_least(wiring.slot, wiring.slot_wanted)
                    .remark(move || format!("{}; filled to {:.0} %.", wiring.words(), FILL * 100.0))
                    .remedy("Thinner leads (a shorter peak, less current), or a wider base.")
            })
        },
    },
    Check {
        id: "lead-bend",
        title: "Height for the leads to bend between mount and board",
        unit: "mm",
        load: Load::None,
        formula: "mount's back - board >= (2 + 1/2) d",
        symbols: "d outside of a lead; bend radius 2 d to its middle",
        clause: "common practice, no source",
        range: "silicone leads",
        not_covered: "tall parts of the board under the slot",
        parts: &[PartName::VentedBase],
        run: |made| {
            wired(made, |&wiring| {
                Outcome::at_least(wiring.height, (BEND + 0.5) * wiring.outside)
                    .remark(move || wiring.words())
                    .remedy("Thinner leads, or let them leave through the base's window.")
            })
        },
    },
    Check {
        id: "supply-window",
        title: "Room for supply and bus cable in the base's window",
        unit: "mm2",
        load: Load::None,
        formula: "area of the window >= 4 pi d^2 / 4 / 0.6",
        symbols: "d outside of a phase lead: two for the supply, as much again for the bus",
        clause: "common practice, no source",
        range: "as lead-slot; the supply carries less than a phase below the corner speed",
        not_covered: "plugs; strain relief: tie the cable to a column beside the window",
        parts: &[PartName::VentedBase],
        run: |made| {
            wired(made, |&wiring| match wiring.window {
                Some(window) => Outcome::at_least(window, wiring.window_wanted)
                    .remark(move || wiring.words())
                    .remedy("A lower bay is narrower: a taller board bay, or fewer columns."),
                None => Outcome::at_least(0.0, wiring.window_wanted)
                    .only_warns()
                    .remark("There is no window between the columns.")
                    .remedy("Fewer stator mount screws, or a larger base."),
            })
        },
    },
];

fn wired(made: &Product, judge: fn(&Wiring) -> Outcome) -> Outcome {
    match &made.wiring {
        Some(wiring) => judge(wiring),
        None => Outcome::not_applicable(move || {
            format!(
                "No lead of the table carries the current: {DENSITY} A/mm2 for hours, {RISE} K over the peak."
            )
        }),
    }
}
