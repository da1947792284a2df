//! Where everything sits: from a resolved design to every dimension of the actuator.
//!
//! - [`actuator`]: the result, one struct a part
//! - [`fault`]: conditions that make a design impossible, with the numbers that clash
//! - [`hardware`]: screws, inserts and their holes as a joint sees them
//! - [`outline`]: the first part of the way, as far as it says how wide and how high
//! - [`shell`]: the second part, what encloses motor and gears
//! - [`planet`], [`sun`], [`carrier`], [`housing`], [`base`]: the rules, part by part
//! - [`stack`]: where they lie along the axis
//!
//! The reference arrangement: vented base, controller board, magnet on the shaft end, stator mount, motor, rotor
//! adapter and sun, service joint, back plate, planets in the ring, carrier, keeper, output bearing, lip, clamp ring.

mod actuator;
mod base;
mod carrier;
mod fault;
mod hardware;
mod housing;
mod nominal;
pub mod outline;
mod planet;
mod shell;
mod stack;
mod sun;

pub use actuator::*;
pub use base::{LEAST_WINDOW, most_window_share};
pub use carrier::{CrownedHub, LINK, OUTPUT_TIP_ROOM};
pub use fault::Fault;
pub use hardware::{Anchor, Bolting, FLOOR, alike};
pub use housing::FRICTION;
pub use outline::{Core, Outline};
pub use planet::PIN_WALL;
pub use shell::{Enclosed, Shell};
pub use sun::SunDrive;

use crate::design::{Design, GearSource, Hand, Joint, RingKind, ToothForm};
use crate::gears::{Rack, Stage, StageInput};
use crate::tables::{Bearing, ScrewStandard};

use fault::Faults;

/// Lays a design out. All conditions that fail come back at once.
pub fn lay_out(design: &Design) -> Result<Actuator, Vec<Fault>> {
    let stage = Stage::solve(&stage_input(design)).map_err(|faults| {
        faults
            .iter()
            .map(|fault| Fault { id: "gearset", message: fault.to_string().into() })
            .collect::<Vec<_>>()
    })?;
    let mut faults = Faults::default();
    match assemble(design, stage, &mut faults) {
        Some(actuator) if faults.0.is_empty() => Ok(actuator),
        _ => Err(faults.0),
    }
}

/// The stage a design asks for.
pub fn stage_input(design: &Design) -> StageInput {
    let gearset = &design.gearset;
    StageInput {
        sun_teeth: gearset.sun_teeth,
        planet_teeth: gearset.planet_teeth,
        ring_teeth: gearset.ring_teeth,
        planets: gearset.planets,
        rack: Rack {
            pressure_angle: gearset.pressure_angle,
            addendum: gearset.addendum,
            dedendum: gearset.dedendum + gearset.root_relief / gearset.normal_module,
            fillet: gearset.rack_fillet,
        },
        normal_module: gearset.normal_module,
        helix_angle: match gearset.sun_hand {
            Hand::Right => gearset.helix_angle,
            Hand::Left => -gearset.helix_angle,
        },
        face_width: gearset.face_width,
        backlash: gearset.backlash,
        sun_shift: gearset.sun_shift,
        planet_shift: gearset.planet_shift,
        ring_shift: gearset.ring_shift,
        shift_rule: gearset.shift_rule,
        spacing: gearset.spacing,
        tooth_form: gearset.tooth_form,
    }
}

fn torques(design: &Design, stage: &Stage) -> Torques {
    /// Of the peak torque, where no drag is given: a guess.
    const DRAG: f64 = 0.01;
    let output = design.requirement.peak_torque;
    let sun = output / (stage.ratio * design.gearset.efficiency);
    let drag = design.gearset.drag.unwrap_or(DRAG * output);
    Torques { output, sun, ring: output - sun, drag }
}

