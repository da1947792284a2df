//! The planetary stage: sun in, carrier out, ring fixed.
//!
//! # Backlash
//! The asked backlash is circumferential, transverse, at the working pitch circle, and holds for each mesh at nominal
//! centre distance. Sun and planet each give half of it off their tooth thickness; in the planet's other mesh its own
//! thinning (scaled to that pitch circle) counts, and the ring gives the rest. So both meshes end with the asked value.
//!
//! # Tips
//! Nominal tips are the rack's. They are shortened, never lengthened, where needed: sun and planet to keep the rack's
//! tip clearance at the common centre distance, and to keep the tip 0.2 modules thick; the ring to keep that clearance
//! and to end its contact on the planet's involute, clear of the planet's fillet (a ring's tip reaches deeper than the
//! rack's).

use std::f64::consts::PI;

use super::assembly::{LEAST_PLANETS, MOST_PLANETS, is_assemblable, nearest_assemblable, other_planet_count};
use super::fault::{Member, StageFault};
use super::fillet::bisect;
use super::gear::{Gear, GearKind, GearSpec};
use super::pair::{InternalInterferences, Mesh, MeshKind, Pair};
use super::rack::{Rack, ToothSystem};
use super::ring_fillet::PlanetInRing;
use super::shifts::{NoShifts, ShiftProblem, Shifts, automatic_least_shift};
use crate::design::Shift;

/// Least thickness of a tooth tip in modules: common handbook practice (0.2 for tough, 0.4 for hardened teeth).
pub const LEAST_TIP_THICKNESS: f64 = 0.2;

/// A tip is shortened for its thickness by at most this many modules; beyond, the contact ratio goes with it.
const MOST_TIP_SHORTENING: f64 = 0.25;

/// Least gap between neighbouring planets.
pub const LEAST_PLANET_GAP: f64 = 0.5;

/// Undercut is tolerated down to the practical limit of 14 instead of 17 teeth at 20 degrees, 3/17 in shift: handbook
/// practice, from memory.
const TOLERATED_UNDERCUT: f64 = 3.0 / 17.0;

const LEAST_TEETH: u32 = 5;
const MOST_EXTERNAL_TEETH: u32 = 300;
const MOST_RING_TEETH: u32 = 600;

/// Working pressure angles outside this range mean that shifts were stretched past use.
const WORKING_ANGLES: [f64; 2] = [10.0_f64.to_radians(), 40.0_f64.to_radians()];

/// What a stage is made from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageInput {
    pub sun_teeth: u32,
    pub planet_teeth: u32,
    pub ring_teeth: u32,
    pub planets: u32,
    pub rack: Rack,
    /// \[mm\]
    pub normal_module: f64,
    /// Of the sun \[rad\], right hand positive; the planets and the ring have the other hand.
    pub helix_angle: f64,
    /// Common width of the teeth in mesh \[mm\].
    pub face_width: f64,
    /// Of each mesh, circumferential and transverse at the working pitch circle \[mm\].
    pub backlash: f64,
    pub sun_shift: Shift,
    pub planet_shift: Shift,
    pub ring_shift: Shift,
}

/// A stage whose gears mesh.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stage {
    pub planets: u32,
    /// Input (sun) over output (carrier) speed with the ring fixed: `1 + zr / zs`.
    pub ratio: f64,
    pub centre_distance: f64,
    pub face_width: f64,
    /// Of each mesh, circumferential at the working pitch circle.
    pub backlash: f64,
    pub transverse_module: f64,
    pub transverse_pressure_angle: f64,
    pub base_helix_angle: f64,
    pub working_pressure_angle_sun: f64,
    pub working_pressure_angle_ring: f64,
    /// Transverse, sun and planet.
    pub contact_ratio_sun: f64,
    /// Transverse, planet and ring.
    pub contact_ratio_ring: f64,
    pub overlap_ratio: f64,
    /// Between neighbouring planets' tips: `2 a sin(pi / n) - da`.
    pub planet_gap: f64,
    pub sun: Gear,
    pub planet: Gear,
    pub ring: Gear,
    pub sun_mesh: Mesh,
    pub ring_mesh: Mesh,
    /// Of planet and ring.
    pub interferences: InternalInterferences,
    /// Play of the carrier with sun and ring held \[rad\]: `(js rp2 + jr rp1) / (a (rp1 + rp2))`, rp1 and rp2 the
    /// planet's pitch radii in the two meshes; with equal play j in both that is `j / a`.
    pub output_backlash: f64,
}

