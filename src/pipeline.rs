//! From a resolved design to a judged product, in one call.

use crate::checks::{self, Checked};
use crate::design::Design;
use crate::layout::{self, Fault};
use crate::parts::PartError;
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

/// Makes everything but the files.
pub fn make(design: &Design) -> Result<Made, MakeError> {
    let actuator = layout::lay_out(design).map_err(MakeError::Layout)?;
    let product = Product::of(actuator).map_err(MakeError::Shape)?;
    let checks = checks::run(&product);
    Ok(Made { product, checks })
}
