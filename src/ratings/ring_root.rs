//! Root factors of a ring whose fillet is an arc, as printed: ISO 6336-3 method B on the real outline.
//!
//! The standard's own formulas stand for the fillet of a virtual rack and unshifted rings. Here the critical section is
//! where the arc's tangent makes 60 degrees with the tooth's middle line (ISO 6336-3, internal gears), its fillet radius
//! the arc's. Lengths of the virtual spur ring in normal modules; the arc of the transverse section is taken for the
//! normal section's, which is sharper than it by at most cos(beta).
//!
//! Range: helix to 30 degrees, virtual contact ratio 1 to 2.5, notch parameter 1 to 8. Not covered: thin rims.

use super::tooth_root::{
    ContactRatios, Edition, Method, NotApplicable, RootFactors, helix_factor, stress_correction,
};
use crate::gears::{Gear, involute};

use std::f64::consts::{FRAC_PI_2, FRAC_PI_6, PI};

/// Critical section and load of a ring's tooth; lengths in normal modules.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingRoot {
    /// sFn
    pub chord: f64,
    /// hFe
    pub lever_arm: f64,
    /// rhoF
    pub fillet_radius: f64,
    /// alpha_Fen \[rad\]
    pub load_direction: f64,
    pub factors: RootFactors,
}

impl RingRoot {
    /// `gear` is a ring with an arc for a root fillet.
    ///
    /// # Errors
    /// Outside the range.
    pub fn of(gear: &Gear, contact: ContactRatios) -> Result<RingRoot, NotApplicable> {
        let helix_angle = gear.helix_angle.abs();
        if helix_angle > 30f64.to_radians() + 1e-12 {
            return Err(NotApplicable::Helix);
        }
        let base_cosine = libm::cos(gear.base_helix_angle);
        let virtual_contact_ratio = contact.transverse / (base_cosine * base_cosine);
        if !(1.0..=2.5).contains(&virtual_contact_ratio) {
            return Err(NotApplicable::ContactRatio(virtual_contact_ratio));
        }
        let tooth = VirtualTooth::of(gear);
        let fillet_radius = gear.fillet_radius / gear.normal_module;

        let centre_radius = tooth.root_radius - fillet_radius;
        if centre_radius <= tooth.base_radius {
            return Err(NotApplicable::Geometry);
        }
        // The fillet's centre lies its radius off the flank: on the involute turned by that much about the base circle.
        let centre_angle = tooth.half_angle(centre_radius) + fillet_radius / tooth.base_radius;
        let half_chord = centre_radius * libm::sin(centre_angle) - fillet_radius * libm::sin(FRAC_PI_6);
        let section_radius = centre_radius * libm::cos(centre_angle) + fillet_radius * libm::cos(FRAC_PI_6);

        // Outer point of single contact; a ring is loaded further outwards.
        let pressure_cosine = libm::cos(gear.rack.pressure_angle);
        let tip_thread =
            (tooth.tip_radius * tooth.tip_radius - tooth.base_radius * tooth.base_radius).max(0.0).sqrt();
        let thread = tip_thread + PI * pressure_cosine * (virtual_contact_ratio - 1.0);
        let load_radius = libm::hypot(thread, tooth.base_radius);
        let pressure_angle = libm::atan2(thread, tooth.base_radius);
        let load_direction = pressure_angle + tooth.half_angle(load_radius);
        let lever_arm = section_radius - tooth.base_radius / libm::cos(load_direction);
        let chord = 2.0 * half_chord;
        if !(chord > 0.0 && lever_arm > 0.0 && load_direction < FRAC_PI_2) {
            return Err(NotApplicable::Geometry);
        }
        let form = 6.0 * lever_arm * libm::cos(load_direction) / (chord * chord * pressure_cosine);
        let factors = RootFactors {
            form,
            stress_correction: stress_correction(chord, lever_arm, fillet_radius)?,
            helix: helix_factor(helix_angle, contact.overlap, Method::B(Edition::Of2006)),
            contact_ratio: 1.0,
        };
        Ok(RingRoot { chord, lever_arm, fillet_radius, load_direction, factors })
    }
}

/// The ring's tooth in the normal section of its virtual spur ring.
struct VirtualTooth {
    base_radius: f64,
    tip_radius: f64,
    root_radius: f64,
    /// Half the tooth at the reference circle, less the involute function there \[rad\].
    half_at_base: f64,
}

impl VirtualTooth {
    fn of(gear: &Gear) -> VirtualTooth {
        let module = gear.normal_module;
        let base_cosine = libm::cos(gear.base_helix_angle);
        let teeth = f64::from(gear.teeth) / (base_cosine * base_cosine * libm::cos(gear.helix_angle));
        let reference = 0.5 * teeth;
        let height = |diameter: f64| 0.5 * (diameter - gear.reference_diameter) / module;
        let normal_thickness = gear.transverse_tooth_thickness * libm::cos(gear.helix_angle) / module;
        VirtualTooth {
            base_radius: reference * libm::cos(gear.rack.pressure_angle),
            tip_radius: reference + height(gear.tip_diameter),
            root_radius: reference + height(gear.root_diameter),
            half_at_base: normal_thickness / teeth - involute(gear.rack.pressure_angle),
        }
    }

    /// Half the angle of the tooth at a radius outside the base circle: a ring's tooth widens outwards.
    fn half_angle(&self, radius: f64) -> f64 {
        let pressure_angle = libm::acos((self.base_radius / radius).min(1.0));
        self.half_at_base + involute(pressure_angle)
    }
}