impl Stage {
    /// # Errors
    /// Everything that is wrong, at once, as far as it can be told apart.
    pub fn solve(input: &StageInput) -> Result<Stage, Vec<StageFault>> {
        let mut faults = input_faults(input);
        // Geometry cannot be computed from such numbers; counts that do not assemble leave it computable.
        let computable = faults.is_empty();
        faults.extend(assembly_fault(input));
        if !computable {
            return Err(faults);
        }
        let system = ToothSystem::new(input.rack, input.normal_module, input.helix_angle);
        let layout = match StageLayout::of(input, &system) {
            Ok(layout) => layout,
            Err(fault) => {
                faults.push(fault);
                return Err(faults);
            }
        };
        faults.extend(layout.undercut_faults());
        let stage = match layout.build() {
            Ok(stage) => stage,
            Err(pointed) => {
                faults.extend(pointed);
                return Err(faults);
            }
        };
        faults.extend(stage.running_faults());
        if faults.is_empty() { Ok(stage) } else { Err(faults) }
    }

    fn running_faults(&self) -> Vec<StageFault> {
        let mut faults = Vec::new();
        if self.planet_gap < LEAST_PLANET_GAP {
            faults.push(self.planets_touch());
        }
        for (with, transverse) in
            [(Member::Sun, self.contact_ratio_sun), (Member::Ring, self.contact_ratio_ring)]
        {
            if transverse + self.overlap_ratio < 1.0 {
                faults.push(StageFault::ContactBroken { with, transverse, overlap: self.overlap_ratio });
            }
        }
        faults
    }

    fn planets_touch(&self) -> StageFault {
        let teeth = [self.sun.teeth, self.planet.teeth, self.ring.teeth];
        let fits = |count: &u32| {
            is_assemblable(teeth, *count)
                && planet_gap(self.centre_distance, *count, self.planet.tip_diameter) >= LEAST_PLANET_GAP
        };
        let sun = f64::from(self.sun.teeth);
        // zp + 2 + gap/mt <= (zs + zp) sin(pi/n), ratio = 2 + 2 zp / zs.
        let sine = libm::sin(PI / f64::from(self.planets));
        let room = sun * sine - 2.0 - LEAST_PLANET_GAP / self.transverse_module;
        let most_planet_teeth = (room / (1.0 - sine)).floor().max(0.0);
        StageFault::PlanetsTouch {
            gap: self.planet_gap,
            least: LEAST_PLANET_GAP,
            planets: self.planets,
            fewer: (LEAST_PLANETS..self.planets).rev().find(fits),
            highest_ratio: 2.0 + 2.0 * most_planet_teeth / sun,
        }
    }
}

fn planet_gap(centre_distance: f64, planets: u32, tip_diameter: f64) -> f64 {
    2.0 * centre_distance * libm::sin(PI / f64::from(planets)) - tip_diameter
}

fn assembly_fault(input: &StageInput) -> Option<StageFault> {
    let teeth = [input.sun_teeth, input.planet_teeth, input.ring_teeth];
    let counted = (LEAST_PLANETS..=MOST_PLANETS).contains(&input.planets);
    (counted && !is_assemblable(teeth, input.planets)).then(|| StageFault::NotAssemblable {
        teeth,
        planets: input.planets,
        nearest: nearest_assemblable(teeth, input.planets, LEAST_TEETH),
        other_planets: other_planet_count(teeth, input.planets),
    })
}

