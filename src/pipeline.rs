//! From a resolved design to a judged product, in one call.

use rayon::prelude::*;

use crate::bought::{self, Bought};
use crate::checks::{self, Checked};
use crate::design::{Design, PartName};
use crate::geometry::{Mesh, ShapeError};
use crate::layout::{self, Actuator, Fault};
use crate::parts::{self, MadePart, Part, PartError, PartFault};
use crate::product::Product;
use crate::scene::{self, Drawn, FINE, SceneError, Thing};

/// A product and how its checks ended.
#[derive(Clone, Debug)]
pub struct Made {
    pub product: Product,
    pub checks: Vec<Checked>,
}

/// Why nothing is made.
#[derive(Debug)]
pub enum MakeError {
    /// The design can't be built: every condition that doesn't hold.
    Layout(Vec<Fault>),
    /// A part has no valid shape: a fault of the program or of an untried combination, named by part and place.
    Shape(Vec<PartError>),
    /// A bought part couldn't be drawn.
    Scene(SceneError),
}

/// Makes and judges everything but triangles and files.
pub fn make(design: &Design) -> Result<Made, MakeError> {
    let actuator = layout::lay_out(design).map_err(MakeError::Layout)?;
    let product = Product::of(Box::new(actuator)).map_err(MakeError::Shape)?;
    let checks = checks::run(&product);
    Ok(Made { product, checks })
}

/// Judges an actuator whose parts are drawn already, as [`make`] does; what only reports and books tell of the heat is left
/// out.
pub fn judge(actuator: Box<Actuator>, parts: Vec<MadePart>) -> Made {
    let product = Product::of_drawn(actuator, parts);
    let checks = checks::run(&product);
    Made { product, checks }
}

/// An actuator as it looks, before anything is judged: laid out, its bodies drawn.
#[derive(Clone, Debug)]
pub struct Sight {
    pub actuator: Actuator,
    pub scene: Vec<Thing>,
}

/// Lays a design out and draws it: a fraction of what [`make`] takes. No body has a mass yet.
///
/// # Errors
/// As [`make`].
pub fn look(design: &Design, drawn: &mut Drawn) -> Result<Sight, MakeError> {
    let actuator = layout::lay_out(design).map_err(MakeError::Layout)?;
    let (nominal, bought) =
        rayon::join(|| parts::all(&actuator.nominal()).map_err(MakeError::Shape), || bought::all(&actuator));
    let bought = bought.map_err(|error| MakeError::Scene(error.into()))?;
    let scene = scene::scene(&actuator, None, &nominal?, &bought, drawn).map_err(MakeError::Scene)?;
    Ok(Sight { actuator, scene })
}

/// What only files need: triangles of what is printed, and solids as drawn.
#[derive(Clone, Debug)]
pub struct Solids {
    /// Triangles as printed, in the order of the parts.
    pub meshes: Vec<Mesh>,
    /// As drawn, in the assembly frame, in the order of the parts.
    pub nominal: Vec<Part>,
    /// Exact, of the nominal parts \[mm3\].
    pub nominal_volumes: Vec<f64>,
    /// Bought parts as simple bodies.
    pub bought: Vec<Bought>,
    /// Everything to look at, bought parts too.
    pub scene: Vec<Thing>,
}

impl Made {
    /// Everything to look at, with masses; `drawn` keeps what is drawn for the next time.
    ///
    /// # Errors
    /// A body without a shape.
    pub fn scene(&self, drawn: &mut Drawn) -> Result<Vec<Thing>, MakeError> {
        let actuator = &self.product.actuator;
        let nominal = parts::all(&actuator.nominal()).map_err(MakeError::Shape)?;
        let bought = bought::all(actuator).map_err(|error| MakeError::Scene(error.into()))?;
        scene::scene(actuator, Some(&self.product.bom), &nominal, &bought, drawn).map_err(MakeError::Scene)
    }

    /// # Errors
    /// Every part whose boundary doesn't close, or that has no nominal shape.
    pub fn solids(&self) -> Result<Solids, MakeError> {
        let parts = &self.product.parts;
        let (meshes, nominal) = rayon::join(
            || gathered(parts.par_iter().map(|made| (made.part.name, made.mesh())).collect()),
            || parts::all(&self.product.actuator.nominal()).map_err(MakeError::Shape),
        );
        let (meshes, nominal) = (meshes?, nominal?);
        let volumes = nominal.par_iter().map(|part| (part.name, part.stack.volume())).collect();
        let actuator = &self.product.actuator;
        let bought = bought::all(actuator).map_err(|error| MakeError::Scene(error.into()))?;
        let bom = Some(&self.product.bom);
        let scene = scene::scene(actuator, bom, &nominal, &bought, &mut Drawn::within(FINE))
            .map_err(MakeError::Scene)?;
        Ok(Solids { meshes, nominal_volumes: gathered(volumes)?, nominal, bought, scene })
    }
}

/// All that came out well, or all that didn't.
fn gathered<T>(found: Vec<(PartName, Result<T, ShapeError>)>) -> Result<Vec<T>, MakeError> {
    let mut good = Vec::with_capacity(found.len());
    let mut bad = Vec::new();
    for (part, result) in found {
        match result {
            Ok(value) => good.push(value),
            Err(error) => bad.push(PartError { part, source: PartFault::Shape(error) }),
        }
    }
    if bad.is_empty() { Ok(good) } else { Err(MakeError::Shape(bad)) }
}
