//! One gear: its circles, thicknesses and flank.

use std::f64::consts::{FRAC_PI_2, PI};

use super::fillet::Trochoid;
use super::involute::involute;
use super::rack::{Rack, ToothSystem};
use super::ring_fillet::RingFillet;
use super::span::Span;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GearKind {
    External,
    Internal,
}

/// What sets one gear apart from the others of its [`ToothSystem`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct GearSpec {
    pub kind: GearKind,
    pub teeth: u32,
    /// Profile shift coefficient, outwards positive for both kinds.
    pub shift: f64,
    /// Tip alteration coefficient k, negative shortens the tooth.
    pub tip_alteration: f64,
    /// Taken off the transverse tooth thickness at the reference circle.
    pub thickness_allowance: f64,
    /// Left-hand helix.
    pub left_hand: bool,
    pub working_pitch_diameter: f64,
    /// Root fillet of a ring as an arc; an external gear has the rack's trochoid instead.
    pub ring_fillet_radius: f64,
}

/// A cylindrical involute gear; diameters and thicknesses in the transverse section unless stated.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gear {
    pub kind: GearKind,
    pub teeth: u32,
    /// Profile shift coefficient, outwards positive for both kinds.
    pub shift: f64,
    /// Tip alteration coefficient k (ISO 21771), negative: shortened.
    pub tip_alteration: f64,
    pub rack: Rack,
    pub normal_module: f64,
    /// At the reference cylinder \[rad\], right hand positive.
    pub helix_angle: f64,
    pub transverse_module: f64,
    /// \[rad\]
    pub transverse_pressure_angle: f64,
    /// Magnitude \[rad\].
    pub base_helix_angle: f64,
    pub reference_diameter: f64,
    pub base_diameter: f64,
    /// In the mesh with the sun (planet), with the planet (sun, ring).
    pub working_pitch_diameter: f64,
    pub tip_diameter: f64,
    pub root_diameter: f64,
    /// Where the involute ends and the fillet (or the undercut) begins.
    pub form_diameter: f64,
    /// Already taken off the transverse tooth thickness at the reference circle.
    pub thickness_allowance: f64,
    /// At the reference circle, after the allowance.
    pub transverse_tooth_thickness: f64,
    /// Normal section, at the tip circle, after the allowance.
    pub tip_thickness: f64,
    /// Teeth (ring: spaces) under the base tangent length.
    pub span_teeth: u32,
    /// Base tangent length over `span_teeth` teeth (ring: spaces), after the allowance.
    pub span: f64,
    /// Least face width on which the span of a helical gear can be taken.
    pub span_face_width: f64,
    /// How much deeper the rack's flank cuts than the gear's involute reaches; 0 if not undercut.
    pub undercut_depth: f64,
    /// Radius of the root fillet: the rack's corner (external) or the arc itself (ring).
    pub fillet_radius: f64,
    /// Taken off the outline near the tips; none as computed, see [`Gear::relieved`].
    pub tip_relief: TipRelief,
}

/// Tip relief: taken off each flank along its normal, nothing at `height` below the tip circle and growing evenly along
/// the line of action to `amount` at the tip.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct TipRelief {
    /// Transverse \[mm\].
    pub amount: f64,
    /// Along the radius \[mm\].
    pub height: f64,
}

impl Gear {
    pub fn new(system: &ToothSystem, spec: GearSpec) -> Gear {
        let module = system.normal_module;
        let outwards = match spec.kind {
            GearKind::External => 1.0,
            GearKind::Internal => -1.0,
        };
        let reference_diameter = system.reference_diameter(spec.teeth);
        let base_diameter = reference_diameter * libm::cos(system.transverse_pressure_angle);
        // ISO 21771, 6.1: the ring's heights point inwards while its shift is counted outwards here.
        let tip_height = system.rack.addendum + outwards * spec.shift + spec.tip_alteration;
        let root_height = system.rack.dedendum - outwards * spec.shift;
        let nominal_thickness = system.transverse_module
            * (FRAC_PI_2 + outwards * 2.0 * spec.shift * libm::tan(system.rack.pressure_angle));
        let undercut_depth = match spec.kind {
            GearKind::External => (system.least_shift(spec.teeth) - spec.shift).max(0.0) * module,
            GearKind::Internal => 0.0,
        };
        let mut gear = Gear {
            kind: spec.kind,
            teeth: spec.teeth,
            shift: spec.shift,
            tip_alteration: spec.tip_alteration,
            rack: system.rack,
            normal_module: module,
            helix_angle: if spec.left_hand { -system.helix_angle } else { system.helix_angle },
            transverse_module: system.transverse_module,
            transverse_pressure_angle: system.transverse_pressure_angle,
            base_helix_angle: system.base_helix_angle,
            reference_diameter,
            base_diameter,
            working_pitch_diameter: spec.working_pitch_diameter,
            tip_diameter: reference_diameter + outwards * 2.0 * module * tip_height,
            root_diameter: reference_diameter - outwards * 2.0 * module * root_height,
            form_diameter: base_diameter,
            thickness_allowance: spec.thickness_allowance,
            transverse_tooth_thickness: nominal_thickness - spec.thickness_allowance,
            tip_thickness: 0.0,
            span_teeth: 0,
            span: 0.0,
            span_face_width: 0.0,
            undercut_depth,
            fillet_radius: match spec.kind {
                GearKind::External => system.rack.fillet * module,
                GearKind::Internal => spec.ring_fillet_radius,
            },
            tip_relief: TipRelief::default(),
        };
        gear.form_diameter = gear.find_form_diameter();
        gear.tip_thickness = gear.normal_thickness_at(0.5 * gear.tip_diameter);
        let span = Span::of(&gear);
        (gear.span_teeth, gear.span, gear.span_face_width) = (span.teeth, span.length, span.least_face_width);
        gear
    }

