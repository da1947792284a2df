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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::bom::Kind;
    use crate::parts::Motion;
    use crate::scene::Surface;

    /// A cube of this edge around a point on the axis.
    fn cube(edge: f32, material: &str) -> Thing {
        let mut surface = Surface::default();
        for axis in 0..3 {
            for sign in [-1.0_f32, 1.0] {
                let corner = |u: f32, v: f32| {
                    let mut point = [0.0; 3];
                    point[axis] = sign * edge / 2.0;
                    point[(axis + 1) % 3] = u * edge / 2.0;
                    point[(axis + 2) % 3] = v * sign * edge / 2.0;
                    point
                };
                let first = surface.positions.len() as u32;
                surface.positions.extend([
                    corner(-1.0, -1.0),
                    corner(1.0, -1.0),
                    corner(1.0, 1.0),
                    corner(-1.0, 1.0),
                ]);
                let mut normal = [0.0; 3];
                normal[axis] = sign;
                surface.normals.extend([normal; 4]);
                surface.triangles.extend([[first, first + 1, first + 2], [first, first + 2, first + 3]]);
            }
        }
        Thing {
            name: "cube".to_string(),
            kind: Kind::Pin,
            part: None,
            material: material.to_string(),
            surface,
            places: Vec::new(),
            motion: Motion::Fixed,
            mass: None,
            apart: 0.0,
        }
    }

    fn shown(thing: &Thing, lift: f64) -> Shown<'_> {
        Shown { thing, place: Place { distance: 0.0, angle: 0.0, turn: 0.0 }, lift, pale: false }
    }

    fn points(bodies: &[Shown], size: [usize; 2]) -> (Eye, Vec<u8>) {
        let eye = Eye::around(bodies, Side::Front, size).expect("bodies");
        let mut raster = Raster::new(size);
        for (number, body) in bodies.iter().enumerate() {
            raster.draw(&eye, body, number, number);
        }
        (eye, raster.points(9))
    }

    /// A parallel view of a cube covers edge^2 (|x| + |y| + |z|) of the plane across its direction of unit length (Cauchy).
    #[test]
    fn a_cube_covers_its_shadow() {
        let cube = cube(10.0, "steel");
        let size = [800, 800];
        let (eye, points) = points(&[shown(&cube, 0.0)], size);
        let sight = eye.on(&shown(&cube, 0.0));
        let along = |axis: [f32; 3]| f64::from(sight.direction(axis)[2].abs());
        let shares = along([1.0, 0.0, 0.0]) + along([0.0, 1.0, 0.0]) + along([0.0, 0.0, 1.0]);
        // Points a millimetre, from the height of an upright edge: it is seen shorter by the tilt alone.
        let upright = f64::from(sight.point([0.0, 0.0, 0.0])[1] - sight.point([0.0, 0.0, 1.0])[1]);
        let tilt = (1.0 - along([0.0, 0.0, 1.0]).powi(2)).sqrt();
        let scale = upright / tilt;
        let covered = points.iter().filter(|point| **point != 0).count() as f64;
        let expected = 100.0 * shares * scale * scale;
        // Ink on the outline's outer side adds half a point all around.
        assert!((covered / expected - 1.0).abs() < 0.01, "{covered} against {expected}");
    }

    #[test]
    fn the_nearer_of_two_is_seen() {
        let (large, small) = (cube(10.0, "steel"), cube(6.0, "brass"));
        // The small one inside the large one, then out of its top.
        let seen = |lift: f64| {
            let (_, points) = points(&[shown(&large, 0.0), shown(&small, lift)], [200, 200]);
            points.iter().filter(|point| **point > 10).count()
        };
        assert_eq!(seen(0.0), 0);
        assert!(seen(4.0) > 1000);
    }

    #[test]
    fn a_palette_never_overflows() {
        for colours in [1, 22, 25, 26, 40, 127] {
            assert!(colours * (shades(colours) + 1) < 256, "{colours}");
        }
    }
}
