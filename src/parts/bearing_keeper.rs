//! Bearing keeper: presses the outer ring from the back; screw heads flush in pockets.

use super::PartFault;
use crate::geometry::{Body, Region, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc, disc_at};

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (keeper, screws) = (&actuator.keeper, &actuator.joints.keeper);
    let back = actuator.stations.keeper_back;
    let z = [back, back + keeper.thickness];
    let chamfer = actuator.design.printer.bed_chamfer;
    let mut body = Body::new();
    shapes::add_chamfered(&mut body, "keeper", z, disc(keeper.outer), chamfer, Opening::Front)?;
    body.cut("bore", z, disc(keeper.bore));
    shapes::bore_chamfer(&mut body, "bore edge", keeper.bore, z[1], chamfer, Opening::Front);
    shapes::clearance_holes(&mut body, "keeper screw", screws, z);
    let pocket = screws.head_pocket();
    for angle in screws.angles() {
        let round = disc_at(screws.radius(), angle, pocket);
        let shape = if keeper.open_pockets {
            // The wall outside would be too thin to print: the pocket opens through the rim.
            let outward = Region::slot(screws.radius(), keeper.outer / 2.0 + 1.0, pocket, angle);
            round.union(&outward)?
        } else {
            round
        };
        body.cut("screw head", [z[0], z[0] + keeper.head_pocket_depth], shape);
    }
    Ok(body.stack()?)
}
