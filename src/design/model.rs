//! The resolved design: every value present, in internal units, no spans and no "maybe" that a default could fill.
//!
//! Lengths mm, angles rad, forces N, torques N m, masses kg, time s, speeds rad/s, temperatures degC, else SI.

use super::measured::Measured;
use std::collections::BTreeMap;
use std::sync::{Arc, LazyLock};

use super::duty::DutyRow;
use crate::demand::Demand;
use crate::tables::{Bearing, Cleanliness, ClearanceGroup, Material, PropertyClass, Thread};

/// One joint as the rest of the program sees it.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    pub name: String,
    pub about: String,
    pub requirement: Requirement,
    pub motor: Motor,
    pub controller: Controller,
    pub gearset: Gearset,
    pub bearings: Bearings,
    pub load: Load,
    pub fasteners: BTreeMap<Joint, ForcedJoint>,
    /// Shared: a search makes thousands of designs that print alike.
    pub parts: Arc<BTreeMap<PartName, PartSettings>>,
    pub printer: Printer,
    pub limits: Limits,
    pub ambient: Ambient,
    /// Which of the file's values a trial measured.
    pub measured: Vec<Measured>,
}

impl Design {
    /// How a part is printed; a part that the file doesn't name prints like the housing.
    pub fn settings(&self, part: PartName) -> &PartSettings {
        static USUAL: LazyLock<PartSettings> = LazyLock::new(PartSettings::default);
        self.parts.get(&part).or_else(|| self.parts.get(&PartName::RingHousing)).unwrap_or(&USUAL)
    }
}

/// What the joint must do.
#[derive(Clone, Debug, PartialEq)]
pub struct Requirement {
    /// Highest output torque \[N m\]; from the current limit when the file doesn't say.
    pub peak_torque: f64,
    /// How long the peak lasts \[s\].
    pub peak_time: f64,
    /// Torque that must be held for hours \[N m\].
    pub continuous_torque: Option<f64>,
    /// Output speed wanted \[rad/s\].
    pub speed: Option<f64>,
    /// Of the output, virtual spring and gears together \[N m/rad\].
    pub stiffness: Option<f64>,
    /// Of the virtual spring with the load on.
    pub damping_ratio: f64,
    /// Most that the output may stay off \[rad\].
    pub hold_accuracy: Option<f64>,
    /// Mass of the whole actuator \[kg\].
    pub mass_limit: Option<f64>,
    pub outer_diameter_limit: Option<f64>,
    pub height_limit: Option<f64>,
    /// Life asked of the bearings \[h\].
    pub life: f64,
    /// Torque and speed over time; none if only the peak is known.
    pub duty: Option<Arc<[DutyRow]>>,
    /// What lever, link and leg ask.
    pub demands: Vec<Demand>,
}

/// How the maker's Kv is meant; the torque constants differ by 15 %.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum KvConvention {
    /// No-load speed per volt of line-to-line peak voltage.
    LinePeak,
    /// No-load speed per volt of line-to-line r.m.s. voltage.
    LineRms,
    /// No-load speed per volt of the direct-current supply.
    Dc,
}

/// A pancake outrunner: stator fixed at the back, bell turning.
#[derive(Clone, Debug, PartialEq)]
pub struct Motor {
    pub name: String,
    /// \[rpm/V\]
    pub kv: f64,
    pub kv_is: KvConvention,
    /// Resistance of one phase of the equivalent wye \[ohm\].
    pub phase_resistance: f64,
    /// \[H\]
    pub phase_inductance: Option<f64>,
    pub pole_pairs: u32,
    /// \[kg m2\]
    pub rotor_inertia: Option<f64>,
    /// \[kg\]
    pub mass: f64,
    /// Rotor bell outside.
    pub outer_diameter: f64,
    /// Mounting face to rotor face.
    pub height: f64,
    pub shaft_diameter: f64,
    /// How far the shaft stands out of the mounting face, towards the encoder.
    pub shaft_extension: f64,
    pub magnet: Magnet,
    pub stator_bolts: BoltCircle,
    /// Screws into the rotor face.
    pub rotor_bolts: BoltCircle,
    /// Raised pilot on the rotor face: diameter and height; none if flat.
    pub rotor_pilot: Option<Pilot>,
    /// Deepest a screw may reach into the rotor before it meets the winding.
    pub rotor_thread_depth: f64,
    /// Deepest a screw may reach into the stator.
    pub stator_thread_depth: f64,
    /// Phase current, peak \[A\].
    pub current_limit: f64,
    /// Of the supply, turning freely \[A\].
    pub no_load_current: Option<f64>,
    /// Share of torque lost to saturation at the current limit, 0 to 1.
    pub saturation: f64,
    /// \[degC\]
    pub winding_limit: f64,
    pub thermal: Thermal,
    /// Axial force its bearings bear \[N\].
    pub thrust_limit: Option<f64>,
    /// Outside of one phase lead.
    pub lead_diameter: Option<f64>,
    /// \[N m\]
    pub cogging_torque: Option<f64>,
    pub cost: Option<f64>,
}

