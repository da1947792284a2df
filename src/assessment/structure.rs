//! Planet pins and the printed bodies that carry the load from planets to lever and from motor to base, at peak.
//!
//! Forces N, couples N mm inside, stresses MPa. Strengths of prints are estimates, band 0.6 to 1.4 of the value. Poisson's ratio of
//! prints 0.38 (from memory).

use std::f64::consts::PI;

use crate::assessment::joint_loads::{joint_load, peak_radial};
use crate::assessment::joints::lasting;
use crate::design::PartName;
use crate::layout::{Actuator, PIN_WALL, PlanetSeat, SunJoint};
use crate::ratings::gear_forces::GearForces;
use crate::ratings::heat::{self, Node, Temperatures};
use crate::ratings::joint::circular_plate::{CircularPlate, Rim};
use crate::ratings::joint::head_pressure::warm_strength;
use crate::ratings::joint::pin;
use crate::ratings::joint::press_fit::{Body, PressFit};
use crate::ratings::joint::thin_ring::ThinRing;
use crate::ratings::joint::thread_strip::SHEAR_SHARE;
use crate::tables::pin_of;

const PRINT_POISSON: f64 = 0.38;
const STEEL: Body = Body { modulus: 206_000.0, poisson: 0.3 };
/// Shear strength of hardened dowel pins \[MPa\]: the printed double-shear loads of ASME B18.8.5M over two sections. Taken for
/// bending too, where steel bears more.
pub const PIN_STRENGTH: f64 = 1047.0;
/// By which a printed hole comes out smaller than drawn, at most (common practice, no source).
const HOLE_SHRINK: f64 = 0.1;

/// A planet's pin, most loaded planet.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PlanetPin {
    /// On the pin, across.
    pub force: f64,
    /// Of the helix, tilts the planet \[N m\].
    pub couple: f64,
    /// Between the middles of its two holes.
    pub span: f64,
    /// With free ends, the safe side.
    pub bending: f64,
    /// With clamped ends, load in the middle, without the couple: the other bound.
    pub bending_clamped: f64,
    /// Greatest over the section.
    pub shear: f64,
    /// Of bending and shear (principal stress).
    pub stress: f64,
    /// On the holes in carrier and back plate.
    pub pressures: [f64; 2],
    /// Strength of these prints, warm; none above their service temperature.
    pub allowed: [Option<f64>; 2],
    /// Tension around the pressed end with the tightest hole, and the print's strength there.
    pub press_hoop: Option<[f64; 2]>,
}

/// A printed body under its load.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Member {
    pub name: &'static str,
    pub part: PartName,
    pub load: &'static str,
    /// Equivalent stress.
    pub stress: f64,
    /// None above the service temperature.
    pub allowed: Option<f64>,
    /// mm
    pub deflection: Option<f64>,
}

impl Member {
    /// Allowed over stress; none without either.
    pub fn ratio(&self) -> Option<f64> {
        self.allowed.filter(|_| self.stress > 0.0).map(|allowed| allowed / self.stress)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub struct Structure {
    pub pin: PlanetPin,
    pub members: Vec<Member>,
}

/// Where what stands, with the temperatures that last.
struct Frame<'a> {
    actuator: &'a Actuator,
    forces: GearForces,
    temperatures: Temperatures,
}

impl Structure {
    /// `mass` of the whole actuator \[kg\].
    pub fn of(actuator: &Actuator, heat: Option<&heat::Rating>, mass: f64) -> Structure {
        let frame = Frame {
            actuator,
            forces: GearForces::of(&actuator.stage, actuator.torques.sun),
            temperatures: lasting(actuator, heat),
        };
        let pin = frame.pin();
        let members = [
            Some(frame.mount(mass)),
            frame.back_plate(&pin),
            Some(frame.hub()),
            frame.flange(),
            Some(frame.adapter_boss()),
            frame.lobes(),
        ];
        Structure { pin, members: members.into_iter().flatten().collect() }
    }
}

impl Frame<'_> {
    /// Strength of a part in its layers, warm.
    fn allowed(&self, part: PartName, node: Node) -> Option<f64> {
        let material = &self.actuator.design.settings(part).material;
        warm_strength(
            material.strength_in_plane,
            self.temperatures[node as usize],
            material.service_temperature,
        )
    }

    /// Across its layers.
    fn allowed_across(&self, part: PartName, node: Node) -> Option<f64> {
        let material = &self.actuator.design.settings(part).material;
        warm_strength(
            material.strength_across,
            self.temperatures[node as usize],
            material.service_temperature,
        )
    }

    fn modulus(&self, part: PartName) -> f64 {
        self.actuator.design.settings(part).material.modulus
    }

