//! Bought parts as simple bodies: what one recognises them by, and the room they take.
//!
//! - [`screws`]: where each screw sits and which way it points, its head and shank
//! - [`inserts`]: heat-set inserts in their holes
//! - [`bearings`]: rings and balls of output and planet bearings, bushes
//! - [`units`]: motor, magnet, board, sun, pins
//!
//! Shapes are stacks like the printed parts', about their own axis and in the heights of the assembly; places say where
//! the copies stand. Inner shapes of bearings and motors are made up: no maker's drawing is in the tables.

mod bearings;
mod inserts;
pub mod screws;
mod units;

use crate::bom::Kind;
use crate::design::{Joint, ToothForm};
use crate::gears::ProfileFault;
use crate::geometry::{ShapeError, Stack};
use crate::layout::Actuator;
use crate::parts::{Motion, Place};

/// On the axis, as modelled.
const AXIS: Place = Place { distance: 0.0, angle: 0.0, turn: 0.0 };

/// Balls of one bearing: equal spheres on a circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Balls {
    pub count: u32,
    pub diameter: f64,
    /// Diameter of the circle of their centres.
    pub circle: f64,
    /// Height of their centres.
    pub z: f64,
}

/// One bought body, in as many copies as it has places.
#[derive(Clone, Debug)]
pub struct Bought {
    /// As in the assembly's tree.
    pub name: String,
    pub kind: Kind,
    pub stack: Stack,
    /// Rolling elements between two rings; they go with the outer ring's body.
    pub balls: Option<Balls>,
    pub places: Vec<Place>,
    pub motion: Motion,
    /// Of a screw or an insert.
    pub joint: Option<Joint>,
}

impl Bought {
    /// What it is made of, by the look of it.
    pub fn substance(&self) -> &'static str {
        match self.kind {
            Kind::Insert => "brass",
            Kind::Controller => "circuit board",
            Kind::Motor if self.motion == Motion::Fixed => "aluminium",
            Kind::Motor => "painted steel",
            Kind::Magnet => "nickel",
            _ => "steel",
        }
    }
}

/// Why a bought part has no shape.
#[derive(Debug, thiserror::Error)]
#[error("{name}: {source}")]
pub struct BoughtError {
    pub name: String,
    pub source: BoughtFault,
}

/// What can go wrong in one.
#[derive(Debug, thiserror::Error)]
pub enum BoughtFault {
    #[error(transparent)]
    Shape(#[from] ShapeError),
    #[error(transparent)]
    Teeth(#[from] ProfileFault),
}

/// All bought bodies, back to front by kind.
///
/// # Errors
/// The first that can't be formed.
pub fn all(actuator: &Actuator) -> Result<Vec<Bought>, BoughtError> {
    let mut found = units::all(actuator)?;
    found.extend(bearings::all(actuator)?);
    found.extend(screws::all(actuator)?);
    found.extend(inserts::all(actuator)?);
    Ok(found)
}

/// Places of what stands on each planet pin.
fn on_pins(actuator: &Actuator) -> Vec<Place> {
    let distance = actuator.stage.centre_distance;
    (0..actuator.stage.planets)
        .map(|k| Place { distance, angle: actuator.stage.planet_phase(k).position, turn: 0.0 })
        .collect()
}

/// Names the fault after the body.
fn named<T, E: Into<BoughtFault>>(name: &str, result: Result<T, E>) -> Result<T, BoughtError> {
    result.map_err(|source| BoughtError { name: name.to_string(), source: source.into() })
}

/// Teeth that turn back at the middle.
fn is_herringbone(actuator: &Actuator) -> bool {
    actuator.stage.tooth_form == ToothForm::Herringbone
}