/// Numbers from which no geometry can be computed.
fn input_faults(input: &StageInput) -> Vec<StageFault> {
    let mut faults = Vec::new();
    // A ring must be wider than the planet and the sun inside it.
    let least_ring = input.planet_teeth.saturating_add(LEAST_TEETH).min(MOST_RING_TEETH);
    for (member, teeth, least, most) in [
        (Member::Sun, input.sun_teeth, LEAST_TEETH, MOST_EXTERNAL_TEETH),
        (Member::Planet, input.planet_teeth, LEAST_TEETH, MOST_EXTERNAL_TEETH),
        (Member::Ring, input.ring_teeth, least_ring, MOST_RING_TEETH),
    ] {
        if !(least..=most).contains(&teeth) {
            faults.push(StageFault::TeethOutOfRange { member, teeth, least, most });
        }
    }
    if !(LEAST_PLANETS..=MOST_PLANETS).contains(&input.planets) {
        faults.push(StageFault::PlanetsOutOfRange {
            planets: input.planets,
            least: LEAST_PLANETS,
            most: MOST_PLANETS,
        });
    }
    faults.extend(quantity_faults(input));
    faults.extend(rack_faults(&input.rack));
    faults
}

fn quantity_faults(input: &StageInput) -> Vec<StageFault> {
    // Backlash thins the teeth; beyond this they would be mostly air.
    let most_backlash = 0.3 * input.normal_module;
    let mut quantities = vec![
        ("normal module", "mm", input.normal_module, 0.1, 20.0),
        ("face width", "mm", input.face_width, 0.1, 500.0),
    ];
    if most_backlash.is_finite() && most_backlash > 0.0 {
        quantities.push(("backlash", "mm", input.backlash, 0.0, most_backlash));
    }
    for (name, shift) in [
        ("sun shift", input.sun_shift),
        ("planet shift", input.planet_shift),
        ("ring shift", input.ring_shift),
    ] {
        if let Shift::Fixed(value) = shift {
            quantities.push((name, "", value, -1.5, 1.5));
        }
    }
    let mut faults = out_of_range(&quantities);
    let most_helix = 45f64.to_radians();
    for (name, found, least, most) in [
        ("helix angle", input.helix_angle, -most_helix, most_helix),
        ("pressure angle", input.rack.pressure_angle, 14f64.to_radians(), 30f64.to_radians()),
    ] {
        if !(least..=most).contains(&found) {
            faults.push(StageFault::AngleOutOfRange { name, found, least, most });
        }
    }
    faults
}

fn rack_faults(rack: &Rack) -> Vec<StageFault> {
    let mut faults = out_of_range(&[
        ("rack addendum", "", rack.addendum, 0.5, 1.5),
        ("rack dedendum", "", rack.dedendum, rack.addendum + 0.05, 2.0),
        ("rack fillet", "", rack.fillet, 0.05, 0.6),
    ]);
    if !faults.is_empty() {
        return faults;
    }
    if rack.half_land() < 0.0 {
        let sine = libm::sin(rack.pressure_angle);
        let cosine = libm::cos(rack.pressure_angle);
        let most = (PI / 4.0 * cosine - rack.dedendum * sine) / (1.0 - sine);
        faults.push(StageFault::FilletTooLarge { fillet: rack.fillet, most: most.max(0.0) });
    }
    // ISO 53 A itself is short of its addendum by 3e-5.
    const SHORT_FLANK: f64 = 1e-3;
    if rack.form_dedendum() < rack.addendum - SHORT_FLANK {
        faults
            .push(StageFault::FilletInFlank { form_dedendum: rack.form_dedendum(), addendum: rack.addendum });
    }
    faults
}

fn out_of_range(quantities: &[(&'static str, &'static str, f64, f64, f64)]) -> Vec<StageFault> {
    quantities
        .iter()
        .filter(|(_, _, found, least, most)| !(*least..=*most).contains(found))
        .map(|&(name, unit, found, least, most)| StageFault::QuantityOutOfRange {
            name,
            unit,
            found,
            least,
            most,
        })
        .collect()
}

