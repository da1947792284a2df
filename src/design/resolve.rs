//! From keys to the resolved design: fills what a default or another key decides, and notes it in the keys, so that the
//! report can show it.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::demand::link::Swing;
use crate::demand::{Demand, Leg, Lever, Link};
use crate::tables::{self, Material};

use super::bearings::FoundBearings;
use super::duty::DutyRow;
use super::keys::*;
use super::model::*;
use super::motor_constants::{saturated_torque, torque_constants};
use super::reader::{Entry, Origin};
use super::records::{kv_from_spinning, line_resistance_by_drop};

/// Walls, infill and skins of parts nobody named: see the reasons at the keys of [`PartKeys`].
const WALLS: u32 = 5;
const INFILL: f64 = 0.3;
const SKINS: u32 = 5;
const MATERIAL: &str = "PETG";

/// A turn a minute \[rad/s\].
const RPM: f64 = std::f64::consts::PI / 30.0;
/// Seconds in an hour.
const HOUR: f64 = 3600.0;

/// Takes the value of a slot, filling it first if it is empty.
fn filled<T: Clone>(slot: &mut Option<Entry<T>>, default: impl FnOnce() -> T) -> T {
    slot.get_or_insert_with(|| Entry::by_default(default())).value.clone()
}

fn given<T: Clone>(slot: &Option<Entry<T>>) -> Option<T> {
    slot.as_ref().map(|entry| entry.value.clone())
}

/// The design of sound keys; none if a bearing is missing, which then is a recorded problem.
pub fn resolve(
    keys: &mut DesignKeys,
    stem: &str,
    bearings: FoundBearings,
    duty: Option<Arc<[DutyRow]>>,
) -> Option<Design> {
    let name = filled(&mut keys.name, || stem.to_string());
    let about = filled(&mut keys.about, String::new);
    let motor = motor(&mut keys.motor.value);
    let controller = controller(&mut keys.controller.value, &motor);
    let gearset = gearset(&mut keys.gearset.value);
    let requirement = requirement(&mut keys.requirement.value, &motor, &controller, &gearset, duty);
    let load = load(&mut keys.load.value, requirement.peak_torque);
    let printer = printer(&keys.printer.value);
    let parts = parts(keys, &printer);
    Some(Design {
        name,
        about,
        requirement,
        motor,
        controller,
        gearset,
        bearings: Bearings {
            output: bearings.output?,
            output_count: keys.bearings.value.output.value.count.value,
            output_spacing: keys.bearings.value.output.value.spacing.value,
            planet: bearings.planet?,
            planet_shielded: keys.bearings.value.planet_enclosure.value == Shields::Shielded,
            clearance: keys.bearings.value.clearance.value,
            cleanliness: keys.bearings.value.cleanliness.value,
            grease_viscosity: keys.bearings.value.grease_viscosity.value,
            custom: bearings.custom,
        },
        load,
        fasteners: fasteners(keys),
        parts: Arc::new(parts),
        printer,
        limits: limits(&keys.limits.value),
        ambient: Ambient {
            temperature: keys.ambient.value.temperature.value,
            airflow: given(&keys.ambient.value.airflow).unwrap_or(0.0),
        },
        // Comments are read with the places.
        measured: Vec::new(),
    })
}

fn requirement(
    keys: &mut RequirementKeys,
    motor: &Motor,
    controller: &Controller,
    gearset: &Gearset,
    duty: Option<Arc<[DutyRow]>>,
) -> Requirement {
    let current = f64::min(motor.current_limit, controller.current_limit);
    let demands = demands(keys);
    let most = |asked: fn(&Demand) -> Option<f64>| demands.iter().filter_map(asked).reduce(f64::max);
    let (peak, continuous, speed) =
        (most(|one| Some(one.peak_torque)), most(|one| one.continuous_torque), most(|one| one.speed));
    fill_from(&mut keys.continuous_torque, continuous);
    fill_from(&mut keys.speed, speed);
    Requirement {
        peak_torque: filled(&mut keys.peak_torque, || {
            // A joint that nothing hangs on still has a motor.
            peak.filter(|torque| *torque > 0.0).unwrap_or_else(|| peak_torque(motor, current, gearset))
        }),
        peak_time: keys.peak_time.value,
        continuous_torque: given(&keys.continuous_torque),
        speed: given(&keys.speed),
        stiffness: given(&keys.stiffness),
        damping_ratio: keys.damping_ratio.value,
        hold_accuracy: given(&keys.hold_accuracy),
        mass_limit: given(&keys.mass_limit),
        outer_diameter_limit: given(&keys.outer_diameter_limit),
        height_limit: given(&keys.height_limit),
        life: keys.life.value / HOUR,
        duty,
        demands,
    }
}

