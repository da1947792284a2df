//! Printed parts of both designs: which are the same print, which change, which only one has.

use rayon::prelude::*;

use crate::design::{PartName, PartSettings};
use crate::geometry::ShapeError;
use crate::parts::MadePart;
use crate::product::Product;

use super::sameness::{Sameness, TOLERANCE, sameness};

/// A printed part on both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct PartRow {
    pub name: PartName,
    /// Pieces.
    pub count: [u32; 2],
    /// On the bed \[mm\]; none where the design lacks it.
    pub size: [Option<[f64; 3]>; 2],
    /// Of one piece \[kg\].
    pub mass: [Option<f64>; 2],
    pub state: State,
}

/// What becomes of a print of the first in the second.
#[derive(Clone, Debug, PartialEq)]
pub enum State {
    /// The same print: surfaces within so much of each other \[mm\], printed alike.
    Same {
        apart: f64,
    },
    Changed {
        /// Heights on the bed between which shapes differ \[mm\]; none for the same shape printed otherwise.
        shape: Option<[f64; 2]>,
        /// Settings that differ.
        settings: Vec<Setting>,
    },
    OnlyFirst,
    OnlySecond,
}

/// A print setting on both sides.
#[derive(Clone, Debug, PartialEq)]
pub struct Setting {
    pub name: &'static str,
    pub values: [String; 2],
}

impl PartRow {
    /// A print of the first serves in the second.
    pub fn is_same(&self) -> bool {
        matches!(self.state, State::Same { .. })
    }

    pub fn differs(&self) -> bool {
        !self.is_same() || self.count[0] != self.count[1]
    }

    /// Pieces to print for the second, with all of the first at hand.
    pub fn to_print(&self) -> u32 {
        if self.is_same() { self.count[1].saturating_sub(self.count[0]) } else { self.count[1] }
    }
}

/// In the order in which parts are named.
///
/// # Errors
/// A section that can't be formed.
pub fn rows(sides: [&Product; 2]) -> Result<Vec<PartRow>, ShapeError> {
    let of = |side: &'_ Product, name: PartName| side.parts.iter().position(|made| made.part.name == name);
    PartName::ALL
        .into_par_iter()
        .filter_map(|name| {
            let made = sides.map(|side| of(side, name).and_then(|index| side.parts.get(index)));
            made.iter().any(Option::is_some).then(|| row(name, sides, made))
        })
        .collect()
}

fn row(name: PartName, sides: [&Product; 2], made: [Option<&MadePart>; 2]) -> Result<PartRow, ShapeError> {
    let state = match made {
        [Some(first), Some(second)] => compared(name, sides, [first, second])?,
        [Some(_), None] => State::OnlyFirst,
        [None, _] => State::OnlySecond,
    };
    Ok(PartRow {
        name,
        count: made.map(|made| made.map_or(0, |made| made.part.count)),
        size: made.map(|made| made.map(|made| made.size)),
        mass: made.map(|made| made.map(|made| made.mass.mass)),
        state,
    })
}

fn compared(name: PartName, sides: [&Product; 2], made: [&MadePart; 2]) -> Result<State, ShapeError> {
    let settings = settings(sides.map(|side| side.actuator.design.settings(name)));
    Ok(match sameness(&made[0].printed, &made[1].printed, TOLERANCE)? {
        Sameness::Within(apart) if settings.is_empty() => State::Same { apart },
        Sameness::Within(_) => State::Changed { shape: None, settings },
        Sameness::Differs { from, to } => State::Changed { shape: Some([from, to]), settings },
    })
}

fn settings([first, second]: [&PartSettings; 2]) -> Vec<Setting> {
    let setting = |name, of: fn(&PartSettings) -> String| Setting { name, values: [of(first), of(second)] };
    [
        setting("material", |one| one.material.name.clone()),
        setting("walls", |one| one.walls.to_string()),
        setting("infill", |one| format!("{:.0} %", one.infill * 100.0)),
        setting("skins", |one| one.skins.to_string()),
        setting("layers", |one| format!("{} mm", one.layer_height)),
    ]
    .into_iter()
    .filter(|setting| setting.values[0] != setting.values[1])
    .collect()
}
