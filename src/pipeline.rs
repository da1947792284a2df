//! From a resolved design to a judged product, in one call.

use rayon::prelude::*;

use crate::checks::{self, Checked};
use crate::design::Design;
use crate::geometry::Mesh;
use crate::layout::{self, Fault};
use crate::parts::{PartError, PartFault};
use crate::product::Product;

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
}

/// Makes and judges everything but triangles and files.
pub fn make(design: &Design) -> Result<Made, MakeError> {
    let actuator = layout::lay_out(design).map_err(MakeError::Layout)?;
    let product = Product::of(actuator).map_err(MakeError::Shape)?;
    let checks = checks::run(&product);
    Ok(Made { product, checks })
}

impl Made {
    /// Triangles of the parts, in their order.
    ///
    /// # Errors
    /// Every part whose boundary doesn't close.
    pub fn meshes(&self) -> Result<Vec<Mesh>, MakeError> {
        let meshed: Vec<Result<Mesh, PartError>> = self
            .product
            .parts
            .par_iter()
            .map(|made| {
                made.mesh()
                    .map_err(|error| PartError { part: made.part.name, source: PartFault::Shape(error) })
            })
            .collect();
        let (good, bad): (Vec<_>, Vec<_>) = meshed.into_iter().partition(Result::is_ok);
        if !bad.is_empty() {
            return Err(MakeError::Shape(bad.into_iter().filter_map(Result::err).collect()));
        }
        Ok(good.into_iter().filter_map(Result::ok).collect())
    }
}
