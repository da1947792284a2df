//! STEP files of an actuator: which parts, where, under what names and in which colours.

use std::fs;
use std::io;
use std::path::Path;

use rayon::prelude::*;

use super::colour::{colour, substance_colour};
use super::step::{self, Label, Placed, Placement};
use crate::bought::Bought;
use crate::geometry::{Point, ShapeError};
use crate::layout::Actuator;
use crate::parts::{Part, Place};

/// Writes `parts/<part>.step` of the parts as drawn, each in its place in the actuator (what turns on a planet's pin, about
/// that pin), and `assembly.step` of these and the bought ones, bearings without their balls.
pub fn write(folder: &Path, actuator: &Actuator, nominal: &[Part], bought: &[Bought]) -> io::Result<()> {
    let parts: Vec<Placed> =
        nominal.par_iter().map(|part| placed(actuator, part)).collect::<io::Result<_>>()?;
    let purchases: Vec<Placed> = bought.par_iter().map(purchase).collect::<io::Result<_>>()?;
    let whole = Label {
        name: actuator.design.name.clone(),
        description: "the actuator, printed and bought parts".to_owned(),
    };
    let (alone, together) = rayon::join(
        || parts.par_iter().try_for_each(|part| write_part(&folder.join("parts"), part)),
        || {
            let all: Vec<&Placed> = parts.iter().chain(&purchases).collect();
            let text = step::assembly(&whole, &all).map_err(|error| fault("assembly", &error))?;
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
    Ok(Placed {
        label,
        colour: colour(part.name),
        boundary,
        placements: placements(name, &part.places(&actuator.stage)),
    })
}

fn purchase(bought: &Bought) -> io::Result<Placed> {
    let label = Label { name: bought.name.clone(), description: bought.substance().to_owned() };
    let boundary = bought.stack.brep().map_err(|error| fault(&bought.name, &error))?;
    let colour = substance_colour(bought.substance());
    Ok(Placed { label, colour, boundary, placements: placements(&bought.name, &bought.places) })
}

fn placements(name: &str, places: &[Place]) -> Vec<Placement> {
    let alone = places.len() == 1;
    let named = |(place, number): (&Place, usize)| Placement {
        name: if alone { name.to_owned() } else { format!("{name}-{number}") },
        axis: Point::polar(place.distance, place.angle),
        turn: place.turn,
    };
    places.iter().zip(1..).map(named).collect()
}