/// Heat data as measured; what is missing is estimated.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Thermal {
    /// \[K/W\]
    pub winding_to_mount: Option<f64>,
    /// \[K/W\]
    pub mount_to_air: Option<f64>,
    /// \[J/K\]
    pub winding_capacity: Option<f64>,
    /// \[J/K\]
    pub mount_capacity: Option<f64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Magnet {
    pub diameter: f64,
    pub thickness: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Pilot {
    pub diameter: f64,
    pub height: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct BoltCircle {
    pub count: u32,
    pub thread: Thread,
    /// Circle diameter.
    pub circle: f64,
}

/// Whether the drive may spend current against the magnets to turn faster.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FieldWeakening {
    Off,
    On,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Controller {
    pub name: String,
    /// \[V\]
    pub bus_voltage: f64,
    /// Source, wires and connectors \[ohm\].
    pub supply_resistance: f64,
    /// Most the supply gives \[A\].
    pub supply_current: Option<f64>,
    pub field_weakening: FieldWeakening,
    /// Phase current, peak \[A\].
    pub current_limit: f64,
    pub board: Board,
    pub encoder: Encoder,
    /// \[Hz\]
    pub loop_rate: f64,
    /// Of the virtual spring \[Hz\].
    pub position_rate: f64,
    /// From reading the encoder to the torque being there \[s\].
    pub loop_delay: f64,
    /// Cut-off of the low-pass on the measured speed \[Hz\].
    pub velocity_filter: f64,
    /// \[kg\]
    pub mass: f64,
    pub cost: Option<f64>,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Board {
    pub length: f64,
    pub width: f64,
    /// Bare board thickness.
    pub thickness: f64,
    /// Tallest part on the side that faces the motor, off the axis.
    pub parts_height: f64,
    /// Room for parts and solder on the side that faces the floor.
    pub underside: f64,
    /// Hole pattern, centre to centre, along length and width.
    pub hole_pattern: [f64; 2],
    pub hole_thread: Thread,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Encoder {
    pub bits: u32,
    /// Top of the sensor above the board's motor side.
    pub sensor_height: f64,
    /// Magnet face to sensor.
    pub gap: f64,
    /// Middle of the sensor to the axis.
    pub eccentricity: f64,
}

/// A profile shift: chosen by the tool or given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Shift {
    Auto,
    Fixed(f64),
}

/// How profile shifts left to the tool are chosen.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ShiftRule {
    /// The least that keep sun and planet from being undercut.
    UndercutFree,
    /// Equal specific sliding at the roots of sun and planet, undercut-free.
    BalancedSliding,
}

/// How the teeth run along the axis.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ToothForm {
    Helical,
    Straight,
    /// Two opposite helices of half the width each: no thrust, but the gears lock each other along the axis.
    Herringbone,
}

/// What is between the teeth.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Lubrication {
    Dry,
    /// Once, when put together.
    Greased,
}

/// How planets stand around the sun.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Spacing {
    Equal,
    /// At the places nearest to equal where the teeth go in; equal if those do.
    Nearest,
}

