//! From shifts and a common centre distance to the three gears: allowances, tips, fillets.

use std::f64::consts::PI;

use super::assembly::PlanetSpacing;
use super::fault::{Member, StageFault};
use super::fillet::bisect;
use super::gear::{Gear, GearKind, GearSpec};
use super::limits::{SHIFTS, out_of_range};
use super::pair::{InternalInterferences, Mesh, MeshKind, Pair};
use super::rack::ToothSystem;
use super::ring_fillet::PlanetInRing;
use super::shifts::{NoShifts, ShiftProblem, Shifts, automatic_least_shift};
use super::stage::{Stage, StageInput, planet_gap};
use crate::design::ToothForm;

/// Least thickness of a tooth tip in modules: common handbook practice (0.2 for tough, 0.4 for hardened teeth).
const LEAST_TIP_THICKNESS: f64 = 0.2;

/// A tip is shortened for its thickness by at most this many modules; beyond, the contact ratio goes with it.
const MOST_TIP_SHORTENING: f64 = 0.25;

/// Least height of the involute flank in modules: below, a tooth is all fillet.
const LEAST_FLANK: f64 = 0.2;

/// The ring's tip ends its contact this far (along the line of action, in modules) before the planet's flank ends: its
/// corner then swings past the planet's fillet without touching.
const CONTACT_ABOVE_FILLET: f64 = 0.05;

/// Least root fillet of a ring in modules, the least that a rack may have.
const LEAST_RING_FILLET: f64 = 0.05;

/// Undercut is tolerated down to the practical limit of 14 instead of 17 teeth at 20 degrees, 3/17 in shift: handbook
/// practice, from memory.
const TOLERATED_UNDERCUT: f64 = 3.0 / 17.0;

/// Working pressure angles outside this range mean that shifts were stretched past use.
const WORKING_ANGLES: [f64; 2] = [10.0_f64.to_radians(), 40.0_f64.to_radians()];

/// Shifts and centre distance are known; the gears are not made yet.
pub(super) struct Sizing<'a> {
    input: &'a StageInput,
    system: &'a ToothSystem,
    sun_pair: Pair<'a>,
    ring_pair: Pair<'a>,
    shifts: Shifts,
    sun_angle: f64,
    ring_angle: f64,
}

