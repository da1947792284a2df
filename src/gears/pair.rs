//! Two gears in mesh: centre distance and shifts, path of contact, contact ratio, interferences.

use super::gear::Gear;
use super::involute::{involute, involute_inverse};
use super::rack::ToothSystem;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MeshKind {
    /// Both gears have outside teeth.
    External,
    /// The second gear is a ring around the first.
    Internal,
}

/// Tooth counts of two gears of one system, before shifts and centre distance are known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pair<'a> {
    pub system: &'a ToothSystem,
    pub kind: MeshKind,
    /// Pinion, then wheel; of an internal pair the planet, then the ring.
    pub teeth: [u32; 2],
}

impl Pair<'_> {
    /// z2 + z1 of an external pair, z2 - z1 of an internal one.
    fn teeth_in_centre_distance(&self) -> f64 {
        let [pinion, wheel] = self.teeth.map(f64::from);
        match self.kind {
            MeshKind::External => wheel + pinion,
            MeshKind::Internal => wheel - pinion,
        }
    }

    pub fn reference_centre_distance(&self) -> f64 {
        0.5 * self.teeth_in_centre_distance() * self.system.transverse_module
    }

    /// Smallest centre distance there is: the base circles' line of action along the line of centres.
    fn least_centre_distance(&self) -> f64 {
        self.reference_centre_distance() * libm::cos(self.system.transverse_pressure_angle)
    }

    /// Working transverse pressure angle \[rad\] of a play-free mesh with the shift `shift` between the two
    /// (x1 + x2 external, x2 - x1 internal): `inv awt = 2 tan an shift / (z2 +- z1) + inv at`.
    pub fn working_pressure_angle_for_shift(&self, shift: f64) -> Option<f64> {
        let tangent = libm::tan(self.system.rack.pressure_angle);
        let from_shift = 2.0 * tangent * shift / self.teeth_in_centre_distance();
        involute_inverse(from_shift + involute(self.system.transverse_pressure_angle))
    }

    /// Centre distance of the play-free mesh; none if the shift is so negative that there is no mesh.
    pub fn centre_distance(&self, shift: f64) -> Option<f64> {
        let angle = self.working_pressure_angle_for_shift(shift)?;
        Some(self.least_centre_distance() / libm::cos(angle))
    }

    /// `cos awt = a_reference cos at / a`; none if the centre distance is too small for a line of action.
    pub fn working_pressure_angle(&self, centre_distance: f64) -> Option<f64> {
        let cosine = self.least_centre_distance() / centre_distance;
        (cosine > 0.0 && cosine <= 1.0).then(|| libm::acos(cosine))
    }

    /// The shift between the two (x1 + x2 external, x2 - x1 internal) that is play-free at `centre_distance`.
    pub fn shift_for(&self, centre_distance: f64) -> Option<f64> {
        let angle = self.working_pressure_angle(centre_distance)?;
        let difference = involute(angle) - involute(self.system.transverse_pressure_angle);
        Some(
            difference * self.teeth_in_centre_distance() / (2.0 * libm::tan(self.system.rack.pressure_angle)),
        )
    }

    /// Least shift for which a mesh exists at all (working pressure angle zero).
    pub fn least_shift(&self) -> f64 {
        -involute(self.system.transverse_pressure_angle) * self.teeth_in_centre_distance()
            / (2.0 * libm::tan(self.system.rack.pressure_angle))
    }

    /// Working pitch diameters, pinion and wheel.
    pub fn pitch_diameters(&self, centre_distance: f64) -> [f64; 2] {
        self.teeth.map(|teeth| 2.0 * centre_distance * f64::from(teeth) / self.teeth_in_centre_distance())
    }
}

