//! Magnet cup on the shaft end: pocket for the encoder magnet at the back, sleeve over the shaft.

use super::PartFault;
use crate::geometry::{Body, Stack};
use crate::layout::Actuator;

use super::shapes::{self, Opening, disc};

pub fn stack(actuator: &Actuator) -> Result<Stack, PartFault> {
    let (cup, stations) = (&actuator.cup, &actuator.stations);
    let mut body = Body::new();
    let z = [stations.magnet_back, stations.cup_front];
    let chamfer = actuator.design.printer.bed_chamfer;
    shapes::add_chamfered(&mut body, "cup", z, disc(cup.outer), chamfer, Opening::Back)?;
    body.cut("magnet pocket", [z[0], z[0] + cup.pocket_depth], disc(cup.pocket));
    body.cut("shaft bore", [stations.shaft_end, z[1]], disc(cup.shaft_bore));
    Ok(body.stack()?)
}
