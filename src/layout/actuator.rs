//! The actuator as laid out: every diameter, height and hole of every part.
//!
//! Lengths mm. `z` is the axis, `z = 0` the mounting face at the back, `+z` towards the output; every station and
//! every angle is in the assembly frame. Fixed parts: service screw 0 lies on `+x`. Turning parts: planet 0 does.
//! Diameters are called diameters; anything called `radius` is one.

use crate::design::Design;
use crate::gears::Stage;

use super::hardware::Bolting;

/// Everything the parts, the ratings and the bill of materials are made from.
#[derive(Clone, Debug)]
pub struct Actuator {
    pub design: Design,
    pub stage: Stage,
    pub torques: Torques,
    pub stations: Stations,
    pub sun: Sun,
    pub planet: Planet,
    pub adapter: RotorAdapter,
    pub carrier: Carrier,
    pub back_plate: BackPlate,
    pub housing: RingHousing,
    pub keeper: Keeper,
    pub clamp_ring: ClampRing,
    pub ring_insert: Option<RingInsert>,
    pub spacers: Option<Spacers>,
    pub base: VentedBase,
    pub mount: StatorMount,
    pub cup: MagnetCup,
    pub joints: Joints,
    pub notes: Vec<Note>,
}

/// Torques at peak, N m.
#[derive(Clone, Debug)]
pub struct Torques {
    pub output: f64,
    /// At the sun, with the stage's loss.
    pub sun: f64,
    /// Reaction on the ring, hence on the housing.
    pub ring: f64,
    /// Of bearings, grease and misfit at the output, whatever the load.
    pub drag: f64,
}

/// Heights along the axis, back to front.
#[derive(Clone, Debug)]
pub struct Stations {
    /// Top of the base's floor.
    pub floor: f64,
    pub board_back: f64,
    pub board_front: f64,
    pub sensor_front: f64,
    /// Face of the encoder magnet.
    pub magnet_back: f64,
    pub shaft_end: f64,
    pub cup_front: f64,
    pub mount_back: f64,
    /// Motor's mounting face.
    pub mount_front: f64,
    pub rotor_front: f64,
    pub adapter_front: f64,
    /// End of the adapter's boss.
    pub boss_front: f64,
    /// Bottom of the sun's socket.
    pub sun_back: f64,
    pub plate_back: f64,
    pub back_plate_back: f64,
    pub back_plate_front: f64,
    /// Where the housing opens: J2.
    pub service: f64,
    pub planet_back: f64,
    pub planet_front: f64,
    pub ring_front: f64,
    pub plate_front: f64,
    pub keeper_back: f64,
    /// Back face of the output bearing (of the first of a pair).
    pub bearing_back: f64,
    pub bearing_front: f64,
    pub hub_front: f64,
    pub lip_front: f64,
    /// Back of the output flange, in front of the lip.
    pub flange_back: f64,
    pub output_face: f64,
}

/// How the sun is held in the rotor adapter.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SunJoint {
    /// A bought sun whose own teeth stand in a toothed socket of this depth.
    Socket { depth: f64 },
    /// Sun and adapter printed in one.
    OnePiece,
}

#[derive(Clone, Debug)]
pub struct Sun {
    /// Of the bought sun; of the toothed part when printed with the adapter.
    pub length: f64,
    pub bore: f64,
    pub joint: SunJoint,
    /// Torque the joint to the rotor carries \[N m\].
    pub capacity: f64,
}

/// What a planet turns on.
#[derive(Clone, Debug)]
pub enum PlanetSeat {
    /// Two alike, at the planet's ends.
    Bearings {
        bearing: Box<crate::tables::Bearing>,
        /// As fitted (open or shielded).
        width: f64,
        /// Distance between the two middles.
        spread: f64,
    },
    /// As long as the planet.
    Bush(crate::design::Bush),
}

impl PlanetSeat {
    pub fn outer(&self) -> f64 {
        match self {
            PlanetSeat::Bearings { bearing, .. } => bearing.outer,
            PlanetSeat::Bush(bush) => bush.outer,
        }
    }
}

#[derive(Clone, Debug)]
pub struct Planet {
    pub turns_on: PlanetSeat,
    /// Seat bore, fit included.
    pub seat: f64,
    /// Stops the bearings at the back; 0 for a bush.
    pub lip_thickness: f64,
    pub lip_bore: f64,
    pub pin_diameter: f64,
    pub pin_length: f64,
    /// Pin depth in the carrier and in the back plate.
    pub pin_depth_carrier: f64,
    pub pin_depth_back_plate: f64,
    /// Outside of washer, sleeve and back-plate boss: the inner-ring abutment.
    pub shoulder: f64,
    pub washer_bore: f64,
    pub washer_thickness: f64,
    /// Between the two bearings; 0 for a bush.
    pub sleeve_length: f64,
}

