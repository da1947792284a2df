//! `mesh.svg`: the stage at its true size and each mesh enlarged, on one sheet to print.
//!
//! A millimetre of the stage is a millimetre of the sheet. Outlines are the arcs the parts are made of; lines follow
//! ISO 128-2, scales ISO 5455, sheets ISO 216.

mod detail; // one mesh enlarged
mod labels; // rows of labels with leaders
mod layout; // sheet size, scales, places
mod position; // the stage with its driving flanks in contact
mod stage_view; // the whole stage
mod table; // figures of the three gears
mod title; // legend and title block

pub use position::{MeshPosition, PlacedPlanet, StagePosition};

use crate::drawing::canvas::Canvas;
use detail::{Detail, Placed};
use layout::Layout;

use crate::gear_sheet::GearSheet;
use crate::gears::{Gear, ProfileFault, Stage};
use crate::geometry::{Loop, Point};
use crate::layout::Actuator;
use crate::parts::PROFILE_TOLERANCE;

/// Everything drawn, in its place in the model.
struct Drawn<'a> {
    name: &'a str,
    stage: &'a Stage,
    position: StagePosition,
    sun: Loop,
    planets: Vec<Loop>,
    ring: Loop,
    /// Round what surrounds the ring's teeth.
    ring_outside: Loop,
    outer_diameter: f64,
    sun_bore: f64,
    planet_bore: f64,
}

impl Drawn<'_> {
    fn of(actuator: &Actuator) -> Result<Drawn<'_>, ProfileFault> {
        let stage = &actuator.stage;
        let position = StagePosition::of(stage);
        let outline = |gear: &Gear, turn: f64| Ok(gear.profile(PROFILE_TOLERANCE)?.rotated(turn));
        let planets = position
            .planets
            .iter()
            .map(|placed| Ok(outline(&stage.planet, placed.turn)?.translated(placed.centre)))
            .collect::<Result<Vec<Loop>, ProfileFault>>()?;
        let outer_diameter =
            actuator.ring_insert.as_ref().map_or(actuator.housing.tube_diameter, |insert| insert.outer);
        Ok(Drawn {
            name: &actuator.design.name,
            stage,
            sun: outline(&stage.sun, position.sun_turn)?,
            planets,
            ring: outline(&stage.ring, position.ring_turn)?,
            ring_outside: Loop::circle(Point::ORIGIN, 0.5 * outer_diameter),
            outer_diameter,
            sun_bore: actuator.sun.bore,
            planet_bore: actuator.planet.seat,
            position,
        })
    }

    /// The meshes of planet 0 with sun and ring; none without planets.
    fn details(&self) -> Option<[Detail<'_>; 2]> {
        let (stage, position) = (self.stage, &self.position);
        let (outline, placed) = (self.planets.first()?, position.planets.first()?);
        let planet = |pitch_diameter| Placed {
            name: "planet",
            gear: &stage.planet,
            centre: placed.centre,
            outline,
            pitch_diameter,
            outside: None,
        };
        let [sun_pitch, planet_pitch_at_sun] = stage.sun_mesh.pitch_diameters;
        let [planet_pitch_at_ring, ring_pitch] = stage.ring_mesh.pitch_diameters;
        let sun = Placed {
            name: "sun",
            gear: &stage.sun,
            centre: Point::ORIGIN,
            outline: &self.sun,
            pitch_diameter: sun_pitch,
            outside: None,
        };
        let ring = Placed {
            name: "ring",
            gear: &stage.ring,
            centre: Point::ORIGIN,
            outline: &self.ring,
            pitch_diameter: ring_pitch,
            outside: Some(&self.ring_outside),
        };
        Some([
            Detail {
                letter: "A",
                gears: [sun, planet(planet_pitch_at_sun)],
                mesh: &stage.sun_mesh,
                position: &position.sun_mesh,
            },
            Detail {
                letter: "B",
                gears: [planet(planet_pitch_at_ring), ring],
                mesh: &stage.ring_mesh,
                position: &position.ring_mesh,
            },
        ])
    }
}

/// The drawing as SVG text.
///
/// # Errors
/// If a gear has no outline.
pub fn mesh_svg(actuator: &Actuator) -> Result<String, ProfileFault> {
    let drawn = Drawn::of(actuator)?;
    let module = drawn.stage.transverse_module;
    let shown = [&drawn.position.sun_mesh, &drawn.position.ring_mesh].map(|mesh| detail::shown(mesh, module));
    let layout = Layout::of(drawn.outer_diameter, drawn.stage.sun.normal_module, shown);
    let mut canvas = Canvas::default();
    stage_view::draw(&mut canvas, &drawn, &layout);
    for (detail, window) in drawn.details().iter().flatten().zip(&layout.windows) {
        detail.draw(&mut canvas, window);
    }
    table::draw(&mut canvas, &GearSheet::all(actuator), layout.table);
    title::draw(&mut canvas, &drawn, &layout);
    Ok(canvas.finish(layout.width, layout.height, &format!("Gear mesh of {}", drawn.name)))
}

/// A length as the drawing writes it \[mm\].
fn number_text(length: f64) -> String {
    format!("{length:.3}")
}
