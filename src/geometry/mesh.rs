//! Triangles straight from the boundary: level faces by constrained triangulation, walls by strips between their ends.

use std::collections::HashMap;

use super::brep::{Brep, EdgeCurve, EdgeUse, Face, Surface, Vertex};
use super::corner::corner_between;
use super::error::{ShapeError, ShapeErrorKind};
use super::point::Point;
use super::segment::{Curve, Segment};
use super::triangulate::triangulate;

/// A closed triangle mesh, counter-clockwise seen from outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    pub vertices: Vec<Vertex>,
    pub triangles: Vec<[u32; 3]>,
}

/// Twisted walls deviate two to four times as much as their edges (measured): they get a quarter of the tolerance.
const TWIST_SHARE: f64 = 4.0;
/// How often the tolerance is halved when chords of neighbouring arcs cross.
const RETRIES: u32 = 5;

impl Brep {
    /// Triangles within `tolerance` \[mm\] of the true surface. Where chords would cross, finer ones are tried.
    pub fn mesh(&self, tolerance: f64) -> Result<Mesh, ShapeError> {
        let mut last = ShapeError::new(ShapeErrorKind::Triangulation);
        for retry in 0..RETRIES {
            match Mesher::new(self, tolerance / f64::from(1 << retry)).mesh() {
                Ok(mesh) => return Ok(mesh),
                Err(error) => last = error,
            }
        }
        Err(last)
    }
}

struct Mesher<'a> {
    brep: &'a Brep,
    vertices: Vec<Vertex>,
    triangles: Vec<[u32; 3]>,
    /// Points of every edge, its ends included.
    chains: Vec<Vec<u32>>,
    /// Rows of all twisted walls, the same for all so that they line up.
    tolerance: f64,
}

