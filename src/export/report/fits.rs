//! `fits[]`: what sits in what: the class a metal part would have, and the allowance that is printed instead.
//!
//! Classes by which ring turns under the load (makers' catalogues, from memory): a ring that the load goes round wants a tight fit,
//! k6 on a shaft, N7 in a housing, one that the load stands still on a sliding one, H7 in a housing, h6 on a shaft. The load is taken to
//! hang: one that turns with the output reverses the two. A printed seat closes a bearing's clearance by about a micrometre
//! (Lame's thick rings, see `ratings::joint::press_fit`), so that no larger clearance group is needed for it.

use serde_json::{Value, json};

use super::round;
use crate::layout::{Actuator, PlanetSeat};
use crate::tables::fit::{Class, Letter, limits};

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
    let (housing, (hub_class, hub)) = if swings {
        (
            "swings to and fro: neither ring has the load go round it",
            (Letter::H, "swings to and fro; it must come off for service"),
        )
    } else {
        (
            "a hanging load stands still on the outer ring",
            (
                Letter::K,
                "the load goes round the inner ring; printed, it slides on and is clamped, so that it comes off for service",
            ),
        )
    };
    let mut seats = vec![
        Seat {
            place: "output bearing in the ring housing",
            size: output.outer,
            class: Class::Hole(7),
            why: housing,
            printed: actuator.housing.seat,
        },
        Seat {
            place: "hub in the output bearing",
            size: output.bore,
            class: Class::Shaft(hub_class, 6),
            why: hub,
            printed: actuator.carrier.hub_diameter,
        },
        Seat {
            place: "planet pin in the carrier",
            size: actuator.planet.pin_diameter,
            class: Class::Hole(7),
            why: "a dowel m6 is pressed in",
            printed: actuator.carrier.pin_hole,
        },
        Seat {
            place: "planet pin in the back plate",
            size: actuator.planet.pin_diameter,
            class: Class::Hole(8),
            why: "the plate slips over the pins",
            printed: actuator.back_plate.pin_hole,
        },
    ];
    if let PlanetSeat::Bearings { bearing, .. } = &actuator.planet.turns_on {
        seats.push(Seat {
            place: "planet bearing in the planet",
            size: bearing.outer,
            class: Class::HoleN(7),
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
