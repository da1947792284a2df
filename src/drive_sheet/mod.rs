//! The drive sheet: what is typed into a motor drive, whoever made it, and in what order it is tried.
//!
//! Currents are peak values of the sine in one phase; the constants are given in the other conventions beside it.

mod gains; // soft, medium, stiff
mod limits; // currents, heat, voltage, speed, watchdog
mod motor; // constants of motor, encoder and current loop
mod steps; // calibration, with its cautions
mod table; // tables and number formats

pub use table::Table;

use crate::product::Product;

/// Everything on it.
#[derive(Clone, Debug, PartialEq)]
pub struct DriveSheet {
    /// Of the design.
    pub name: String,
    pub tables: Vec<Table>,
    /// In order; each a short title and what to do.
    pub steps: Vec<[String; 2]>,
    pub notes: Vec<String>,
}

impl DriveSheet {
    pub fn of(made: &Product) -> DriveSheet {
        let mut tables = vec![motor::motor(made), motor::encoder(made), motor::current_loop(made)];
        tables.push(limits::currents(made));
        tables.extend(limits::heat(made));
        tables.push(limits::guards(made));
        tables.extend(gains::tables(made));
        DriveSheet {
            name: made.actuator.design.name.clone(),
            tables,
            steps: steps::steps(made),
            notes: steps::notes(made),
        }
    }
}
