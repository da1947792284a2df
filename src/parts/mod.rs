//! The printed parts, one file each, as slab stacks in the assembly frame.
//!
//! Back to front: [`vented_base`], [`magnet_cup`], [`stator_mount`], [`rotor_adapter`] (with the sun when printed in
//! one), [`planet`] with washers and sleeve, [`carrier_back_plate`], [`output_carrier`], [`ring_housing`],
//! [`ring_insert`], [`bearing_keeper`], [`spacers`], [`output_clamp_ring`]. [`shapes`] holds the 2D shapes they
//! share, [`teeth`] the printed teeth.

mod bearing_keeper;
mod carrier_back_plate;
pub mod form;
pub mod least_mass;
mod made_part;
mod magnet_cup;
mod output_carrier;
mod output_clamp_ring;
mod place;
mod planet;
mod print_mass;
mod ring_housing;
mod ring_insert;
mod rotor_adapter;
mod shapes;
mod spacers;
mod stator_mount;
pub(crate) mod teeth;
mod vented_base;

pub use made_part::{MadePart, fine_mesh};
pub use place::Place;
pub use print_mass::{Band, PrintMass, print_mass, solid_section};
pub use teeth::PROFILE_TOLERANCE;

use rayon::prelude::*;

use crate::design::{PartName, ToothForm};
use crate::gears::ProfileFault;
use crate::geometry::{ShapeError, Stack};
use crate::layout::Actuator;

/// A printed part: its shape where it sits in the actuator, and how it lies on the bed.
#[derive(Clone, Debug)]
pub struct Part {
    pub name: PartName,
    pub count: u32,
    /// Assembly frame; planets and what belongs to them about their own axis.
    pub stack: Stack,
    /// The face towards the output lies on the bed.
    pub flipped: bool,
    /// What it turns with.
    pub motion: Motion,
}

/// Which turning group a part belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Motion {
    Fixed,
    Rotor,
    Carrier,
    /// About its own axis, carried round.
    Planet,
}

impl Part {
    /// Modelled about a planet's axis, not the actuator's.
    pub fn on_pin(&self) -> bool {
        matches!(self.name, PartName::Planet | PartName::PlanetWasher | PartName::PlanetSleeve)
    }

    /// The part as it lies on the bed: turned over if need be, lowest face at z = 0.
    pub fn printed(&self) -> Stack {
        let stack = if self.flipped { self.stack.flipped() } else { self.stack.clone() };
        let bottom = stack.z_range()[0];
        stack.translated_z(-bottom)
    }
}

/// Why a part has no shape.
#[derive(Debug, thiserror::Error)]
#[error("{}: {source}", part.as_str())]
pub struct PartError {
    pub part: PartName,
    pub source: PartFault,
}

/// What can go wrong in one.
#[derive(Debug, thiserror::Error)]
pub enum PartFault {
    #[error(transparent)]
    Shape(#[from] ShapeError),
    #[error(transparent)]
    Teeth(#[from] ProfileFault),
}

type Maker = fn(&Actuator) -> Result<Stack, PartFault>;

/// One row a part: who makes it, how many, which face lies on the bed, what it turns with.
struct Row {
    name: PartName,
    count: u32,
    flipped: bool,
    motion: Motion,
    make: Maker,
}

fn rows(actuator: &Actuator) -> Vec<Row> {
    let planets = actuator.stage.planets;
    let row = |name, count, flipped, motion, make| Row { name, count, flipped, motion, make };
    let mut rows = vec![
        row(PartName::VentedBase, 1, false, Motion::Fixed, vented_base::stack as Maker),
        row(PartName::StatorMount, 1, true, Motion::Fixed, stator_mount::stack),
        row(PartName::MagnetCup, 1, false, Motion::Rotor, magnet_cup::stack),
        row(PartName::RotorAdapter, 1, false, Motion::Rotor, rotor_adapter::stack),
        row(PartName::PlanetWasher, planets, false, Motion::Carrier, planet::washer),
        row(PartName::OutputCarrier, 1, false, Motion::Carrier, output_carrier::stack),
        row(PartName::CarrierBackPlate, 1, false, Motion::Carrier, carrier_back_plate::stack),
        row(PartName::RingHousing, 1, true, Motion::Fixed, ring_housing::stack),
        row(PartName::BearingKeeper, 1, true, Motion::Fixed, bearing_keeper::stack),
        row(PartName::OutputClampRing, 1, true, Motion::Carrier, output_clamp_ring::stack),
    ];
    if actuator.design.gearset.planet_made == crate::design::GearSource::Print {
        rows.push(row(PartName::Planet, planets, false, Motion::Planet, planet::stack));
    }
    if actuator.planet.sleeve_length > planet::THINNEST_SLEEVE {
        rows.push(row(PartName::PlanetSleeve, planets, false, Motion::Carrier, planet::sleeve));
    }
    if actuator.ring_insert.is_some() {
        let herringbone = actuator.stage.tooth_form == ToothForm::Herringbone;
        rows.push(row(PartName::RingInsert, 1, true, Motion::Fixed, ring_insert::stack));
        if herringbone {
            rows.push(row(PartName::RingInsertBack, 1, true, Motion::Fixed, ring_insert::back_half));
        }
    }
    if actuator.spacers.is_some() {
        rows.push(row(PartName::InnerSpacer, 1, false, Motion::Carrier, spacers::inner));
        rows.push(row(PartName::OuterSpacer, 1, false, Motion::Fixed, spacers::outer));
    }
    rows.sort_by_key(|row| row.name);
    rows
}

/// Names and counts of the parts an actuator has, without their shapes.
pub fn list(actuator: &Actuator) -> Vec<(PartName, u32)> {
    rows(actuator).iter().map(|row| (row.name, row.count)).collect()
}

/// One part alone; none if this actuator has no such part.
pub fn one(actuator: &Actuator, name: PartName) -> Result<Option<Part>, PartError> {
    rows(actuator).iter().find(|row| row.name == name).map(|row| made(actuator, row)).transpose()
}

fn made(actuator: &Actuator, row: &Row) -> Result<Part, PartError> {
    let stack = (row.make)(actuator).map_err(|source| PartError { part: row.name, source })?;
    Ok(Part { name: row.name, count: row.count, stack, flipped: row.flipped, motion: row.motion })
}

/// All printed parts, in the order of their names. Every part that fails is reported.
pub fn all(actuator: &Actuator) -> Result<Vec<Part>, Vec<PartError>> {
    let parts: Vec<Result<Part, PartError>> =
        rows(actuator).par_iter().map(|row| made(actuator, row)).collect();
    let (parts, errors): (Vec<_>, Vec<_>) = parts.into_iter().partition(Result::is_ok);
    if errors.is_empty() {
        Ok(parts.into_iter().filter_map(Result::ok).collect())
    } else {
        Err(errors.into_iter().filter_map(Result::err).collect())
    }
}