/// Fills an empty slot with what follows from elsewhere, if anything does.
fn fill_from(slot: &mut Option<Entry<f64>>, value: Option<f64>) {
    if let (None, Some(value)) = (&slot, value) {
        *slot = Some(Entry::by_default(value));
    }
}

fn demands(keys: &RequirementKeys) -> Vec<Demand> {
    let lever = keys.lever.as_ref().map(|entry| {
        let lever = &entry.value;
        Lever {
            weight: lever.weight.value,
            length: lever.length.value,
            elevation: lever.elevation.value,
            held: lever.held.value,
        }
        .demand()
    });
    let link = keys.link.as_ref().map(|entry| link(&entry.value).demand());
    let leg = keys.leg.as_ref().map(|entry| {
        let leg = &entry.value;
        Leg {
            joint: leg.joint.value,
            mass: leg.mass.value,
            legs: leg.legs.value,
            thigh: leg.thigh.value,
            shank: leg.shank.value,
            knee_angle: leg.knee_angle.value,
            stretched: leg.stretched.value,
            foot_offset: leg.foot_offset.value,
            jump: given(&leg.jump),
            held: leg.held.value,
        }
        .demand()
    });
    [lever, link, leg].into_iter().flatten().collect()
}

/// A link of sound keys.
pub(crate) fn link(keys: &LinkKeys) -> Link {
    let swing = given(&keys.swing).zip(given(&keys.swing_time));
    Link {
        mass: keys.mass.value,
        length: keys.length.value,
        centre: given(&keys.centre).unwrap_or(keys.length.value / 2.0),
        payload: keys.payload.value,
        elevation: keys.elevation.value,
        swing: swing.map(|(angle, time)| Swing { angle, time }),
        held: keys.held.value,
    }
}

/// Torque at the output with all the current that motor and controller allow \[N m\].
fn peak_torque(motor: &Motor, current: f64, gearset: &Gearset) -> f64 {
    let constant = torque_constants(motor.kv, motor.kv_is).peak_phase;
    let rotor = saturated_torque(constant, motor.saturation, motor.current_limit, current);
    let ratio = 1.0 + f64::from(gearset.ring_teeth) / f64::from(gearset.sun_teeth);
    rotor * ratio * gearset.efficiency
}

fn motor(keys: &mut MotorKeys) -> Motor {
    // One of each is there: a rule has checked it, and the ranges that both are positive.
    let spun = keys.spin.as_ref().and_then(|entry| {
        let spin = &entry.value;
        kv_from_spinning(spin.speed.value / RPM, spin.voltage.value, spin.reading.value)
    });
    let is_spun = keys.kv.is_none();
    let kv = filled(&mut keys.kv, || spun.unwrap_or_default());
    let dropped = keys
        .resistance_drop
        .as_ref()
        .and_then(|entry| line_resistance_by_drop(entry.value.voltage.value, entry.value.current.value));
    let line = given(&keys.line_resistance).or(dropped);
    let phase_resistance = filled(&mut keys.phase_resistance, || line.unwrap_or_default() / 2.0);
    filled(&mut keys.line_resistance, || 2.0 * phase_resistance);
    let (stator, rotor) = (&keys.stator_bolts.value, &keys.rotor_bolts.value);
    Motor {
        name: keys.name.value.clone(),
        kv,
        // A spin is turned into line-to-line peak, whatever was read.
        kv_is: if is_spun { KvConvention::LinePeak } else { keys.kv_is.value },
        phase_resistance,
        phase_inductance: given(&keys.phase_inductance),
        pole_pairs: keys.pole_pairs.value,
        rotor_inertia: given(&keys.rotor_inertia),
        mass: keys.mass.value,
        outer_diameter: keys.outer_diameter.value,
        height: keys.height.value,
        shaft_diameter: keys.shaft_diameter.value,
        shaft_extension: keys.shaft_extension.value,
        magnet: Magnet {
            diameter: keys.magnet.value.diameter.value,
            thickness: keys.magnet.value.thickness.value,
        },
        stator_bolts: BoltCircle {
            count: stator.count.value,
            thread: stator.thread.value,
            circle: stator.circle.value,
        },
        rotor_bolts: BoltCircle {
            count: rotor.count.value,
            thread: rotor.thread.value,
            circle: rotor.circle.value,
        },
        rotor_pilot: rotor
            .pilot
            .as_ref()
            .map(|pilot| Pilot { diameter: pilot.value.diameter.value, height: pilot.value.height.value }),
        rotor_thread_depth: rotor.depth.value,
        stator_thread_depth: stator.depth.value,
        current_limit: keys.current_limit.value,
        no_load_current: given(&keys.no_load_current),
        saturation: keys.saturation.value,
        winding_limit: keys.winding_limit.value,
        thermal: keys.thermal.as_ref().map_or_else(Thermal::default, |entry| thermal(&entry.value)),
        thrust_limit: given(&keys.thrust_limit),
        lead_diameter: given(&keys.lead_diameter),
        cogging_torque: given(&keys.cogging_torque),
        cost: given(&keys.cost),
    }
}

