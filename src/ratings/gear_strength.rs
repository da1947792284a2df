//! Root stress of all gears of a stage, and flank pressure of its metal pairs, per force; what they may bear is the
//! materials' ([`GearMetal`] and the plastics).
//!
//! Root: ISO 6336-3:2006 method B on the real fillets ([`tooth_root`](super::tooth_root), [`ring_root`](super::ring_root));
//! Lewis beside it. Flank: ISO 6336-2, edition 2019's helix factor, the higher. The planet's tooth is loaded by the sun on
//! one flank and by the ring on the other, so it bends both ways each turn; the stress is of one way, the cost of it is the
//! allowable's. Load factors KA, KV, KFbeta, KFalpha are 1 beyond load sharing.

use super::tooth_flank::{Elasticity, ToothFlank};
use super::tooth_root::{ContactRatios, Edition, NotApplicable, RootFactors};
use super::tooth_root_estimate;
use crate::gears::{Gear, Member, Stage};
use crate::tables::GearMetal;

/// Root factors of one gear in one mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Root {
    pub member: Member,
    pub mate: Member,
    pub factors: Result<RootFactors, NotApplicable>,
    /// Lewis stress per newton \[MPa/N\]; none under 12 virtual teeth and for rings.
    pub lewis: Option<f64>,
    face_width: f64,
    normal_module: f64,
}

impl Root {
    /// \[MPa\] under a tangential force at the reference circle \[N\].
    ///
    /// # Errors
    /// Outside the method's range.
    pub fn stress(&self, tangential: f64) -> Result<f64, NotApplicable> {
        self.factors.map(|factors| factors.nominal_stress(tangential, self.face_width, self.normal_module))
    }

    /// \[MPa\], by Lewis.
    pub fn lewis_stress(&self, tangential: f64) -> Option<f64> {
        self.lewis.map(|per_newton| per_newton * tangential)
    }
}

/// All roots of a stage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageRoots {
    pub sun: Root,
    pub planet_at_sun: Root,
    pub planet_at_ring: Root,
    pub ring: Root,
}

impl StageRoots {
    pub fn of(stage: &Stage) -> StageRoots {
        let root = |member: Member, mate: Member| {
            let gear = gear(stage, member);
            let with_ring = member == Member::Ring || mate == Member::Ring;
            let transverse = if with_ring { stage.contact_ratio_ring } else { stage.contact_ratio_sun };
            let contact = ContactRatios { transverse, overlap: stage.overlap_ratio };
            let (width, module) = (stage.face_width, gear.normal_module);
            let lewis = (member != Member::Ring)
                .then(|| {
                    tooth_root_estimate::root_stress(1.0, width, module, gear.teeth, gear.helix_angle.abs())
                })
                .flatten();
            Root {
                member,
                mate,
                factors: RootFactors::of(gear, contact),
                lewis,
                face_width: width,
                normal_module: module,
            }
        };
        StageRoots {
            sun: root(Member::Sun, Member::Planet),
            planet_at_sun: root(Member::Planet, Member::Sun),
            planet_at_ring: root(Member::Planet, Member::Ring),
            ring: root(Member::Ring, Member::Planet),
        }
    }

    /// The planet's mesh that stresses it more.
    ///
    /// # Errors
    /// If either is outside the method's range.
    pub fn planet(&self) -> Result<Root, NotApplicable> {
        let (at_sun, at_ring) = (self.planet_at_sun.stress(1.0)?, self.planet_at_ring.stress(1.0)?);
        Ok(if at_sun >= at_ring { self.planet_at_sun } else { self.planet_at_ring })
    }
}

fn gear(stage: &Stage, member: Member) -> &Gear {
    match member {
        Member::Sun => &stage.sun,
        Member::Planet => &stage.planet,
        Member::Ring => &stage.ring,
    }
}

/// Flank pressure of sun and planet \[MPa\], both of metal, under a tangential force at the reference circle \[N\]. None
/// outside the method's range.
pub fn metal_flank(stage: &Stage, metals: [&GearMetal; 2], tangential: f64) -> Option<f64> {
    let elasticity =
        metals.map(|metal| Elasticity { modulus: metal.modulus, poisson_ratio: metal.poisson_ratio });
    let contact = ContactRatios { transverse: stage.contact_ratio_sun, overlap: stage.overlap_ratio };
    ToothFlank::of(&stage.sun_mesh, [&stage.sun, &stage.planet], elasticity, contact, Edition::Of2019)
        .map(|flank| flank.nominal_stress(tangential, stage.face_width))
}
