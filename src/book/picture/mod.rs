//! Pictures of bodies: shaded in a few steps with ink along edges, as PNG.
//!
//! - [`eye`]: from where one looks, and what fills the picture
//! - [`raster`]: triangles to points, the nearest one seen
//! - [`png`]: points to a file's bytes

mod eye;
mod png;
mod raster;

pub use eye::Side;

use crate::export::colour::{colour, substance_colour};
use crate::parts::Place;
use crate::scene::Thing;
use eye::Eye;
use raster::Raster;

/// One body of a picture.
#[derive(Clone, Copy)]
pub struct Shown<'a> {
    pub thing: &'a Thing,
    pub place: Place,
    /// Along the axis \[mm\].
    pub lift: f64,
    /// What is there already: pale.
    pub pale: bool,
}

/// PNG of bodies seen from a side, `size` points wide and high; the background is left open. None without a body.
pub fn picture(bodies: &[Shown], side: Side, size: [usize; 2]) -> Option<Vec<u8>> {
    let eye = Eye::around(bodies, side, size)?;
    let mut colours: Vec<[f64; 3]> = Vec::new();
    let mut raster = Raster::new(size);
    for (number, body) in bodies.iter().enumerate() {
        let wanted = body_colour(body);
        let colour = colours.iter().position(|known| *known == wanted).unwrap_or_else(|| {
            colours.push(wanted);
            colours.len() - 1
        });
        raster.draw(&eye, body, number, colour);
    }
    let shades = shades(colours.len());
    let points = raster.points(shades);
    Some(png::indexed(size, &palette(&colours, shades), &points))
}

fn body_colour(body: &Shown) -> [f64; 3] {
    let full = body.thing.part.map_or_else(|| substance_colour(&body.thing.material), colour);
    if body.pale { full.map(|value| 0.72 + 0.28 * value) } else { full }
}

/// Steps from dark to light of each colour: a palette holds 256 entries, one is the background, one a colour is ink.
fn shades(colours: usize) -> usize {
    (255 / colours.max(1)).saturating_sub(1).clamp(1, 9)
}

/// Background, then each colour's ink and shades.
fn palette(colours: &[[f64; 3]], shades: usize) -> Vec<[u8; 3]> {
    let mut entries = vec![[255, 255, 255]];
    let byte = |value: f64| (255.0 * value.clamp(0.0, 1.0)).round() as u8;
    for colour in colours {
        entries.push(colour.map(|value| byte(0.32 * value)));
        for shade in 1..=shades {
            let light = 0.55 + 0.55 * shade as f64 / shades as f64;
            entries.push(colour.map(|value| byte(value * light)));
        }
    }
    entries.truncate(256);
    entries
}
