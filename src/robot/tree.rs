//! The answer for machines.

use serde_json::{Value, json};

use super::combine::Combination;
use super::joint::Robot;
use super::market::Good;
use super::size::Sized;
use super::text::{gearsets, rows, why};
use crate::search::table;

/// Everything found; designs of the first robot as texts.
pub fn tree(robot: &Robot, sized: &Sized) -> Value {
    let choices: Vec<Value> = (0..sized.choices.len()).map(|place| choice(robot, sized, place)).collect();
    let stuck: Vec<Value> = sized
        .stuck
        .iter()
        .map(|(joint, space, found)| {
            json!({ "joint": robot.joints.get(*joint).map(|joint| &joint.name), "search": table::tree(space, found) })
        })
        .collect();
    json!({
        "name": robot.name,
        "complete": sized.is_complete(),
        "cancelled": sized.cancelled,
        "cost_counts": sized.is_priced,
        "searches_cut_by_counts": sized.cut,
        "searched_pairs": sized.searched,
        "sets_of_kinds": sized.sets,
        "sets_filled": sized.filled,
        "robots": choices,
        "stuck": stuck,
    })
}

fn choice(robot: &Robot, sized: &Sized, place: usize) -> Value {
    let Some(one) = sized.choices.get(place) else { return Value::Null };
    json!({
        "place": place + 1,
        "mass_g": one.mass * 1e3,
        "cost": sized.is_priced.then_some(one.cost),
        "kinds_of_motor": one.motors,
        "kinds_of_output_bearing": one.bearings,
        "kinds_of_gearset": gearsets(one),
        "worth_g": robot.worth.score(one) * 1e3,
        "why": why(sized, place),
        "joints": joints(robot, sized, one),
    })
}

/// A robot's joints, in the order of the file.
pub fn joints(robot: &Robot, sized: &Sized, one: &Combination<Good>) -> Vec<Value> {
    let row = |(row, pick): (super::text::Row, &super::combine::Pick<Good>)| {
        let choice = &pick.offer.good.choice;
        json!({
            "joint": row.name,
            "count": row.count,
            "hangs_on_it_g": row.hangs * 1e3,
            "peak_torque_n_m": row.peak,
            "asked_for_hours_n_m": row.asked_for_hours,
            "motor": row.motor,
            "teeth": choice.candidate.choices.teeth,
            "planets": choice.candidate.choices.planets,
            "normal_module_mm": choice.design.gearset.normal_module,
            "face_width_mm": choice.design.gearset.face_width,
            "ratio": row.ratio,
            "output_bearing": row.bearing,
            "mass_g": row.mass * 1e3,
            "cost": choice.objectives.cost,
            "outer_diameter_mm": choice.objectives.diameter,
            "height_mm": choice.objectives.height,
            "continuous_torque_n_m": row.continuous,
            "backdrive_torque_n_m": choice.objectives.backdrive,
            "limited_by": row.limited_by.map(|(id, margin)| json!({ "check": id, "margin": margin })),
            "warnings": choice.warnings,
            "design": choice.text.as_ref(),
        })
    };
    rows(robot, sized, one).into_iter().zip(&one.picks).map(row).collect()
}
