//! Motor, gearset, bearing and materials together, left out where a flattering bound misses a limit already.
//!
//! - *mass*: motor, controller and output bearings alone.
//! - *diameter*: the rotor and the ring's root circle, without walls.
//! - *height*: motor, face and bearings on top of each other, without floors or gaps.
//! - *plate*: the output bearing's bore must pass inside the ring's teeth, running room left out.
//! - *output bearing*: rated with the load's overhang to the output face alone; the bearing lies behind it, so that its
//!   moment is never less. Only where the overhang isn't negative.
//! - *back-drive*: exact, it is a matter of stage and motor alone.

use rayon::prelude::*;

use crate::design::Design;
use crate::ratings::motor::Circuit;
use crate::ratings::output_bearing::{self, OutputLoads};
use crate::ratings::planetary_efficiency::{Drag, StageEfficiency};

use super::gearsets::Gearset;
use super::motors::MotorWindow;
use super::near_miss::{Misses, Stage};
use super::requirement::{OutputChoice, Space};
use super::text::Choices;

/// A candidate and its bounds.
#[derive(Clone, Copy, Debug)]
pub struct Candidate {
    pub choices: Choices,
    /// Small ones first.
    pub size: f64,
    /// \[N m\]; exact.
    pub backdrive: f64,
}

/// Torque at the output that turns the unloaded motor, as in the report \[N m\]; none if the stage locks itself.
pub fn backdrive(stage: &crate::gears::Stage, design: &Design) -> Option<f64> {
    /// Of the peak torque, where no drag is given: the layout's guess.
    const DRAG: f64 = 0.01;
    let sun = Circuit::of(&design.motor, &design.controller).drag_torque
        + design.motor.cogging_torque.unwrap_or(0.0);
    let output = design.gearset.drag.unwrap_or(DRAG * design.requirement.peak_torque);
    Some(StageEfficiency::of(stage, design.gearset.friction).ok()?.backdrive_torque(Drag { sun, output }))
}

/// Whether the bearing may carry the load at all.
fn bearing_may_hold(output: &OutputChoice, design: &Design) -> bool {
    let load = &design.load;
    if load.overhang < 0.0 {
        return true;
    }
    let by_lever = if load.arm > 0.0 { design.requirement.peak_torque / (load.arm * 1e-3) } else { 0.0 };
    let radial = load.weight + load.radial;
    let loads = OutputLoads {
        radial,
        peak_radial: f64::max(radial * load.shock, by_lever + load.radial),
        axial: load.axial,
        overhang: load.overhang,
        shock: load.shock,
        rate: load.rate,
        swing: load.oscillation.map(|half| 2.0 * half),
        reliability: design.limits.reliability,
        clearance: design.bearings.clearance,
    };
    let rated = output_bearing::rate(&output.row, output.count, output.spacing, &loads);
    rated.static_safety >= design.limits.output_static_safety && rated.axial_share <= 1.0
}

/// All candidates that no bound excludes, motor by motor in turn, small ones first; and how many there are. Of a motor only
/// as many are kept as could be laid out at all.
pub fn candidates(
    space: &Space,
    gearsets: &[Gearset],
    windows: &[MotorWindow],
    misses: &mut Misses,
) -> (Vec<Candidate>, usize) {
    let by_motor: Vec<(Vec<Candidate>, usize, Misses)> = windows
        .par_iter()
        .enumerate()
        .map(|(motor, window)| of_motor(space, motor, window, gearsets))
        .collect();
    let count = by_motor.iter().map(|(_, count, _)| count).sum();
    let longest = by_motor.iter().map(|(own, ..)| own.len()).max().unwrap_or(0);
    for (.., own) in &by_motor {
        misses.merge(own);
    }
    let in_turn = |index: usize| by_motor.iter().filter_map(move |(own, ..)| own.get(index).copied());
    ((0..longest).flat_map(in_turn).collect(), count)
}