/// Abutment diameter at the inner ring: a quarter of the section, within the maker's limits.
fn inner_abutment(bearing: &Bearing) -> f64 {
    let quarter = bearing.bore + 0.25 * (bearing.outer - bearing.bore);
    f64::min(
        f64::max(quarter, bearing.shoulder_inner_min),
        f64::max(bearing.shoulder_inner_max, bearing.shoulder_inner_min),
    )
}

/// Lip and keeper bore: 0.22 of the section in from the outside, at most the maker's limit.
fn outer_abutment(bearing: &Bearing) -> f64 {
    f64::min(bearing.outer - 0.22 * (bearing.outer - bearing.bore), bearing.shoulder_outer_max)
}

/// The rules in the order in which their numbers depend on each other: the rotating stage, from the axis outwards; then
/// heights; output side; what encloses all.
fn assemble(design: &Design, stage: Stage, faults: &mut Faults) -> Option<Actuator> {
    let torques = torques(design, &stage);
    let core = Core::lay(design, &stage, faults)?;
    let drive = sun::sun_drive(design, &stage, &torques, core.pillars.plate_thickness, faults);
    let outline = Outline::lay(design, &stage, &core, drive.as_ref(), &torques, faults)?;
    let hub = CrownedHub::of(design, &stage, outline.clamp_thickness(), &torques, faults)?;
    let side = output_side(design, &stage, (&core, &outline, hub), faults);
    let shell = Shell::lay(design, &stage, &outline, faults)?;
    Some(together(design, stage, Begun { core, drive: drive?, outline, shell }, side))
}

/// An actuator of which all but the output side is laid out.
#[derive(Clone)]
pub struct Begun {
    pub core: Core,
    pub drive: SunDrive,
    pub outline: Outline,
    pub shell: Shell,
}

impl Begun {
    /// The whole, as [`lay_out`] gives it, with this on its hub.
    ///
    /// # Errors
    /// The conditions of the output side that don't hold.
    pub fn complete(
        self,
        design: &Design,
        stage: &Stage,
        hub: CrownedHub,
    ) -> Result<Box<Actuator>, Vec<Fault>> {
        let side = outline::whole(|faults| {
            Some(output_side(design, stage, (&self.core, &self.outline, hub), faults))
        })?;
        Ok(Box::new(together(design, *stage, self, side)))
    }
}

fn output_side(
    design: &Design,
    stage: &Stage,
    (core, outline, hub): (&Core, &Outline, CrownedHub),
    faults: &mut Faults,
) -> carrier::OutputSide {
    let Core { pillars, planet } = core;
    let stations = &outline.stations;
    let pillar_screws = pillar_bolting(design, stage, pillars, design.gearset.face_width);
    let fixed = carrier::plate_holes(stage, planet, &pillar_screws, stations.plate_back);
    let fixed_alike = if stage.spacing.is_equal() { stage.planets } else { 1 };
    let place = carrier::OutputPlace { stations, fixed: &fixed, fixed_alike };
    carrier::output_side(design, hub, &place, faults)
}

