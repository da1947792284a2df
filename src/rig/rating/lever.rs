//! Lever and foot.

use super::{BEARING, Frame, RigCheck, against};
use crate::checks::Outcome;
use crate::ratings::joint::head_pressure::{once, ring_area};
use crate::ratings::joint::pin::bearing_pressure;
use crate::ratings::joint::thread_strip::SHEAR_SHARE;
use crate::rig::sizes::{FOOT_THREAD, FOOT_WASHER, Lever};

/// Tensile strength of the output's screws, class 8.8 (ISO 898-1, from memory) \[MPa\]: the least that cap screws are sold in.
const SCREW_STRENGTH: f64 = 800.0;

impl Frame<'_> {
    pub(super) fn lever_bending(&self) -> RigCheck {
        let lever = &self.sizes.lever;
        let worst = lever.worst(self.torque());
        let deflection = lever.deflection(self.torque(), self.modulus());
        RigCheck {
            id: "lever-bending",
            title: "Strength of the lever over its stress by bending and torsion at the peak torque",
            unit: "",
            formula: "sqrt(sigma^2 + 3 tau^2); sigma = 6 M w / (t (w^3 - d^3)), M = T (1 - x / r); tau by Saint-Venant: 3 F e / (8 a b^2) (1 + 0.61 k + 0.89 k^2 - 1.8 k^3 + 0.91 k^4), k = b / a, half sides",
            clause: "cantilever with one force, rectangle in torsion (Roark's Formulas, tables 8.1 and 10.1, from memory); strength: \
                     hubwright tables materials, warm",
            not_covered: "notches at holes and numbers, infill (print it solid), creep",
            outcome: against(self.strength(), worst.equivalent, self.wanted())
                .remark(format!(
                    "{:.1} MPa of bending and {:.1} of torsion by the foot beside it, {:.0} mm from the axis, the scale at {:.0} mm; its end gives by {deflection:.1} mm.",
                    worst.bending, worst.shear, worst.section, worst.mark
                ))
                .remedy("Print the base, and so the rig, in a stronger plastic, or test with less than the peak torque."),
        }
    }

    pub(super) fn lever_screws(&self) -> RigCheck {
        let actuator = &self.product.actuator;
        let joint = &actuator.joints.output;
        let force = Lever::screw_force(actuator);
        let strength = SHEAR_SHARE * SCREW_STRENGTH * joint.thread.stress_area();
        let friction = self.product.joints.find(joint.joint).and_then(|rating| rating.friction(joint));
        let slips = match friction {
            Some(friction) => format!(
                " Up to {friction:.1} N m friction alone holds it; beyond, it may settle by {:.1} mrad in its holes, once for each direction.",
                1e3 * self.sizes.lever.play(actuator)
            ),
            None => String::new(),
        };
        RigCheck {
            id: "lever-screws",
            title: "Shear strength of the output screws over their share at the peak torque, friction gone, half of them carrying",
            unit: "",
            formula: "0.6 Rm As / (T / (n/2 r))",
            clause: "the way of the torque is the screws' shanks; class 8.8 (ISO 898-1, from memory)",
            not_covered: "bending of the screws in worn holes",
            outcome: Outcome::at_least(strength / force, self.wanted())
                .remark(format!("{force:.0} N each.{slips}")),
        }
    }

    pub(super) fn lever_holes(&self) -> RigCheck {
        let lever = &self.sizes.lever;
        let pressure = lever.screw_pressure(&self.product.actuator);
        RigCheck {
            id: "lever-holes",
            title: "What the lever's plastic bears over the pressure of the output screws, friction gone, half of them carrying",
            unit: "",
            formula: "p = T / (n/2 r d s)",
            clause: BEARING,
            not_covered: "wear of the holes by many reversals",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("{pressure:.1} MPa on seats of {:.1} mm.", lever.seat))
                .remedy("Take more or larger output bolts, or test with less than the peak torque."),
        }
    }

    pub(super) fn foot_screw(&self) -> RigCheck {
        let lever = &self.sizes.lever;
        let (force, nearest) = self.nearest_push();
        let depth = f64::min(lever.thickness, self.sizes.foot.thickness);
        let pressure = bearing_pressure(force, FOOT_THREAD.nominal(), depth);
        RigCheck {
            id: "foot-screw",
            title: "What lever and foot bear over the pressure of the foot's screw at the nearest mark",
            unit: "",
            formula: "p = T / (r d t)",
            clause: BEARING,
            not_covered: "",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("{force:.0} N at {nearest:.0} mm: {pressure:.1} MPa.")),
        }
    }

    pub(super) fn foot_tilt(&self) -> RigCheck {
        let (lever, foot) = (&self.sizes.lever, &self.sizes.foot);
        let (force, _) = self.nearest_push();
        let clamp = force * foot.thickness / lever.width;
        let pressure = clamp / ring_area(FOOT_WASHER, foot.hole);
        RigCheck {
            id: "foot-tilt",
            title: "What the plastic bears under the washer over what keeps the foot from tilting beside the lever",
            unit: "",
            formula: "F t / w / A, over the edge of the lever",
            clause: "lever law; plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)",
            not_covered: "setting of the screw: draw it up again before each test",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("A clamp force of {clamp:.0} N, {pressure:.1} MPa.")),
        }
    }

    fn nearest_push(&self) -> (f64, f64) {
        let lever = &self.sizes.lever;
        let nearest = lever.marks.first().copied().unwrap_or(lever.length);
        (self.torque() * 1e3 / nearest, nearest)
    }
}
