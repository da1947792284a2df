//! The rig's parts on the printer's bed.

use super::parts::RigPart;
use crate::plates::{Plate, Print, arrange};
use crate::product::Product;

/// As prints, in the parts' order: in the base's material and layer height.
pub fn prints<'a>(product: &Product, parts: &'a [RigPart]) -> Vec<Print<'a>> {
    parts
        .iter()
        .map(|part| {
            let settings = product.actuator.design.settings(part.made.part.name);
            Print {
                name: part.name.to_string(),
                made: &part.made,
                count: part.made.part.count,
                material: settings.material.name.clone(),
                layer_height: settings.layer_height,
            }
        })
        .collect()
}

/// Plates of all that fits on the bed; what doesn't is told by the check `rig-bed`.
pub fn plates(product: &Product, prints: &[Print]) -> Vec<Plate> {
    arrange(prints, product.actuator.design.printer.bed).0
}