/// A plain cylindrical bush, pressed into the planet, turning on the pin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bush {
    pub bore: f64,
    pub outer: f64,
    /// Mean pressure it bears \[MPa\].
    pub pressure_limit: f64,
    /// Mean pressure times sliding speed it bears \[MPa m/s\].
    pub pv_limit: f64,
}

/// Where a gear comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum GearSource {
    Print,
    Buy,
}

/// How the ring is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RingKind {
    /// Teeth in the housing itself.
    Cut,
    /// A keyed ring in the housing.
    Insert,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hand {
    Right,
    Left,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Gearset {
    pub sun_teeth: u32,
    pub planet_teeth: u32,
    pub ring_teeth: u32,
    pub planets: u32,
    /// \[mm\]
    pub normal_module: f64,
    pub pressure_angle: f64,
    pub tooth_form: ToothForm,
    /// Of the basic rack, in modules.
    pub addendum: f64,
    /// Of the basic rack, in modules; without the root relief.
    pub dedendum: f64,
    /// Fillet of the basic rack, in modules.
    pub rack_fillet: f64,
    pub helix_angle: f64,
    pub face_width: f64,
    /// Per mesh, circumferential at the pitch circle, transverse.
    pub backlash: f64,
    pub sun_shift: Shift,
    pub planet_shift: Shift,
    pub ring_shift: Shift,
    pub shift_rule: ShiftRule,
    pub spacing: Spacing,
    /// Taken off the flanks of printed gears at their tips, along the normal.
    pub tip_relief: f64,
    /// Where that begins, below the tip.
    pub tip_relief_height: f64,
    /// Further depth of the tooth spaces.
    pub root_relief: f64,
    /// Face chamfer of printed teeth.
    pub face_chamfer: f64,
    /// Hand of the sun; the planets' is the other, the ring's the planets'.
    pub sun_hand: Hand,
    pub sun_made: GearSource,
    pub planet_made: GearSource,
    /// What bought gears are made of, by name.
    pub sun_bought_of: String,
    pub planet_bought_of: String,
    pub ring_made: RingKind,
    pub pin_diameter: Option<f64>,
    /// A plain bush in each planet in place of two bearings.
    pub planet_bush: Option<Bush>,
    pub lubrication: Lubrication,
    /// Mesh friction coefficient.
    pub friction: f64,
    /// Drag at the output, motor off, as measured \[N m\].
    pub drag: Option<f64>,
    /// Stage efficiency used for torque until the mesh model says better, 0 to 1.
    pub efficiency: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Bearings {
    pub output: Bearing,
    /// 1 or 2.
    pub output_count: u32,
    /// Spacer width between the two of a pair.
    pub output_spacing: f64,
    /// Two in each planet; the tool picks the largest that fits when the file doesn't say.
    pub planet: Option<Bearing>,
    /// Shielded planet bearings (wider in the small sizes).
    pub planet_shielded: bool,
    /// Of the output bearing.
    pub clearance: ClearanceGroup,
    pub cleanliness: Cleanliness,
    /// Of the grease's base oil at 40 degC \[mm2/s\].
    pub grease_viscosity: f64,
    /// Rows the user brought.
    pub custom: Vec<Bearing>,
}

/// What hangs on the output.
#[derive(Clone, Debug, PartialEq)]
pub struct Load {
    /// Lever from the axis to the hanging weight \[mm\]; at right angles to the axis.
    pub arm: f64,
    /// Hanging weight as a force \[N\].
    pub weight: f64,
    /// Of all that hangs on the output, about its axis \[kg m2\].
    pub inertia: f64,
    /// Height \[mm\] that the weight falls before the joint takes it; none if nothing falls.
    pub drop: Option<f64>,
    /// Further radial load on the output face \[N\].
    pub radial: f64,
    /// Axial load on the output \[N\]; positive pulls away from the housing.
    pub axial: f64,
    /// Output face to the plane in which weight and radial load act \[mm\].
    pub overhang: f64,
    /// Factor on the loads for shock.
    pub shock: f64,
    /// Half of the swing when the joint oscillates \[rad\]; none if it turns through.
    pub oscillation: Option<f64>,
    /// Oscillations or turns \[1/s\] while working.
    pub rate: f64,
}

/// Every bolted joint of the layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Joint {
    /// J0: machine to base.
    Machine,
    /// J1: stator mount to base.
    StatorMount,
    /// J2: ring housing to base.
    Service,
    MotorToMount,
    AdapterToRotor,
    Sun,
    Keeper,
    Pillars,
    ClampRing,
    Output,
    RingInsert,
    Board,
}

/// What a design file forces on a joint; the rest follows the rules.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ForcedJoint {
    pub thread: Option<Thread>,
    pub count: Option<u32>,
    pub length: Option<f64>,
    pub class: PropertyClass,
}