    fn find_form_diameter(&self) -> f64 {
        match self.kind {
            GearKind::Internal => 2.0 * self.ring_fillet().flank_radius,
            GearKind::External if self.undercut_depth > 0.0 => 2.0 * Trochoid::of(self).undercut_radius(self),
            GearKind::External => {
                // End of the rack's straight flank on the line of action, ISO 21771, 6.5.
                let depth = (self.rack.form_dedendum() - self.shift) * self.normal_module;
                let sine = libm::sin(self.transverse_pressure_angle);
                let tangent_length = 0.5 * self.reference_diameter * sine - depth / sine;
                2.0 * self.radius_at(tangent_length)
            }
        }
    }

    /// The same gear with its tips relieved: only the outline changes; circles, thicknesses and mesh stay those of the
    /// unrelieved involute. The relief ends at the form circle at the latest.
    pub fn relieved(self, relief: TipRelief) -> Gear {
        let flank_height = 0.5 * (self.tip_diameter - self.form_diameter).abs();
        let height = relief.height.clamp(0.0, flank_height);
        Gear { tip_relief: TipRelief { height, ..relief }, ..self }
    }

    /// Whether the rack cuts into the involute at all.
    pub fn is_undercut(&self) -> bool {
        self.undercut_depth > 0.0
    }

    /// Helix turn per length along z \[rad/mm\]: `tan(b) / r`. Right hand positive: the section turns counter-clockwise,
    /// seen from +z, as z grows.
    pub fn twist_per_mm(&self) -> f64 {
        libm::tan(self.helix_angle) / (0.5 * self.reference_diameter)
    }

    /// Transverse pitch on the base circle.
    pub fn base_pitch(&self) -> f64 {
        PI * self.base_diameter / f64::from(self.teeth)
    }

    /// Angle from one tooth to the next \[rad\].
    pub fn pitch_angle(&self) -> f64 {
        2.0 * PI / f64::from(self.teeth)
    }

    /// Length of the base tangent to the flank point at `diameter`; 0 inside the base circle.
    pub fn along_tangent(&self, diameter: f64) -> f64 {
        let (radius, base) = (0.5 * diameter, 0.5 * self.base_diameter);
        ((radius - base) * (radius + base)).max(0.0).sqrt()
    }

    /// Radius of the flank point whose base tangent has this length.
    pub fn radius_at(&self, tangent_length: f64) -> f64 {
        libm::hypot(0.5 * self.base_diameter, tangent_length)
    }

    /// Half the angle between the two flanks' starts on the base circle, seen from the axis \[rad\], of the involute body:
    /// a tooth of an external gear, a tooth space of a ring.
    pub fn base_half_angle(&self) -> f64 {
        let tooth = self.transverse_tooth_thickness / self.reference_diameter;
        let body = match self.kind {
            GearKind::External => tooth,
            GearKind::Internal => 0.5 * self.pitch_angle() - tooth,
        };
        body + involute(self.transverse_pressure_angle)
    }

    /// Half the angle of the involute body (external: tooth, ring: space) at `radius` \[rad\].
    pub fn half_angle_at(&self, radius: f64) -> f64 {
        let roll = self.along_tangent(2.0 * radius) / (0.5 * self.base_diameter);
        self.base_half_angle() - (roll - libm::atan(roll))
    }

    /// Transverse tooth thickness (arc) at `radius`.
    pub fn thickness_at(&self, radius: f64) -> f64 {
        let half_angle = self.half_angle_at(radius);
        match self.kind {
            GearKind::External => 2.0 * radius * half_angle,
            GearKind::Internal => radius * (self.pitch_angle() - 2.0 * half_angle),
        }
    }

    /// Tooth thickness in the normal section at `radius`: the helix is steeper further out.
    pub fn normal_thickness_at(&self, radius: f64) -> f64 {
        let tangent = radius * self.twist_per_mm();
        self.thickness_at(radius) / (1.0 + tangent * tangent).sqrt()
    }

    /// The arc that joins a ring's flank and root.
    pub fn ring_fillet(&self) -> RingFillet {
        RingFillet::tangent(self, self.fillet_radius)
    }
}
