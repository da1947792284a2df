//! Plastic gears in the manner of VDI 2736-2, and printed ones as stated estimates with a band.
//!
//! The guideline's constants and fitted curves stand [`FROM_MEMORY`]; the printed allowables and wear coefficients are
//! estimates. None of them is the sole ground for a pass: the gears must be run.

mod band; // a value with its low and high end
mod deformation; // how far a loaded tooth gives way
mod flank_pressure; // nominal pressure between flanks of which one at least is plastic
mod mesh_rating; // every figure of one mesh
mod moulded; // fatigue curves of moulded POM and PA66
mod not_applicable; // why there is no number
mod printed; // strength of a printed tooth: heat, layers, infill, cycles, idler
mod temperature; // tooth temperature, root and flank
mod wear; // wear depth, and the backlash it makes
mod wear_coefficient; // wear coefficients of print materials

pub use band::Band;
pub use deformation::{Deformation, tip_deformation};
pub use flank_pressure::{PLASTIC_POISSON_RATIO, flank_pressure};
pub use mesh_rating::{Cases, GearMaterial, GearRating, MeshCase, MeshSide, PlasticMesh};
pub use moulded::{Duty, Moulded, permissible_stress};
pub use not_applicable::NotApplicable;
pub use printed::{IDLER_SHARE, LayerDirection, LoadCase, Printed, cycles_share, temperature_share};
pub use temperature::{
    HeatCoefficients, Housing, Lubrication, Mate, Running, TemperatureRise, temperature_rise,
};
pub use wear::{BacklashGrowth, COUNTED_CYCLES, Swing, active_flanks, backlash_growth, wear_depth};
pub use wear_coefficient::{GREASED_SHARE, WearCoefficient, wear_coefficient, wear_coefficients};

/// What an output says beside these figures.
pub const FROM_MEMORY: &str = "constants of VDI 2736 from memory, not seen on a page; printed strengths and wear are \
                               estimates with a band";
