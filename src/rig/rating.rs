//! Whether the rig bears the peak torque, and prints.

use super::parts::RigPart;
use super::sizes::{self, FOOT_THREAD, Sizes};
use crate::checks::Outcome;
use crate::design::PartName;
use crate::geometry::ShapeError;
use crate::parts::form;
use crate::product::Product;
use crate::ratings::joint::bolt_group::by_torque;
use crate::ratings::joint::head_pressure::{once, warm_strength};
use crate::ratings::joint::pin::bearing_pressure;

/// Standard gravity \[m/s2\].
const GRAVITY: f64 = 9.806_65;

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
        frame.lever_slip(),
        frame.lever_holes(),
        frame.foot_screw(),
        frame.stand_bending(),
        frame.stand_screws(),
        frame.lock(),
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

    /// Strength in the layers \[MPa\], at the surroundings' temperature; the mount's and base's heat stays in them for a short test.
    fn strength(&self) -> Option<f64> {
        let design = &self.product.actuator.design;
        let material = design.settings(PartName::VentedBase).material;
        warm_strength(material.strength_in_plane, design.ambient.temperature, material.service_temperature)
    }

    fn modulus(&self) -> f64 {
        self.product.actuator.design.settings(PartName::VentedBase).material.modulus
    }

    fn lever_bending(&self) -> RigCheck {
        let lever = &self.sizes.lever;
        let section = [lever.width, lever.thickness];
        let worst =
            sizes::lever_stress(self.torque(), section, lever.hub_diameter, lever.mark_hole, &lever.marks);
        let deflection = sizes::lever_deflection(self.torque(), lever, self.modulus());
        RigCheck {
            id: "lever-bending",
            title: "Strength of the lever over its bending stress at the peak torque",
            unit: "",
            formula: "sigma = 6 M w / (t (w^3 - d^3)), M = T (1 - x / r)",
            clause: "cantilever with one force (Roark's Formulas, table 8.1, from memory); strength: hubwright tables materials, warm",
            not_covered: "notches at holes and numbers, infill (print it solid), creep",
            outcome: against(self.strength(), worst.stress, self.wanted())
                .remark(format!(
                    "{:.1} MPa {:.0} mm from the axis, the scale at {:.0} mm; its end gives by {deflection:.1} mm.",
                    worst.stress, worst.section, worst.mark
                ))
                .remedy("Print the base, and so the rig, in a stronger plastic, or test with less than the peak torque."),
        }
    }

    fn lever_slip(&self) -> RigCheck {
        let joint = &self.product.actuator.joints.output;
        let rating = self.product.joints.find(joint.joint);
        let friction = rating.and_then(|rating| rating.friction(joint));
        let outcome = match friction {
            Some(friction) => Outcome::at_least(
                friction / self.torque(),
                self.product.actuator.design.limits.service_factor,
            )
            .only_warns()
            .remark(format!(
                "Friction holds {friction:.1} N m; beyond it the screws bear on their holes (lever-holes)."
            ))
            .remedy("Tighten as in assembly.md, and look for slip at a line drawn across lever and output."),
            None => Outcome::not_applicable("The output's screws have no rated clamp force."),
        };
        RigCheck {
            id: "lever-slip",
            title: "Friction at the output's bolt circle over the peak torque",
            unit: "",
            formula: "n F mu r / T",
            clause: "friction joint, as the output joint of the design (hubwright explain joint-slip)",
            not_covered: "setting of the screws after the first load",
            outcome,
        }
    }

    fn lever_holes(&self) -> RigCheck {
        let (joint, lever) = (&self.product.actuator.joints.output, &self.sizes.lever);
        let radii = vec![joint.radius(); joint.count as usize];
        let force = by_torque(self.torque() * 1e3, &radii, joint.radius());
        let pressure = bearing_pressure(force, joint.thread.nominal(), lever.seat);
        RigCheck {
            id: "lever-holes",
            title: "What the lever's plastic bears over the pressure of the output screws, friction gone",
            unit: "",
            formula: "p = T / (n r d s)",
            clause: "projected area; plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)",
            not_covered: "play in the holes: the first screws carry more",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("{pressure:.1} MPa.")),
        }
    }

    fn foot_screw(&self) -> RigCheck {
        let lever = &self.sizes.lever;
        let nearest = lever.marks.first().copied().unwrap_or(lever.length);
        let force = self.torque() * 1e3 / nearest;
        let depth = f64::min(lever.thickness, self.sizes.foot.thickness);
        let pressure = bearing_pressure(force, FOOT_THREAD.nominal(), depth);
        RigCheck {
            id: "foot-screw",
            title: "What lever and foot bear over the pressure of the foot's screw at the nearest mark",
            unit: "",
            formula: "p = T / (r d t)",
            clause: "projected area; plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)",
            not_covered: "tilting of the foot beside the lever: a screw drawn up tight takes it",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("{force:.0} N at {nearest:.0} mm: {pressure:.1} MPa.")),
        }
    }

    fn stand_bending(&self) -> RigCheck {
        let (stand, lever) = (&self.sizes.stand, &self.sizes.lever);
        let actuator = &self.product.actuator;
        let nearest = lever.marks.first().copied().unwrap_or(lever.length);
        // In the plate's plane: the torque, and the scale's push at the height of the axis over the tongue.
        let push = self.torque() * 1e3 / nearest;
        let in_plane = 6.0 * (self.torque() * 1e3) / (stand.thickness * stand.width * stand.width);
        let axial = push / (stand.thickness * stand.width);
        // Out of it: the push acts on the lever's plane, the weight at half the height.
        let weight = self.product.bom.total_mass() * GRAVITY;
        let height = actuator.stations.output_face;
        let out = push * (height + lever.thickness / 2.0 + self.sizes.foot.thickness) + weight * height / 2.0;
        let bending = 6.0 * out / (stand.width * stand.thickness * stand.thickness);
        let stress = in_plane + axial + bending;
        RigCheck {
            id: "stand-bending",
            title: "Strength of the stand over its stress where the tongue begins, at the peak torque",
            unit: "",
            formula: "sigma = 6 T / (t w^2) + F / (t w) + 6 (F h + m g h / 2) / (w t^2)",
            clause: "beam formulas, the scale at the nearest mark; strength: hubwright tables materials, warm",
            not_covered: "the screws' holes beside the section, the bench",
            outcome: against(self.strength(), stress, self.wanted())
                .remark(format!("{stress:.1} MPa, of which {bending:.1} by the push in front of the plate."))
                .remedy("Keep the foot at a farther mark: the push falls with the distance."),
        }
    }

    fn stand_screws(&self) -> RigCheck {
        let stand = &self.sizes.stand;
        let count = stand.bench_holes.len().max(1) as f64;
        let middle = [0, 1].map(|axis| stand.bench_holes.iter().map(|hole| hole[axis]).sum::<f64>() / count);
        let radii: Vec<f64> = stand
            .bench_holes
            .iter()
            .map(|hole| libm::hypot(hole[0] - middle[0], hole[1] - middle[1]))
            .collect();
        let farthest = radii.iter().copied().fold(0.0, f64::max);
        let nearest = self.sizes.lever.marks.first().copied().unwrap_or(1.0);
        let push = self.torque() * 1e3 / nearest;
        // Torque about the screws' middle, with the push shared evenly: added as if alike, the safe side.
        let force = by_torque(self.torque() * 1e3, &radii, farthest) + push / count;
        let pressure = bearing_pressure(force, FOOT_THREAD.nominal(), stand.thickness);
        RigCheck {
            id: "stand-screws",
            title: "What the stand's tongue bears over the pressure of its screws",
            unit: "",
            formula: "p = (T r / sum r^2 + F / n) / (d t)",
            clause: "rigid bolt group (from memory); plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)",
            not_covered: "the screws in the bench's wood",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("{force:.0} N on the farthest: {pressure:.1} MPa.")),
        }
    }

    fn lock(&self) -> RigCheck {
        let actuator = &self.product.actuator;
        let joint = &actuator.joints.adapter_to_rotor;
        let outcome = match &self.sizes.lock {
            Some(lock) => {
                let radii = vec![joint.radius(); joint.count as usize];
                let force = by_torque(actuator.torques.sun * 1e3, &radii, joint.radius());
                let pressure = bearing_pressure(force, joint.thread.nominal(), lock.floor);
                against(self.strength().map(once), pressure, self.wanted())
                    .remark(format!("{pressure:.1} MPa."))
            }
            None => Outcome::not_applicable(
                "The rotor's face stands in front of the housing's: no cup holds the adapter. Hold the rotor by the drive.",
            ),
        };
        RigCheck {
            id: "input-lock",
            title: "What the input lock bears over the pressure of the adapter's screws at the peak",
            unit: "",
            formula: "p = T_sun / (n r d t)",
            clause: "projected area; plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)",
            not_covered: "give of the lock itself, which a stiffness test holds against the stage",
            outcome,
        }
    }

    fn form(&self, parts: &[RigPart]) -> Result<RigCheck, ShapeError> {
        let mut bad = Vec::new();
        for part in parts {
            let all = form::overhangs(&part.stack, &self.product.actuator.design.printer)?;
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
        let fits = |part: &RigPart| {
            let [x, y, z] = part.stack.size();
            z <= bed[2] && (x <= bed[0] && y <= bed[1] || x <= bed[1] && y <= bed[0])
        };
        let large: Vec<&str> = parts.iter().filter(|part| !fits(part)).map(|part| part.name).collect();
        RigCheck {
            id: "rig-bed",
            title: "Parts of the rig that are larger than the bed",
            unit: "",
            formula: "size of each part against the bed, turned by a quarter if need be",
            clause: "printer.bed",
            not_covered: "",
            outcome: Outcome::at_most(large.len() as f64, 0.0).remark(large.join(", ")),
        }
    }
}
