//! Whether the rig bears the peak torque, keeps out of the actuator's way, and prints.

mod lever; // lever and foot
mod stand; // stand and lock

use super::clash::clashes;
use super::parts::RigPart;
use super::sizes::{self, Sizes};
use crate::checks::Outcome;
use crate::design::PartName;
use crate::geometry::ShapeError;
use crate::parts::form;
use crate::plates::GAP;
use crate::product::Product;

/// Projected area in plastic.
const BEARING: &str = "projected area; plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)";

/// One check of the rig.
#[derive(Clone, Debug)]
pub struct RigCheck {
    pub id: &'static str,
    pub title: &'static str,
    pub unit: &'static str,
    pub formula: &'static str,
    pub clause: &'static str,
    pub not_covered: &'static str,
    pub outcome: Outcome,
}

/// All checks.
///
/// # Errors
/// A part whose slabs can't be read.
pub fn checks(product: &Product, sizes: &Sizes, parts: &[RigPart]) -> Result<Vec<RigCheck>, ShapeError> {
    let frame = Frame { product, sizes };
    Ok(vec![
        frame.lever_bending(),
        frame.lever_screws(),
        frame.lever_holes(),
        frame.foot_screw(),
        frame.foot_tilt(),
        frame.stand_bending(),
        frame.stand_screws(),
        frame.lock(),
        frame.clash(parts),
        frame.form(parts)?,
        frame.bed(parts),
    ])
}

struct Frame<'a> {
    product: &'a Product,
    sizes: &'a Sizes,
}

/// Over the limit, or why there is none.
fn against(strength: Option<f64>, stress: f64, wanted: f64) -> Outcome {
    match strength {
        Some(strength) => Outcome::at_least(strength / stress, wanted),
        None => Outcome::not_applicable("The bench is hotter than the plastic's service temperature."),
    }
}

impl Frame<'_> {
    fn torque(&self) -> f64 {
        self.product.actuator.torques.output
    }

    fn wanted(&self) -> f64 {
        self.product.actuator.design.limits.joint_factor
    }

    fn strength(&self) -> Option<f64> {
        sizes::strength(&self.product.actuator)
    }

    fn modulus(&self) -> f64 {
        self.product.actuator.design.settings(PartName::VentedBase).material.modulus
    }

    fn clash(&self, parts: &[RigPart]) -> RigCheck {
        let found = match &self.product.fit {
            Ok(fit) => clashes(&self.product.actuator, &fit.bodies, parts).map_err(|error| error.to_string()),
            Err(error) => Err(error.to_string()),
        };
        let outcome = match found {
            Ok(found) => {
                let told: Vec<String> = found
                    .iter()
                    .map(|clash| format!("{} in {} by {:.1} mm3", clash.rig_part, clash.body, clash.volume))
                    .collect();
                Outcome::at_most(found.len() as f64, 0.0).remark(told.join(", "))
            }
            Err(why) => Outcome::not_applicable(format!("The bodies can't be compared: {why}.")),
        };
        RigCheck {
            id: "rig-clash",
            title: "Bodies of the actuator that a part of the rig runs into where it stands",
            unit: "",
            formula: "shared volume of lever, pointer, stand and lock with every body that stays",
            clause: "sections of all bodies as drawn, as the interference of the design",
            not_covered: "leads, tools, the bench",
            outcome,
        }
    }

    fn form(&self, parts: &[RigPart]) -> Result<RigCheck, ShapeError> {
        let mut bad = Vec::new();
        for part in parts {
            let all = form::overhangs(&part.made.printed, &self.product.actuator.design.printer)?;
            bad.extend(
                all.iter()
                    .filter(|overhang| !overhang.holds())
                    .map(|overhang| format!("{} at {:.1} mm", part.name, overhang.z)),
            );
        }
        Ok(RigCheck {
            id: "rig-form",
            title: "Faces of the rig that would hang over without supports",
            unit: "",
            formula: "overhangs, bridges and ledges over the printer's limits",
            clause: "as printing of the parts",
            not_covered: "",
            outcome: Outcome::at_most(bad.len() as f64, 0.0).remark(bad.join(", ")),
        })
    }

    fn bed(&self, parts: &[RigPart]) -> RigCheck {
        let bed = self.product.actuator.design.printer.bed;
        // As the plates are arranged: a gap all round.
        let fits = |part: &RigPart| {
            let [x, y, z] = part.made.size;
            let room = [bed[0] - 2.0 * GAP, bed[1] - 2.0 * GAP];
            z <= bed[2] && (x <= room[0] && y <= room[1] || x <= room[1] && y <= room[0])
        };
        let large: Vec<&str> = parts.iter().filter(|part| !fits(part)).map(|part| part.name).collect();
        RigCheck {
            id: "rig-bed",
            title: "Parts of the rig that are larger than the bed less its margin",
            unit: "",
            formula: "size of each part against the bed, turned by a quarter if need be",
            clause: "printer.bed",
            not_covered: "",
            outcome: Outcome::at_most(large.len() as f64, 0.0).remark(large.join(", ")),
        }
    }
}
