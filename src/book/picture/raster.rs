//! Triangles to points: the nearest one seen, how light it is, and ink where one body or face ends.

use super::Shown;
use super::eye::Eye;

/// Light comes over one's left shoulder: right, up, towards the eye; of length one.
const LIGHT: [f32; 3] = [-0.40, 0.56, 0.725];
/// Faces that meet at more than this get ink between them: cosine of 37 degrees.
const CREASE: f32 = 0.8;
/// A step in depth that is an edge \[mm\], beyond what a slanting face makes from point to point.
const STEP: f32 = 0.6;
/// No body here.
const NOTHING: u16 = u16::MAX;

/// What is seen at one point.
#[derive(Clone, Copy)]
struct Seen {
    depth: f32,
    normal: [f32; 3],
    body: u16,
    colour: u16,
}

const EMPTY: Seen = Seen { depth: f32::NEG_INFINITY, normal: [0.0; 3], body: NOTHING, colour: 0 };

/// A corner as it is drawn.
#[derive(Clone, Copy)]
struct Corner {
    x: f32,
    y: f32,
    depth: f32,
    normal: [f32; 3],
}

pub struct Raster {
    width: usize,
    height: usize,
    seen: Vec<Seen>,
}

impl Raster {
    pub fn new([width, height]: [usize; 2]) -> Raster {
        Raster { width, height, seen: vec![EMPTY; width * height] }
    }

    pub fn draw(&mut self, eye: &Eye, body: &Shown, number: usize, colour: usize) {
        let sight = eye.on(body);
        let surface = &body.thing.surface;
        let corners: Vec<Corner> = surface
            .positions
            .iter()
            .zip(&surface.normals)
            .map(|(position, normal)| {
                let [x, y, depth] = sight.point(*position);
                Corner { x, y, depth, normal: sight.direction(*normal) }
            })
            .collect();
        let (body, colour) = (number.min(usize::from(NOTHING - 1)) as u16, colour as u16);
        for triangle in &surface.triangles {
            let [Some(a), Some(b), Some(c)] = triangle.map(|index| corners.get(index as usize)) else {
                continue;
            };
            self.triangle([a, b, c], body, colour);
        }
    }

    fn triangle(&mut self, [a, b, c]: [&Corner; 3], body: u16, colour: u16) {
        let area = (b.x - a.x) * (c.y - a.y) - (c.x - a.x) * (b.y - a.y);
        // The rows run downwards: a face towards the eye goes round the other way. The rest is behind.
        if area >= -1e-9 {
            return;
        }
        let range = |values: [f32; 3], most: usize| {
            let low = values.into_iter().fold(f32::INFINITY, f32::min).max(0.0).floor() as usize;
            let high = values.into_iter().fold(f32::NEG_INFINITY, f32::max).max(0.0).ceil() as usize;
            low..high.saturating_add(1).min(most)
        };
        let (columns, rows) = (range([a.x, b.x, c.x], self.width), range([a.y, b.y, c.y], self.height));
        let per_area = 1.0 / area;
        for row in rows {
            let y = row as f32 + 0.5;
            for column in columns.clone() {
                let x = column as f32 + 0.5;
                let of_c = ((b.x - a.x) * (y - a.y) - (x - a.x) * (b.y - a.y)) * per_area;
                let of_b = ((x - a.x) * (c.y - a.y) - (c.x - a.x) * (y - a.y)) * per_area;
                let of_a = 1.0 - of_b - of_c;
                if of_a < 0.0 || of_b < 0.0 || of_c < 0.0 {
                    continue;
                }
                let depth = of_a * a.depth + of_b * b.depth + of_c * c.depth;
                let Some(seen) = self.seen.get_mut(row * self.width + column) else { continue };
                if depth > seen.depth {
                    let normal = std::array::from_fn(|axis| {
                        of_a * a.normal[axis] + of_b * b.normal[axis] + of_c * c.normal[axis]
                    });
                    *seen = Seen { depth, normal, body, colour };
                }
            }
        }
    }

    /// Entries of the palette: 0 for the background, then of each colour its ink and its shades.
    pub fn points(&self, shades: usize) -> Vec<u8> {
        let mut points = Vec::with_capacity(self.seen.len());
        for row in 0..self.height {
            for column in 0..self.width {
                points.push(entry(
                    self.at(column, row),
                    self.at(column + 1, row),
                    self.at(column, row + 1),
                    shades,
                ));
            }
        }
        points
    }

    fn at(&self, column: usize, row: usize) -> &Seen {
        let inside = column < self.width && row < self.height;
        if inside { self.seen.get(row * self.width + column).unwrap_or(&EMPTY) } else { &EMPTY }
    }
}

/// What a point shows, from what is seen there, to its right and below.
fn entry(here: &Seen, right: &Seen, below: &Seen, shades: usize) -> u8 {
    let ink = edge(here, right) || edge(here, below);
    // Ink lies on the nearest of them.
    let nearer = |one: &&Seen, other: &&Seen| one.depth.total_cmp(&other.depth);
    let owner = if ink { [here, right, below].into_iter().max_by(nearer).unwrap_or(here) } else { here };
    if owner.body == NOTHING {
        return 0;
    }
    let first = 1 + usize::from(owner.colour) * (shades + 1);
    let step = if ink { 0 } else { 1 + shade(here, shades) };
    (first + step).min(255) as u8
}

fn shade(seen: &Seen, shades: usize) -> usize {
    let light = (0..3).map(|axis| seen.normal[axis] * LIGHT[axis]).sum::<f32>();
    // From behind the light half of it is left, so that no side is black.
    let share = (0.5 + 0.5 * light).clamp(0.0, 0.999);
    ((share * shades as f32) as usize).min(shades.saturating_sub(1))
}

/// Whether ink goes between two neighbouring points.
fn edge(one: &Seen, other: &Seen) -> bool {
    if one.body == NOTHING && other.body == NOTHING {
        return false;
    }
    if one.body != other.body {
        return true;
    }
    let along = (0..3).map(|axis| one.normal[axis] * other.normal[axis]).sum::<f32>();
    let slant = one.normal[2].min(other.normal[2]).max(0.05);
    along < CREASE || (one.depth - other.depth).abs() > STEP / slant
}
