//! Nominal tooth root stress, ISO 6336-3 methods B and C: `sigma_F0 = Ft / (b mn) YF YS Ybeta`, method C times Yeps.
//!
//! Method B loads the tooth at the outer point of single contact, method C at its tip. Formulas from memory; checked
//! against a published table of tip-load factors (within 1 %) and a generated fillet (chord and radius to 5 digits).
//! Lengths of the virtual spur gear are in normal modules, angles rad.
//!
//! Range: helix to 30 degrees, notch parameter qs 1 to 8, virtual contact ratio 1 to 2.5 (deep tooth factor YDT taken as
//! 1). The gear's thickness allowance is taken off the tooth as the generated fillet has it. Rings: method B without
//! profile shift only, and with the basic rack's fillet: a ring printed with another fillet has another stress.
//! Not covered: rim (YB taken as 1), load factors KA KV KFbeta KFalpha, reversed bending, strength of the material.

use std::f64::consts::{FRAC_PI_2, FRAC_PI_3, FRAC_PI_6, PI};

use thiserror::Error;

use super::ring_root::RingRoot;
use crate::gears::{Gear, GearKind, involute};

/// Edition of ISO 6336 whose helix factors are used; straight teeth are the same in both.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Edition {
    /// `Ybeta = 1 - eps_beta beta / 120`; `Zbeta = sqrt(cos beta)` as printed, before the correction of 2008.
    Of2006,
    /// Ybeta over `cos^3 beta`, YF times f_eps; `Zbeta = 1 / sqrt(cos beta)` (from memory).
    Of2019,
}

/// Where the tooth is loaded, and by which edition.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Method {
    /// Outer point of single contact.
    B(Edition),
    /// Tip, with the contact ratio factor Yeps; edition 2006.
    C,
}

/// Why there is no number.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum NotApplicable {
    #[error("the helix angle is over 30 degrees")]
    Helix,
    #[error("the virtual contact ratio {0:.3} lies outside 1 to 2.5")]
    ContactRatio(f64),
    #[error(
        "the 2019 edition's load factor for a virtual contact ratio of {0:.3} (2 and more) is not known here"
    )]
    DeepTooth(f64),
    #[error("the notch parameter {0:.2} lies outside 1 to 8")]
    Notch(f64),
    #[error("rings are rated by method B and without profile shift only")]
    Ring,
    #[error("this tooth has no critical section under its load")]
    Geometry,
}

/// Contact ratios of the mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ContactRatios {
    pub transverse: f64,
    pub overlap: f64,
}

/// The critical section: where the fillet's tangent makes 30 degrees (ring 60) with the tooth's middle line.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootSection {
    /// zn, negative for a ring.
    pub virtual_teeth: f64,
    /// E: half the land at the tip of the generating rack's tooth, the thickness allowance included.
    pub half_land: f64,
    /// G
    pub depth: f64,
    /// H \[rad\]
    pub angle_constant: f64,
    /// theta \[rad\]
    pub angle: f64,
    /// sFn
    pub chord: f64,
    /// rhoF
    pub fillet_radius: f64,
}

/// Section, load point and factors of one gear in one mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothRoot {
    pub section: RootSection,
    /// eps_alpha n
    pub virtual_contact_ratio: f64,
    /// den, negative for a ring.
    pub load_diameter: f64,
    /// alpha_en \[rad\]
    pub load_pressure_angle: f64,
    /// gamma_e \[rad\]
    pub half_thickness_angle: f64,
    /// alpha_Fen \[rad\]
    pub load_direction: f64,
    /// hFe
    pub lever_arm: f64,
    /// f_eps of the 2019 edition, else 1; contained in `form`.
    pub load_distribution: f64,
    /// YF
    pub form: f64,
    /// L = sFn / hFe
    pub slenderness: f64,
    /// qs
    pub notch: f64,
    /// YS
    pub stress_correction: f64,
    /// Ybeta
    pub helix: f64,
    /// Yeps of method C, else 1.
    pub contact_ratio: f64,
}

