//! What a body weighs. A ring of a bearing or a half of a motor is part of one line of the bill of materials: it tells the
//! whole's mass, and whose that is.

use crate::bom::{BillOfMaterials, Item, Kind, place};
use crate::bought::Bought;
use crate::layout::{Actuator, Anchor};
use crate::parts::Part;

/// Of one piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Mass {
    /// \[kg\]
    pub value: f64,
    /// Name of the bought unit that weighs this, where the body is only a part of it.
    pub whole: Option<String>,
}

/// As it is printed, with its infill.
pub(super) fn of_print(bom: &BillOfMaterials, part: &Part) -> Option<Mass> {
    let name = part.name.as_str();
    let line = bom.items.iter().find(|item| item.kind == Kind::Printed && item.name == name)?;
    Some(Mass { value: line.unit_mass?, whole: None })
}

pub(super) fn of_purchase(actuator: &Actuator, bom: &BillOfMaterials, bought: &Bought) -> Option<Mass> {
    let joint = bought.joint;
    // Lines of inserts join places that take the same one: the joint itself knows which.
    if bought.kind == Kind::Insert {
        let bolting = actuator.joints.iter().find(|bolting| Some(bolting.joint) == joint)?;
        let (Anchor::Insert(insert) | Anchor::Outside(insert)) = &bolting.anchor else { return None };
        return Some(Mass { value: insert.mass(), whole: None });
    }
    let of_it = |item: &&Item| {
        item.kind == bought.kind
            && match (bought.kind, joint) {
                (Kind::Fastener, Some(joint)) => item.name == format!("{} screw", place(joint)),
                (Kind::Bearing, _) => bought.name.starts_with(&item.name),
                _ => true,
            }
    };
    let line = bom.items.iter().find(of_it)?;
    let in_pieces = matches!(bought.kind, Kind::Motor | Kind::Bearing) && bought.name != line.name;
    Some(Mass { value: line.unit_mass?, whole: in_pieces.then(|| line.name.clone()) })
}