impl<'a> Mesher<'a> {
    fn new(brep: &'a Brep, tolerance: f64) -> Mesher<'a> {
        Mesher { brep, vertices: brep.vertices.clone(), triangles: Vec::new(), chains: Vec::new(), tolerance }
    }

    fn mesh(mut self) -> Result<Mesh, ShapeError> {
        for index in 0..self.brep.edges.len() {
            let chain = self.chain(index)?;
            self.chains.push(chain);
        }
        let brep = self.brep;
        for face in &brep.faces {
            match &face.surface {
                Surface::Level { up, z } => self.level(face, *up, *z)?,
                Surface::Ruled { bottom, top, .. } => self.ruled(face, bottom, top)?,
                Surface::Twisted { bottom, z, per_mm } => self.twisted(face, bottom, *z, *per_mm)?,
            }
        }
        let mesh = Mesh { vertices: self.vertices, triangles: self.triangles };
        if mesh.is_closed() { Ok(mesh) } else { Err(ShapeError::new(ShapeErrorKind::OpenMesh)) }
    }

    /// Points along an edge, ends shared with its vertices.
    fn chain(&mut self, index: usize) -> Result<Vec<u32>, ShapeError> {
        let edge = &self.brep.edges[index];
        let (a, b) = (self.brep.vertices[edge.from], self.brep.vertices[edge.to]);
        let inner: Vec<Vertex> = match &edge.curve {
            EdgeCurve::Line => Vec::new(),
            EdgeCurve::Arc { centre, radius, ccw } => {
                let arc = Segment {
                    from: Point::new(a[0], a[1]),
                    to: Point::new(b[0], b[1]),
                    curve: Curve::Arc { centre: *centre, radius: *radius, ccw: *ccw },
                };
                let count = chords(*radius, arc.sweep().abs(), self.tolerance);
                let place = |i: u32| {
                    let point = arc.at(f64::from(i) / f64::from(count));
                    [point.x, point.y, a[2]]
                };
                (1..count).map(place).collect()
            }
            EdgeCurve::Helix { angle } => {
                let count = self.rows(*angle);
                let start = Point::new(a[0], a[1]);
                let place = |i: u32| {
                    let u = f64::from(i) / f64::from(count);
                    let point = start.rotated(angle * u);
                    [point.x, point.y, a[2] + (b[2] - a[2]) * u]
                };
                (1..count).map(place).collect()
            }
            EdgeCurve::Conic(corner) => {
                // Conics here are corners of chamfers and roofs, a few millimetres on radii of 20 and more: sixteen chords
                // keep within two micrometres.
                const COUNT: u32 = 16;
                let place = |i: u32| {
                    let u = f64::from(i) / f64::from(COUNT);
                    let point = corner_between(corner.before.each_ref(), corner.after.each_ref(), u)?;
                    Ok([point.x, point.y, a[2] + (b[2] - a[2]) * u])
                };
                (1..COUNT).map(place).collect::<Result<_, ShapeError>>()?
            }
        };
        let mut chain = Vec::with_capacity(inner.len() + 2);
        chain.push(edge.from as u32);
        chain.extend(inner.into_iter().map(|vertex| self.push(vertex)));
        chain.push(edge.to as u32);
        Ok(chain)
    }

    fn push(&mut self, vertex: Vertex) -> u32 {
        self.vertices.push(vertex);
        (self.vertices.len() - 1) as u32
    }

    /// Rows of a twisted wall: chords of the farthest vertex within the tolerance.
    fn rows(&self, angle: f64) -> u32 {
        let farthest = self.brep.vertices.iter().map(|v| Point::new(v[0], v[1]).norm()).fold(0.0, f64::max);
        chords(farthest, angle.abs(), self.tolerance / TWIST_SHARE)
    }

    /// Points along several edges, one after the other.
    fn walk(&self, uses: &[EdgeUse]) -> Vec<u32> {
        let mut points: Vec<u32> = Vec::new();
        for one in uses {
            let chain = &self.chains[one.edge];
            let skip = usize::from(!points.is_empty());
            if one.forward {
                points.extend(chain.iter().skip(skip));
            } else {
                points.extend(chain.iter().rev().skip(skip));
            }
        }
        points
    }

    fn level(&mut self, face: &Face, up: bool, z: f64) -> Result<(), ShapeError> {
        let loops: Vec<Vec<u32>> = face
            .loops
            .iter()
            .map(|uses| {
                let mut points = self.walk(uses);
                points.pop();
                points
            })
            .collect();
        let place = |index: u32| {
            let [x, y, _] = self.vertices[index as usize];
            Point::new(x, y)
        };
        let found = triangulate(&loops, place).map_err(|error| error.at_height(z))?;
        self.triangles.extend(found.into_iter().map(|[a, b, c]| if up { [a, b, c] } else { [a, c, b] }));
        Ok(())
    }

    /// Bottom, right, top and left chains of a wall face.
    fn sides(&self, face: &Face) -> Result<[Vec<u32>; 4], ShapeError> {
        let broken = || ShapeError::new(ShapeErrorKind::OpenShell);
        let around = face.loops.first().ok_or_else(broken)?;
        let rises = |one: &EdgeUse| {
            let edge = &self.brep.edges[one.edge];
            self.brep.vertices[edge.from][2] != self.brep.vertices[edge.to][2]
        };
        let right = around.iter().position(rises).ok_or_else(broken)?;
        let left = around.len().checked_sub(1).filter(|&left| left > right).ok_or_else(broken)?;
        let reversed = |mut points: Vec<u32>| {
            points.reverse();
            points
        };
        Ok([
            self.walk(&around[..right]),
            self.walk(&around[right..=right]),
            reversed(self.walk(&around[right + 1..left])),
            reversed(self.walk(&around[left..])),
        ])
    }

    fn fractions(&self, chain: &[u32], segment: &Segment) -> Vec<f64> {
        chain
            .iter()
            .map(|&index| {
                let [x, y, _] = self.vertices[index as usize];
                segment.fraction_of(Point::new(x, y))
            })
            .collect()
    }

    fn ruled(&mut self, face: &Face, bottom: &Segment, top: &Segment) -> Result<(), ShapeError> {
        let [below, right, above, left] = self.sides(face)?;
        if right.len() == 2 && left.len() == 2 {
            let (from, to) = (self.fractions(&below, bottom), self.fractions(&above, top));
            strip(&mut self.triangles, (&below, &from), (&above, &to));
            return Ok(());
        }
        // Sides along conics: unrolled by direction about the axis (arc) or along the line, and height.
        let around: Vec<u32> = below
            .iter()
            .chain(right.iter().skip(1))
            .chain(above.iter().rev().skip(1))
            .chain(left.iter().rev().skip(1))
            .copied()
            .collect();
        let outline = &around[..around.len() - 1];
        let length = f64::max(bottom.length(), top.length());
        let place = |index: u32| {
            let [x, y, z] = self.vertices[index as usize];
            Point::new(bottom.fraction_of(Point::new(x, y)) * length, z)
        };
        let found = triangulate(&[outline.to_vec()], place)?;
        self.triangles.extend(found);
        Ok(())
    }

    fn twisted(&mut self, face: &Face, bottom: &Segment, z: [f64; 2], per_mm: f64) -> Result<(), ShapeError> {
        let [below, right, above, left] = self.sides(face)?;
        let rows = right.len() - 1;
        let from = self.fractions(&below, bottom);
        let mut row = below.clone();
        let mut along = from.clone();
        for index in 1..=rows {
            let (next, next_along) = if index == rows {
                let top = bottom.rotated(per_mm * (z[1] - z[0]));
                let fractions = self.fractions(&above, &top);
                (above.clone(), fractions)
            } else {
                let u = index as f64 / rows as f64;
                let height = z[0] + (z[1] - z[0]) * u;
                let last = below.len() - 1;
                let points = (0..=last)
                    .map(|i| match i {
                        0 => left[index],
                        i if i == last => right[index],
                        i => {
                            let [x, y, _] = self.vertices[below[i] as usize];
                            let point = Point::new(x, y).rotated(per_mm * (z[1] - z[0]) * u);
                            self.push([point.x, point.y, height])
                        }
                    })
                    .collect();
                (points, from.clone())
            };
            strip(&mut self.triangles, (&row, &along), (&next, &next_along));
            (row, along) = (next, next_along);
        }
        Ok(())
    }
}

/// How many chords keep within `tolerance` of an arc.
fn chords(radius: f64, sweep: f64, tolerance: f64) -> u32 {
    let half = libm::acos((1.0 - tolerance / radius.max(1e-9)).clamp(-1.0, 1.0));
    // A radius under the tolerance still gets corners enough to keep a circle's shape.
    (sweep / (2.0 * half).min(1.0)).ceil().max(1.0) as u32
}

/// Triangles between a lower and an upper chain, walked by their fractions of the segment.
fn strip(triangles: &mut Vec<[u32; 3]>, (below, from): (&[u32], &[f64]), (above, to): (&[u32], &[f64])) {
    let (mut i, mut j) = (0, 0);
    while i + 1 < below.len() || j + 1 < above.len() {
        let lower = j + 1 == above.len() || (i + 1 < below.len() && from[i + 1] <= to[j + 1]);
        if lower {
            triangles.push([below[i], below[i + 1], above[j]]);
            i += 1;
        } else {
            triangles.push([below[i], above[j + 1], above[j]]);
            j += 1;
        }
    }
}

impl Mesh {
    fn corners(&self, triangle: [u32; 3]) -> [Vertex; 3] {
        triangle.map(|index| self.vertices[index as usize])
    }