/// The printed parts, by their names in files.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum PartName {
    VentedBase,
    StatorMount,
    MagnetCup,
    RotorAdapter,
    Sun,
    Planet,
    PlanetWasher,
    PlanetSleeve,
    OutputCarrier,
    CarrierBackPlate,
    RingHousing,
    BearingKeeper,
    OutputClampRing,
    RingInsert,
    /// Back half of a split ring.
    RingInsertBack,
    InnerSpacer,
    OuterSpacer,
}

impl PartName {
    pub const ALL: [PartName; 17] = [
        PartName::VentedBase,
        PartName::StatorMount,
        PartName::MagnetCup,
        PartName::RotorAdapter,
        PartName::Sun,
        PartName::Planet,
        PartName::PlanetWasher,
        PartName::PlanetSleeve,
        PartName::OutputCarrier,
        PartName::CarrierBackPlate,
        PartName::RingHousing,
        PartName::BearingKeeper,
        PartName::OutputClampRing,
        PartName::RingInsert,
        PartName::RingInsertBack,
        PartName::InnerSpacer,
        PartName::OuterSpacer,
    ];

    /// The name used in file names and as `[parts.<name>]`.
    pub const fn as_str(self) -> &'static str {
        match self {
            PartName::VentedBase => "vented-base",
            PartName::StatorMount => "stator-mount",
            PartName::MagnetCup => "magnet-cup",
            PartName::RotorAdapter => "rotor-adapter",
            PartName::Sun => "sun",
            PartName::Planet => "planet",
            PartName::PlanetWasher => "planet-washer",
            PartName::PlanetSleeve => "planet-sleeve",
            PartName::OutputCarrier => "output-carrier",
            PartName::CarrierBackPlate => "carrier-back-plate",
            PartName::RingHousing => "ring-housing",
            PartName::BearingKeeper => "bearing-keeper",
            PartName::OutputClampRing => "output-clamp-ring",
            PartName::RingInsert => "ring-insert",
            PartName::RingInsertBack => "ring-insert-back",
            PartName::InnerSpacer => "inner-spacer",
            PartName::OuterSpacer => "outer-spacer",
        }
    }
}

/// How a part is printed.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PartSettings {
    pub material: Material,
    /// Perimeters.
    pub walls: u32,
    /// Share of the inside filled, 0 to 1.
    pub infill: f64,
    /// Solid layers at faces that point up or down.
    pub skins: u32,
    /// \[mm\]
    pub layer_height: f64,
}

