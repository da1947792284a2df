//! STEP files of an actuator: which parts, where, under what names and in which colours.

use std::fs;
use std::io;
use std::path::Path;

use rayon::prelude::*;

use super::colour::colour;
use super::step::{self, Label, Placed, Placement};
use crate::geometry::{Point, ShapeError};
use crate::layout::Actuator;
use crate::parts::{Part, Place};

/// Writes `parts/<part>.step` of the parts as drawn, each in its place in the actuator (what turns on a planet's pin, about
/// that pin), and `assembly.step`. Bought parts aren't in it.
pub fn write(folder: &Path, actuator: &Actuator, nominal: &[Part]) -> io::Result<()> {
    let parts: Vec<Placed> =
        nominal.par_iter().map(|part| placed(actuator, part)).collect::<io::Result<_>>()?;
    let whole =
        Label { name: actuator.design.name.clone(), description: "printed parts of the actuator".to_owned() };
    let (alone, together) = rayon::join(
        || parts.par_iter().try_for_each(|part| write_part(&folder.join("parts"), part)),
        || {
            let text = step::assembly(&whole, &parts).map_err(|error| fault("assembly", &error))?;
            fs::write(folder.join("assembly.step"), text)
        },
    );
    alone.and(together)
}

fn write_part(folder: &Path, part: &Placed) -> io::Result<()> {
    let name = &part.label.name;
    let text = step::part(&part.label, part.colour, &part.boundary).map_err(|error| fault(name, &error))?;
    fs::write(folder.join(format!("{name}.step")), text)
}

/// A part that meshed but has no STEP form: a fault of the program.
fn fault(name: &str, error: &ShapeError) -> io::Error {
    io::Error::other(format!("{name}.step: {error}"))
}

fn placed(actuator: &Actuator, part: &Part) -> io::Result<Placed> {
    let name = part.name.as_str();
    let settings = actuator.design.settings(part.name);
    let label =
        Label { name: name.to_owned(), description: format!("printed in {}", settings.material.name) };
    let boundary = part.stack.brep().map_err(|error| fault(name, &error))?;
    Ok(Placed { label, colour: colour(part.name), boundary, placements: placements(actuator, part) })
}

fn placements(actuator: &Actuator, part: &Part) -> Vec<Placement> {
    let name = part.name.as_str();
    let places = part.places(&actuator.stage);
    let alone = places.len() == 1;
    let named = |(place, number): (&Place, usize)| Placement {
        name: if alone { name.to_owned() } else { format!("{name}-{number}") },
        axis: Point::polar(place.distance, place.angle),
        turn: place.turn,
    };
    places.iter().zip(1..).map(named).collect()
}