/// Shifts and centre distance are known; the gears are not made yet.
struct StageLayout<'a> {
    input: &'a StageInput,
    system: &'a ToothSystem,
    sun_pair: Pair<'a>,
    ring_pair: Pair<'a>,
    shifts: Shifts,
    sun_angle: f64,
    ring_angle: f64,
}

impl<'a> StageLayout<'a> {
    fn of(input: &'a StageInput, system: &'a ToothSystem) -> Result<StageLayout<'a>, StageFault> {
        let teeth = [input.sun_teeth, input.planet_teeth, input.ring_teeth];
        let problem = ShiftProblem::new(system, teeth);
        let (sun_pair, ring_pair) = (problem.sun_mesh, problem.ring_mesh);
        let out_of_reach = || StageFault::NoCommonCentreDistance {
            teeth,
            sun_mesh: sun_pair.reference_centre_distance(),
            ring_mesh: ring_pair.reference_centre_distance(),
        };
        let shifts =
            problem.solve(input.sun_shift, input.planet_shift, input.ring_shift).map_err(|reason| {
                match reason {
                    NoShifts::OutOfReach => out_of_reach(),
                    NoShifts::Disagree { sun_mesh, ring_mesh, ring_shift } => {
                        StageFault::ShiftsDisagree { sun_mesh, ring_mesh, ring_shift }
                    }
                }
            })?;
        let usable = |pair: &Pair| {
            let [least, most] = WORKING_ANGLES;
            pair.working_pressure_angle(shifts.centre_distance)
                .filter(|angle| (least..=most).contains(angle))
                .ok_or_else(out_of_reach)
        };
        let (sun_angle, ring_angle) = (usable(&sun_pair)?, usable(&ring_pair)?);
        Ok(StageLayout { input, system, sun_pair, ring_pair, shifts, sun_angle, ring_angle })
    }

    fn undercut_faults(&self) -> Vec<StageFault> {
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

    fn build(&self) -> Result<Stage, Vec<StageFault>> {
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
        let input = self.input;
        Ok(Stage {
            planets: input.planets,
            ratio: 1.0 + f64::from(input.ring_teeth) / f64::from(input.sun_teeth),
            centre_distance: a,
            face_width: input.face_width,
            backlash: input.backlash,
            transverse_module: self.system.transverse_module,
            transverse_pressure_angle: self.system.transverse_pressure_angle,
            base_helix_angle: self.system.base_helix_angle,
            working_pressure_angle_sun: self.sun_angle,
            working_pressure_angle_ring: self.ring_angle,
            contact_ratio_sun: sun_mesh.contact_ratio,
            contact_ratio_ring: ring_mesh.contact_ratio,
            overlap_ratio: input.face_width * libm::sin(self.system.helix_angle) / (PI * input.normal_module),
            planet_gap: planet_gap(a, input.planets, planet.tip_diameter),
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
        let tip = if nominal_tip - tip < 1e-9 * module { nominal_tip } else { tip };
        let gear = with_tip(tip);
        let least = LEAST_TIP_THICKNESS * module;
        if gear.tip_thickness >= least {
            return Ok(gear);
        }
        let lowest = tip - MOST_TIP_SHORTENING * module;
        if gear.normal_thickness_at(lowest) < least {
            return Err(self.pointed_tooth(member, &gear, tip - nominal_tip));
        }
        Ok(with_tip(bisect(lowest, tip, |radius| gear.normal_thickness_at(radius) >= least)))
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
        let contact_end = libm::hypot(base, line_of_action + planet.along_tangent(planet.form_diameter));
        let tip = nominal_tip.max(a + planet_root + self.clearance()).max(contact_end);
        let tip = if tip - nominal_tip < 1e-9 * module { nominal_tip } else { tip };
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
        Ok(ring)
    }
}
