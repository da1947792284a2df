//! Two made designs side by side, and a design put on another motor.
//!
//! ```text
//! two Loaded + Made --inputs, parts, bill, figures, sizes, checks--> Comparison --text, tree, page--> what differs, first
//! design + motor --new_motor--> text of the new design --swap--> Comparison of old and new
//! ```

pub mod bill; // lines of the bill of materials, by what is bought
pub mod blocks; // all of it as titled tables
pub mod carried; // what was chosen for the old motor
pub mod checks; // the same check on both
pub mod figures; // a number on both, and which is better where that is clear
pub mod inputs; // resolved keys, with who gave them
pub mod new_motor; // a design's text on another motor
pub mod page; // for a page and a chapter
pub mod parts; // printed parts: kept, changed, only in one
pub mod rows; // which figures: performance, heat, masses
pub mod sameness; // printed shapes compared, within a stated tolerance
pub mod sizes; // which sizes: outside, heights, diameters, joints
pub mod swap; // what a swap means for the bench
pub mod text; // for the terminal
pub mod tree; // for machines

use crate::design::Loaded;
use crate::geometry::ShapeError;
use crate::pipeline::Made;

use bill::BillRow;
use checks::CheckRow;
use figures::FigureRow;
use inputs::InputRow;
use parts::PartRow;

/// One of the two.
#[derive(Clone, Copy)]
pub struct Side<'a> {
    pub loaded: &'a Loaded,
    pub made: &'a Made,
}

/// Everything of two designs, the first on the left. Rows hold what is alike too.
#[derive(Clone, Debug)]
pub struct Comparison {
    /// Names of the designs.
    pub names: [String; 2],
    pub inputs: Vec<InputRow>,
    pub figures: Vec<FigureRow>,
    pub sizes: Vec<FigureRow>,
    pub parts: Vec<PartRow>,
    pub bill: Vec<BillRow>,
    pub checks: Vec<CheckRow>,
}

impl Comparison {
    /// # Errors
    /// A printed shape without a section.
    pub fn of(left: Side, right: Side) -> Result<Comparison, ShapeError> {
        let products = [&left.made.product, &right.made.product];
        Ok(Comparison {
            names: [left, right].map(|side| side.loaded.design.name.clone()),
            inputs: inputs::rows([left.loaded, right.loaded]),
            figures: rows::rows([left.made, right.made]),
            sizes: sizes::rows(products),
            parts: parts::rows(products)?,
            bill: bill::rows(products),
            checks: checks::rows([left.made, right.made]),
        })
    }
}