impl ToothRoot {
    /// # Errors
    /// Outside the range of the method: the reason.
    pub fn of(gear: &Gear, contact: ContactRatios, method: Method) -> Result<ToothRoot, NotApplicable> {
        let helix_angle = gear.helix_angle.abs();
        // The last digit of a 30 degree angle that came from degrees.
        if helix_angle > 30f64.to_radians() + 1e-12 {
            return Err(NotApplicable::Helix);
        }
        if gear.kind == GearKind::Internal && (gear.shift != 0.0 || method == Method::C) {
            return Err(NotApplicable::Ring);
        }
        let base_cosine = libm::cos(gear.base_helix_angle);
        let virtual_contact_ratio = contact.transverse / (base_cosine * base_cosine);
        if !(1.0..=2.5).contains(&virtual_contact_ratio) {
            return Err(NotApplicable::ContactRatio(virtual_contact_ratio));
        }
        let section = RootSection::of(gear)?;
        let load = LoadPoint::of(gear, &section, virtual_contact_ratio, method)?;
        let load_distribution = match method {
            Method::B(Edition::Of2019) => load_distribution(virtual_contact_ratio, contact.overlap)?,
            Method::B(Edition::Of2006) | Method::C => 1.0,
        };

        let RootSection { chord, fillet_radius, .. } = section;
        let pressure_cosine = libm::cos(gear.rack.pressure_angle);
        let form = 6.0 * load.lever_arm * libm::cos(load.direction) / (chord * chord * pressure_cosine)
            * load_distribution;
        let slenderness = chord / load.lever_arm;
        let notch = chord / (2.0 * fillet_radius);
        let stress_correction = stress_correction(chord, load.lever_arm, fillet_radius)?;
        Ok(ToothRoot {
            section,
            virtual_contact_ratio,
            load_diameter: load.diameter,
            load_pressure_angle: load.pressure_angle,
            half_thickness_angle: load.half_thickness_angle,
            load_direction: load.direction,
            lever_arm: load.lever_arm,
            load_distribution,
            form,
            slenderness,
            notch,
            stress_correction,
            helix: helix_factor(helix_angle, contact.overlap, method),
            contact_ratio: match method {
                Method::B(_) => 1.0,
                Method::C => contact_ratio_factor(virtual_contact_ratio),
            },
        })
    }

    /// sigma_F0 \[MPa\] of the nominal tangential force at the reference circle \[N\].
    pub fn nominal_stress(&self, tangential: f64, face_width: f64, normal_module: f64) -> f64 {
        self.factors().nominal_stress(tangential, face_width, normal_module)
    }

    pub fn factors(&self) -> RootFactors {
        RootFactors {
            form: self.form,
            stress_correction: self.stress_correction,
            helix: self.helix,
            contact_ratio: self.contact_ratio,
        }
    }
}

/// What makes a root stress of a tangential force.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RootFactors {
    /// YF
    pub form: f64,
    /// YS
    pub stress_correction: f64,
    /// Ybeta
    pub helix: f64,
    /// Yeps of method C, else 1.
    pub contact_ratio: f64,
}

impl RootFactors {
    /// By method B, edition 2006 (for a helical gear the higher stress): of an external gear by its generated fillet, of
    /// a ring by its arc.
    ///
    /// # Errors
    /// Outside the range of the method: the reason.
    pub fn of(gear: &Gear, contact: ContactRatios) -> Result<RootFactors, NotApplicable> {
        match gear.kind {
            GearKind::External => {
                ToothRoot::of(gear, contact, Method::B(Edition::Of2006)).map(|root| root.factors())
            }
            GearKind::Internal => RingRoot::of(gear, contact).map(|root| root.factors),
        }
    }

    /// sigma_F0 \[MPa\] of the nominal tangential force at the reference circle \[N\].
    pub fn nominal_stress(&self, tangential: f64, face_width: f64, normal_module: f64) -> f64 {
        tangential / (face_width * normal_module)
            * self.form
            * self.stress_correction
            * self.helix
            * self.contact_ratio
    }
}

