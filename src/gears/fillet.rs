//! The root fillet of an external gear: the trochoid that the rounded corner of the basic rack leaves.

use std::f64::consts::{FRAC_PI_2, PI};

use super::gear::Gear;

/// The curve enveloped by the rack's corner circle while the rack rolls on the reference circle.
///
/// The section is transverse, so the corner of a helical gear is an ellipse, `1 / cos b` wider than high. Each point of
/// the corner touches the gear at the moment its normal passes through the pitch point; that gives the envelope in
/// closed form. The tooth thickness allowance widens the rack's tooth and leaves its depth alone.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Trochoid {
    /// Radius of the rolling circle; negative for a ring generated inside by the same rack (used to check published
    /// ring values).
    pub reference_radius: f64,
    /// Of the corner circle's centre below the rolling line.
    pub centre_depth: f64,
    /// Of the corner's centre from the middle of the rack's tooth, transverse.
    pub centre_offset: f64,
    /// Radius of the corner in the normal section.
    pub corner_radius: f64,
    pub helix_cosine: f64,
    /// Corner angle at which the straight flank begins; the root circle begins at 0.
    pub flank_angle: f64,
}

/// A point of the fillet. The x axis runs through the middle of the tooth space, y towards the flank.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FilletPoint {
    pub x: f64,
    pub y: f64,
    /// Unit normal that points out of the gear.
    pub normal: [f64; 2],
}

impl FilletPoint {
    pub fn radius(&self) -> f64 {
        libm::hypot(self.x, self.y)
    }

    /// From the middle of the tooth space \[rad\].
    pub fn angle(&self) -> f64 {
        libm::atan2(self.y, self.x)
    }
}

impl Trochoid {
    pub fn of(gear: &Gear) -> Trochoid {
        let module = gear.normal_module;
        let rack = &gear.rack;
        let helix_cosine = libm::cos(gear.helix_angle);
        Trochoid {
            reference_radius: 0.5 * gear.reference_diameter,
            centre_depth: (rack.dedendum - rack.fillet - gear.shift) * module,
            centre_offset: rack.half_land() * module / helix_cosine + 0.5 * gear.thickness_allowance,
            corner_radius: rack.fillet * module,
            helix_cosine,
            flank_angle: FRAC_PI_2 - rack.pressure_angle,
        }
    }

    /// The point that the corner makes at `corner_angle` (0 at the root circle, [`Self::flank_angle`] at the flank), moved
    /// out of the gear by `grown`.
    pub fn point(&self, corner_angle: f64, grown: f64) -> FilletPoint {
        let (sine, cosine) = (libm::sin(corner_angle), libm::cos(corner_angle));
        let depth = self.centre_depth + self.corner_radius * cosine;
        let offset = self.centre_offset + self.corner_radius * sine / self.helix_cosine;
        // The normal through the pitch point: sideways over depth is tan(corner) cos(b).
        let side = depth * sine / cosine * self.helix_cosine;
        let roll = (side - offset) / self.reference_radius;
        let (turn_sine, turn_cosine) = (libm::sin(roll), libm::cos(roll));
        // Turn the rack's frame back by the roll.
        let turn = |x: f64, y: f64| [turn_cosine * x + turn_sine * y, turn_cosine * y - turn_sine * x];

        let length = libm::hypot(cosine, sine * self.helix_cosine);
        let normal = turn(cosine / length, -sine * self.helix_cosine / length);
        let [x, y] = turn(self.reference_radius - depth, side);
        FilletPoint { x: x + grown * normal[0], y: y + grown * normal[1], normal }
    }

    /// Radius at which the trochoid of an undercut gear cuts through the involute.
    pub fn undercut_radius(&self, gear: &Gear) -> f64 {
        self.point(self.undercut_angle(gear, 0.0), 0.0).radius()
    }

    /// Corner angle of that point, with both curves moved out of the gear by `grown`.
    ///
    /// From the base circle outwards the trochoid first runs inside the tooth, then outside: the crossing is between.
    pub fn undercut_angle(&self, gear: &Gear, grown: f64) -> f64 {
        let base = 0.5 * gear.base_diameter;
        let start = bisect(0.0, self.flank_angle, |angle| self.point(angle, grown).radius() < base);
        let grown_half_angle = grown / base;
        bisect(start, self.flank_angle, |angle| {
            let point = self.point(angle, grown);
            let flank = PI / f64::from(gear.teeth) - gear.half_angle_at(point.radius()) - grown_half_angle;
            point.angle() > flank
        })
    }

