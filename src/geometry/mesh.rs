//! Triangles straight from the boundary: level faces by constrained triangulation, walls by strips between their ends.

use std::collections::HashMap;

use super::brep::{Brep, Corner, EdgeCurve, EdgeUse, Face, Surface, Vertex};
use super::corner::carrier_between;
use super::error::{ShapeError, ShapeErrorKind};
use super::point::Point;
use super::segment::{Curve, Segment};
use super::triangulate::triangulate;

/// A closed triangle mesh, counter-clockwise seen from outside.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Mesh {
    pub vertices: Vec<Vertex>,
    pub triangles: Vec<[u32; 3]>,
    /// The face of the boundary each triangle lies on.
    pub face_of: Vec<u32>,
}

/// Twisted walls deviate two to four times as much as their edges (measured): they get a quarter of the tolerance.
const TWIST_SHARE: f64 = 4.0;
/// A wall with a conic side is made of rows whose ends wander by up to half a chord, which skews the triangles between
/// them. With a quarter of the tolerance its chords are half as long, and both together span no more than one.
const ROW_SHARE: f64 = 4.0;
/// More chords than a conic corner ever needs: one that still deviates is no corner of a printable part.
const MOST_CONIC_CHORDS: u32 = 256;
/// How often a mesh is tried, each time with half the tolerance, while chords of neighbouring arcs cross: edges may lie as near
/// to each other as points that are told apart, a thousandth of a usual tolerance.
const RETRIES: u32 = 14;

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
    face_of: Vec<u32>,
    /// Points of every edge, its ends included.
    chains: Vec<Vec<u32>>,
    tolerance: f64,
    /// Distance of the farthest vertex from the z axis.
    reach: f64,
}

