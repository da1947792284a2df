//! Why a part lies the way it does: the faults it has as it lies, those it would have turned over, and what its loads do to the
//! layers.

use crate::design::{PartName, Printer};
use crate::geometry::{ShapeError, Stack};
use crate::parts::MadePart;
use crate::parts::form;

/// What stands in the way of printing one way up.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Hangs {
    /// Faces that hang too far.
    pub count: u32,
    /// Reach over limit of the worst face, faults or not.
    pub worst: f64,
}

/// A part both ways up.
#[derive(Clone, Debug, PartialEq)]
pub struct Orientation {
    pub as_laid: Hangs,
    pub turned_over: Hangs,
    /// What the part carries, and how its layers take it.
    pub load: &'static str,
}

/// Both ways up.
///
/// # Errors
/// If a section can't be formed.
pub fn orientation(made: &MadePart, printer: &Printer) -> Result<Orientation, ShapeError> {
    let over = made.printed.flipped();
    let bottom = over.z_range()[0];
    Ok(Orientation {
        as_laid: hangs(&made.printed, printer)?,
        turned_over: hangs(&over.translated_z(-bottom), printer)?,
        load: load(made.part.name),
    })
}

fn hangs(stack: &Stack, printer: &Printer) -> Result<Hangs, ShapeError> {
    let found = form::overhangs(stack, printer)?;
    Ok(Hangs {
        count: found.iter().filter(|overhang| !overhang.holds()).count() as u32,
        worst: found.iter().map(|overhang| overhang.reach / overhang.limit).fold(0.0, f64::max),
    })
}

/// Layers lie square to the axis in every part: what the loads do to them.
fn load(part: PartName) -> &'static str {
    match part {
        PartName::VentedBase => {
            "The service screws pull its bosses across the layers; torque shears the wall along them."
        }
        PartName::StatorMount => {
            "The motor's torque and its screws press the plate; it bends along the layers."
        }
        PartName::MagnetCup => "Carries itself.",
        PartName::RotorAdapter => {
            "The sun's teeth press the socket within the layers; a sun printed with it is twisted across them."
        }
        PartName::Sun => "Teeth bend within the layers.",
        PartName::Planet => "Teeth bend within the layers, the strong way.",
        PartName::PlanetWasher | PartName::PlanetSleeve => {
            "Pressed across the layers, which they stand best."
        }
        PartName::OutputCarrier => {
            "Pins press its holes within the layers; the crown's teeth are bent across them, which the check counts with."
        }
        PartName::CarrierBackPlate => {
            "Pillars are bent and pulled across the layers; the pins press within them."
        }
        PartName::RingHousing => {
            "Ring teeth bend within the layers; the service screws press the columns across them, the strong sense."
        }
        PartName::BearingKeeper => "Screws press it; the bearing's push bends it along the layers.",
        PartName::OutputClampRing => {
            "The crown presses its pockets within the layers; screws press it across them."
        }
        PartName::RingInsert | PartName::RingInsertBack => {
            "Ring teeth bend and lobes press within the layers, the strong way."
        }
        PartName::InnerSpacer | PartName::OuterSpacer => "Pressed across the layers, which they stand best.",
    }
}
