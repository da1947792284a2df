//! `structure`: planet pins and printed bodies under the peak load.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::assessment::structure::Member;
use crate::product::Product;
use crate::ratings::joint::BAND;

pub(super) fn structure(made: &Product) -> Value {
    let pin = &made.structure.pin;
    json!({
        "planet_pin": {
            "force_n": round(pin.force),
            "couple_n_m": round(pin.couple),
            "span_mm": round(pin.span),
            "bending_mpa": round(pin.bending),
            "bending_clamped_mpa": round(pin.bending_clamped),
            "shear_mpa": round(pin.shear),
            "stress_mpa": round(pin.stress),
            "carrier_pressure_mpa": round(pin.pressures[0]),
            "carrier_allowed_mpa": maybe(pin.allowed[0]),
            "back_plate_pressure_mpa": round(pin.pressures[1]),
            "back_plate_allowed_mpa": maybe(pin.allowed[1]),
            "press_hoop_mpa": maybe(pin.press_hoop.map(|[hoop, _]| hoop)),
            "press_hoop_is": "at the tightest hole, before creep; strength of the print beside it",
            "press_strength_mpa": maybe(pin.press_hoop.map(|[_, strength]| strength)),
        },
        "members": made.structure.members.iter().map(member).collect::<Vec<_>>(),
        "allowed_band": BAND,
    })
}

fn member(member: &Member) -> Value {
    json!({
        "name": member.name,
        "part": member.part.as_str(),
        "load": member.load,
        "stress_mpa": round(member.stress),
        "allowed_mpa": maybe(member.allowed),
        "ratio": maybe(member.ratio()),
        "deflection_mm": maybe(member.deflection),
    })
}
