//! Every body of a design with its triangles and places, and the verdict on each pair, as JSON; mm and rad.
//!
//! `bodies DESIGN` as it is; `bodies DESIGN NAME SHIFT` with the bodies of that name moved along the axis.

use std::path::Path;

use hubwright::design;
use hubwright::interference::{self, Body, Interference, State};
use hubwright::layout::{Actuator, lay_out};
use hubwright::parts::{self, Motion};
use hubwright::{bought, interference::body::place_all};
use serde_json::{Value, json};

type Answer = Result<Value, Box<dyn std::error::Error>>;

/// Height of a triangle's chord over the true surface.
const TOLERANCE: f64 = 0.01;

fn verdict(state: State) -> &'static str {
    match state {
        State::Apart => "apart",
        State::Meant(contact) => contact.as_str(),
        State::Touches => "touches",
        State::Overlaps { .. } => "overlaps",
    }
}

fn motion(body: &Body) -> &'static str {
    match body.motion {
        Motion::Fixed => "fixed",
        Motion::Rotor => "rotor",
        Motion::Carrier => "carrier",
        Motion::Planet => "planet",
    }
}

/// Bodies, those of one name moved along the axis.
fn moved(actuator: &Actuator, moved: Option<(&str, f64)>) -> Result<Vec<Body>, Box<dyn std::error::Error>> {
    let nominal = actuator.nominal();
    let mut printed = parts::all(&nominal).map_err(|errors| format!("{errors:?}"))?;
    let mut bought = bought::all(&nominal)?;
    if let Some((name, by)) = moved {
        for part in printed.iter_mut().filter(|part| part.name.as_str() == name) {
            part.stack = part.stack.translated_z(by);
        }
        for body in bought.iter_mut().filter(|body| body.name == name) {
            body.stack = body.stack.translated_z(by);
        }
    }
    Ok(place_all(&nominal, &printed, &bought)?)
}

fn all(actuator: &Actuator, bodies: &[Body]) -> Answer {
    let found = Interference::among(actuator, bodies)?;
    let mut shapes = Vec::new();
    for body in bodies.iter().filter(|body| body.copy == 0) {
        let mesh = body.stack.brep()?.mesh(TOLERANCE)?;
        let places: Vec<Value> = bodies
            .iter()
            .filter(|other| other.name == body.name)
            .map(|other| json!({ "distance": other.place.distance, "angle": other.place.angle, "turn": other.place.turn }))
            .collect();
        shapes.push(json!({
            "name": body.name,
            "motion": motion(body),
            "on_pin": body.pin.is_some(),
            "vertices": mesh.vertices,
            "triangles": mesh.triangles,
            "places": places,
        }));
    }
    let meetings: Vec<Value> = found
        .meetings
        .iter()
        .map(|meeting| {
            let depth = match meeting.state {
                State::Overlaps { depth } => depth,
                _ => 0.0,
            };
            json!({
                "bodies": meeting.bodies.each_ref().map(|label| interference::pair::plain(label)),
                "verdict": verdict(meeting.state),
                "gap": meeting.gap,
                "volume": meeting.volume,
                "depth": depth,
                "turning": meeting.turning,
            })
        })
        .collect();
    let stage = &actuator.stage;
    Ok(json!({
        "tolerance": TOLERANCE,
        "teeth": [stage.sun.teeth, stage.planet.teeth, stage.ring.teeth],
        "bodies": shapes,
        "meetings": meetings,
    }))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let (path, shift) = match arguments.as_slice() {
        [path] => (path, None),
        [path, name, by] => (path, Some((name.as_str(), by.parse()?))),
        _ => return Err("usage: bodies DESIGN [NAME SHIFT]".into()),
    };
    let loaded = design::load(Path::new(path)).map_err(|problems| format!("{problems:?}"))?;
    let actuator = lay_out(&loaded.design).map_err(|faults| format!("{faults:?}"))?;
    println!("{}", all(&actuator, &moved(&actuator, shift)?)?);
    Ok(())
}
