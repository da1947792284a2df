//! Motor, gearset, bearing and materials together, left out where a flattering bound misses a limit already.
//!
//! - *mass*: motor, controller and output bearings alone.
//! - *diameter*: the rotor and the ring's root circle, without walls.
//! - *height*: motor, face and bearings on top of each other, without floors or gaps.
//! - *output bearing*: rated with the load's overhang to the output face alone; the bearing lies behind it, so that its
//!   moment is never less. Only where the overhang isn't negative.
//! - *back-drive*: exact, it is a matter of stage and motor alone.

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

/// All candidates that no bound excludes, motor by motor in turn, small ones first.
pub fn candidates(
    space: &Space,
    gearsets: &[Gearset],
    windows: &[MotorWindow],
    misses: &mut Misses,
) -> Vec<Candidate> {
    let mut by_motor: Vec<Vec<Candidate>> = Vec::new();
    for (motor, window) in windows.iter().enumerate() {
        let mut own = Vec::new();
        for gearset in gearsets.iter().filter(|gearset| window.allows(gearset.integers.ratio())) {
            own.extend(of_gearset(space, motor, gearset, misses));
        }
        own.sort_by(|a, b| a.size.total_cmp(&b.size));
        by_motor.push(own);
    }
    let longest = by_motor.iter().map(Vec::len).max().unwrap_or(0);
    let in_turn = |index: usize| by_motor.iter().filter_map(move |own| own.get(index).copied());
    (0..longest).flat_map(in_turn).collect()
}

fn of_gearset(space: &Space, motor: usize, gearset: &Gearset, misses: &mut Misses) -> Vec<Candidate> {
    let integers = &gearset.integers;
    let Some(base) = space.bases.get(motor).and_then(|bases| bases.get(integers.gears)) else {
        return Vec::new();
    };
    let requirement = &base.requirement;
    let Some(backdrive) = backdrive(&gearset.stage, base) else { return Vec::new() };
    if misses.over(Stage::Bound, "search.backdrive_torque_limit", backdrive, space.backdrive_limit, "N m") {
        return Vec::new();
    }
    let diameter = f64::max(base.motor.outer_diameter, gearset.stage.ring.root_diameter);
    if misses.over(
        Stage::Bound,
        "requirement.outer_diameter_limit",
        diameter,
        requirement.outer_diameter_limit,
        "mm",
    ) {
        return Vec::new();
    }
    let mut found = Vec::new();
    for (output, bearing) in space.outputs.iter().enumerate() {
        let count = f64::from(bearing.count);
        let height = base.motor.height + gearset.face + count * bearing.row.width;
        let mass = base.motor.mass + base.controller.mass + count * bearing.row.mass;
        if misses.over(Stage::Bound, "requirement.height_limit", height, requirement.height_limit, "mm")
            || misses.over(
                Stage::Bound,
                "requirement.mass_limit",
                mass * 1e3,
                requirement.mass_limit.map(|kg| kg * 1e3),
                "g",
            )
            || !bearing_may_hold(bearing, base)
        {
            continue;
        }
        // The plate nests in the bearing best when both are of a size; an order, no bound.
        let wide = f64::max(diameter, bearing.row.outer);
        let size = wide / 100.0
            + height / 100.0
            + mass
            + (bearing.row.outer - gearset.stage.ring.tip_diameter).abs() / 200.0;
        for planet_material in 0..space.planet_materials.len() {
            for ring_material in 0..space.ring_materials.len() {
                let seats: Vec<Option<usize>> = if space.planet_bearings.is_empty() {
                    vec![None]
                } else {
                    (0..space.planet_bearings.len()).map(Some).collect()
                };
                for planet_bearing in seats {
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
    }
    found
}
