//! Torsional stiffness of the planetary stage at the output, the rotor held: springs in a row from carrier to rotor.
//!
//! Each part's share is its work under a torque T at the output, so `1/K = sum (F / T)^2 / k` over all parts, F the force
//! on a part and k its own stiffness (Castigliano). The planets share the torque equally:
//! - a mesh: `F = T / (n (rbs + rbr))` along the line of action, the same at sun and ring (balance of the planet);
//! - a pin: `F = T / (n a)`, halved between its two ends;
//! - the back plate and the pillars carry the pins' back halves, T / 2, and turn the pins' middles by half their own turn;
//! - the carrier plate outside its shoulder, the hub, the sun's shaft: torsion in closed form.
//!
//! Estimates, each an assumption without a source: plastic around a pin or bearing yields like a bed of stiffness E a
//! millimetre and millimetre of depth ([`HOLE_BED`]), with [`HOLE_BAND`]; printed plastic is as stiff as its modulus, with
//! the band of plastics. Pins count as beams on two supports at the holes' mouths, shear included; pillars as clamped at
//! both ends, their screws left out; ball bearings by Palmgren's `4.36e-4 (Q^2 / Dw)^(1/3)` mm with `Q = 5 F / Z` (from
//! memory), without their clearance.
//!
//! Not covered: output bearing, clamp ring and link, ring in its housing, base, play of any kind, creep.

use std::f64::consts::PI;

use super::mesh_stiffness::{MeshStiffness, PLASTIC_BAND, StiffnessInput};
use crate::gears::Stage;

/// Bed stiffness of the plastic around a pin, per depth, in moduli. Assumed.
pub const HOLE_BED: f64 = 1.0;
/// Factors on it.
pub const HOLE_BAND: [f64; 2] = [0.3, 2.0];
/// G = E / (2 (1 + nu)), nu 0.35 of plastics and 0.3 of steel: within 4 % of each other.
const SHEAR_RATIO: f64 = 2.0 * 1.33;
/// Cowper's shear coefficient of a round section, about; from memory.
const ROUND_SHEAR: f64 = 0.886;
const STEEL_MODULUS: f64 = 206_000.0;

/// Moduli \[MPa\] of the bodies that yield.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moduli {
    pub sun: f64,
    pub planet: f64,
    pub ring: f64,
    pub carrier: f64,
    pub back_plate: f64,
}

/// Sizes that the teeth do not give; lengths mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bodies {
    pub moduli: Moduli,
    pub pin_diameter: f64,
    /// Free length between the carrier plate and the back plate.
    pub pin_span: f64,
    pub pin_depths: [f64; 2],
    /// Between the middles of a planet's two bearings; of a bush, half its length.
    pub bearing_spread: f64,
    /// Bore and outside of each of the two ball bearings; none for a bush.
    pub bearing: Option<[f64; 2]>,
    /// Of all bearings of a planet, or the bush, in the planet.
    pub seat_width: f64,
    pub pillar_radius: f64,
    pub pillar_bore: f64,
    pub pillar_distance: f64,
    pub pillar_length: f64,
    pub plate_thickness: f64,
    pub back_plate_thickness: f64,
    /// Diameter at which the plate meets the hub.
    pub shoulder_diameter: f64,
    pub hub_diameter: f64,
    pub hub_bore: f64,
    pub hub_length: f64,
    pub sun_bore: f64,
    /// From the middle of the face to where the rotor holds the sun.
    pub sun_shaft: f64,
}

/// A part that yields.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Part {
    SunMesh,
    RingMesh,
    PlanetBearings,
    BearingSeats,
    Pins,
    PinHoles,
    Pillars,
    BackPlate,
    CarrierPlate,
    Hub,
    SunShaft,
}

impl Part {
    pub const fn name(self) -> &'static str {
        match self {
            Part::SunMesh => "teeth of sun and planets",
            Part::RingMesh => "teeth of planets and ring",
            Part::PlanetBearings => "planet bearings",
            Part::BearingSeats => "bearing seats in the planets",
            Part::Pins => "bending of the pins",
            Part::PinHoles => "pin holes in the carrier",
            Part::Pillars => "pillars",
            Part::BackPlate => "carrier back plate",
            Part::CarrierPlate => "carrier plate",
            Part::Hub => "output hub",
            Part::SunShaft => "shaft of the sun",
        }
    }
}

