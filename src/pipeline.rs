//! From a resolved design to everything that is made of it, in one call.

use rayon::prelude::*;

use crate::checks::{self, Checked};
use crate::design::Design;
use crate::export::bom::BillOfMaterials;
use crate::geometry::{Mesh, ShapeError, Stack};
use crate::layout::{self, Actuator, Fault};
use crate::parts::{self, Part, PartError, PartFault, PrintMass, print_mass};
use crate::ratings::output_bearing::OutputBearing;

/// How far a triangle may lie from the true surface \[mm\]: a fortieth of a line's width.
const MESH_TOLERANCE: f64 = 0.01;
/// Largest error of a mesh's volume; thin rings and small parts are meshed finer until they keep it. The exact value is
/// known, and half of it is left for the files' 32-bit numbers.
const VOLUME_ERROR: f64 = 2.5e-4;
/// Each halving of the chords' height takes 1.4 times the triangles.
const MOST_HALVINGS: u32 = 8;

/// The part's triangles, fine enough for its volume.
fn mesh(printed: &Stack, volume: f64) -> Result<Mesh, ShapeError> {
    let boundary = printed.brep()?;
    let mut tolerance = MESH_TOLERANCE;
    let mut mesh = boundary.mesh(tolerance)?.snapped()?;
    for _ in 0..MOST_HALVINGS {
        if (mesh.volume() / volume - 1.0).abs() <= VOLUME_ERROR {
            break;
        }
        tolerance /= 2.0;
        mesh = boundary.mesh(tolerance)?.snapped()?;
    }
    Ok(mesh)
}

/// A part with all that is computed from its shape.
#[derive(Clone, Debug)]
pub struct MadePart {
    pub part: Part,
    /// As it lies on the bed.
    pub printed: Stack,
    /// Along x, y, z on the bed.
    pub size: [f64; 3],
    /// Exact \[mm3\].
    pub volume: f64,
    /// Snapped to what an STL file can hold.
    pub mesh: Mesh,
    pub mass: PrintMass,
}

/// Everything made of one design.
#[derive(Clone, Debug)]
pub struct Made {
    pub actuator: Actuator,
    pub parts: Vec<MadePart>,
    pub bom: BillOfMaterials,
    pub output_bearing: OutputBearing,
    /// Load on one planet bearing at peak \[N\].
    pub planet_load: f64,
    pub checks: Vec<Checked>,
}

/// Why nothing is made.
#[derive(Debug)]
pub enum MakeError {
    /// The design can't be built: every condition that doesn't hold.
    Layout(Vec<Fault>),
    /// A part has no valid shape: a fault of the program or of an untried combination, named by part and place.
    Shape(Vec<PartError>),
}

/// Makes everything but the files.
pub fn make(design: &Design) -> Result<Made, MakeError> {
    let actuator = layout::lay_out(design).map_err(MakeError::Layout)?;
    let parts = parts::all(&actuator).map_err(MakeError::Shape)?;
    let made: Vec<Result<MadePart, PartError>> = parts
        .into_par_iter()
        .map(|part| {
            let name = part.name;
            shape(&actuator, part).map_err(|source| PartError { part: name, source })
        })
        .collect();
    let (good, bad): (Vec<_>, Vec<_>) = made.into_iter().partition(Result::is_ok);
    if !bad.is_empty() {
        return Err(MakeError::Shape(bad.into_iter().filter_map(Result::err).collect()));
    }
    let parts: Vec<MadePart> = good.into_iter().filter_map(Result::ok).collect();
    let weighed: Vec<(&Part, PrintMass)> = parts.iter().map(|made| (&made.part, made.mass)).collect();
    let bom = BillOfMaterials::new(&actuator, &weighed);
    let output_bearing = checks::output_bearing(&actuator);
    let planet_load = checks::planet_bearing_load(&actuator);
    let mut made = Made { actuator, parts, bom, output_bearing, planet_load, checks: Vec::new() };
    made.checks = checks::run(&made);
    Ok(made)
}

fn shape(actuator: &Actuator, part: Part) -> Result<MadePart, PartFault> {
    let printed = part.printed();
    let size = printed.size()?;
    let volume = printed.volume()?;
    let mesh = mesh(&printed, volume)?;
    // Every part of the actuator has settings: resolved with the design.
    let settings = actuator.design.settings(part.name);
    let mass = print_mass(part.name, &printed, &settings, &actuator.design.printer)?;
    Ok(MadePart { part, printed, size, volume, mesh, mass })
}