impl Planet {
    /// Of one pin \[kg\]: steel at 7.85 g/cm3.
    pub fn pin_mass(&self) -> f64 {
        std::f64::consts::PI / 4.0 * self.pin_diameter.powi(2) * self.pin_length * 7.85e-6
    }
}

#[derive(Clone, Debug)]
pub struct RotorAdapter {
    pub disc_diameter: f64,
    pub disc_thickness: f64,
    pub boss_diameter: f64,
    /// Recess for the rotor's pilot: diameter, depth.
    pub pilot: Option<(f64, f64)>,
    /// Hole for the short insert at the bottom of the socket: diameter, depth.
    pub insert_hole: (f64, f64),
}

/// A hole of the carrier, for the search of the best angle.
#[derive(Clone, Debug)]
pub struct Carrier {
    pub plate_diameter: f64,
    pub plate_thickness: f64,
    /// The plate turns inside the keeper.
    pub nests: bool,
    pub step_diameter: f64,
    pub hub_diameter: f64,
    pub bore: f64,
    /// Turn of the output pattern against planet 0 \[rad\].
    pub output_angle: f64,
    /// Least of wall/1.6 and floor/1.2 over all pairs of holes; below 1 they meet.
    pub hole_margin: f64,
    pub pin_hole: f64,
    pub crown: Crown,
}

/// Teeth at the hub's rim that carry the output torque into the clamp ring.
#[derive(Clone, Debug)]
pub struct Crown {
    pub count: u32,
    /// Angle of tooth 0 from planet 0 \[rad\].
    pub first_angle: f64,
    pub inner_radius: f64,
    pub outer_radius: f64,
    pub half_angle: f64,
    pub height: f64,
    /// Torque carried \[N m\].
    pub capacity: f64,
}

#[derive(Clone, Debug)]
pub struct BackPlate {
    pub diameter: f64,
    pub thickness: f64,
    pub bore: f64,
    pub pillar_radius: f64,
    /// Distance of the pillars from the axis.
    pub pillar_distance: f64,
    pub pillar_length: f64,
    pub pin_hole: f64,
    pub boss_diameter: f64,
    pub boss_height: f64,
}

#[derive(Clone, Debug)]
pub struct RingHousing {
    pub lip_bore: f64,
    pub lip_thickness: f64,
    pub seat: f64,
    /// Front of the keeper, where the seat opens.
    pub seat_back: f64,
    /// Bore between ring and keeper.
    pub free_bore: f64,
    /// Bore for the ring insert, if there is one: diameter.
    pub insert_bore: Option<f64>,
    pub spigot_diameter: f64,
    pub spigot_bore: f64,
    pub spigot_length: f64,
    /// Outside of the round tube.
    pub tube_diameter: f64,
    /// Outside of the rim at the service plane.
    pub rim_diameter: f64,
    pub column_radius: f64,
    pub column_half_angle: f64,
    pub cover_radius: f64,
    pub cover_half_angle: f64,
    /// Column over each lobe of the ring insert: outer radius, half angle.
    pub lobe_column: Option<(f64, f64)>,
}

#[derive(Clone, Debug)]
pub struct Keeper {
    pub bore: f64,
    pub outer: f64,
    pub thickness: f64,
    pub head_pocket_depth: f64,
    /// The head pockets are open to the outside, the wall would be too thin to print.
    pub open_pockets: bool,
}

#[derive(Clone, Debug)]
pub struct ClampRing {
    pub bore: f64,
    pub spigot_diameter: f64,
    pub flange_diameter: f64,
    /// From bearing face to output face.
    pub thickness: f64,
    pub crown_clearance: f64,
}

#[derive(Clone, Debug)]
pub struct RingInsert {
    pub outer: f64,
    pub lobe_radius: f64,
    /// Distance of the lobes' centres from the axis.
    pub lobe_distance: f64,
    pub lobe_count: u32,
    pub capacity: f64,
}

#[derive(Clone, Debug)]
pub struct Spacers {
    pub width: f64,
    pub inner_bore: f64,
    pub inner_outer: f64,
    pub outer_bore: f64,
    pub outer_outer: f64,
}