/// What one part adds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Share {
    pub part: Part,
    /// Turn of the output per torque \[rad/(N m)\].
    pub compliance: f64,
    /// Factors on the part's stiffness.
    pub band: [f64; 2],
}

pub const PARTS: usize = 11;

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageStiffness {
    pub shares: [Share; PARTS],
    ratio: f64,
}

impl StageStiffness {
    /// At the output torque `torque` \[N m\], on which teeth and bearings depend a little. None where the mesh stiffness
    /// is out of its range or a size is missing.
    pub fn of(stage: &Stage, bodies: &Bodies, torque: f64) -> Option<StageStiffness> {
        let moduli = &bodies.moduli;
        let planets = f64::from(stage.planets.max(1));
        let base_radii = 0.5 * (stage.sun.base_diameter + stage.ring.base_diameter);
        let lever = stage.centre_distance;
        let torque_mm = torque.abs() * 1e3;
        let line_load = torque_mm / (planets * base_radii) / stage.face_width;
        let mesh = |gears, contact_ratio, moduli| {
            let full = MeshStiffness::of(&StiffnessInput::of(gears, contact_ratio, moduli))?;
            // No load at all would leave no stiffness: the least is that of a hundredth of the full line load.
            let least = full.modulus / STEEL_MODULUS;
            Some(full.under(line_load.max(least)))
        };
        let at_sun = mesh([&stage.sun, &stage.planet], stage.contact_ratio_sun, [moduli.sun, moduli.planet])?;
        let at_ring =
            mesh([&stage.planet, &stage.ring], stage.contact_ratio_ring, [moduli.planet, moduli.ring])?;
        let teeth = |mesh: &MeshStiffness| {
            1.0 / (planets * mesh.along_action(stage.face_width) * base_radii * base_radii)
        };
        let on_pins = |compliance: f64| compliance / (planets * lever * lever);
        let pin_force = torque_mm / (planets * lever);
        let plastic = PLASTIC_BAND;
        let share = |part, compliance: f64, band| Share { part, compliance: compliance * 1e3, band };
        let shares = [
            share(Part::SunMesh, teeth(&at_sun), at_sun.band),
            share(Part::RingMesh, teeth(&at_ring), at_ring.band),
            share(Part::PlanetBearings, on_pins(bodies.bearing_compliance(pin_force)), [0.5, 1.5]),
            share(Part::BearingSeats, on_pins(bodies.seat_compliance()), HOLE_BAND),
            share(Part::Pins, on_pins(bodies.pin_compliance()), [0.7, 1.5]),
            share(Part::PinHoles, on_pins(bodies.hole_compliance()), HOLE_BAND),
            share(Part::Pillars, bodies.pillar_compliance(planets) / 4.0, plastic),
            share(Part::BackPlate, bodies.back_plate_compliance(lever) / 4.0, plastic),
            share(Part::CarrierPlate, bodies.plate_compliance(lever), plastic),
            share(Part::Hub, bodies.hub_compliance(), plastic),
            share(Part::SunShaft, bodies.shaft_compliance(stage) / (stage.ratio * stage.ratio), [0.7, 1.3]),
        ];
        let good = shares.iter().all(|share| share.compliance.is_finite() && share.compliance >= 0.0);
        good.then_some(StageStiffness { shares, ratio: stage.ratio })
    }

    /// At the output, the rotor held \[N m/rad\].
    pub fn output(&self) -> f64 {
        1.0 / self.shares.iter().map(|share| share.compliance).sum::<f64>()
    }

    /// At the sun, the output held \[N m/rad\].
    pub fn motor(&self) -> f64 {
        self.output() / (self.ratio * self.ratio)
    }

    /// Lowest and highest at the output \[N m/rad\]: every part at the same end of its band.
    pub fn band(&self) -> [f64; 2] {
        [0, 1]
            .map(|end| 1.0 / self.shares.iter().map(|share| share.compliance / share.band[end]).sum::<f64>())
    }

    /// The part that yields most, and its part of all that yields, 0 to 1.
    pub fn weakest(&self) -> (Part, f64) {
        let most = |a: Share, b: Share| if b.compliance > a.compliance { b } else { a };
        let weakest = self.shares.iter().copied().fold(self.shares[0], most);
        (weakest.part, weakest.compliance * self.output())
    }
}

