//! Five nodes: winding, mount, rotor, air inside, printed wall; and the surroundings.
//!
//! ```text
//! winding -- mount --+-- air gap -- rotor --+-- gap, wall's thickness -- wall -- surroundings
//!                    |                      +-- through the openings ---------- surroundings
//!                    |                      +-- air inside
//!                    +-- ends, plate's back -- air inside --+-- wall's thickness -- wall
//!                    |                                      +-- rising air -- surroundings
//!                    +-- plate, its rim's gap -- wall
//! ```
//!
//! `C dT/dt = P - sum G (T - T_other)`; every conductance G follows the temperatures (convection, radiation). The wall's node
//! is its outer skin; the mount's is the motor's face, which the plastic of the plate touches: its limit is the plastic's.
//!
//! Assumptions: each node of one temperature; a turning rotor stirs the air at its own face and in the openings, but pumps
//! none through them; the ring housing and the machine behind the base take no heat; the gaps conduct as still air does.
//! All are on the safe side. Areas
//! and shares estimated from a motor's outside make the resistances good to a factor of 1.5, torque to 20 %.
//! Not covered: heat of the gears and of the drive's board, sunshine, hot spots in a winding.

use super::air::Air;
use super::conduction::{in_series, slab};
use super::convection::{self, Surface};
use super::inputs::{HeatInputs, REFERENCE_RISE};
use super::radiation;
use super::steady;
use super::vents;
use crate::ratings::motor::losses;

pub const NODES: usize = 5;
/// By node, degC.
pub type Temperatures = [f64; NODES];

/// What has a temperature of its own; also its place in [`Temperatures`].
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Node {
    Winding = 0,
    Mount = 1,
    Rotor = 2,
    Air = 3,
    Wall = 4,
}

/// Heat made, and the turning that goes with it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Heat {
    /// Copper loss at 20 degC, in the winding \[W\].
    pub copper_at_20: f64,
    /// Drag of the iron, in the stator \[W\].
    pub iron: f64,
    /// \[rad/s\]
    pub rotor_speed: f64,
}

impl Heat {
    pub const NONE: Heat = Heat { copper_at_20: 0.0, iron: 0.0, rotor_speed: 0.0 };

    /// Into each node \[W\].
    pub fn into_nodes(&self, temperatures: &Temperatures) -> [f64; NODES] {
        [self.copper_at_20 * losses::resistance_ratio(temperatures[0]), self.iron, 0.0, 0.0, 0.0]
    }
}

/// Conductances \[W/K\] at some temperatures.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Conductances {
    /// Between two nodes.
    pub between: [(Node, Node, f64); 7],
    /// From a node to the surroundings.
    pub outwards: [(Node, f64); 3],
}

/// The network of one joint.
#[derive(Clone, Debug, PartialEq)]
pub struct Network {
    pub inputs: HeatInputs,
    /// On every conductance beyond the mount: 1, or what makes it agree with a measured resistance.
    scale: f64,
}

impl Network {
    pub fn new(inputs: HeatInputs) -> Network {
        let mut network = Network { inputs, scale: 1.0 };
        if let Some(measured) = network.inputs.measured_mount_to_air
            && let Some(estimated) = steady::mount_to_air(&network, REFERENCE_RISE)
        {
            network.scale = estimated / measured;
        }
        network
    }

    /// The same joint with something changed; a measurement made on it as it was still counts.
    pub fn changed(&self, change: impl FnOnce(&mut HeatInputs)) -> Network {
        let mut inputs = self.inputs.clone();
        change(&mut inputs);
        Network { inputs, scale: self.scale }
    }

    pub fn ambient(&self) -> f64 {
        self.inputs.ambient.temperature
    }

    /// All nodes as warm as the surroundings.
    pub fn cold(&self) -> Temperatures {
        [self.ambient(); NODES]
    }

