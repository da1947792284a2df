//! First layer: the area that sticks to the bed, and how high the part stands on it.
//!
//! Slenderness is height over the narrowest width of the contact's box; prints up to about 6 stand without a brim (common practice,
//! no source).

use crate::geometry::Stack;

/// Contact with the bed.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BedHold {
    /// \[mm2\]
    pub area: f64,
    /// Height over the contact's narrowest width.
    pub slenderness: f64,
}

/// Of a part as it lies on the bed; none for an empty one.
pub fn bed_hold(stack: &Stack) -> Option<BedHold> {
    let contact = stack.slabs.first()?.bottom();
    let bounds = contact.bounds();
    let width = f64::min(bounds.high.x - bounds.low.x, bounds.high.y - bounds.low.y);
    let height = stack.z_range()[1] - stack.z_range()[0];
    Some(BedHold { area: contact.area(), slenderness: height / width })
}