fn together(design: &Design, stage: Stage, begun: Begun, side: carrier::OutputSide) -> Actuator {
    let torques = torques(design, &stage);
    let (printer, face) = (&design.printer, design.gearset.face_width);
    let bearing = &design.bearings.output;
    let Begun { core: Core { pillars, planet }, drive, outline, shell } = begun;
    let Outline {
        plate, step_diameter, lip_bore, keeper, keeper_screws, service, bay, cup, stations, ..
    } = outline;
    let Shell { base, board_screws, mount, motor_to_mount, housing, ring_insert, lobe_screws } = shell;
    let hub_diameter = carrier::hub(design);

    let pillar_screws = pillar_bolting(design, &stage, &pillars, face);
    let clamp_thickness = stations.output_face - stations.bearing_front;
    let clamp_ring = carrier::clamp_ring(step_diameter, bearing.outer, &service, clamp_thickness, side.bore);
    let lip = planet.lip_thickness;

    Actuator {
        notes: notes(design, &bay),
        housing,
        back_plate: BackPlate {
            diameter: plate.diameter,
            thickness: pillars.plate_thickness,
            bore: planet::back_plate_bore(&stage),
            pillar_radius: pillars.radius,
            pillar_distance: pillars.distance,
            pillar_length: face + 2.0 * planet::SIDE_GAP,
            pin_hole: planet.pin_diameter + printer.pin_slip,
            boss_diameter: planet.shoulder,
            boss_height: planet::SIDE_GAP + lip,
        },
        carrier: Carrier {
            plate_diameter: plate.diameter,
            plate_thickness: plate.thickness,
            nests: plate.nests,
            step_diameter,
            hub_diameter,
            bore: side.bore,
            output_angle: side.angle,
            hole_margin: side.margin,
            pin_hole: planet.pin_diameter + printer.pin_press,
            crown: side.crown,
        },
        spacers: (design.bearings.output_count == 2).then_some(Spacers {
            width: design.bearings.output_spacing,
            inner_bore: bearing.bore + 0.1,
            inner_outer: step_diameter,
            outer_bore: lip_bore,
            outer_outer: bearing.outer,
        }),
        joints: Joints {
            machine: bay.machine,
            stator_mount: bay.stator_mount,
            service,
            motor_to_mount,
            adapter_to_rotor: drive.rotor_screws,
            sun: drive.sun_screw,
            keeper: keeper_screws,
            pillars: pillar_screws,
            clamp_ring: side.clamp,
            output: side.output,
            ring_insert: lobe_screws,
            board: board_screws,
        },
        sun: drive.sun,
        adapter: drive.adapter,
        design: design.clone(),
        stage,
        torques,
        stations,
        planet,
        keeper,
        clamp_ring,
        ring_insert,
        base,
        mount,
        cup,
    }
}

/// What is worth knowing of this layout.
fn notes(design: &Design, bay: &base::Bay) -> Vec<Note> {
    let height = bay.mount_back - base::FLOOR_THICKNESS;
    let mut notes = vec![Note {
        id: "bay-height",
        message: format!("The board bay is {height:.1} high; {} set it.", bay.governs),
    }];
    if design.gearset.ring_made == RingKind::Cut {
        let message = "Ring exchange means a new housing: clamp ring, carrier, keeper and bearing come out too. \
                       Use ring = \"insert\" for bench swapping.";
        notes.push(Note { id: "ring-cut", message: message.to_string() });
    }
    if design.gearset.tooth_form == ToothForm::Herringbone {
        let message = "Herringbone teeth lock along the axis: close the two ring halves around planets and sun on the \
                       bench, slide the pack in as one, then the lobe screws. To change a planet the pack comes out again.";
        notes.push(Note { id: "split-ring", message: message.to_string() });
    }
    if design.gearset.sun_made == GearSource::Print {
        notes.push(Note {
            id: "sun-printed",
            message: "Sun and rotor adapter are printed in one.".to_string(),
        });
    }
    notes
}

fn pillar_bolting(design: &Design, stage: &Stage, pillars: &planet::Pillars, face: f64) -> Bolting {
    let (_, head_height) = hardware::head(ScrewStandard::Countersunk, pillars.thread);
    Bolting {
        joint: Joint::Pillars,
        thread: pillars.thread,
        head: ScrewStandard::Countersunk,
        length: pillars.screw_length,
        count: stage.planets,
        circle: 2.0 * pillars.distance,
        first_angle: std::f64::consts::PI / f64::from(stage.planets.max(1)),
        grip: pillars.plate_thickness + face + 2.0 * planet::SIDE_GAP,
        clearance: hardware::clearance(design, pillars.thread),
        head_diameter: pillars.head_diameter,
        head_height,
        anchor: Anchor::Insert(hardware::insert(pillars.thread)),
    }
}