    /// At temperatures and a speed of the rotor \[rad/s\].
    pub fn conductances(&self, temperatures: &Temperatures, rotor_speed: f64) -> Conductances {
        let inputs = &self.inputs;
        let [_, mount, rotor, air, wall] = *temperatures;
        let (ambient, airflow) = (inputs.ambient.temperature, inputs.ambient.airflow);
        let (stator, bell, openings) = (&inputs.stator, &inputs.rotor, &inputs.openings);
        let motor_to_plastic = radiation::together(radiation::MOTOR, radiation::PLASTIC);
        let motor_to_motor = radiation::together(radiation::MOTOR, radiation::MOTOR);

        // Stator to rotor: still air and radiation over the magnets' gap.
        let over_gap = slab(Air::at((mount + rotor) / 2.0).conductivity, stator.gap_area, stator.gap)
            + radiation::film(motor_to_motor, mount, rotor) * stator.gap_area * 1e-6;
        // Rotor to wall: the running gap, then the wall's thickness.
        let covered = (bell.side_area - openings.area).max(0.0);
        let to_skin = slab(Air::at((rotor + wall) / 2.0).conductivity, covered, bell.gap)
            + radiation::film(motor_to_plastic, rotor, wall) * covered * 1e-6;
        let rotor_to_wall =
            in_series(to_skin, slab(inputs.wall.conductivity, covered, inputs.wall.thickness));
        // Rotor to the surroundings, through the openings.
        let passing = f64::max(airflow, rotor_speed * bell.diameter * 0.5e-3);
        let bare = convection::film(Surface::Plate, openings.width, rotor, ambient, passing)
            + radiation::film(radiation::MOTOR, rotor, ambient);
        let rotor_to_surroundings = bare * openings.area * 1e-6;
        // Faces to the air inside; what they radiate to is about as warm as that air.
        let face = f64::max(
            convection::film(Surface::Plate, bell.diameter, rotor, air, 0.0),
            convection::turning_disc(rotor_speed, (rotor + air) / 2.0),
        ) + radiation::film(motor_to_plastic, rotor, air);
        let ends = convection::film(Surface::Plate, stator.height, mount, air, 0.0)
            + radiation::film(motor_to_plastic, mount, air);
        let mount_to_air = ends * stator.open_area * 1e-6 + inputs.plate.to_air(ends);
        let mount_to_wall = inputs.plate.to_wall(Air::at((mount + wall) / 2.0).conductivity);
        // The air inside to the wall and out.
        let inside = convection::film(Surface::Plate, inputs.wall.inside_height, wall, air, 0.0);
        let air_to_wall = in_series(
            inside * inputs.wall.inside_area * 1e-6,
            slab(inputs.wall.conductivity, inputs.wall.inside_area, inputs.wall.thickness),
        );
        let rising = vents::conductance(openings.passage, openings.height, air, ambient);
        // The outer skin.
        let outside =
            convection::film(Surface::Cylinder, inputs.wall.outside_diameter, wall, ambient, airflow)
                + radiation::film(radiation::PLASTIC, wall, ambient);
        let scale = self.scale;
        Conductances {
            between: [
                (Node::Winding, Node::Mount, 1.0 / inputs.winding_to_mount),
                (Node::Mount, Node::Rotor, scale * over_gap),
                (Node::Mount, Node::Air, scale * mount_to_air),
                (Node::Mount, Node::Wall, scale * mount_to_wall),
                (Node::Rotor, Node::Wall, scale * rotor_to_wall),
                (Node::Rotor, Node::Air, scale * face * bell.face_area * 1e-6),
                (Node::Air, Node::Wall, scale * air_to_wall),
            ],
            outwards: [
                (Node::Rotor, scale * rotor_to_surroundings),
                (Node::Air, scale * rising),
                (Node::Wall, scale * outside * inputs.wall.outside_area * 1e-6),
            ],
        }
    }

    /// Capacities by node \[J/K\].
    pub fn capacities(&self) -> [f64; NODES] {
        let capacities = &self.inputs.capacities;
        [capacities.winding, capacities.mount, capacities.rotor, capacities.air, capacities.wall]
    }

    /// Rates \[K/s\] at temperatures and heat.
    pub fn rates(&self, temperatures: &Temperatures, heat: &Heat) -> [f64; NODES] {
        let mut power = heat.into_nodes(temperatures);
        let conductances = self.conductances(temperatures, heat.rotor_speed);
        for (from, to, conductance) in conductances.between {
            let flow = conductance * (temperatures[from as usize] - temperatures[to as usize]);
            power[from as usize] -= flow;
            power[to as usize] += flow;
        }
        for (node, conductance) in conductances.outwards {
            power[node as usize] -= conductance * (temperatures[node as usize] - self.ambient());
        }
        let capacities = self.capacities();
        std::array::from_fn(|node| power[node] / capacities[node])
    }
}
