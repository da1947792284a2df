//! `fits[]`: what sits in what: the class a metal part would have, and the allowance that is printed instead.
//!
//! A printed seat closes a bearing's clearance by about a micrometre (Lame's thick rings, see `ratings::joint::press_fit`), so that no
//! larger clearance group is needed for it.

use serde_json::{Value, json};

use super::round;
use crate::assessment::fit_classes::FitClasses;
use crate::layout::{Actuator, PlanetSeat};
use crate::tables::fit::{Class, limits};

/// One seat.
struct Seat<'a> {
    place: &'a str,
    size: f64,
    class: Class,
    why: &'a str,
    /// As printed.
    printed: f64,
}

pub(super) fn fits(actuator: &Actuator) -> Value {
    let design = &actuator.design;
    let output = &design.bearings.output;
    let swings = design.load.oscillation.is_some();
    let (housing, hub) = if swings {
        (
            "swings to and fro: neither ring has the load go round it",
            "swings to and fro; it must come off for service",
        )
    } else {
        (
            "a hanging load stands still on the outer ring",
            "the load goes round the inner ring; printed, it slides on and is clamped, so that it comes off for service",
        )
    };
    let classes = FitClasses::of(actuator);
    let mut seats = vec![
        Seat {
            place: "output bearing in the ring housing",
            size: output.outer,
            class: classes.housing,
            why: housing,
            printed: actuator.housing.seat,
        },
        Seat {
            place: "hub in the output bearing",
            size: output.bore,
            class: classes.hub,
            why: hub,
            printed: actuator.carrier.hub_diameter,
        },
        Seat {
            place: "planet pin in the carrier",
            size: actuator.planet.pin_diameter,
            class: classes.carrier_pins,
            why: "a dowel m6 is pressed in",
            printed: actuator.carrier.pin_hole,
        },
        Seat {
            place: "planet pin in the back plate",
            size: actuator.planet.pin_diameter,
            class: classes.back_plate_pins,
            why: "the plate slips over the pins",
            printed: actuator.back_plate.pin_hole,
        },
    ];
    if let PlanetSeat::Bearings { bearing, .. } = &actuator.planet.turns_on {
        seats.push(Seat {
            place: "planet bearing in the planet",
            size: bearing.outer,
            class: classes.planet,
            why: "the load goes round the outer ring: a metal planet would want it tight; printed, two light bearings and a lip hold it",
            printed: actuator.planet.seat,
        });
    }
    json!(seats.iter().map(row).collect::<Vec<_>>())
}

fn row(seat: &Seat) -> Value {
    json!({
        "place": seat.place,
        "size_mm": round(seat.size),
        "metal_class": seat.class.to_string(),
        "metal_limits_um": limits(seat.size, seat.class).map(|limits| limits.map(|limit| round(limit * 1e3))),
        "why": seat.why,
        "printed_mm": round(seat.printed),
        "printed_allowance_mm": round(seat.printed - seat.size),
    })
}