fn thermal(keys: &ThermalKeys) -> Thermal {
    Thermal {
        winding_to_mount: given(&keys.winding_to_mount),
        mount_to_air: given(&keys.mount_to_air),
        winding_capacity: given(&keys.winding_capacity),
        mount_capacity: given(&keys.mount_capacity),
    }
}

fn controller(keys: &mut ControllerKeys, motor: &Motor) -> Controller {
    let current_limit = filled(&mut keys.current_limit, || motor.current_limit);
    let loop_rate = keys.loop_rate.value;
    let position_rate = filled(&mut keys.position_rate, || loop_rate);
    let loop_delay = filled(&mut keys.loop_delay, || 1.0 / position_rate);
    let board = &keys.board.value;
    let encoder = &keys.encoder.value;
    Controller {
        name: keys.name.value.clone(),
        bus_voltage: keys.bus_voltage.value,
        supply_resistance: keys.supply_resistance.value,
        supply_current: given(&keys.supply_current),
        field_weakening: keys.field_weakening.value,
        current_limit,
        board: Board {
            length: board.length.value,
            width: board.width.value,
            thickness: board.thickness.value,
            parts_height: board.height.value,
            underside: board.underside.value,
            hole_pattern: board.holes.value.pattern.value,
            hole_thread: board.holes.value.thread.value,
        },
        encoder: Encoder {
            bits: encoder.bits.value,
            sensor_height: encoder.sensor_height.value,
            gap: encoder.gap.value,
            eccentricity: encoder.eccentricity.value,
        },
        loop_rate,
        position_rate,
        loop_delay,
        velocity_filter: keys.velocity_filter.value,
        mass: keys.mass.value,
        cost: given(&keys.cost),
    }
}

fn gearset(keys: &mut GearsetKeys) -> Gearset {
    let normal_module = keys.normal_module.value;
    let loaded = given(&keys.loaded_direction);
    Gearset {
        sun_teeth: keys.sun_teeth.value,
        planet_teeth: keys.planet_teeth.value,
        ring_teeth: keys.ring_teeth.value,
        planets: keys.planets.value,
        normal_module,
        pressure_angle: keys.pressure_angle.value,
        addendum: keys.addendum.value,
        dedendum: keys.dedendum.value,
        rack_fillet: keys.rack_fillet.value,
        tooth_form: keys.teeth.value,
        helix_angle: match keys.teeth.value {
            ToothForm::Straight => 0.0,
            ToothForm::Helical | ToothForm::Herringbone => keys.helix_angle.value,
        },
        face_width: keys.face_width.value,
        // The reason stands at the key.
        backlash: filled(&mut keys.backlash, || 0.12 + 0.02 * normal_module),
        sun_shift: keys.sun_shift.value,
        planet_shift: keys.planet_shift.value,
        ring_shift: keys.ring_shift.value,
        shift_rule: keys.shift_rule.value,
        spacing: keys.spacing.value,
        tip_relief: keys.tip_relief.value,
        tip_relief_height: filled(&mut keys.tip_relief_height, || 0.4 * normal_module),
        root_relief: keys.root_relief.value,
        face_chamfer: keys.face_chamfer.value,
        sun_hand: filled(&mut keys.hand, || sun_hand(loaded)),
        sun_made: keys.sun.value.made.value,
        planet_made: keys.planet.value.made.value,
        sun_bought_of: bought_of(&keys.sun.value.made, &keys.sun.value.material),
        planet_bought_of: bought_of(&keys.planet.value.made, &keys.planet.value.material),
        ring_made: keys.ring.value.made.value,
        pin_diameter: given(&keys.planet.value.pin),
        planet_bush: keys.planet.value.bush.as_ref().map(|bush| Bush {
            bore: bush.value.bore.value,
            outer: bush.value.outer.value,
            pressure_limit: bush.value.pressure_limit.value,
            pv_limit: bush.value.pv_limit.value,
        }),
        lubrication: keys.lubrication.value,
        friction: keys.friction.value,
        drag: given(&keys.drag),
        efficiency: keys.efficiency.value,
    }
}

