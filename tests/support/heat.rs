//! The heat network of the reference in Python.

use hubwright::ratings::heat::inputs::{
    Capacities, HeatInputs, Limits, Openings, Plate, Rotor, Stator, Surroundings, Wall,
};

/// The inputs of `kernels/heat.py`.
pub fn reference_inputs() -> HeatInputs {
    HeatInputs {
        winding_to_mount: 0.9,
        measured_mount_to_air: None,
        capacities: Capacities { winding: 35.0, mount: 105.0, rotor: 66.0, air: 30.0, wall: 87.0 },
        stator: Stator { gap_area: 2600.0, gap: 0.8, open_area: 2800.0, height: 77.0 },
        rotor: Rotor { diameter: 86.0, side_area: 7300.0, face_area: 5800.0, gap: 1.0 },
        openings: Openings { area: 2000.0, width: 13.0, passage: 270.0, height: 21.5 },
        plate: Plate {
            conductivity: 0.17,
            thickness: 5.0,
            contact_radius: 20.5,
            outer_radius: 43.9,
            rim_gap: 0.1,
        },
        wall: Wall {
            conductivity: 0.17,
            thickness: 2.4,
            inside_area: 9000.0,
            inside_height: 22.0,
            outside_area: 19_000.0,
            outside_diameter: 93.0,
        },
        ambient: Surroundings { temperature: 30.0, airflow: 0.0 },
        limits: Limits { winding: 120.0, plate: 80.0, wall: 80.0 },
    }
}