/// YS of a chord, lever arm and fillet radius in one unit.
///
/// # Errors
/// A notch parameter outside 1 to 8.
pub fn stress_correction(chord: f64, lever_arm: f64, fillet_radius: f64) -> Result<f64, NotApplicable> {
    let slenderness = chord / lever_arm;
    let notch = chord / (2.0 * fillet_radius);
    if !(1.0..8.0).contains(&notch) {
        return Err(NotApplicable::Notch(notch));
    }
    Ok((1.2 + 0.13 * slenderness) * libm::pow(notch, 1.0 / (1.21 + 2.3 / slenderness)))
}

impl RootSection {
    /// # Errors
    /// A tooth so slim or few that there is no such section.
    pub fn of(gear: &Gear) -> Result<RootSection, NotApplicable> {
        let base_cosine = libm::cos(gear.base_helix_angle);
        let helix_cosine = libm::cos(gear.helix_angle);
        let virtual_teeth =
            inwards(gear) * f64::from(gear.teeth) / (base_cosine * base_cosine * helix_cosine);
        let fillet = gear.rack.fillet;
        let half_land = gear.rack.half_land() + 0.5 * normal_allowance(gear);
        let depth = fillet - gear.rack.dedendum + gear.shift;
        let tangent = section_angle(gear.kind);
        let angle_constant = 2.0 / virtual_teeth * (FRAC_PI_2 - half_land) - tangent;
        let start = FRAC_PI_2 - tangent;
        let angle = section_root(2.0 * depth / virtual_teeth, angle_constant, start)
            .ok_or(NotApplicable::Geometry)?;

        let cosine = libm::cos(angle);
        let to_fillet = depth / cosine - fillet;
        let spread = match gear.kind {
            GearKind::External => 3f64.sqrt(),
            GearKind::Internal => 1.0,
        };
        let chord = virtual_teeth * libm::sin(tangent - angle) + spread * to_fillet;
        let fillet_radius =
            fillet + 2.0 * depth * depth / (cosine * (virtual_teeth * cosine * cosine - 2.0 * depth));
        let sound = chord > 0.0 && fillet_radius > 0.0 && chord.is_finite() && fillet_radius.is_finite();
        sound
            .then_some(RootSection {
                virtual_teeth,
                half_land,
                depth,
                angle_constant,
                angle,
                chord,
                fillet_radius,
            })
            .ok_or(NotApplicable::Geometry)
    }
}

/// Where the load's line meets the tooth's middle line.
struct LoadPoint {
    diameter: f64,
    pressure_angle: f64,
    half_thickness_angle: f64,
    direction: f64,
    lever_arm: f64,
}

impl LoadPoint {
    fn of(
        gear: &Gear,
        section: &RootSection,
        virtual_contact_ratio: f64,
        method: Method,
    ) -> Result<LoadPoint, NotApplicable> {
        let teeth = section.virtual_teeth;
        let pressure_cosine = libm::cos(gear.rack.pressure_angle);
        let height = (gear.tip_diameter - gear.reference_diameter) / gear.normal_module;
        let tip_radius = 0.5 * (teeth + inwards(gear) * height);
        let base_radius = 0.5 * teeth * pressure_cosine;
        let diameter = match method {
            Method::C => 2.0 * tip_radius,
            Method::B(_) => {
                // Towards the root of an external tooth; a ring is loaded further outwards, which is its root as well.
                let back = PI * pressure_cosine * (virtual_contact_ratio - 1.0) * inwards(gear);
                let along = (tip_radius * tip_radius - base_radius * base_radius).sqrt() - back;
                2.0 * inwards(gear) * libm::hypot(along, base_radius)
            }
        };
        let pressure_angle = libm::acos(2.0 * base_radius / diameter);
        let thickness = FRAC_PI_2 + 2.0 * gear.shift * libm::tan(gear.rack.pressure_angle);
        let half_thickness_angle = (thickness - normal_allowance(gear)) / teeth
            + involute(gear.rack.pressure_angle)
            - involute(pressure_angle);
        let direction = pressure_angle - half_thickness_angle;

        let to_fillet = section.depth / libm::cos(section.angle) - gear.rack.fillet;
        let tangent = section_angle(gear.kind);
        let spread = match gear.kind {
            GearKind::External => 1.0,
            GearKind::Internal => 3f64.sqrt(),
        };
        let turned = libm::cos(half_thickness_angle) - libm::sin(half_thickness_angle) * libm::tan(direction);
        let lever_arm =
            0.5 * (turned * diameter - teeth * libm::cos(tangent - section.angle) - spread * to_fillet);
        // NaN (a tip inside the base circle) is no lever either.
        if !(lever_arm > 0.0 && lever_arm.is_finite()) {
            return Err(NotApplicable::Geometry);
        }
        Ok(LoadPoint { diameter, pressure_angle, half_thickness_angle, direction, lever_arm })
    }
}

