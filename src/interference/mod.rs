//! Every pair of bodies of the whole actuator, printed and bought: how near they come over a full turn, which contacts are meant,
//! and which are mistakes.
//!
//! - [`body`]: every body at its place, in sections
//! - [`contact`]: which bodies are meant to touch, and how
//! - [`sweep`]: radii a body covers when turned
//! - [`still`]: two bodies that don't move against each other
//! - [`pair`]: all pairs, least gap or worst overlap of each
//!
//! Bodies that don't move against each other are met section by section: exact for straight walls, Simpson's rule over five heights
//! for tapered and twisted ones. Bodies that turn against each other are met by what they sweep. Printed bodies are as drawn.

pub mod body;
pub mod contact;
pub mod pair;
pub mod still;
pub mod sweep;

pub use body::{Body, Role, bodies};
pub use contact::Contact;
pub use pair::{Interference, Meeting, State};

use crate::bought::BoughtError;
use crate::geometry::ShapeError;
use crate::parts::PartError;

/// Why bodies can't be compared.
#[derive(Clone, Debug, thiserror::Error)]
pub enum Unmet {
    #[error("{0}")]
    Shape(#[from] ShapeError),
    /// A body that can't be formed, by its name.
    #[error("{0}")]
    Body(String),
    #[error("no part is drawn")]
    NotDrawn,
}

impl From<BoughtError> for Unmet {
    fn from(error: BoughtError) -> Unmet {
        Unmet::Body(error.to_string())
    }
}

impl From<Vec<PartError>> for Unmet {
    fn from(errors: Vec<PartError>) -> Unmet {
        Unmet::Body(errors.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "))
    }
}
