//! The basic rack and the tooth system it makes at a module and helix angle.

/// A basic rack tooth profile in multiples of the normal module.
///
/// ISO 53 gives profile A as addendum 1, dedendum 1.25, fillet 0.38, pressure angle 20 degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rack {
    /// Normal pressure angle \[rad\].
    pub pressure_angle: f64,
    pub addendum: f64,
    pub dedendum: f64,
    /// Radius of the rounded root corner.
    pub fillet: f64,
}

impl Rack {
    /// ISO 53:1998, profile A.
    pub const ISO_53_A: Rack =
        Rack { pressure_angle: 20.0_f64.to_radians(), addendum: 1.0, dedendum: 1.25, fillet: 0.38 };

    /// Half the flat land at the tip of the generating rack's tooth; negative when the fillet does not fit.
    pub fn half_land(&self) -> f64 {
        let (sine, cosine) = (libm::sin(self.pressure_angle), libm::cos(self.pressure_angle));
        std::f64::consts::FRAC_PI_4 - self.dedendum * sine / cosine - self.fillet * (1.0 - sine) / cosine
    }

    /// Depth below the datum line at which the straight flank gives way to the fillet.
    pub fn form_dedendum(&self) -> f64 {
        self.dedendum - self.fillet * (1.0 - libm::sin(self.pressure_angle))
    }

    /// Clearance between a tip and the mating root.
    pub fn clearance(&self) -> f64 {
        self.dedendum - self.addendum
    }
}

/// A rack at a normal module and helix angle: what all gears of a stage share (ISO 21771:2007, 5.2 and 5.3).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToothSystem {
    pub rack: Rack,
    pub normal_module: f64,
    /// Magnitude at the reference cylinder \[rad\]; the hand belongs to a gear.
    pub helix_angle: f64,
    pub transverse_module: f64,
    pub transverse_pressure_angle: f64,
    pub base_helix_angle: f64,
}

impl ToothSystem {
    /// `helix_angle` may carry a sign; only its magnitude is kept.
    pub fn new(rack: Rack, normal_module: f64, helix_angle: f64) -> ToothSystem {
        let helix_angle = helix_angle.abs();
        let cosine = libm::cos(helix_angle);
        let sine_base = libm::sin(helix_angle) * libm::cos(rack.pressure_angle);
        ToothSystem {
            rack,
            normal_module,
            helix_angle,
            transverse_module: normal_module / cosine,
            transverse_pressure_angle: libm::atan(libm::tan(rack.pressure_angle) / cosine),
            base_helix_angle: libm::asin(sine_base),
        }
    }

    pub fn reference_diameter(&self, teeth: u32) -> f64 {
        f64::from(teeth) * self.transverse_module
    }

    /// Transverse pitch on the base circle.
    pub fn base_pitch(&self) -> f64 {
        std::f64::consts::PI * self.transverse_module * libm::cos(self.transverse_pressure_angle)
    }

    /// Smallest profile shift of an external gear without undercut by the rack.
    ///
    /// `x_min = hFf - z sin^2(at) / (2 cos b)`, hFf the depth of the straight flank (1 for ISO 53 A).
    pub fn least_shift(&self, teeth: u32) -> f64 {
        let sine = libm::sin(self.transverse_pressure_angle);
        let radius_in_modules = 0.5 * f64::from(teeth) * self.transverse_module / self.normal_module;
        self.rack.form_dedendum() - radius_in_modules * sine * sine
    }
}
