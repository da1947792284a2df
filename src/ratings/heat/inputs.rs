//! What the heat network is made from: areas, walls, masses' heat. Lengths mm, areas mm2, else SI, temperatures degC.

use super::conduction;

/// Everything the network needs of a joint.
#[derive(Clone, Debug, PartialEq)]
pub struct HeatInputs {
    /// \[K/W\]
    pub winding_to_mount: f64,
    /// Mount to air of the whole joint, measured with the mount [`REFERENCE_RISE`] over the air \[K/W\]: scales everything
    /// beyond the mount.
    pub measured_mount_to_air: Option<f64>,
    pub capacities: Capacities,
    pub stator: Stator,
    pub rotor: Rotor,
    pub openings: Openings,
    pub plate: Plate,
    pub wall: Wall,
    pub ambient: Surroundings,
    pub limits: Limits,
}

/// How far the mount was over the air when its resistance to air was measured \[K\]: usual on a bench.
pub const REFERENCE_RISE: f64 = 40.0;

/// Heat stored \[J/K\].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Capacities {
    pub winding: f64,
    /// Stator iron, its carrier and the plate behind it.
    pub mount: f64,
    pub rotor: f64,
    /// The air inside with the board that stands in it.
    pub air: f64,
    pub wall: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stator {
    /// Towards the magnets.
    pub gap_area: f64,
    pub gap: f64,
    /// Ends bare to the air inside.
    pub open_area: f64,
    /// Height of the bare part.
    pub height: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Rotor {
    pub diameter: f64,
    /// Of the side that faces the wall or its openings.
    pub side_area: f64,
    pub face_area: f64,
    /// To the wall.
    pub gap: f64,
}

/// Windows in the wall in front of the rotor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Openings {
    /// Rotor seen through them.
    pub area: f64,
    /// Of one, along the rotor: the length air flows along.
    pub width: f64,
    /// Narrowest section of the air's way in.
    pub passage: f64,
    /// From neutral level.
    pub height: f64,
}

/// The plate the stator is screwed to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    pub conductivity: f64,
    pub thickness: f64,
    /// Outside of the contact with the motor.
    pub contact_radius: f64,
    pub outer_radius: f64,
    /// Between its rim and the wall.
    pub rim_gap: f64,
}

/// The printed wall around motor and board.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wall {
    pub conductivity: f64,
    pub thickness: f64,
    /// Facing the air inside, not the rotor.
    pub inside_area: f64,
    pub inside_height: f64,
    /// Facing the surroundings.
    pub outside_area: f64,
    pub outside_diameter: f64,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Surroundings {
    pub temperature: f64,
    /// \[m/s\]
    pub airflow: f64,
}

/// Hottest allowed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    pub winding: f64,
    /// Of the plastic under the motor.
    pub plate: f64,
    /// Of the plastic around it.
    pub wall: f64,
}

/// Aluminium 5052 sheet \[W/(m K)\] (from memory).
pub const ALUMINIUM: f64 = 138.0;

impl Plate {
    /// Contact to rim and over the gap into the wall \[W/K\].
    pub fn to_wall(&self, air_conductivity: f64) -> f64 {
        let through =
            conduction::disc(self.conductivity, self.thickness, self.contact_radius, self.outer_radius);
        let rim = 2.0 * std::f64::consts::PI * self.outer_radius * self.thickness;
        conduction::in_series(through, conduction::slab(air_conductivity, rim, self.rim_gap))
    }

    /// Into the air behind it \[W/K\] with a film coefficient \[W/(m2 K)\]; what stands out of the contact counts as a fin.
    pub fn to_air(&self, film: f64) -> f64 {
        let contact = std::f64::consts::PI * self.contact_radius * self.contact_radius;
        let outside = std::f64::consts::PI * self.outer_radius * self.outer_radius - contact;
        let length = self.outer_radius - self.contact_radius;
        let share = conduction::fin_efficiency(film, self.conductivity, self.thickness, length);
        let area = contact + share * outside;
        conduction::in_series(conduction::slab(self.conductivity, area, self.thickness), film * area * 1e-6)
    }
}