/// A diametral allowance for diameters "over ... up to and including".
#[derive(Clone, Debug, PartialEq)]
pub struct FitRange {
    pub over: f64,
    pub up_to: f64,
    pub allowance: f64,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Printer {
    pub name: String,
    pub line_width: f64,
    pub layer_height: f64,
    pub first_layer_height: f64,
    /// Length, width, height.
    pub bed: [f64; 3],
    /// Diametral allowance on a bearing's outer ring seat.
    pub bearing_seat: Vec<FitRange>,
    /// On a post for a bearing bore (negative: smaller).
    pub bearing_post: f64,
    /// Ring insert in its bore.
    pub ring_insert: f64,
    /// Sun on a shaft, and its toothed socket, diametral.
    pub sun_socket: f64,
    /// Added to the ISO 273 medium clearance hole.
    pub clearance_hole: f64,
    pub pin_press: f64,
    pub pin_slip: f64,
    /// Register between housing, mount and base, diametral.
    pub register: f64,
    /// Running clearance of turning against fixed.
    pub running_radial: f64,
    pub running_axial: f64,
    /// Added to upright holes that carry no fit, by diameter; the last range takes the rest.
    pub hole_growth: Vec<FitRange>,
    /// How far upright posts without a fit come out large.
    pub post_growth: f64,
    /// The same where it was measured by diameter.
    pub post_growth_by_size: Vec<FitRange>,
    /// Share by which prints come out small.
    pub shrinkage: f64,
    /// The same for single materials, by name.
    pub material_shrinkage: Vec<(String, f64)>,
    /// Mean speed of the head along walls and infill \[mm/s\].
    pub speed: f64,
    /// Most plastic the hot end melts \[mm3/s\].
    pub flow_limit: f64,
    /// \[s\]
    pub least_layer_time: f64,
    pub filament_diameter: f64,
    /// Price of a kilogram, by material's name.
    pub filament_cost: Vec<(String, f64)>,
    pub currency: Option<String>,
    /// Longest bridge.
    pub bridge: f64,
    /// Steepest overhang from the vertical \[rad\].
    pub overhang: f64,
    pub elephant_foot: f64,
    /// How far a printed tooth flank stands out of the drawing, along its normal.
    pub tooth_growth: f64,
    /// Chamfer on bed edges.
    pub bed_chamfer: f64,
}

impl Printer {
    /// Diameter at which to print a hole without a fit so that it comes out at `diameter`.
    pub fn hole(&self, diameter: f64) -> f64 {
        diameter + growth(&self.hole_growth, diameter).unwrap_or(0.0)
    }

    /// Diameter at which to print a post without a fit so that it comes out at `diameter`.
    pub fn post(&self, diameter: f64) -> f64 {
        diameter - growth(&self.post_growth_by_size, diameter).unwrap_or(self.post_growth)
    }

    /// Scale at which a part of a material is printed so that it comes out at its size.
    pub fn scale(&self, material: &str) -> f64 {
        let own = self.material_shrinkage.iter().find(|(name, _)| name == material);
        1.0 / (1.0 - own.map_or(self.shrinkage, |(_, share)| *share))
    }

    /// Allowance on the seat of a bearing of outer diameter `outer`; the nearest range beyond the ends.
    pub fn seat_fit(&self, outer: f64) -> f64 {
        self.bearing_seat
            .iter()
            .find(|range| outer > range.over && outer <= range.up_to)
            .or_else(|| {
                if self.bearing_seat.first().is_some_and(|first| outer <= first.over) {
                    self.bearing_seat.first()
                } else {
                    self.bearing_seat.last()
                }
            })
            .map_or(0.0, |range| range.allowance)
    }
}

/// Allowance of the first range that holds a diameter.
fn growth(ranges: &[FitRange], diameter: f64) -> Option<f64> {
    let range = ranges.iter().find(|range| diameter > range.over && diameter <= range.up_to)?;
    Some(range.allowance)
}

/// Safety factors and margins wanted.
#[derive(Clone, Debug, PartialEq)]
pub struct Limits {
    /// Static safety of the output bearing.
    pub output_static_safety: f64,
    /// Static safety of the planet bearings.
    pub planet_static_safety: f64,
    /// Sun joint, output crown and lobes against peak torque.
    pub joint_factor: f64,
    /// Keeper against the push load.
    pub keeper_factor: f64,
    /// Friction of the service joint against housing torque.
    pub service_factor: f64,
    /// Reliability of the bearing life, 0.9 to 0.9995.
    pub reliability: f64,
    /// Backlash at the output \[rad\].
    pub output_backlash: Option<f64>,
    /// Tipping of the output from stop to stop \[rad\].
    pub output_tilt: Option<f64>,
    /// Of metal gears, root and flank.
    pub metal_safety: f64,
    /// Tooth root stress of printed planets \[MPa\].
    pub printed_root_stress: f64,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Ambient {
    /// \[degC\]
    pub temperature: f64,
    /// Air past the housing \[m/s\]; 0 is still air.
    pub airflow: f64,
}
