//! The whole actuator to look at: printed parts as drawn and bought ones, each with its triangles, places, what it turns with,
//! and where it goes when the view is pulled apart.
//!
//! - [`surface`]: triangles with normals, smooth within a face
//! - [`explosion`]: how far a body moves along the axis in the exploded view
//! - [`mass`]: what a body weighs, from the bill of materials

mod explosion;
mod mass;
mod surface;

pub use mass::Mass;
pub use surface::Surface;

use rayon::prelude::*;

use crate::bom::{BillOfMaterials, Kind};
use crate::bought::{Balls, Bought, BoughtError};
use crate::design::PartName;
use crate::geometry::Stack;
use crate::layout::Actuator;
use crate::parts::{Motion, Part, PartError, PartFault, Place};

/// How far a triangle may lie from the true surface \[mm\]: under a tenth of a screen's point at arm's length.
const TOLERANCE: f64 = 0.04;

/// A body of the scene, in as many copies as it has places.
#[derive(Clone, Debug)]
pub struct Thing {
    pub name: String,
    pub kind: Kind,
    /// None for a bought body.
    pub part: Option<PartName>,
    /// Of a print, its material's name; of the rest what the kind says.
    pub material: String,
    pub surface: Surface,
    pub places: Vec<Place>,
    pub motion: Motion,
    /// None where nobody can know.
    pub mass: Option<Mass>,
    /// Along the axis in the exploded view \[mm\].
    pub apart: f64,
}

/// Why there is no scene.
#[derive(Debug, thiserror::Error)]
pub enum SceneError {
    #[error(transparent)]
    Part(#[from] PartError),
    #[error(transparent)]
    Bought(#[from] BoughtError),
}

/// Printed and bought bodies of an actuator; `printed` are the nominal parts.
///
/// # Errors
/// The first body without a shape.
pub fn scene(
    actuator: &Actuator,
    bom: &BillOfMaterials,
    printed: &[Part],
    bought: &[Bought],
) -> Result<Vec<Thing>, SceneError> {
    let mut things: Vec<Thing> =
        printed.par_iter().map(|part| print(actuator, bom, part)).collect::<Result<_, _>>()?;
    let rest: Vec<Thing> =
        bought.par_iter().map(|body| purchase(actuator, bom, body)).collect::<Result<_, _>>()?;
    things.extend(rest);
    explosion::pull_apart(actuator, &mut things);
    Ok(things)
}

fn surface(stack: &Stack, balls: Option<&Balls>) -> Result<Surface, crate::geometry::ShapeError> {
    let mesh = stack.brep()?.mesh(TOLERANCE)?;
    let mut surface = Surface::of(&mesh);
    if let Some(balls) = balls {
        surface.add_balls(balls);
    }
    Ok(surface)
}

fn print(actuator: &Actuator, bom: &BillOfMaterials, part: &Part) -> Result<Thing, SceneError> {
    let surface = surface(&part.stack, None)
        .map_err(|source| PartError { part: part.name, source: PartFault::Shape(source) })?;
    Ok(Thing {
        name: part.name.as_str().to_string(),
        kind: Kind::Printed,
        part: Some(part.name),
        material: actuator.design.settings(part.name).material.name,
        surface,
        places: part.places(&actuator.stage),
        motion: part.motion,
        mass: mass::of_print(bom, part),
        apart: 0.0,
    })
}

fn purchase(actuator: &Actuator, bom: &BillOfMaterials, bought: &Bought) -> Result<Thing, SceneError> {
    let surface = surface(&bought.stack, bought.balls.as_ref())
        .map_err(|source| BoughtError { name: bought.name.clone(), source: source.into() })?;
    Ok(Thing {
        name: bought.name.clone(),
        kind: bought.kind,
        part: None,
        material: bought.substance().to_string(),
        surface,
        places: bought.places.clone(),
        motion: bought.motion,
        mass: mass::of_purchase(actuator, bom, bought),
        apart: 0.0,
    })
}