/// What happens along the line of action of two gears at a centre distance.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mesh {
    pub kind: MeshKind,
    /// Transverse \[rad\].
    pub working_pressure_angle: f64,
    pub pitch_diameters: [f64; 2],
    /// Contact on the first gear's flank starts here: distance along the line of action from its base tangent point.
    pub path_start: f64,
    /// ... and ends here.
    pub path_end: f64,
    /// Transverse contact ratio of the path that both flanks really have.
    pub contact_ratio: f64,
    /// Radius of the innermost (ring: outermost) flank point that the other's tip reaches, less the form radius where
    /// the fillet begins, counted positive when the tip stays on the flank.
    pub root_margins: [f64; 2],
    /// Largest specific sliding of each gear's flank, as a magnitude: sliding over the speed at which the contact
    /// travels on that flank.
    pub specific_sliding: [f64; 2],
}

impl Mesh {
    /// `working_pressure_angle` and `pitch_diameters` come from the [`Pair`] at `centre_distance`.
    pub fn of(
        kind: MeshKind,
        [first, second]: [&Gear; 2],
        centre_distance: f64,
        working_pressure_angle: f64,
        pitch_diameters: [f64; 2],
    ) -> Mesh {
        let line = centre_distance * libm::sin(working_pressure_angle);
        let first_form = first.along_tangent(first.form_diameter);
        let second_form = second.along_tangent(second.form_diameter);
        let [tip_start, tip_end] = tip_path(kind, line, [first, second]);
        let (form_end, second_reach) = match kind {
            MeshKind::External => (line - second_form, line - tip_end),
            MeshKind::Internal => (second_form - line, line + tip_end),
        };
        let path_start = tip_start.max(first_form);
        let path_end = tip_end.min(form_end);
        let first_margin = margin_above(first, tip_start);
        let second_margin = match kind {
            MeshKind::External => margin_above(second, second_reach),
            MeshKind::Internal => 0.5 * second.form_diameter - second.radius_at(second_reach),
        };
        Mesh {
            kind,
            working_pressure_angle,
            pitch_diameters,
            path_start,
            path_end,
            contact_ratio: (path_end - path_start) / first.base_pitch(),
            root_margins: [first_margin, second_margin],
            specific_sliding: specific_sliding(
                kind,
                [first.teeth, second.teeth],
                line,
                [path_start, path_end],
            ),
        }
    }
}

/// Largest `|1 - (w2 rho2) / (w1 rho1)|` of the first gear's flank and its counterpart on the second's (DIN 3960, from
/// memory), over the ends of the path of contact.
fn specific_sliding(kind: MeshKind, teeth: [u32; 2], line: f64, path: [f64; 2]) -> [f64; 2] {
    let [first, second] = teeth.map(f64::from);
    let at = |along: f64| {
        let radii = match kind {
            MeshKind::External => [along, line - along],
            MeshKind::Internal => [along, line + along],
        };
        // Rolling speeds of the two flanks go with radius of curvature over teeth.
        let [first_speed, second_speed] = [radii[0] / first, radii[1] / second];
        [(1.0 - second_speed / first_speed).abs(), (1.0 - first_speed / second_speed).abs()]
    };
    let (start, end) = (at(path[0]), at(path[1]));
    [f64::max(start[0], end[0]), f64::max(start[1], end[1])]
}

/// How far above the form circle the flank point at `tangent_length` lies; a point before the base tangent point
/// (negative length) counts by its distance from that point as well.
fn margin_above(gear: &Gear, tangent_length: f64) -> f64 {
    if tangent_length >= 0.0 {
        gear.radius_at(tangent_length) - 0.5 * gear.form_diameter
    } else {
        tangent_length + 0.5 * (gear.base_diameter - gear.form_diameter)
    }
}

/// Start and end of the path of contact that the two tip circles cut out of the line of action, from the first gear's
/// base tangent point; `line` is `a sin awt`.
fn tip_path(kind: MeshKind, line: f64, [first, second]: [&Gear; 2]) -> [f64; 2] {
    let end = first.along_tangent(first.tip_diameter);
    let reach = second.along_tangent(second.tip_diameter);
    match kind {
        MeshKind::External => [line - reach, end],
        MeshKind::Internal => [reach - line, end],
    }
}

