//! Outlines of gears as data, for other kernels to judge: `outlines stages COUNT` prints the demos' stages and COUNT
//! random ones, `outlines teeth` straight gears with the root factors rated for them. JSON; mm and rad.

#[path = "../gears/stages.rs"]
mod stages;
#[path = "../support/mod.rs"]
mod support;

use hubwright::gears::{Gear, GearKind, GearSpec, Rack, Stage, ToothSystem};
use hubwright::geometry::{Curve, Loop};
use hubwright::ratings::tooth_root::{ContactRatios, Edition, Method, ToothRoot};
use serde_json::{Value, json};

type Answer = Result<Value, Box<dyn std::error::Error>>;

/// As the parts are made.
const TOLERANCE: f64 = 5e-4;

/// Each segment by its start: the next one's start is its end.
fn segments(outline: &Loop) -> Value {
    let segments = outline.0.iter().map(|segment| match segment.curve {
        Curve::Line => json!({ "start": [segment.from.x, segment.from.y] }),
        Curve::Arc { centre, ccw, .. } => {
            json!({ "start": [segment.from.x, segment.from.y], "centre": [centre.x, centre.y], "ccw": ccw })
        }
    });
    Value::Array(segments.collect())
}

fn gear(gear: &Gear) -> Answer {
    Ok(json!({
        "teeth": gear.teeth,
        "internal": gear.kind == GearKind::Internal,
        "tip_diameter": gear.tip_diameter,
        "root_diameter": gear.root_diameter,
        "segments": segments(&gear.profile(TOLERANCE)?),
    }))
}

fn stage(name: &str, stage: &Stage) -> Answer {
    let phases: Vec<Value> = (0..stage.planets)
        .map(|index| stage.planet_phase(index))
        .map(|phase| json!({ "position": phase.position, "turn": phase.turn }))
        .collect();
    Ok(json!({
        "name": name,
        "normal_module": stage.sun.normal_module,
        "helix_angle": stage.sun.helix_angle,
        "pressure_angle": stage.sun.rack.pressure_angle,
        "centre_distance": stage.centre_distance,
        "backlash": stage.backlash,
        "contact_ratios": [stage.contact_ratio_sun, stage.contact_ratio_ring],
        "planets": phases,
        "ring_turn": stage.ring_turn(),
        "sun": gear(&stage.sun)?,
        "planet": gear(&stage.planet)?,
        "ring": gear(&stage.ring)?,
    }))
}

fn all_stages(count: usize) -> Answer {
    let mut answers = Vec::new();
    for (name, demo) in stages::demos() {
        answers.push(stage(name, &demo)?);
    }
    for (index, random) in stages::random_stages(count, stages::has_play).iter().enumerate() {
        answers.push(stage(&format!("random-{}", index + 1), random)?);
    }
    Ok(Value::Array(answers))
}

/// A straight gear of module 1 with full tips.
fn tooth(teeth: u32, shift: f64, allowance: f64, fillet: f64) -> Answer {
    // Any in the usual range: it only says where the outer point of single contact lies.
    const CONTACT: ContactRatios = ContactRatios { transverse: 1.6, overlap: 0.0 };
    let rack = Rack { fillet, ..Rack::ISO_53_A };
    let system = ToothSystem::new(rack, 1.0, 0.0);
    let spec = GearSpec {
        kind: GearKind::External,
        teeth,
        shift,
        tip_alteration: 0.0,
        thickness_allowance: allowance,
        left_hand: false,
        working_pitch_diameter: system.reference_diameter(teeth),
        ring_fillet_radius: 0.0,
    };
    let made = Gear::new(&system, spec);
    let factors = |method| -> Answer {
        let root = ToothRoot::of(&made, CONTACT, method)?;
        Ok(json!({
            "form": root.form,
            "stress_correction": root.stress_correction,
            "chord": root.section.chord,
            "fillet_radius": root.section.fillet_radius,
        }))
    };
    Ok(json!({
        "gear": gear(&made)?,
        "form_diameter": made.form_diameter,
        "module": made.normal_module,
        "pressure_angle": rack.pressure_angle,
        "shift": shift,
        "thickness_allowance": allowance,
        "rack_fillet": fillet,
        "contact_ratio": CONTACT.transverse,
        "single_contact": factors(Method::B(Edition::Of2006))?,
        "tip": factors(Method::C)?,
    }))
}

fn all_teeth() -> Answer {
    let mut cases = Vec::new();
    for teeth in [15, 20, 30, 60] {
        for shift in [0.0, 0.25, 0.5] {
            cases.push(tooth(teeth, shift, 0.0, Rack::ISO_53_A.fillet)?);
        }
    }
    for (teeth, shift, allowance, fillet) in
        [(20, 0.25, 0.1, 0.38), (42, 0.0, 0.15, 0.38), (30, 0.25, 0.0, 0.25)]
    {
        cases.push(tooth(teeth, shift, allowance, fillet)?);
    }
    Ok(Value::Array(cases))
}

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let answer = match words.as_slice() {
        ["stages", count] => all_stages(count.parse()?)?,
        ["teeth"] => all_teeth()?,
        _ => return Err("usage: outlines stages COUNT | outlines teeth".into()),
    };
    println!("{answer}");
    Ok(())
}