    fn pin(&self) -> PlanetPin {
        let planet = &self.actuator.planet;
        let (diameter, depths) =
            (planet.pin_diameter, [planet.pin_depth_carrier, planet.pin_depth_back_plate]);
        let free = planet.pin_length - depths[0] - depths[1];
        let span = free + (depths[0] + depths[1]) / 2.0;
        let (force, couple) = (self.forces.pin, self.forces.planet_couple * 1e3);
        let (straight, tilting) = match &planet.turns_on {
            PlanetSeat::Bearings { spread, .. } => {
                (pin::moment_two_loads(force, span, *spread), pin::moment_couple(couple, span, *spread))
            }
            // A bush presses over its whole length; its couple like two forces at two thirds of it (a triangle each way).
            PlanetSeat::Bush(_) => {
                let width = self.actuator.stage.face_width;
                (pin::moment_free(force, span, width), pin::moment_couple(couple, span, 2.0 / 3.0 * width))
            }
        };
        // The couple tilts along the radius, the force bends along the circle.
        let bending = pin::bending_stress(libm::hypot(straight, tilting), diameter);
        let end_force = libm::hypot(force / 2.0, couple / span);
        let shear = pin::greatest_shear(2.0 * end_force, diameter);
        PlanetPin {
            force,
            couple: couple * 1e-3,
            span,
            bending,
            bending_clamped: pin::bending_stress(pin::moment_clamped(force, span), diameter),
            shear,
            stress: pin::principal(bending, shear),
            pressures: depths.map(|depth| pin::bearing_pressure(end_force, diameter, depth)),
            allowed: [PartName::OutputCarrier, PartName::CarrierBackPlate]
                .map(|part| self.allowed(part, Node::Air)),
            press_hoop: self.press_hoop(),
        }
    }

    fn press_hoop(&self) -> Option<[f64; 2]> {
        let diameter = self.actuator.planet.pin_diameter;
        let (_, most) = pin_of(diameter)?.over_nominal;
        let interference = diameter + most - self.actuator.carrier.pin_hole + HOLE_SHRINK;
        let part = PartName::OutputCarrier;
        let fit = PressFit {
            hub_outer: diameter + 2.0 * PIN_WALL,
            diameter,
            shaft_bore: 0.0,
            interference: interference.max(0.0),
            hub: Body { modulus: self.modulus(part), poisson: PRINT_POISSON },
            shaft: STEEL,
        };
        Some([fit.hoop_stress()?, self.actuator.design.settings(part).material.strength_in_plane])
    }

    /// Stator mount: a plate held at the J1 circle, under the gears' thrust and the motor's weight on the motor screws' circle.
    fn mount(&self, mass: f64) -> Member {
        let (joints, part) = (&self.actuator.joints, PartName::StatorMount);
        let plate = CircularPlate {
            radius: joints.stator_mount.radius(),
            thickness: self.actuator.mount.thickness,
            modulus: self.modulus(part),
            poisson: PRINT_POISSON,
            rim: Rim::Clamped,
        };
        let load = joint_load(self.actuator, &joints.motor_to_mount, &self.forces, mass).pull;
        Member {
            name: "stator mount",
            part,
            load: "gears' thrust and the motor's weight with shock",
            // A motor circle outside the J1 circle would be no plate at all; the layout has none.
            stress: plate.clamped_stress(load, joints.motor_to_mount.radius()).unwrap_or(0.0),
            allowed: self.allowed(part, Node::Mount),
            deflection: plate.clamped_deflection(load, joints.motor_to_mount.radius()),
        }
    }

    /// Back plate: a ring under the radial forces by which the pins hold the planets upright. None for fewer than two planets.
    fn back_plate(&self, pin: &PlanetPin) -> Option<Member> {
        let (plate, part) = (&self.actuator.back_plate, PartName::CarrierBackPlate);
        let ring = ThinRing::under(self.actuator.stage.planets)?;
        let width = (plate.diameter - plate.bore) / 2.0;
        let radius = (plate.diameter + plate.bore) / 4.0;
        let load = pin.couple * 1e3 / pin.span;
        let moment = load * radius * f64::max(ring.moment_at_load.abs(), ring.moment_between.abs());
        let second_moment = plate.thickness * width.powi(3) / 12.0;
        Some(Member {
            name: "carrier back plate",
            part,
            load: "radial forces of the planets' tilting couples",
            stress: 6.0 * moment / (plate.thickness * width * width),
            allowed: self.allowed(part, Node::Air),
            deflection: Some(ring.at_load * load * radius.powi(3) / (self.modulus(part) * second_moment)),
        })
    }

