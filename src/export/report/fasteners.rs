//! `fasteners`: the bolted joints with tightening, load and what they hold.

use serde_json::{Value, json};

use super::{maybe, round};
use crate::assessment::joints::JointRating;
use crate::assessment::tightening::{class, engagement};
use crate::layout::{Actuator, Bolting};
use crate::product::Product;

pub(super) fn fasteners(made: &Product) -> Vec<Value> {
    // Ratings stand in the order of the joints.
    let joints = made.actuator.joints.iter().zip(&made.joints.all);
    joints.map(|(joint, rating)| fastener(&made.actuator, joint, rating)).collect()
}

fn fastener(actuator: &Actuator, joint: &Bolting, rating: &JointRating) -> Value {
    let tightening = rating.tightening;
    json!({
        "joint": crate::bom::place(joint.joint),
        "size": joint.thread.to_string(),
        "standard": joint.head.number(),
        "class": class(&actuator.design, joint.joint).as_str(),
        "length_mm": round(joint.length),
        "quantity": joint.count,
        "screws_needed": rating.screws_needed,
        "circle_mm": round(joint.circle),
        "grip_mm": round(joint.grip),
        "engagement_mm": round(engagement(joint)),
        "torque_n_m": maybe(tightening.map(|found| found.torque * 1e-3)),
        "preload_n": maybe(tightening.map(|found| found.preload)),
        "preload_is": tightening.map(|found| format!("set by the {}", found.governs.words())),
        "preload_band": [0.5, 1.5],
        "share_kept": maybe(rating.kept),
        "share_kept_band": crate::ratings::joint::BAND,
        "clamp_force_n": maybe(rating.clamp()),
        "friction_torque_n_m": maybe(rating.friction(joint).filter(|_| joint.circle > 0.0)),
        "load": {
            "torque_n_m": round(rating.load.torque),
            "across_n": round(rating.load.across),
            "pull_n": round(rating.load.pull),
            "moment_n_m": round(rating.load.moment),
            "on_worst_screw_n": round(rating.outer_force),
        },
        "slip_ratio": maybe(rating.slip),
        "opening_ratio": maybe(rating.opening),
        "shear_ratio": maybe(rating.shear),
        "insert_pull_out_ratio": maybe(rating.insert_pull),
        "head_ratio": maybe(rating.head_pull),
        "thread_ratio": maybe(rating.strip),
        "boss_wall_mm": maybe(rating.wall.map(|[found, _]| found)),
        "boss_wall_wanted_mm": maybe(rating.wall.map(|[_, wanted]| wanted)),
    })
}