impl<'a> Mesher<'a> {
    fn new(brep: &'a Brep, tolerance: f64) -> Mesher<'a> {
        let reach = brep.vertices.iter().map(|v| Point::new(v[0], v[1]).norm()).fold(0.0, f64::max);
        Mesher {
            brep,
            vertices: brep.vertices.clone(),
            triangles: Vec::new(),
            face_of: Vec::new(),
            chains: Vec::new(),
            tolerance,
            reach,
        }
    }

    fn mesh(mut self) -> Result<Mesh, ShapeError> {
        let brep = self.brep;
        for (index, count) in self.divisions()?.into_iter().enumerate() {
            let chain = self.chain(index, count)?;
            self.chains.push(chain);
        }
        for (index, face) in brep.faces.iter().enumerate() {
            match &face.surface {
                Surface::Level { up, z } => self.level(face, *up, *z)?,
                Surface::Ruled { bottom, top, .. } => self.ruled(face, bottom, top)?,
                Surface::Twisted { bottom, z, per_mm } => self.twisted(face, bottom, *z, *per_mm)?,
            }
            self.face_of.resize(self.triangles.len(), index as u32);
        }
        let mesh = Mesh { vertices: self.vertices, triangles: self.triangles, face_of: self.face_of };
        if mesh.is_closed() { Ok(mesh) } else { Err(ShapeError::new(ShapeErrorKind::OpenMesh)) }
    }

    /// Into how many chords each edge is divided, so that the triangles on both its sides keep within the tolerance.
    fn divisions(&self) -> Result<Vec<u32>, ShapeError> {
        let brep = self.brep;
        let mut counts: Vec<u32> =
            (0..brep.edges.len()).map(|index| self.own_division(index)).collect::<Result<_, _>>()?;
        self.level_rows(&mut counts);
        for face in &brep.faces {
            let rows = self.sides_of(face).map(|edge| counts[edge]).max().unwrap_or(1);
            for rim in edges_of(face).filter(|&edge| !self.rises(edge)) {
                counts[rim] = counts[rim].max(self.rim_division(rim, face, rows));
            }
        }
        Ok(counts)
    }

    /// What the edge's own curve asks for.
    fn own_division(&self, index: usize) -> Result<u32, ShapeError> {
        let edge = &self.brep.edges[index];
        Ok(match &edge.curve {
            EdgeCurve::Line => 1,
            EdgeCurve::Arc { centre, radius, ccw } => {
                chords(*radius, self.arc(index, *centre, *radius, *ccw).sweep().abs(), self.tolerance)
            }
            EdgeCurve::Helix { angle } => self.rows(*angle),
            EdgeCurve::Conic(corner) => conic_chords(corner, self.tolerance)?,
        })
    }

    /// What a wall of so many rows asks of a level edge on its rim.
    fn rim_division(&self, index: usize, wall: &Face, rows: u32) -> u32 {
        let edge = &self.brep.edges[index];
        match (&wall.surface, &edge.curve) {
            // A cone's rims in steps of the wider one: unequal steps would skew the triangles between them.
            (Surface::Ruled { bottom, top, .. }, EdgeCurve::Arc { centre, radius, ccw }) => {
                let widest = [bottom, top].map(radius_of).into_iter().fold(*radius, f64::max);
                let sweep = self.arc(index, *centre, *radius, *ccw).sweep().abs();
                chords(widest, sweep, self.row_tolerance(wall))
            }
            (Surface::Twisted { z, per_mm, .. }, curve) => {
                let turn = (per_mm * (z[1] - z[0])).abs() / f64::from(rows);
                let (length, radius) = match *curve {
                    EdgeCurve::Arc { centre, radius, ccw } => {
                        (self.arc(index, centre, radius, ccw).length(), radius)
                    }
                    _ => (self.plan(edge.from as u32).distance(self.plan(edge.to as u32)), f64::INFINITY),
                };
                saddle_chords(length, radius, turn, self.tolerance * (1.0 - 1.0 / TWIST_SHARE))
            }
            _ => 1,
        }
    }

    /// Both sides of a wall get the same rows, and with them all walls round the loop.
    fn level_rows(&self, counts: &mut [u32]) {
        let walls: Vec<[usize; 2]> = self
            .brep
            .faces
            .iter()
            .filter(|face| matches!(face.surface, Surface::Ruled { .. }))
            .filter_map(|face| {
                let mut sides = self.sides_of(face);
                Some([sides.next()?, sides.next()?])
            })
            .collect();
        // Walls follow each other round their loop, so a pass each way carries a count nearly everywhere.
        let mut changed = true;
        while changed {
            changed = false;
            for &[a, b] in walls.iter().chain(walls.iter().rev()) {
                let most = counts[a].max(counts[b]);
                changed |= counts[a] != counts[b];
                (counts[a], counts[b]) = (most, most);
            }
        }
    }

    fn rises(&self, edge: usize) -> bool {
        let edge = &self.brep.edges[edge];
        self.brep.vertices[edge.from][2] != self.brep.vertices[edge.to][2]
    }

    /// Edges that bound a wall left and right.
    fn sides_of<'f>(&'f self, face: &'f Face) -> impl Iterator<Item = usize> + 'f {
        edges_of(face).filter(|&edge| self.rises(edge))
    }

    /// The tolerance of chords along a wall.
    fn row_tolerance(&self, wall: &Face) -> f64 {
        let slides = |edge: usize| matches!(self.brep.edges[edge].curve, EdgeCurve::Conic(_));
        if self.sides_of(wall).any(slides) { self.tolerance / ROW_SHARE } else { self.tolerance }
    }

    fn plan(&self, vertex: u32) -> Point {
        let [x, y, _] = self.vertices[vertex as usize];
        Point::new(x, y)
    }

    fn arc(&self, index: usize, centre: Point, radius: f64, ccw: bool) -> Segment {
        let edge = &self.brep.edges[index];
        let [from, to] = [edge.from, edge.to].map(|end| self.plan(end as u32));
        Segment { from, to, curve: Curve::Arc { centre, radius, ccw } }
    }

    /// Points along an edge, ends shared with its vertices.
    fn chain(&mut self, index: usize, count: u32) -> Result<Vec<u32>, ShapeError> {
        let edge = &self.brep.edges[index];
        let (a, b) = (self.brep.vertices[edge.from], self.brep.vertices[edge.to]);
        let (start, end) = (Point::new(a[0], a[1]), Point::new(b[0], b[1]));
        let mut chain = Vec::with_capacity(count as usize + 1);
        chain.push(edge.from as u32);
        for step in 1..count {
            let u = f64::from(step) / f64::from(count);
            let point = match &edge.curve {
                EdgeCurve::Line => start.lerp(end, u),
                EdgeCurve::Arc { centre, radius, ccw } => self.arc(index, *centre, *radius, *ccw).at(u),
                EdgeCurve::Helix { angle } => start.rotated(angle * u),
                EdgeCurve::Conic(corner) => corner.at(u)?,
            };
            chain.push(self.push([point.x, point.y, a[2] + (b[2] - a[2]) * u]));
        }
        chain.push(edge.to as u32);
        Ok(chain)
    }

    fn push(&mut self, vertex: Vertex) -> u32 {
        self.vertices.push(vertex);
        (self.vertices.len() - 1) as u32
    }

    /// Rows of a twisted wall: chords of the farthest vertex within the tolerance, the same for all so that they line up.
    fn rows(&self, angle: f64) -> u32 {
        chords(self.reach, angle.abs(), self.tolerance / TWIST_SHARE)
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
        let right = around.iter().position(|one| self.rises(one.edge)).ok_or_else(broken)?;
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

    /// A wall between its sides, which are divided at the same heights: one strip, or one for each row.
    fn ruled(&mut self, face: &Face, bottom: &Segment, top: &Segment) -> Result<(), ShapeError> {
        let [below, right, above, left] = self.sides(face)?;
        let rows = right.len() - 1;
        if left.len() != right.len() {
            return Err(ShapeError::new(ShapeErrorKind::OpenShell));
        }
        let mut row = (self.fractions(&below, bottom), below);
        for index in 1..rows {
            let carrier = carrier_between(bottom, top, index as f64 / rows as f64)?;
            let next = self.row(carrier.curve, left[index], right[index], self.row_tolerance(face));
            strip(&mut self.triangles, (&row.1, &row.0), (&next.1, &next.0));
            row = next;
        }
        let to = self.fractions(&above, top);
        strip(&mut self.triangles, (&row.1, &row.0), (&above, &to));
        Ok(())
    }

    /// Points of a row of a wall from its left to its right side, and their fractions.
    fn row(&mut self, curve: Curve, left: u32, right: u32, tolerance: f64) -> (Vec<f64>, Vec<u32>) {
        let segment = Segment { from: self.plan(left), to: self.plan(right), curve };
        let height = self.vertices[left as usize][2];
        let count = match curve {
            Curve::Line => 1,
            Curve::Arc { radius, .. } => chords(radius, segment.sweep().abs(), tolerance),
        };
        let fractions: Vec<f64> = (0..=count).map(|step| f64::from(step) / f64::from(count)).collect();
        let mut points = vec![left];
        for step in 1..count {
            let point = segment.at(fractions[step as usize]);
            points.push(self.push([point.x, point.y, height]));
        }
        points.push(right);
        (fractions, points)
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

fn edges_of(face: &Face) -> impl Iterator<Item = usize> + '_ {
    face.loops.iter().flatten().map(|one| one.edge)
}

fn radius_of(segment: &Segment) -> f64 {
    match segment.curve {
        Curve::Line => 0.0,
        Curve::Arc { radius, .. } => radius,
    }
}

/// How many chords, evenly spaced in height, keep within `tolerance` of a conic corner and are short enough for the rows
/// of the arcs that end on it.
fn conic_chords(corner: &Corner, tolerance: f64) -> Result<u32, ShapeError> {
    let radii = corner.before.iter().chain(&corner.after).map(radius_of);
    let least = radii.filter(|radius| *radius > 0.0).fold(f64::INFINITY, f64::min);
    // Half of a chord that rises by the tolerance: rise = chord^2 / (8 radius).
    let longest = (8.0 * least * tolerance).sqrt() / 2.0;
    let mut count = 1;
    while count <= MOST_CONIC_CHORDS {
        let (mut rise, mut length) = (0.0_f64, 0.0_f64);
        for step in 0..count {
            let at = |half: u32| corner.at(f64::from(2 * step + half) / f64::from(2 * count));
            let (from, middle, to) = (at(0)?, at(1)?, at(2)?);
            rise = rise.max(middle.distance(from.lerp(to, 0.5)));
            length = length.max(from.distance(to));
        }
        if rise <= tolerance && length <= longest {
            return Ok(count);
        }
        // Lengths fall with the count, rises with its square where the curve bends evenly.
        let factor = f64::max((rise / tolerance).sqrt(), length / longest);
        count = f64::max(f64::from(count) * factor, f64::from(count + 1)).ceil() as u32;
    }
    Err(ShapeError::new(ShapeErrorKind::Triangulation).at_point(corner.after[0].from))
}

/// How many chords of a piece of a tooth, turning by `turn` from row to row, keep within `tolerance`. A chord of length l
/// rises by l^2 / (8 radius); between two rows it sweeps a saddle, whose middle two triangles leave by l turn / 4.
fn saddle_chords(length: f64, radius: f64, turn: f64, tolerance: f64) -> u32 {
    let (rise, saddle) = (length * length / (8.0 * radius), length * turn / 4.0);
    // rise / n^2 + saddle / n = tolerance, solved for n.
    let count = (saddle + (saddle * saddle + 4.0 * rise * tolerance).sqrt()) / (2.0 * tolerance);
    count.ceil().max(1.0) as u32
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
        let (triangles, face_of) = self
            .triangles
            .iter()
            .map(|t| t.map(|index| renamed[index as usize]))
            .zip(self.face_of.iter().copied())
            .filter(|([a, b, c], _)| a != b && b != c && c != a)
            .unzip();
        let mesh = Mesh { vertices, triangles, face_of };
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