    /// The critical section of ISO 6336-3: the fillet point whose tangent makes `tangent_angle` with the tooth's (ring:
    /// space's) middle line. 30 degrees for external teeth, 60 for rings.
    ///
    /// Meant for spur gears and virtual spur gears; `teeth` may be a fraction. None if the fillet has no such tangent.
    pub fn critical_section(&self, teeth: f64, tangent_angle: f64) -> Option<CriticalSection> {
        let half_pitch = PI / teeth;
        // The ring's centre lies on the other side of the rolling line, so its tooth space opens along -x.
        let middle = [self.reference_radius.signum() * libm::cos(half_pitch), libm::sin(half_pitch)];
        let along_middle =
            |point: &FilletPoint| (point.normal[0] * middle[0] + point.normal[1] * middle[1]).abs();
        let wanted = libm::sin(tangent_angle);
        let steeper = |angle: f64| along_middle(&self.point(angle, 0.0)) > wanted;
        if !steeper(0.0) || steeper(self.flank_angle) {
            return None;
        }
        let corner_angle = bisect(0.0, self.flank_angle, steeper);
        let point = self.point(corner_angle, 0.0);
        let from_middle = (point.x * middle[1] - point.y * middle[0]).abs();
        Some(CriticalSection {
            corner_angle,
            chord: 2.0 * from_middle,
            fillet_radius: self.curvature_radius(corner_angle),
        })
    }

    /// Radius of curvature: arc length over turning of the normal, by a central difference.
    fn curvature_radius(&self, corner_angle: f64) -> f64 {
        // Its square is far below the last digit wanted, and the points' rounding far below their distance.
        const STEP: f64 = 1e-4;
        let (before, after) = (self.point(corner_angle - STEP, 0.0), self.point(corner_angle + STEP, 0.0));
        let arc = libm::hypot(after.x - before.x, after.y - before.y);
        let turn = libm::asin(before.normal[0] * after.normal[1] - before.normal[1] * after.normal[0]);
        arc / turn.abs()
    }
}

/// The tooth root section that carries the highest bending stress by ISO 6336-3.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CriticalSection {
    pub corner_angle: f64,
    /// Root chord sFn.
    pub chord: f64,
    /// Radius of curvature rhoF of the fillet there.
    pub fillet_radius: f64,
}

/// Where `holds` turns from true at `low` to false at `high`, to the last digit.
pub(super) fn bisect(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    loop {
        let middle = 0.5 * (low + high);
        // Ends when no number is left between the two; an unordered middle (NaN) ends it as well.
        if !(middle > low && middle < high) {
            return middle;
        }
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::gears::{Gear, GearKind, GearSpec, Rack, ToothSystem};

    fn spur(teeth: u32, shift: f64) -> Gear {
        let system = ToothSystem::new(Rack::ISO_53_A, 1.0, 0.0);
        Gear::new(
            &system,
            GearSpec {
                kind: GearKind::External,
                teeth,
                shift,
                tip_alteration: 0.0,
                thickness_allowance: 0.0,
                left_hand: false,
                working_pitch_diameter: f64::from(teeth),
                ring_fillet_radius: 0.0,
            },
        )
    }

    #[test]
    fn fillet_runs_from_the_root_circle_to_the_involute() {
        for (teeth, shift) in [(12, 0.5), (20, 0.0), (42, -0.2), (96, 0.3)] {
            let gear = spur(teeth, shift);
            let fillet = Trochoid::of(&gear);
            let (root, flank) = (fillet.point(0.0, 0.0), fillet.point(fillet.flank_angle, 0.0));
            assert!((2.0 * root.radius() - gear.root_diameter).abs() < 1e-12);
            assert!((2.0 * flank.radius() - gear.form_diameter).abs() < 1e-9);
            let involute = PI / f64::from(teeth) - gear.half_angle_at(flank.radius());
            assert!((flank.angle() - involute).abs() < 1e-7, "{} {involute}", flank.angle());
        }
    }

    #[test]
    fn undercut_fillet_meets_the_involute_above_the_base_circle() {
        let gear = spur(10, 0.0);
        assert!(gear.is_undercut());
        assert!(gear.form_diameter > gear.base_diameter);
        let fillet = Trochoid::of(&gear);
        let point = fillet.point(fillet.undercut_angle(&gear, 0.0), 0.0);
        let involute = PI / 10.0 - gear.half_angle_at(point.radius());
        assert!((point.angle() - involute).abs() < 1e-12);
    }
}
