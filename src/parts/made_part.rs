//! A part with all that is computed from its shape: as it lies on the bed, its size and mass; its triangles when asked.

use crate::geometry::{Mesh, ShapeError, Stack};
use crate::layout::Actuator;

use super::{Part, PartFault, PrintMass, print_mass};

/// How far a triangle may lie from the true surface \[mm\]: a fortieth of a line's width.
const MESH_TOLERANCE: f64 = 0.01;
/// Largest error of a mesh's volume; thin rings and small parts are meshed finer until they keep it. The exact value is
/// known, and half of it is left for the files' 32-bit numbers.
const VOLUME_ERROR: f64 = 2.5e-4;
/// Each halving of the chords' height takes 1.4 times the triangles.
const MOST_HALVINGS: u32 = 8;

/// A part with all that is computed from its shape.
#[derive(Clone, Debug)]
pub struct MadePart {
    pub part: Part,
    /// As it lies on the bed, at the size at which it is printed: fits, growth and shrinkage allowed for.
    pub printed: Stack,
    /// Along x, y, z on the bed.
    pub size: [f64; 3],
    /// Exact \[mm3\].
    pub volume: f64,
    pub mass: PrintMass,
}

impl MadePart {
    /// Shape and mass of a part.
    ///
    /// # Errors
    /// A shape that can't be formed.
    pub fn of(actuator: &Actuator, part: Part) -> Result<MadePart, PartFault> {
        // Every part of the actuator has settings: resolved with the design.
        let settings = actuator.design.settings(part.name);
        let scale = actuator.design.printer.scale(&settings.material.name);
        let printed = if scale == 1.0 { part.printed() } else { part.printed().scaled(scale) };
        let volume = printed.volume()?;
        let mass = print_mass(&printed, volume, settings, &actuator.design.printer)?;
        let size = printed.size();
        Ok(MadePart { part, printed, size, volume, mass })
    }

    /// Triangles fine enough for the part's volume, snapped to what an STL file can hold. Only files need them, and they
    /// take longer than all checks.
    ///
    /// # Errors
    /// A boundary that doesn't close.
    pub fn mesh(&self) -> Result<Mesh, ShapeError> {
        fine_mesh(&self.printed, self.volume)
    }
}

/// Triangles fine enough for a stack's volume, snapped to what an STL file can hold.
///
/// # Errors
/// A boundary that doesn't close.
pub fn fine_mesh(stack: &Stack, volume: f64) -> Result<Mesh, ShapeError> {
    let boundary = stack.brep()?;
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