impl<'a> Sizing<'a> {
    pub fn of(input: &'a StageInput, system: &'a ToothSystem) -> Result<Sizing<'a>, StageFault> {
        let teeth = [input.sun_teeth, input.planet_teeth, input.ring_teeth];
        let problem = ShiftProblem::new(system, teeth);
        let (sun_pair, ring_pair) = (problem.sun_mesh, problem.ring_mesh);
        let out_of_reach = || StageFault::NoCommonCentreDistance {
            teeth,
            sun_mesh: sun_pair.reference_centre_distance(),
            ring_mesh: ring_pair.reference_centre_distance(),
        };
        let shifts = problem
            .solve(input.shift_rule, input.sun_shift, input.planet_shift, input.ring_shift)
            .map_err(|reason| match reason {
            NoShifts::OutOfReach => out_of_reach(),
            NoShifts::Disagree { sun_mesh, ring_mesh, ring_shift } => {
                StageFault::ShiftsDisagree { sun_mesh, ring_mesh, ring_shift }
            }
        })?;
        let usable = |pair: &Pair| {
            let [least, most] = WORKING_ANGLES;
            pair.working_pressure_angle(shifts.centre_distance)
                .filter(|angle| (least..=most).contains(angle))
                .ok_or_else(out_of_reach)
        };
        let (sun_angle, ring_angle) = (usable(&sun_pair)?, usable(&ring_pair)?);
        Ok(Sizing { input, system, sun_pair, ring_pair, shifts, sun_angle, ring_angle })
    }

    /// Shifts that were solved for may have ended anywhere.
    pub fn shift_faults(&self) -> Vec<StageFault> {
        let [least, most] = SHIFTS;
        out_of_range(&[
            ("sun shift, for a common centre distance,", "", self.shifts.sun, least, most),
            ("planet shift, for a common centre distance,", "", self.shifts.planet, least, most),
            ("ring shift, for a common centre distance,", "", self.shifts.ring, least, most),
        ])
    }

    pub fn undercut_faults(&self) -> Vec<StageFault> {
        [
            (Member::Sun, self.input.sun_teeth, self.shifts.sun),
            (Member::Planet, self.input.planet_teeth, self.shifts.planet),
        ]
        .into_iter()
        .filter(|(_, teeth, shift)| *shift < self.system.least_shift(*teeth) - TOLERATED_UNDERCUT)
        .map(|(member, teeth, shift)| StageFault::Undercut {
            member,
            shift,
            least_shift: self.system.least_shift(teeth),
            auto_shift: automatic_least_shift(self.system, teeth),
        })
        .collect()
    }

    pub fn build(&self) -> Result<Stage, Vec<StageFault>> {
        let (sun, planet) = match (self.sun(), self.planet()) {
            (Ok(sun), Ok(planet)) => (sun, planet),
            (sun, planet) => return Err([sun.err(), planet.err()].into_iter().flatten().collect()),
        };
        let ring = self.ring(&planet).map_err(|fault| vec![fault])?;
        let a = self.shifts.centre_distance;
        let sun_mesh = Mesh::of(
            MeshKind::External,
            [&sun, &planet],
            a,
            self.sun_angle,
            self.sun_pair.pitch_diameters(a),
        );
        let ring_mesh = Mesh::of(
            MeshKind::Internal,
            [&planet, &ring],
            a,
            self.ring_angle,
            self.ring_pair.pitch_diameters(a),
        );
        let interferences = InternalInterferences::of(
            [planet.teeth, ring.teeth],
            [0.5 * planet.tip_diameter, 0.5 * ring.tip_diameter],
            [0.5 * planet.base_diameter, 0.5 * ring.base_diameter],
            a,
            self.ring_angle,
        );
        let helix_width = match self.input.tooth_form {
            ToothForm::Herringbone => 0.5 * self.input.face_width,
            ToothForm::Helical | ToothForm::Straight => self.input.face_width,
        };
        let overlap_ratio =
            helix_width * libm::sin(self.system.helix_angle) / (PI * self.input.normal_module);
        let Some(interferences) = interferences else {
            let transverse = ring_mesh.contact_ratio;
            return Err(vec![StageFault::ContactBroken {
                with: Member::Ring,
                transverse,
                overlap: overlap_ratio,
            }]);
        };
        let input = self.input;
        let spacing = PlanetSpacing::of([input.sun_teeth, input.ring_teeth], input.planets, input.spacing);
        Ok(Stage {
            planets: input.planets,
            ratio: 1.0 + f64::from(input.ring_teeth) / f64::from(input.sun_teeth),
            centre_distance: a,
            face_width: input.face_width,
            tooth_form: input.tooth_form,
            backlash: input.backlash,
            transverse_module: self.system.transverse_module,
            transverse_pressure_angle: self.system.transverse_pressure_angle,
            base_helix_angle: self.system.base_helix_angle,
            working_pressure_angle_sun: self.sun_angle,
            working_pressure_angle_ring: self.ring_angle,
            contact_ratio_sun: sun_mesh.contact_ratio,
            contact_ratio_ring: ring_mesh.contact_ratio,
            overlap_ratio,
            spacing,
            planet_gap: planet_gap(a, spacing.least_angle(), planet.tip_diameter),
            sun,
            planet,
            ring,
            sun_mesh,
            ring_mesh,
            interferences,
            output_backlash: input.backlash / a,
        })
    }

    fn module(&self) -> f64 {
        self.system.normal_module
    }

    fn clearance(&self) -> f64 {
        self.system.rack.clearance() * self.module()
    }

    /// Radius of the root circle of an external gear.
    fn external_root(&self, teeth: u32, shift: f64) -> f64 {
        0.5 * self.system.reference_diameter(teeth) - (self.system.rack.dedendum - shift) * self.module()
    }

    fn ring_root(&self) -> f64 {
        let height = (self.system.rack.dedendum + self.shifts.ring) * self.module();
        0.5 * self.system.reference_diameter(self.input.ring_teeth) + height
    }

    /// Reference over working pitch diameter in the sun's mesh: takes a thickness from the pitch to the reference circle.
    fn sun_mesh_scale(&self) -> f64 {
        self.sun_pair.reference_centre_distance() / self.shifts.centre_distance
    }

    fn ring_mesh_scale(&self) -> f64 {
        self.ring_pair.reference_centre_distance() / self.shifts.centre_distance
    }

    /// Sun and planet each give half the backlash.
    fn external_allowance(&self) -> f64 {
        0.5 * self.input.backlash * self.sun_mesh_scale()
    }

    /// What the planet's thinning leaves to the ring, and what a ring shift given to few digits is off by.
    fn ring_allowance(&self) -> f64 {
        let scale = self.ring_mesh_scale();
        let from_planet = self.external_allowance() / scale;
        let exact =
            self.ring_pair.shift_for(self.shifts.centre_distance).map(|shift| shift + self.shifts.planet);
        // The pressure angle was found for this very centre distance, so there is a shift.
        let off = exact.unwrap_or(self.shifts.ring) - self.shifts.ring;
        let tangent = libm::tan(self.system.rack.pressure_angle);
        (self.input.backlash - from_planet) * scale + 2.0 * off * tangent * self.system.transverse_module
    }

    fn sun(&self) -> Result<Gear, StageFault> {
        let planet_root = self.external_root(self.input.planet_teeth, self.shifts.planet);
        let spec = GearSpec {
            kind: GearKind::External,
            teeth: self.input.sun_teeth,
            shift: self.shifts.sun,
            tip_alteration: 0.0,
            thickness_allowance: self.external_allowance(),
            left_hand: self.input.helix_angle < 0.0,
            working_pitch_diameter: self.sun_pair.pitch_diameters(self.shifts.centre_distance)[0],
            ring_fillet_radius: 0.0,
        };
        let most_tip = self.shifts.centre_distance - planet_root - self.clearance();
        self.external_gear(Member::Sun, spec, most_tip)
    }

    fn planet(&self) -> Result<Gear, StageFault> {
        let a = self.shifts.centre_distance;
        let sun_root = self.external_root(self.input.sun_teeth, self.shifts.sun);
        let spec = GearSpec {
            kind: GearKind::External,
            teeth: self.input.planet_teeth,
            shift: self.shifts.planet,
            tip_alteration: 0.0,
            thickness_allowance: self.external_allowance(),
            left_hand: self.input.helix_angle > 0.0,
            working_pitch_diameter: self.sun_pair.pitch_diameters(a)[1],
            ring_fillet_radius: 0.0,
        };
        let most_tip = (a - sun_root).min(self.ring_root() - a) - self.clearance();
        self.external_gear(Member::Planet, spec, most_tip)
    }

    /// Shortens the tip to `most_tip` radius, and further to keep it thick enough.
    fn external_gear(&self, member: Member, spec: GearSpec, most_tip: f64) -> Result<Gear, StageFault> {
        let module = self.module();
        let reference = 0.5 * self.system.reference_diameter(spec.teeth);
        let nominal_tip = reference + (self.system.rack.addendum + spec.shift) * module;
        let with_tip = |tip: f64| {
            Gear::new(self.system, GearSpec { tip_alteration: (tip - nominal_tip) / module, ..spec })
        };
        let tip = most_tip.min(nominal_tip);
        // Rounding alone must not show up as a tip alteration.
        let tip = if nominal_tip - tip < 1e-10 * module { nominal_tip } else { tip };
        let gear = with_tip(tip);
        let least = LEAST_TIP_THICKNESS * module;
        if gear.tip_thickness >= least {
            return self.with_flank(member, gear);
        }
        let lowest = tip - MOST_TIP_SHORTENING * module;
        if gear.normal_thickness_at(lowest) < least {
            return Err(self.pointed_tooth(member, &gear, tip - nominal_tip));
        }
        let thick_tip = bisect(lowest, tip, |radius| gear.normal_thickness_at(radius) >= least);
        self.with_flank(member, with_tip(thick_tip))
    }

    fn with_flank(&self, member: Member, gear: Gear) -> Result<Gear, StageFault> {
        let outwards = if gear.kind == GearKind::External { 1.0 } else { -1.0 };
        let height = 0.5 * outwards * (gear.tip_diameter - gear.form_diameter);
        if height >= LEAST_FLANK * self.module() {
            return Ok(gear);
        }
        Err(StageFault::NoFlank {
            member,
            shift: gear.shift,
            tip_diameter: gear.tip_diameter,
            form_diameter: gear.form_diameter,
        })
    }

    fn pointed_tooth(&self, member: Member, gear: &Gear, shortening: f64) -> StageFault {
        let least = LEAST_TIP_THICKNESS * self.module();
        let thick_enough = |shift: f64| {
            let spec = GearSpec {
                kind: GearKind::External,
                teeth: gear.teeth,
                shift,
                tip_alteration: shortening / self.module() - MOST_TIP_SHORTENING,
                thickness_allowance: gear.thickness_allowance,
                left_hand: false,
                working_pitch_diameter: gear.working_pitch_diameter,
                ring_fillet_radius: 0.0,
            };
            Gear::new(self.system, spec).tip_thickness >= least
        };
        let lowest = self.system.least_shift(gear.teeth).max(-1.0);
        StageFault::PointedTooth {
            member,
            shift: gear.shift,
            tip_thickness: gear.tip_thickness,
            least,
            most_shift: thick_enough(lowest).then(|| bisect(lowest, gear.shift, thick_enough)),
        }
    }

    fn ring(&self, planet: &Gear) -> Result<Gear, StageFault> {
        let module = self.module();
        let a = self.shifts.centre_distance;
        let line_of_action = a * libm::sin(self.ring_angle);
        let reference = 0.5 * self.system.reference_diameter(self.input.ring_teeth);
        let base = reference * libm::cos(self.system.transverse_pressure_angle);
        let nominal_tip = reference - (self.system.rack.addendum - self.shifts.ring) * module;
        let planet_root = self.external_root(self.input.planet_teeth, self.shifts.planet);
        let last_contact = planet.along_tangent(planet.form_diameter) + CONTACT_ABOVE_FILLET * module;
        let contact_end = libm::hypot(base, line_of_action + last_contact);
        let tip = nominal_tip.max(a + planet_root + self.clearance()).max(contact_end);
        let tip = if tip - nominal_tip < 1e-10 * module { nominal_tip } else { tip };
        let mut spec = GearSpec {
            kind: GearKind::Internal,
            teeth: self.input.ring_teeth,
            shift: self.shifts.ring,
            tip_alteration: (nominal_tip - tip) / module,
            thickness_allowance: self.ring_allowance(),
            left_hand: self.input.helix_angle > 0.0,
            working_pitch_diameter: self.ring_pair.pitch_diameters(a)[1],
            ring_fillet_radius: 0.0,
        };
        let sharp = Gear::new(self.system, spec);
        let turn_to_contact = self.input.backlash / spec.working_pitch_diameter;
        let in_ring =
            PlanetInRing { planet, ring: &sharp, centre_distance: a, line_of_action, turn_to_contact };
        spec.ring_fillet_radius = in_ring.largest_fillet();
        let least_fillet = LEAST_RING_FILLET * module;
        if spec.ring_fillet_radius < least_fillet {
            return Err(StageFault::RingRootClosed {
                ring_shift: self.shifts.ring,
                fillet_radius: spec.ring_fillet_radius,
                least: least_fillet,
            });
        }
        let ring = Gear::new(self.system, spec);
        let least = LEAST_TIP_THICKNESS * module;
        if ring.tip_thickness < least {
            return Err(StageFault::PointedTooth {
                member: Member::Ring,
                shift: ring.shift,
                tip_thickness: ring.tip_thickness,
                least,
                most_shift: None,
            });
        }
        self.with_flank(Member::Ring, ring)
    }
}