/// The sign ISO 6336 gives a ring's teeth and diameters.
fn inwards(gear: &Gear) -> f64 {
    match gear.kind {
        GearKind::External => 1.0,
        GearKind::Internal => -1.0,
    }
}

/// T: the polar angle that belongs to a 30 degree tangent (external) or a 60 degree one (ring).
fn section_angle(kind: GearKind) -> f64 {
    match kind {
        GearKind::External => FRAC_PI_3,
        GearKind::Internal => FRAC_PI_6,
    }
}

/// Thickness allowance in the normal section, in modules.
fn normal_allowance(gear: &Gear) -> f64 {
    gear.thickness_allowance * libm::cos(gear.helix_angle) / gear.normal_module
}

/// `theta = slope tan theta - constant`: where the standard's direct iteration settles, found by Newton's method, which takes a
/// quarter of its steps; none if that isn't an angle under 90 degrees.
fn section_root(slope: f64, constant: f64, start: f64) -> Option<f64> {
    const CLOSE_ENOUGH: f64 = 1e-14;
    // The direct iteration takes some tens with few teeth.
    const MOST_STEPS: usize = 200;
    let settle = |next: fn(f64, [f64; 3]) -> f64| {
        let mut angle = start;
        for _ in 0..MOST_STEPS {
            let tangent = libm::tan(angle);
            let found = next(angle, [slope * tangent - constant, slope * (1.0 + tangent * tangent), tangent]);
            if (found - angle).abs() < CLOSE_ENOUGH {
                return Some((found, tangent));
            }
            angle = found;
        }
        None
    };
    let newton = settle(|angle, [direct, growth, _]| angle - (direct - angle) / (growth - 1.0));
    // The direct iteration settles only where it comes nearer with each step.
    let settles = |&(_, tangent): &(f64, f64)| (slope * (1.0 + tangent * tangent)).abs() < 1.0;
    let found = newton.filter(settles).or_else(|| settle(|_, [direct, ..]| direct))?;
    (0.0..FRAC_PI_2).contains(&found.0).then_some(found.0)
}

/// f_eps of the 2019 edition (from memory).
fn load_distribution(virtual_contact_ratio: f64, overlap: f64) -> Result<f64, NotApplicable> {
    if overlap >= 1.0 {
        Ok(1.0 / virtual_contact_ratio.sqrt())
    } else if virtual_contact_ratio < 2.0 {
        Ok((1.0 - overlap + overlap / virtual_contact_ratio).sqrt())
    } else {
        Err(NotApplicable::DeepTooth(virtual_contact_ratio))
    }
}

/// Ybeta; `helix_angle` as a magnitude up to 30 degrees.
pub fn helix_factor(helix_angle: f64, overlap: f64, method: Method) -> f64 {
    let factor = 1.0 - overlap.min(1.0) * helix_angle.to_degrees() / 120.0;
    match method {
        Method::B(Edition::Of2006) | Method::C => factor,
        Method::B(Edition::Of2019) => {
            let cosine = libm::cos(helix_angle);
            factor / (cosine * cosine * cosine)
        }
    }
}

/// Yeps, for method C only: `0.25 + 0.75 / eps_alpha n` (DIN 3990-3, page 38, as cited by a teaching page, read).
pub fn contact_ratio_factor(virtual_contact_ratio: f64) -> f64 {
    0.25 + 0.75 / virtual_contact_ratio
}
