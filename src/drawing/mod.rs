//! Drawings true to scale: the axial section of the assembly and a sheet for every printed part.
//!
//! Projection and line types after ISO 128-2:2020 and ISO 128-3:2020, dimensions after ISO 129-1:2018, lettering heights after ISO
//! 3098-1, scales after ISO 5455, gears in section after ISO 2203, threads after ISO 6410-1 (all from memory).
//!
//! - [`canvas`]: SVG text in millimetres of the sheet
//! - [`cut`]: what a half plane through the axis cuts of a stack of slabs
//! - [`hatch`]: hatching lines, and which style each of several neighbours gets
//! - [`sheet`]: frame, title block, texts that know their boxes
//! - [`dimension`]: dimensions in rows and columns outside the view
//! - [`balloon`]: item numbers round the view, leaders that don't cross
//! - [`plan`]: a part seen along the axis, hidden edges left out
//! - [`bodies`]: everything that the assembly's section cuts, with its item number
//! - [`assembly`], `section.svg`
//! - [`features`]: what is to be inspected on each printed part
//! - [`part`], `drawings/<part>.svg`

pub mod assembly;
mod balloon;
pub mod bodies;
pub mod canvas;
pub mod cut;
pub mod dimension;
pub mod features;
mod hatch;
pub mod part;
mod plan;
mod sheet;

use crate::geometry::ShapeError;

/// Why a drawing can't be made.
#[derive(Debug, thiserror::Error)]
#[error("drawing of {name}: {source}")]
pub struct DrawingError {
    pub name: String,
    pub source: ShapeError,
}