/// What a bought gear is made of; what a printed one would be bought of doesn't matter.
fn bought_of(made: &Entry<GearSource>, material: &Option<Entry<String>>) -> String {
    const USUAL: &str = "steel";
    let given = material.as_ref().filter(|_| made.value == GearSource::Buy);
    given.map_or(USUAL.to_string(), |entry| entry.value.clone())
}

/// The hand with which the sun's thrust pushes the rotor towards its stator, at the back.
///
/// A driving right-hand gear is pushed along its turning vector (right-hand rule for the driver, common to the
/// textbooks; from memory). Sun and output turn the same way, and seen from the output counter-clockwise is along the
/// axis towards the output: there a left-hand sun pushes back.
fn sun_hand(loaded: Option<Turning>) -> Hand {
    match loaded {
        Some(Turning::CounterClockwise) => Hand::Left,
        Some(Turning::Clockwise | Turning::Both) | None => Hand::Right,
    }
}

/// \[m/s2\] (3rd CGPM, 1901): a defined value.
const STANDARD_GRAVITY: f64 = 9.80665;

fn load(keys: &mut LoadKeys, peak_torque: f64) -> Load {
    let arm = keys.arm.value;
    // N m over mm.
    let held = if arm > 0.0 { peak_torque * 1000.0 / arm } else { 0.0 };
    let weight = filled(&mut keys.weight, || held);
    Load {
        arm,
        weight,
        inertia: filled(&mut keys.inertia, || weight / STANDARD_GRAVITY * arm * arm * 1e-6),
        drop: given(&keys.drop),
        radial: keys.radial.value,
        axial: keys.axial.value,
        overhang: keys.overhang.value,
        shock: keys.shock.value,
        oscillation: given(&keys.oscillation),
        rate: keys.rate.value,
    }
}

fn fasteners(keys: &DesignKeys) -> BTreeMap<Joint, ForcedJoint> {
    JOINTS
        .iter()
        .filter_map(|(name, joint)| {
            let forced = &keys.fasteners.value.get(name)?.value;
            let forced = ForcedJoint {
                thread: given(&forced.thread),
                count: given(&forced.count),
                length: given(&forced.length),
                class: forced.class.value,
            };
            Some((*joint, forced))
        })
        .collect()
}

fn printer(keys: &PrinterKeys) -> Printer {
    Printer {
        name: keys.name.value.clone(),
        line_width: keys.line_width.value,
        layer_height: keys.layer_height.value,
        first_layer_height: keys.first_layer_height.value,
        bed: keys.bed.value,
        bearing_seat: ranges(&keys.bearing_seat.value).collect(),
        bearing_post: keys.bearing_post.value,
        ring_insert: keys.ring_insert.value,
        sun_socket: keys.sun_socket.value,
        clearance_hole: keys.clearance_hole.value,
        pin_press: keys.pin_press.value,
        pin_slip: keys.pin_slip.value,
        register: keys.register.value,
        running_radial: keys.running_radial.value,
        running_axial: keys.running_axial.value,
        hole_growth: hole_growth(keys),
        post_growth: keys.post_growth.value,
        post_growth_by_size: ranges(&keys.post_growth_by_size.value).collect(),
        shrinkage: keys.shrinkage.value,
        material_shrinkage: keys
            .material_shrinkage
            .value
            .iter()
            .map(|one| (one.material.value.name.clone(), one.shrinkage.value))
            .collect(),
        speed: keys.speed.value,
        flow_limit: keys.flow_limit.value,
        least_layer_time: keys.least_layer_time.value,
        filament_diameter: keys.filament_diameter.value,
        filament_cost: keys
            .filament_cost
            .value
            .iter()
            .map(|one| (one.material.value.name.clone(), one.per_kg.value))
            .collect(),
        currency: given(&keys.currency),
        bridge: keys.bridge.value,
        overhang: keys.overhang.value,
        elephant_foot: keys.elephant_foot.value,
        tooth_growth: keys.tooth_growth.value,
        bed_chamfer: keys.bed_chamfer.value,
    }
}

