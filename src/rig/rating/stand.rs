//! Stand and input lock.

use super::{BEARING, Frame, RigCheck, against};
use crate::checks::Outcome;
use crate::layout::Bolting;
use crate::ratings::joint::bolt_group::by_torque;
use crate::ratings::joint::head_pressure::once;
use crate::ratings::joint::pin::bearing_pressure;
use crate::rig::sizes::{FOOT_THREAD, Lock, Stand};

impl Frame<'_> {
    pub(super) fn stand_bending(&self) -> RigCheck {
        let (stand, lever) = (&self.sizes.stand, &self.sizes.lever);
        let mass = self.product.bom.total_mass();
        let stress = stand.stress(&self.product.actuator, lever, mass);
        RigCheck {
            id: "stand-bending",
            title: "Strength of the stand over its stress beside its opening and between its bench screws, at the peak torque",
            unit: "",
            formula: "sigma = T w / (2 I) + F / A + 6 (F h + m g h / 2) / (A t), net of holes",
            clause: "beam formulas (from memory), the scale at the nearest mark, all of the load in each section; strength: hubwright tables materials, warm",
            not_covered: "notches at the holes, the bench",
            outcome: against(self.strength(), stress.worst(), self.wanted())
                .remark(format!(
                    "{:.1} MPa beside the opening, {:.1} between the bench screws; {:.0} mm thick.",
                    stress.at_opening, stress.at_screws, stand.thickness
                ))
                .remedy("Keep the foot at a farther mark: the push falls with the distance."),
        }
    }

    pub(super) fn stand_screws(&self) -> RigCheck {
        let stand = &self.sizes.stand;
        let count = stand.bench_holes.len().max(1) as f64;
        let middle = [0, 1].map(|axis| stand.bench_holes.iter().map(|hole| hole[axis]).sum::<f64>() / count);
        let radii: Vec<f64> = stand
            .bench_holes
            .iter()
            .map(|hole| libm::hypot(hole[0] - middle[0], hole[1] - middle[1]))
            .collect();
        let farthest = radii.iter().copied().fold(0.0, f64::max);
        let push = Stand::push(&self.product.actuator, &self.sizes.lever);
        // Torque about the screws' middle, with the push shared evenly: added as if alike, the safe side.
        let force = by_torque(self.torque() * 1e3, &radii, farthest) + push / count;
        let pressure = bearing_pressure(force, FOOT_THREAD.nominal(), stand.thickness);
        RigCheck {
            id: "stand-screws",
            title: "What the stand's tongue bears over the pressure of its bench screws",
            unit: "",
            formula: "p = (T r / sum r^2 + F / n) / (d t)",
            clause: "rigid bolt group (from memory); plastic bears 1.2 of its strength once (estimate, band 0.6 to 1.4)",
            not_covered: "the screws in the bench's wood",
            outcome: against(self.strength().map(once), pressure, self.wanted())
                .remark(format!("{force:.0} N on the farthest: {pressure:.1} MPa.")),
        }
    }

    pub(super) fn lock(&self) -> RigCheck {
        let outcome = match &self.sizes.lock {
            Some(lock) => {
                let (where_, pressure) = self.worst_insert(lock);
                against(self.strength().map(once), pressure, self.wanted())
                    .remark(format!("{pressure:.1} MPa around {where_}."))
            }
            None => Outcome::not_applicable(
                "The rotor's face stands in front of the housing's: no cup holds the adapter. Hold the rotor by the drive.",
            ),
        };
        RigCheck {
            id: "input-lock",
            title: "What the input lock bears over the pressure around its inserts at the peak",
            unit: "",
            formula: "p = T / (n r D L): the sun's torque at the adapter's, the ring's at the housing's, the output's at the stand's",
            clause: BEARING,
            not_covered: "give of the lock itself, which a stiffness test holds against the stage",
            outcome,
        }
    }

    /// Which inserts of the lock press hardest, and how hard \[MPa\].
    fn worst_insert(&self, lock: &Lock) -> (&'static str, f64) {
        let (joints, torques) = (&self.product.actuator.joints, &self.product.actuator.torques);
        let pressure = |joint: &Bolting, torque: f64, [diameter, length]: [f64; 2]| {
            let radii = vec![joint.radius(); joint.count as usize];
            bearing_pressure(by_torque(torque * 1e3, &radii, joint.radius()), diameter, length)
        };
        let of_joint = |joint: &Bolting| [joint.hole_diameter(), joint.engagement_wanted()];
        let own = &lock.adapter_insert;
        let all = [
            (
                "the adapter's inserts",
                pressure(&joints.adapter_to_rotor, torques.sun, [own.outside, own.length]),
            ),
            ("the housing's inserts", pressure(&joints.service, torques.ring, of_joint(&joints.service))),
            ("the stand's inserts", pressure(&joints.machine, torques.output, of_joint(&joints.machine))),
        ];
        all.into_iter().fold(("", 0.0), |worst, next| if next.1 > worst.1 { next } else { worst })
    }
}