/// Transverse contact ratio from the tip circles alone, as handbooks give it: no account of undercut or fillets.
pub fn contact_ratio_of_tips(
    kind: MeshKind,
    gears: [&Gear; 2],
    centre_distance: f64,
    working_pressure_angle: f64,
) -> f64 {
    let line = centre_distance * libm::sin(working_pressure_angle);
    let [start, end] = tip_path(kind, line, gears);
    (end - start) / gears[0].base_pitch()
}

/// Circumferential play at the working pitch circles: what the first gear's tooth leaves of the
/// second's space.
pub fn circumferential_play([first, second]: [&Gear; 2], pitch_diameters: [f64; 2]) -> f64 {
    let [first_radius, second_radius] = pitch_diameters.map(|diameter| 0.5 * diameter);
    let space = second.pitch_angle() * second_radius - second.thickness_at(second_radius);
    space - first.thickness_at(first_radius)
}

/// A quantity and the least value it may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margin {
    pub value: f64,
    pub least: f64,
}

impl Margin {
    /// Positive when the condition holds.
    pub fn in_hand(&self) -> f64 {
        self.value - self.least
    }

    pub fn holds(&self) -> bool {
        self.in_hand() >= 0.0
    }
}

/// The three interferences of an internal pair (SDP/SI, Elements of Metric Gear Technology, T-44 to T-46).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct InternalInterferences {
    /// The ring's tip reaches past the end of the planet's involute: `z1/z2 >= 1 - tan aa2 / tan aw`.
    pub involute: Margin,
    /// The planet's tip fouls the ring's tip on its way out of mesh: `th1 z1/z2 + inv aw - inv aa2 >= th2` \[rad\].
    pub trochoid: Margin,
    /// The planet can be put into the ring radially: `th1 + inv aa1 - inv aw >= z2/z1 (th2 + inv aa2 - inv aw)` \[rad\].
    /// A planet slid in along the axis does not need it.
    pub trimming: Margin,
}

impl InternalInterferences {
    /// `teeth`, `tip_radii` and `base_radii`: pinion (planet), then ring. None if a tip lies inside its base circle: the
    /// conditions do not apply to teeth without an involute there.
    pub fn of(
        teeth: [u32; 2],
        tip_radii: [f64; 2],
        base_radii: [f64; 2],
        centre_distance: f64,
        working_pressure_angle: f64,
    ) -> Option<InternalInterferences> {
        let [pinion_teeth, ring_teeth] = teeth.map(f64::from);
        let [ra1, ra2] = tip_radii;
        let (cosine1, cosine2) = (base_radii[0] / ra1, base_radii[1] / ra2);
        if cosine1 > 1.0 || cosine2 > 1.0 {
            return None;
        }
        let (aa1, aa2) = (libm::acos(cosine1), libm::acos(cosine2));
        let working = involute(working_pressure_angle);
        let ratio = pinion_teeth / ring_teeth;

        let involute_margin =
            Margin { value: ratio, least: 1.0 - libm::tan(aa2) / libm::tan(working_pressure_angle) };

        let a = centre_distance;
        // Outside [-1, 1] the tip circles do not cross, and the limit angle is the one of touching circles.
        let arc_cosine = |cosine: f64| libm::acos(cosine.clamp(-1.0, 1.0));
        let th1 = arc_cosine((ra2 * ra2 - ra1 * ra1 - a * a) / (2.0 * a * ra1)) + involute(aa1) - working;
        let th2 = arc_cosine((a * a + ra2 * ra2 - ra1 * ra1) / (2.0 * a * ra2));
        let trochoid = Margin { value: th1 * ratio + working - involute(aa2), least: th2 };

        let arc_sine = |square: f64| libm::asin(square.clamp(0.0, 1.0).sqrt());
        let quotient = cosine1 / cosine2;
        let th1 = arc_sine((1.0 - quotient * quotient) / (1.0 - ratio * ratio));
        let th2 = arc_sine((1.0 / (quotient * quotient) - 1.0) / (1.0 / (ratio * ratio) - 1.0));
        let trimming =
            Margin { value: th1 + involute(aa1) - working, least: (th2 + involute(aa2) - working) / ratio };
        Some(InternalInterferences { involute: involute_margin, trochoid, trimming })
    }
}