/// Compliances of one pin and what is on it \[mm/N\], of the carrier's bodies \[rad/(N mm)\].
impl Bodies {
    /// Two springs at a pin's ends, half the force on each: its middle gives the mean of both.
    fn hole_compliance(&self) -> f64 {
        let [front, back] = self.pin_depths;
        let bed = |modulus: f64, depth: f64| 1.0 / (HOLE_BED * modulus * depth);
        0.25 * (bed(self.moduli.carrier, front) + bed(self.moduli.back_plate, back))
    }

    fn seat_compliance(&self) -> f64 {
        1.0 / (HOLE_BED * self.moduli.planet * self.seat_width)
    }

    /// Secant at the pin's force; two bearings side by side.
    fn bearing_compliance(&self, pin_force: f64) -> f64 {
        let Some([bore, outer]) = self.bearing else { return 0.0 };
        // Balls of 0.3 of the section's height, filled over 195 degrees: the usual Conrad bearing, from memory.
        let ball = 0.3 * (outer - bore);
        let balls = 1.0 + (195.0 / 360.0) * PI * 0.5 * (outer + bore) / ball;
        // A bearing without load has no secant; a newton is less than any joint's.
        let force = (0.5 * pin_force).max(1.0);
        let on_ball = 5.0 * force / balls;
        0.5 * 4.36e-4 * libm::cbrt(on_ball * on_ball / ball) / force
    }

    /// Beam on two supports with half the force at each bearing, `c` from the supports: `F c^2 (3 l - 4 c) / (12 E I)`, and
    /// shear over `c`.
    fn pin_compliance(&self) -> f64 {
        let area = PI / 4.0 * self.pin_diameter * self.pin_diameter;
        let second_moment = area * self.pin_diameter * self.pin_diameter / 16.0;
        let from_support = (0.5 * (self.pin_span - self.bearing_spread)).max(0.0);
        let bending = from_support * from_support * (3.0 * self.pin_span - 4.0 * from_support)
            / (12.0 * STEEL_MODULUS * second_moment);
        let shear = 0.5 * from_support * SHEAR_RATIO / (ROUND_SHEAR * STEEL_MODULUS * area);
        bending + shear
    }

    /// Pillars between two plates that turn against each other: `l^3 / (12 E I)` each, and shear.
    fn pillar_compliance(&self, pillars: f64) -> f64 {
        let (outer, inner) =
            (self.pillar_radius * self.pillar_radius, 0.25 * self.pillar_bore * self.pillar_bore);
        let area = PI * (outer - inner);
        let second_moment = area * (outer + inner) / 4.0;
        let length = self.pillar_length;
        let modulus = self.moduli.back_plate;
        let one = length * length * length / (12.0 * modulus * second_moment)
            + length * SHEAR_RATIO / (ROUND_SHEAR * modulus * area);
        one / (pillars * self.pillar_distance * self.pillar_distance)
    }

    fn back_plate_compliance(&self, pin_circle: f64) -> f64 {
        disc_compliance(self.moduli.back_plate, self.back_plate_thickness, [self.pillar_distance, pin_circle])
    }

    fn plate_compliance(&self, pin_circle: f64) -> f64 {
        let shoulder = 0.5 * self.shoulder_diameter;
        disc_compliance(self.moduli.carrier, self.plate_thickness, [shoulder.min(pin_circle), pin_circle])
    }

    fn hub_compliance(&self) -> f64 {
        shaft_compliance(self.moduli.carrier, self.hub_length, [self.hub_diameter, self.hub_bore])
    }

    /// Of the sun, at the sun.
    fn shaft_compliance(&self, stage: &Stage) -> f64 {
        shaft_compliance(self.moduli.sun, self.sun_shaft, [stage.sun.root_diameter, self.sun_bore])
    }
}

/// Turn between two circles of a flat disc under a torque in its plane: `|1/r1^2 - 1/r2^2| / (4 pi G t)`.
fn disc_compliance(modulus: f64, thickness: f64, [first, second]: [f64; 2]) -> f64 {
    let squares = (1.0 / (first * first) - 1.0 / (second * second)).abs();
    squares * SHEAR_RATIO / (4.0 * PI * modulus * thickness)
}

/// `32 l / (pi G (D^4 - d^4))`.
fn shaft_compliance(modulus: f64, length: f64, [outer, bore]: [f64; 2]) -> f64 {
    let fourth = |diameter: f64| diameter * diameter * diameter * diameter;
    32.0 * length * SHEAR_RATIO / (PI * modulus * (fourth(outer) - fourth(bore)))
}