    /// Hub of the output carrier at the bearing: torsion and the lever's moment across the layers, holes taken out.
    fn hub(&self) -> Member {
        let (carrier, joints, part) =
            (&self.actuator.carrier, &self.actuator.joints, PartName::OutputCarrier);
        let (outer, bore) = (carrier.hub_diameter, carrier.bore);
        let holes: f64 = [&joints.output, &joints.clamp_ring]
            .iter()
            .map(|bolting| {
                let area = PI / 4.0 * bolting.hole_diameter() * bolting.hole_diameter();
                f64::from(bolting.count) * area * bolting.radius() * bolting.radius()
            })
            .sum();
        let polar = PI / 32.0 * (outer.powi(4) - bore.powi(4)) - holes;
        let shear = self.actuator.torques.output * 1e3 * outer / 2.0 / polar;
        let moment = joint_load(self.actuator, &joints.output, &self.forces, 0.0).moment * 1e3;
        let bending = moment * outer / 2.0 / (polar / 2.0);
        Member {
            name: "output carrier's hub",
            part,
            load: "peak torque and the lever's moment, across the layers",
            stress: libm::hypot(bending, 3.0_f64.sqrt() * shear),
            allowed: self.allowed_across(part, Node::Air),
            deflection: None,
        }
    }

    /// Output flange outside the hub: a cantilever under the lever's whole moment, spread over the rim by the cosine,
    /// `q = M / (pi R^2)` at its most: an upper bound, the hub bears a share. None where the flange isn't wider than the hub.
    fn flange(&self) -> Option<Member> {
        let (ring, part) = (&self.actuator.clamp_ring, PartName::OutputClampRing);
        let stations = &self.actuator.stations;
        let out = (ring.flange_diameter - ring.spigot_diameter) / 2.0;
        let thickness = stations.output_face - stations.flange_back;
        if out <= 0.0 {
            return None;
        }
        let moment = peak_radial(self.actuator) * self.actuator.design.load.overhang;
        let rim = ring.flange_diameter / 2.0;
        // On a millimetre of the rim, borne by less of the foot's circle.
        let force = moment / (PI * rim * rim) * ring.flange_diameter / ring.spigot_diameter;
        let second_moment = thickness.powi(3) / 12.0;
        Some(Member {
            name: "output flange",
            part,
            load: "the lever's moment on its rim",
            stress: 6.0 * force * out / (thickness * thickness),
            allowed: self.allowed(part, Node::Air),
            deflection: Some(force * out.powi(3) / (3.0 * self.modulus(part) * second_moment)),
        })
    }

    /// Boss of the rotor adapter: torsion across the layers around what stands in it.
    fn adapter_boss(&self) -> Member {
        let (adapter, part) = (&self.actuator.adapter, PartName::RotorAdapter);
        let inside = match self.actuator.sun.joint {
            SunJoint::Socket { .. } => self.actuator.stage.sun.tip_diameter,
            SunJoint::OnePiece => adapter.insert_hole.0,
        };
        let outer = adapter.boss_diameter;
        let polar = PI / 32.0 * (outer.powi(4) - inside.powi(4));
        let shear = self.actuator.torques.sun * 1e3 * outer / 2.0 / polar;
        Member {
            name: "rotor adapter's boss",
            part,
            load: "the sun's torque, across the layers",
            stress: 3.0_f64.sqrt() * shear,
            allowed: self.allowed_across(part, Node::Rotor),
            deflection: None,
        }
    }

    /// Lobes of the ring insert, sheared off at the ring's outside. None for a ring cut in the housing.
    fn lobes(&self) -> Option<Member> {
        let (insert, part) = (self.actuator.ring_insert.as_ref()?, PartName::RingInsert);
        let beyond = insert.lobe_distance - insert.outer / 2.0;
        let chord = 2.0 * (insert.lobe_radius * insert.lobe_radius - beyond * beyond).max(0.0).sqrt();
        // A screw runs through each lobe.
        let hole = self.actuator.joints.ring_insert.as_ref().map_or(0.0, |screws| screws.clearance);
        let width = chord - f64::max(0.0, hole - 2.0 * beyond);
        let area = f64::from(insert.lobe_count) * width * self.actuator.stage.face_width;
        let shear = self.actuator.torques.ring * 1e3 / (insert.outer / 2.0) / area;
        Some(Member {
            name: "ring insert's lobes",
            part,
            load: "the ring's torque in shear",
            // Against the tensile strength: shear strength is 0.6 of it.
            stress: shear / SHEAR_SHARE,
            allowed: self.allowed(part, Node::Wall),
            deflection: None,
        })
    }
}