fn of_motor(
    space: &Space,
    motor: usize,
    window: &MotorWindow,
    gearsets: &[Gearset],
) -> (Vec<Candidate>, usize, Misses) {
    let mut misses = Misses::default();
    let Some(base) = space.bases.get(motor).and_then(|bases| bases.first()) else {
        return (Vec::new(), 0, misses);
    };
    // Loads are the motor's and the file's alone, not the gearset's.
    let holding: Vec<usize> =
        (0..space.outputs.len()).filter(|output| bearing_may_hold(&space.outputs[*output], base)).collect();
    let mut own = Vec::new();
    for gearset in gearsets.iter().filter(|gearset| window.allows(gearset.integers.ratio())) {
        of_gearset(space, motor, gearset, &holding, &mut own, &mut misses);
    }
    let count = own.len();
    // Stable: equal ones keep the order of the lists.
    own.sort_by(|a, b| a.size.total_cmp(&b.size));
    own.truncate(space.laid_out);
    (own, count, misses)
}

fn of_gearset(
    space: &Space,
    motor: usize,
    gearset: &Gearset,
    holding: &[usize],
    found: &mut Vec<Candidate>,
    misses: &mut Misses,
) {
    let integers = &gearset.integers;
    let Some(base) = space.bases.get(motor).and_then(|bases| bases.get(integers.gears)) else { return };
    let requirement = &base.requirement;
    let Some(backdrive) = backdrive(&gearset.stage, base) else { return };
    if misses.over(Stage::Bound, "search.backdrive_torque_limit", backdrive, space.backdrive_limit, "N m") {
        return;
    }
    let ring = &gearset.stage.ring;
    let diameter = f64::max(base.motor.outer_diameter, ring.root_diameter);
    let widest = requirement.outer_diameter_limit;
    if misses.over(Stage::Bound, "requirement.outer_diameter_limit", diameter, widest, "mm") {
        return;
    }
    for &output in holding {
        let Some(bearing) = space.outputs.get(output) else { continue };
        // The hub behind this bearing is a part of the plate that turns inside the ring's teeth.
        if bearing.row.bore > ring.tip_diameter {
            continue;
        }
        let count = f64::from(bearing.count);
        let height = base.motor.height + gearset.face + count * bearing.row.width;
        let mass = base.motor.mass + base.controller.mass + count * bearing.row.mass;
        let heaviest = requirement.mass_limit.map(|mass| mass * 1e3);
        if misses.over(Stage::Bound, "requirement.height_limit", height, requirement.height_limit, "mm")
            || misses.over(Stage::Bound, "requirement.mass_limit", mass * 1e3, heaviest, "g")
        {
            continue;
        }
        // The plate nests in the bearing best when both are of a size; an order, no bound.
        let wide = f64::max(diameter, bearing.row.outer);
        let unlike = (bearing.row.outer - ring.tip_diameter).abs();
        let size = wide / 100.0 + height / 100.0 + mass + unlike / 200.0;
        for (planet_bearing, planet_material, ring_material) in rest(space) {
            let choices = Choices {
                motor,
                gears: integers.gears,
                teeth: integers.teeth,
                planets: integers.planets,
                face: gearset.face,
                output,
                planet_bearing,
                planet_material,
                ring_material,
            };
            found.push(Candidate { choices, size, backdrive });
        }
    }
}

/// Planet bearings with materials of planets and ring.
fn rest(space: &Space) -> Vec<(Option<usize>, usize, usize)> {
    let seats: Vec<Option<usize>> = if space.planet_bearings.is_empty() {
        vec![None]
    } else {
        (0..space.planet_bearings.len()).map(Some).collect()
    };
    let (planets, rings) = (space.planet_materials.len(), space.ring_materials.len());
    seats
        .into_iter()
        .flat_map(|seat| {
            (0..planets).flat_map(move |planet| (0..rings).map(move |ring| (seat, planet, ring)))
        })
        .collect()
}
