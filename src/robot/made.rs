//! A chosen robot, made: each joint's design by the same calls as `make`.

use rayon::prelude::*;

use super::combine::Combination;
use super::joint::Robot;
use super::market::Good;
use crate::design;
use crate::geometry::Mesh;
use crate::pipeline::{self, Made};

/// A joint of the robot with everything made of its design.
pub struct MadeJoint {
    pub name: String,
    pub count: u32,
    /// Name of its design.
    pub design: String,
    /// Its design file.
    pub text: String,
    pub made: Made,
    /// As printed, in the order of the parts.
    pub meshes: Vec<Mesh>,
}

/// All joints, in the order of the file.
///
/// # Errors
/// A sentence a joint that can't be made. The search has made each of them before, so that only a part whose triangles
/// don't close is left.
pub fn made(robot: &Robot, one: &Combination<Good>) -> Result<Vec<MadeJoint>, Vec<String>> {
    let joints: Vec<_> = robot.joints.iter().zip(&one.picks).collect();
    let all: Vec<Result<MadeJoint, String>> = joints
        .into_par_iter()
        .map(|(joint, pick)| {
            let text = pick.offer.good.choice.text.to_string();
            let cannot = |why: String| format!("{} cannot be made: {why}", joint.name);
            let design = design::load_text(&robot.path, &text)
                .map_err(|problems| {
                    cannot(problems.iter().next().map_or(String::new(), |one| one.message.clone()))
                })?
                .design;
            let made = pipeline::make(&design).map_err(|error| cannot(format!("{error:?}")))?;
            let meshes = made.product.parts.iter().map(|part| part.mesh()).collect::<Result<Vec<Mesh>, _>>();
            Ok(MadeJoint {
                name: joint.name.clone(),
                count: joint.count,
                design: design.name.clone(),
                text,
                meshes: meshes.map_err(|error| cannot(error.to_string()))?,
                made,
            })
        })
        .collect();
    let (good, bad): (Vec<_>, Vec<_>) = all.into_iter().partition(Result::is_ok);
    if bad.is_empty() {
        Ok(good.into_iter().filter_map(Result::ok).collect())
    } else {
        Err(bad.into_iter().filter_map(Result::err).collect())
    }
}