/// The ranges that were measured, then the rest.
fn hole_growth(keys: &PrinterKeys) -> Vec<FitRange> {
    let rest = FitRange { over: 0.0, up_to: f64::INFINITY, allowance: keys.hole_growth.value };
    ranges(&keys.hole_growth_by_size.value).chain(std::iter::once(rest)).collect()
}

fn ranges(keys: &[FitRangeKeys]) -> impl Iterator<Item = FitRange> + '_ {
    keys.iter().map(|range| FitRange {
        over: range.over.value,
        up_to: range.up_to.value,
        allowance: range.allowance.value,
    })
}

fn limits(keys: &LimitsKeys) -> Limits {
    Limits {
        output_static_safety: keys.output_static_safety.value,
        planet_static_safety: keys.planet_static_safety.value,
        joint_factor: keys.joint_factor.value,
        keeper_factor: keys.keeper_factor.value,
        service_factor: keys.service_factor.value,
        reliability: keys.reliability.value,
        output_backlash: given(&keys.output_backlash),
        output_tilt: given(&keys.output_tilt),
        metal_safety: keys.metal_safety.value,
        printed_root_stress: keys.printed_root_stress.value,
    }
}

/// Settings of every part: its own, else those of `all`, else the defaults. The keys then name every part.
fn parts(keys: &mut DesignKeys, printer: &Printer) -> BTreeMap<PartName, PartSettings> {
    let all = keys.parts.value.remove(ALL_PARTS).map(|entry| entry.value);
    let mut settings = BTreeMap::new();
    for part in PartName::ALL {
        let name = part.as_str();
        let mut own = keys.parts.value.remove(name).map_or_else(PartKeys::unsaid, |entry| entry.value);
        own.material = own.material.take().or_else(|| gear_material(part, &keys.gearset.value));
        if let Some(all) = &all {
            own.take_over(all);
        }
        let solid = matches!(
            part,
            PartName::Planet
                | PartName::Sun
                | PartName::PlanetWasher
                | PartName::PlanetSleeve
                | PartName::InnerSpacer
                | PartName::OuterSpacer
        );
        settings.insert(
            part,
            PartSettings {
                material: filled(&mut own.material, default_material),
                walls: filled(&mut own.walls, || WALLS),
                infill: filled(&mut own.infill, || if solid { 1.0 } else { INFILL }),
                skins: filled(&mut own.skins, || SKINS),
                layer_height: filled(&mut own.layer_height, || printer.layer_height),
            },
        );
        keys.parts.value.insert(name, Entry { value: own, origin: Origin::Default });
    }
    settings
}

fn default_material() -> Material {
    // In the table; a test holds it there.
    tables::material(MATERIAL).cloned().unwrap_or_default()
}

/// The material given for a printed gear in `[gearset]`.
fn gear_material(part: PartName, gearset: &GearsetKeys) -> Option<Entry<Material>> {
    let (printed, material) = match part {
        // A printed sun is one with the adapter.
        PartName::Sun | PartName::RotorAdapter => {
            (gearset.sun.value.made.value == GearSource::Print, &gearset.sun.value.material)
        }
        PartName::Planet => {
            (gearset.planet.value.made.value == GearSource::Print, &gearset.planet.value.material)
        }
        PartName::RingInsert | PartName::RingInsertBack => {
            (gearset.ring.value.made.value == RingKind::Insert, &gearset.ring.value.material)
        }
        PartName::RingHousing => {
            (gearset.ring.value.made.value == RingKind::Cut, &gearset.ring.value.material)
        }
        _ => return None,
    };
    let entry = material.as_ref().filter(|_| printed)?;
    Some(Entry { value: tables::material(&entry.value)?.clone(), origin: entry.origin.clone() })
}

impl PartKeys {
    fn unsaid() -> Self {
        PartKeys { made: None, material: None, walls: None, infill: None, skins: None, layer_height: None }
    }

    fn take_over(&mut self, all: &PartKeys) {
        self.made = self.made.take().or_else(|| all.made.clone());
        self.material = self.material.take().or_else(|| all.material.clone());
        self.walls = self.walls.take().or_else(|| all.walls.clone());
        self.infill = self.infill.take().or_else(|| all.infill.clone());
        self.skins = self.skins.take().or_else(|| all.skins.clone());
        self.layer_height = self.layer_height.take().or_else(|| all.layer_height.clone());
    }
}
