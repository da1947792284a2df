//! Torque that no candidate of a motor holds for hours.
//!
//! At rest the winding's copper is the only source of heat. With one source the temperature of its node, and of the mount,
//! its only neighbour, falls when any conductance of the network grows (Rayleigh's monotonicity law: the resistance
//! between two points of a network never grows when one of its conductances does; textbook, from memory). So a network in
//! which every conductance is at least any candidate's, judged by winding and mount alone, holds at least as much. What
//! differs between the candidates of a motor is how long the base is and how its windows lie:
//! - walls inside and outside as large as those of the longest base
//! - windows all round the rotor with the narrowest posts, as narrow as they can be (narrow plates shed more heat), and
//!   the rotor's whole side facing the wall besides

use crate::assessment::heat_inputs::heat_inputs;
use crate::design::{Design, Motor};
use crate::layout::{Actuator, LEAST_WINDOW, most_window_share};
use crate::ratings::heat::continuous::Holder;
use crate::ratings::heat::{HeatInputs, Network};
use crate::ratings::motor::Circuit;
use crate::ratings::motor::speed_map::Reduction;

/// Most torque that can be held \[N m\] a unit of ratio, in any base no longer than up to the service plane `service`;
/// `laid_out` is one candidate of the motor. None where a measured resistance stands for the network.
pub fn held_by_ratio(laid_out: &Actuator, service: f64) -> Option<f64> {
    let design = &laid_out.design;
    if design.motor.thermal.mount_to_air.is_some() {
        return None;
    }
    let network = Network::new(flattering(laid_out, service));
    let circuit = Circuit::of(&design.motor, &design.controller);
    let reduction = Reduction { ratio: 1.0, efficiency: design.gearset.efficiency };
    let holder = Holder { circuit: &circuit, reduction: &reduction };
    // Too hot in the best of bases: nothing is held in any.
    Some(holder.continuous(&network, 0.0).map_or(0.0, |held| held.torque))
}

fn flattering(laid_out: &Actuator, service: f64) -> HeatInputs {
    let design: &Design = &laid_out.design;
    let motor: &Motor = &design.motor;
    let base = &laid_out.base;
    let mut inputs = heat_inputs(laid_out);
    let longer = (service - laid_out.stations.service).max(0.0);
    inputs.wall.inside_area += std::f64::consts::PI * base.bore * longer;
    inputs.wall.outside_area += std::f64::consts::PI * base.outer * longer;
    let around = std::f64::consts::PI * base.bore * most_window_share() * motor.height;
    let side = inputs.rotor.side_area;
    inputs.openings.area = around.min(side);
    inputs.openings.width = LEAST_WINDOW;
    inputs.openings.passage = std::f64::consts::PI * motor.outer_diameter * inputs.rotor.gap;
    // What the windows bare still counts as facing the wall.
    inputs.rotor.side_area = side + inputs.openings.area;
    // The wall is neither the source nor its neighbour: its limit can't be bounded so, and is left to the candidates.
    inputs.limits.wall = f64::INFINITY;
    inputs
}