#[derive(Clone, Debug)]
pub struct VentedBase {
    pub bore: f64,
    pub wall: f64,
    pub outer: f64,
    pub floor_thickness: f64,
    /// Register for the housing's spigot.
    pub mouth_bore: f64,
    pub mouth_depth: f64,
    pub mouth_outer: f64,
    /// J1/J0 columns.
    pub column_inner_radius: f64,
    pub column_outer_radius: f64,
    pub column_half_angle: f64,
    /// Slot above each column: outer radius and half angle.
    pub slot_radius: f64,
    pub slot_half_angle: f64,
    /// J2 bosses under the rim.
    pub boss_outer_radius: f64,
    pub boss_half_angle: f64,
    pub boss_height: f64,
    /// Ledge under the stator mount: how far it stands in, 0 for none.
    pub ledge: f64,
    pub vents: Vec<Vent>,
    pub cable_window: Option<Vent>,
    pub standoffs: Standoffs,
}

/// A window through the wall, parallel sides, 45 degree roof to a flat ridge.
#[derive(Clone, Debug)]
pub struct Vent {
    pub angle: f64,
    pub width: f64,
    pub ridge: f64,
    pub z: [f64; 2],
}

#[derive(Clone, Debug)]
pub struct Standoffs {
    pub places: Vec<[f64; 2]>,
    pub diameter: f64,
    pub hole: f64,
    pub hole_depth: f64,
    /// Turn of the board about the axis \[rad\].
    pub board_angle: f64,
}

#[derive(Clone, Debug)]
pub struct StatorMount {
    pub disc_diameter: f64,
    pub thickness: f64,
    pub centre_hole: f64,
    pub ear_radius: f64,
    pub ear_half_angle: f64,
    /// Recess on the back for the motor screws' heads: diameter, depth.
    pub recess: (f64, f64),
    /// Wire slot: distance of its middle from the axis, length along the radius, width, angle.
    pub wire_slot: WireSlot,
}

#[derive(Clone, Debug)]
pub struct WireSlot {
    pub inner_radius: f64,
    pub outer_radius: f64,
    pub half_angle: f64,
    pub angle: f64,
}

#[derive(Clone, Debug)]
pub struct MagnetCup {
    pub outer: f64,
    pub pocket: f64,
    pub pocket_depth: f64,
    /// Between magnet and shaft.
    pub web: f64,
    pub shaft_bore: f64,
    pub sleeve_length: f64,
    pub length: f64,
}

/// The bolted joints, in the order of the bill of materials.
#[derive(Clone, Debug)]
pub struct Joints {
    pub machine: Bolting,
    pub stator_mount: Bolting,
    pub service: Bolting,
    pub motor_to_mount: Bolting,
    pub adapter_to_rotor: Bolting,
    pub sun: Bolting,
    pub keeper: Bolting,
    pub pillars: Bolting,
    pub clamp_ring: Bolting,
    pub output: Bolting,
    pub ring_insert: Option<Bolting>,
    pub board: Bolting,
}

impl Joints {
    /// All of them, in the order of the bill of materials.
    pub fn iter(&self) -> impl Iterator<Item = &Bolting> {
        [
            &self.machine,
            &self.stator_mount,
            &self.service,
            &self.motor_to_mount,
            &self.adapter_to_rotor,
            &self.sun,
            &self.keeper,
            &self.pillars,
            &self.clamp_ring,
            &self.output,
        ]
        .into_iter()
        .chain(self.ring_insert.as_ref())
        .chain(std::iter::once(&self.board))
    }
}

impl Joints {
    /// As [`iter`](Joints::iter).
    pub fn iter_mut(&mut self) -> impl Iterator<Item = &mut Bolting> {
        [
            &mut self.machine,
            &mut self.stator_mount,
            &mut self.service,
            &mut self.motor_to_mount,
            &mut self.adapter_to_rotor,
            &mut self.sun,
            &mut self.keeper,
            &mut self.pillars,
            &mut self.clamp_ring,
            &mut self.output,
        ]
        .into_iter()
        .chain(self.ring_insert.as_mut())
        .chain(std::iter::once(&mut self.board))
    }
}

/// Something worth knowing that is no fault.
#[derive(Clone, Debug, PartialEq)]
pub struct Note {
    pub id: &'static str,
    pub message: String,
}

impl Actuator {
    /// How far the output bearing's outer rings stand out of their seat, so that the keeper presses them.
    pub fn rings_proud(&self) -> f64 {
        self.housing.seat_back - self.stations.bearing_back
    }

    /// Outside of the largest ring of bosses.
    pub fn outer_diameter(&self) -> f64 {
        2.0 * f64::max(self.base.column_outer_radius, self.base.boss_outer_radius)
            .max(self.housing.rim_diameter / 2.0)
    }
}
