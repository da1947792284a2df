//! What can hurt.

use maud::{Markup, html};

const CAUTIONS: [[&str; 2]; 6] = [
    [
        "First run",
        "On a current-limited supply with the output free, then on the battery. Clamp the actuator, stand out of the lever's plane, wear eye protection: pinch points, a spinning rotor.",
    ],
    [
        "Heat",
        "Windings and mount stay hot, and plastic softens without looking it. The nozzle, the bed and an insert tool burn.",
    ],
    ["Magnets", "Rotor and stator pull together hard and pinch. Keep steel chips and pacemakers away."],
    ["Battery", "Lithium packs: fused, charged attended. A braking motor returns energy to the supply."],
    [
        "Falling load",
        "Unpowered, the joint back-drives and the load falls: it is not a brake and not for lifting people.",
    ],
    ["What this is", "Estimates, not a certificate: local codes and licensed practice decide."],
];

pub fn cautions() -> Markup {
    html! {
        dl.cautions { @for [title, text] in CAUTIONS { dt { (title) } dd { (text) } } }
    }
}