    /// Enclosed volume \[mm3\].
    pub fn volume(&self) -> f64 {
        let six = |t: &[u32; 3]| {
            let [a, b, c] = self.corners(*t);
            a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0])
                + a[2] * (b[0] * c[1] - b[1] * c[0])
        };
        self.triangles.iter().map(six).sum::<f64>() / 6.0
    }

    /// Lengths of the box round the mesh along x, y, z; 0 for an empty mesh.
    pub fn size(&self) -> [f64; 3] {
        [0, 1, 2].map(|axis| {
            let along = || self.vertices.iter().map(|vertex| vertex[axis]);
            let (low, high) =
                (along().fold(f64::INFINITY, f64::min), along().fold(f64::NEG_INFINITY, f64::max));
            (high - low).max(0.0)
        })
    }

    /// Surface \[mm2\].
    pub fn area(&self) -> f64 {
        self.triangles.iter().map(|t| norm(normal(self.corners(*t)))).sum::<f64>() / 2.0
    }

    /// Every edge used once in each direction.
    pub fn is_closed(&self) -> bool {
        let mut edges: Vec<(u32, u32, bool)> = Vec::with_capacity(3 * self.triangles.len());
        for &[a, b, c] in &self.triangles {
            for (from, to) in [(a, b), (b, c), (c, a)] {
                if from == to {
                    return false;
                }
                edges.push(if from < to { (from, to, true) } else { (to, from, false) });
            }
        }
        edges.sort_unstable();
        edges.len().is_multiple_of(2)
            && edges.chunks(2).all(|pair| matches!(pair, [(a, b, false), (c, d, true)] if a == c && b == d))
            && edges
                .chunks(2)
                .zip(edges.chunks(2).skip(1))
                .all(|(one, two)| (one[0].0, one[0].1) != (two[0].0, two[0].1))
    }

    /// Vertices moved to the grid that 32-bit floats hold exactly, triangles that collapse there left out.
    pub fn snapped(&self) -> Result<Mesh, ShapeError> {
        let grid = |value: f64| {
            // 2^-17 mm up to 128 mm, 2^-16 above: 24 bits of mantissa.
            let step = if value.abs() < 128.0 { 1.0 / 131_072.0 } else { 1.0 / 65_536.0 };
            // + 0.0 turns -0.0 into 0.0.
            (value / step).round() * step + 0.0
        };
        let mut index_of: HashMap<[u64; 3], u32> = HashMap::with_capacity(self.vertices.len());
        let mut vertices: Vec<Vertex> = Vec::with_capacity(self.vertices.len());
        let renamed: Vec<u32> = self
            .vertices
            .iter()
            .map(|vertex| {
                let snapped = vertex.map(grid);
                *index_of.entry(snapped.map(f64::to_bits)).or_insert_with(|| {
                    vertices.push(snapped);
                    (vertices.len() - 1) as u32
                })
            })
            .collect();
        let triangles = self
            .triangles
            .iter()
            .map(|t| t.map(|index| renamed[index as usize]))
            .filter(|[a, b, c]| a != b && b != c && c != a)
            .collect();
        let mesh = Mesh { vertices, triangles };
        if mesh.is_closed() { Ok(mesh) } else { Err(ShapeError::new(ShapeErrorKind::OpenMesh)) }
    }
}

/// Twice the area along the normal.
pub(crate) fn normal([a, b, c]: [Vertex; 3]) -> Vertex {
    let (u, v) = ([b[0] - a[0], b[1] - a[1], b[2] - a[2]], [c[0] - a[0], c[1] - a[1], c[2] - a[2]]);
    [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]]
}

pub(crate) fn norm([x, y, z]: Vertex) -> f64 {
    (x * x + y * y + z * z).sqrt()
}
