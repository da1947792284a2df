//! The whole actuator to look at: printed parts as drawn and bought ones, each with its triangles, places, what it turns with,
//! and where it goes when the view is pulled apart.
//!
//! - [`drawn`]: how finely, and what was drawn before
//! - [`coarse`]: teeth of few edges, while values change
//! - [`surface`]: triangles with normals, smooth within a face
//! - [`explosion`]: how far a body moves along the axis in the exploded view
//! - [`mass`]: what a body weighs, from the bill of materials

mod coarse;
mod drawn;
mod explosion;
mod mass;
mod surface;

pub use drawn::{Drawn, FINE};
pub use mass::Mass;
pub use surface::Surface;

use rayon::prelude::*;

use crate::bom::{BillOfMaterials, Kind};
use crate::bought::{Bought, BoughtError};
use crate::design::PartName;
use crate::layout::Actuator;
use crate::parts::{Motion, Part, PartError, PartFault, Place};

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

/// Printed and bought bodies of an actuator; `printed` are the nominal parts. Without a bill of materials no mass is told.
/// `drawn` says how finely, and keeps what it draws: a body whose shape is the same next time isn't meshed again.
///
/// # Errors
/// The first body without a shape.
pub fn scene(
    actuator: &Actuator,
    bom: Option<&BillOfMaterials>,
    printed: &[Part],
    bought: &[Bought],
    drawn: &mut Drawn,
) -> Result<Vec<Thing>, SceneError> {
    let before = &*drawn;
    let (prints, purchases) = rayon::join(
        || printed.par_iter().map(|part| print(actuator, bom, part, before)).collect::<Result<Vec<_>, _>>(),
        || bought.par_iter().map(|body| purchase(actuator, bom, body, before)).collect::<Result<Vec<_>, _>>(),
    );
    let (prints, purchases) = (prints?, purchases?);
    let shapes = printed
        .iter()
        .map(|part| (&part.stack, None))
        .chain(bought.iter().map(|body| (&body.stack, body.balls)));
    let mut things: Vec<Thing> = prints.into_iter().chain(purchases).collect();
    drawn.keep(shapes.zip(things.iter().map(|thing| &thing.surface)));
    explosion::pull_apart(actuator, &mut things);
    Ok(things)
}

fn print(
    actuator: &Actuator,
    bom: Option<&BillOfMaterials>,
    part: &Part,
    drawn: &Drawn,
) -> Result<Thing, SceneError> {
    let surface = drawn
        .surface(&part.stack, None)
        .map_err(|source| PartError { part: part.name, source: PartFault::Shape(source) })?;
    Ok(Thing {
        name: part.name.as_str().to_string(),
        kind: Kind::Printed,
        part: Some(part.name),
        material: actuator.design.settings(part.name).material.name.clone(),
        surface,
        places: part.places(&actuator.stage),
        motion: part.motion,
        mass: bom.and_then(|bom| mass::of_print(bom, part)),
        apart: 0.0,
    })
}

fn purchase(
    actuator: &Actuator,
    bom: Option<&BillOfMaterials>,
    bought: &Bought,
    drawn: &Drawn,
) -> Result<Thing, SceneError> {
    let surface = drawn
        .surface(&bought.stack, bought.balls)
        .map_err(|source| BoughtError { name: bought.name.clone(), source: source.into() })?;
    Ok(Thing {
        name: bought.name.clone(),
        kind: bought.kind,
        part: None,
        material: bought.substance().to_string(),
        surface,
        places: bought.places.clone(),
        motion: bought.motion,
        mass: bom.and_then(|bom| mass::of_purchase(actuator, bom, bought)),
        apart: 0.0,
    })
}
