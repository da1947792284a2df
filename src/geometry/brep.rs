//! Indexed boundary representation of a stack: vertices, edges and faces with analytic curves and surfaces.
//!
//! ```text
//! interface k: top of slab k-1 and bottom of slab k laid over each other
//!     faces up   where there is material below only      faces down   where there is material above only
//! wall: each segment of a slab's loop, between the pieces of its bottom and of its top
//! ```
//! Walls of neighbouring slabs that coincide share edges by themselves, since both are pieces of one arrangement.

use std::collections::HashMap;

use super::arrangement::{Arrangement, Crossings, Extract, Step};
use super::corner::{carrier_between, corner_between};
use super::error::{ShapeError, ShapeErrorKind};
use super::point::Point;
use super::region::Region;
use super::segment::{Curve, Segment};
use super::stack::{SlabLoop, Stack, Wall};

/// A place in space \[mm\].
pub type Vertex = [f64; 3];

/// The curve of an edge.
#[derive(Clone, Debug, PartialEq)]
pub enum EdgeCurve {
    Line,
    /// In a horizontal plane.
    Arc {
        centre: Point,
        radius: f64,
        ccw: bool,
    },
    /// About the z axis; turns by `angle` from start to end \[rad\].
    Helix {
        angle: f64,
    },
    /// Where two tapered walls meet: a plane and a cone, or two cones of equal slope.
    Conic(Box<Corner>),
}

/// The two tapered walls that meet in a corner, each as (bottom, top).
#[derive(Clone, Debug, PartialEq)]
pub struct Corner {
    pub before: [Segment; 2],
    pub after: [Segment; 2],
}

impl Corner {
    /// The point of the corner at fraction `u` of the slab's height.
    ///
    /// # Errors
    /// [`ShapeErrorKind::TaperCorner`] where the walls don't meet.
    pub fn at(&self, u: f64) -> Result<Point, ShapeError> {
        corner_between(self.before.each_ref(), self.after.each_ref(), u)
    }
}

/// From one vertex to another.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    pub from: usize,
    pub to: usize,
    pub curve: EdgeCurve,
}

/// The surface of a face.
#[derive(Clone, Debug, PartialEq)]
pub enum Surface {
    /// Horizontal plane.
    Level { z: f64, up: bool },
    /// Upright or tapered wall between a bottom and a top segment: plane, cylinder or cone.
    Ruled { bottom: Segment, top: Segment, z: [f64; 2] },
    /// Helical wall: the bottom segment turned by `per_mm` with z.
    Twisted { bottom: Segment, z: [f64; 2], per_mm: f64 },
}

/// An edge walked forwards or backwards.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct EdgeUse {
    pub edge: usize,
    pub forward: bool,
}

/// Loops of edges on a surface; the first is the outer one. Material lies behind the face.
#[derive(Clone, Debug, PartialEq)]
pub struct Face {
    pub loops: Vec<Vec<EdgeUse>>,
    pub surface: Surface,
}

/// The whole boundary.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Brep {
    pub vertices: Vec<Vertex>,
    pub edges: Vec<Edge>,
    pub faces: Vec<Face>,
}

/// One interface while the boundary is put together.
struct Interface {
    arrangement: Arrangement,
    /// Edge of each sub-segment.
    edges: Vec<usize>,
}

impl Stack {
    /// The stack's boundary, checked to be closed.
    pub fn brep(&self) -> Result<Brep, ShapeError> {
        let mut brep = Brep::default();
        let mut interfaces = Vec::with_capacity(self.slabs.len() + 1);
        for index in 0..=self.slabs.len() {
            interfaces.push(self.interface(index, &mut brep)?);
        }
        for (index, slab) in self.slabs.iter().enumerate() {
            // Upright edges are found again by their ends.
            let mut upright: HashMap<(usize, usize), usize> = HashMap::new();
            for (loop_index, one) in slab.loops.iter().enumerate() {
                let paths = |interface: &Interface, region: usize| {
                    interface.arrangement.paths[region][loop_index]
                        .iter()
                        .map(|steps| interface.uses(steps))
                        .collect::<Vec<Vec<EdgeUse>>>()
                };
                // In an interface the slab below comes first, the one above second.
                let bottoms = paths(&interfaces[index], 1);
                let tops = paths(&interfaces[index + 1], 0);
                brep.add_walls(one, slab.z, &bottoms, &tops, &mut upright)?;
            }
        }
        brep.check()?;
        Ok(brep)
    }

    /// Lays the slabs on both sides of an interface over each other; adds its vertices, edges and level faces.
    fn interface(&self, index: usize, brep: &mut Brep) -> Result<Interface, ShapeError> {
        let below = index.checked_sub(1).and_then(|below| self.slabs.get(below));
        let above = self.slabs.get(index);
        let z = above.map(|slab| slab.z[0]).or(below.map(|slab| slab.z[1])).unwrap_or(0.0);
        // A gap in height between two slabs would leave two bodies.
        let apart = below.zip(above).is_some_and(|(below, above)| (below.z[1] - above.z[0]).abs() > 1e-6);
        if apart {
            return Err(ShapeError::new(ShapeErrorKind::EmptyInterval).at_height(z));
        }
        let lower = below.map_or_else(Region::default, |slab| slab.top());
        let upper = above.map_or_else(Region::default, |slab| slab.bottom());
        let arrangement = Arrangement::of(&[&lower, &upper], Crossings::BetweenRegions);
        let mut vertex_of: Vec<Option<usize>> = vec![None; arrangement.points.len()];
        let mut edges = Vec::with_capacity(arrangement.subs.len());
        for sub in &arrangement.subs {
            // Material below on one side and above on the other only: four faces would meet in this edge.
            if matches!((sub.left, sub.right), (1, 2) | (2, 1)) {
                let place = sub.segment.middle();
                return Err(ShapeError::new(ShapeErrorKind::NonManifold).at(place.x, place.y, z));
            }
            let mut vertex = |point: usize| {
                *vertex_of[point].get_or_insert_with(|| {
                    let place = arrangement.points[point];
                    brep.vertices.push([place.x, place.y, z]);
                    brep.vertices.len() - 1
                })
            };
            let (from, to) = (vertex(sub.from), vertex(sub.to));
            let curve = match sub.segment.curve {
                Curve::Line => EdgeCurve::Line,
                Curve::Arc { centre, radius, ccw } => EdgeCurve::Arc { centre, radius, ccw },
            };
            brep.edges.push(Edge { from, to, curve });
            edges.push(brep.edges.len() - 1);
        }
        let interface = Interface { arrangement, edges };
        for (up, rule) in [(true, 1), (false, 2)] {
            let extract = interface.arrangement.extract(|members| members == rule)?;
            interface.add_level_faces(brep, &extract, z, up)?;
        }
        Ok(interface)
    }
}

impl Interface {
    fn uses(&self, steps: &[Step]) -> Vec<EdgeUse> {
        steps.iter().map(|step| EdgeUse { edge: self.edges[step.sub], forward: step.forward }).collect()
    }

    fn add_level_faces(
        &self,
        brep: &mut Brep,
        extract: &Extract,
        z: f64,
        up: bool,
    ) -> Result<(), ShapeError> {
        let region = self.arrangement.region_of(&extract.loops);
        for piece in region.pieces()? {
            let loops = std::iter::once(piece.outer).chain(piece.holes).map(|index| {
                let uses = self.uses(&extract.loops[index]);
                if up { uses } else { reversed(&uses) }
            });
            brep.faces.push(Face { loops: loops.collect(), surface: Surface::Level { z, up } });
        }
        Ok(())
    }
}

fn reversed(uses: &[EdgeUse]) -> Vec<EdgeUse> {
    uses.iter().rev().map(|one| EdgeUse { forward: !one.forward, ..*one }).collect()
}

impl Brep {
    pub fn start_of(&self, one: EdgeUse) -> usize {
        let edge = &self.edges[one.edge];
        if one.forward { edge.from } else { edge.to }
    }

    pub fn end_of(&self, one: EdgeUse) -> usize {
        let edge = &self.edges[one.edge];
        if one.forward { edge.to } else { edge.from }
    }

    /// One wall face a segment of the loop.
    fn add_walls(
        &mut self,
        one: &SlabLoop,
        z: [f64; 2],
        bottoms: &[Vec<EdgeUse>],
        tops: &[Vec<EdgeUse>],
        upright: &mut HashMap<(usize, usize), usize>,
    ) -> Result<(), ShapeError> {
        let count = one.bottom.0.len();
        for index in 0..count {
            let (bottom, top) = (&bottoms[index], &tops[index]);
            let segment = &one.bottom.0[index];
            let vanished =
                || ShapeError::new(ShapeErrorKind::TaperCorner).at(segment.from.x, segment.from.y, z[0]);
            let (Some(first), Some(last)) = (bottom.first(), bottom.last()) else { return Err(vanished()) };
            let (Some(top_first), Some(top_last)) = (top.first(), top.last()) else { return Err(vanished()) };
            let ends = [
                (self.start_of(*first), self.start_of(*top_first), index),
                (self.end_of(*last), self.end_of(*top_last), (index + 1) % count),
            ];
            let mut sides = [0; 2];
            for (side, (from, to, after)) in sides.iter_mut().zip(ends) {
                *side = match upright.get(&(from, to)) {
                    Some(&edge) => edge,
                    None => {
                        let curve = upright_curve(one, z, after)?;
                        self.edges.push(Edge { from, to, curve });
                        upright.insert((from, to), self.edges.len() - 1);
                        self.edges.len() - 1
                    }
                };
            }
            let mut around = bottom.clone();
            around.push(EdgeUse { edge: sides[1], forward: true });
            around.extend(reversed(top));
            around.push(EdgeUse { edge: sides[0], forward: false });
            let surface = match one.wall {
                Wall::Twisted { per_mm } => Surface::Twisted { bottom: *segment, z, per_mm },
                Wall::Straight | Wall::Tapered => {
                    let top = one.top.0[index];
                    carrier_between(segment, &top, 0.5)?;
                    Surface::Ruled { bottom: *segment, top, z }
                }
            };
            self.faces.push(Face { loops: vec![around], surface });
        }
        Ok(())
    }

    /// Every edge used exactly once in each direction, every loop closed, the faces round every vertex in one ring.
    ///
    /// # Errors
    /// [`ShapeErrorKind::OpenShell`]; [`ShapeErrorKind::NonManifold`] where bodies meet in a vertex only.
    pub fn check(&self) -> Result<(), ShapeError> {
        self.check_edges()?;
        self.check_vertices()
    }

    fn check_edges(&self) -> Result<(), ShapeError> {
        let mut uses = vec![[0u32; 2]; self.edges.len()];
        for face in &self.faces {
            for around in &face.loops {
                for (index, &one) in around.iter().enumerate() {
                    uses[one.edge][usize::from(one.forward)] += 1;
                    let next = around[(index + 1) % around.len()];
                    if self.end_of(one) != self.start_of(next) {
                        return Err(self.open_at(one.edge));
                    }
                }
            }
        }
        match uses.iter().position(|count| *count != [1, 1]) {
            Some(edge) => Err(self.open_at(edge)),
            None => Ok(()),
        }
    }

    fn check_vertices(&self) -> Result<(), ShapeError> {
        // A corner of a face joins the two edge ends it lies between; an end is twice its edge, plus one at `to`.
        let mut next = vec![usize::MAX; 2 * self.edges.len()];
        for around in self.faces.iter().flat_map(|face| &face.loops) {
            for (arriving, leaving) in around.iter().zip(around.iter().cycle().skip(1)) {
                let end = 2 * arriving.edge + usize::from(arriving.forward);
                next[end] = 2 * leaving.edge + usize::from(!leaving.forward);
            }
        }
        // Each edge leaves an end once and arrives there once, so the corners form rings: one at each vertex.
        let mut ringed = vec![false; self.vertices.len()];
        let mut seen = vec![false; next.len()];
        for start in 0..next.len() {
            if seen[start] {
                continue;
            }
            let edge = &self.edges[start / 2];
            let vertex = if start % 2 == 1 { edge.to } else { edge.from };
            if std::mem::replace(&mut ringed[vertex], true) {
                let [x, y, z] = self.vertices[vertex];
                return Err(ShapeError::new(ShapeErrorKind::NonManifold).at(x, y, z));
            }
            let mut end = start;
            while !std::mem::replace(&mut seen[end], true) {
                end = next[end];
            }
        }
        Ok(())
    }

    fn open_at(&self, edge: usize) -> ShapeError {
        let [x, y, z] = self.vertices[self.edges[edge].from];
        ShapeError::new(ShapeErrorKind::OpenShell).at(x, y, z)
    }

    /// Connected components of the faces. A part that hangs together without voids has one.
    pub fn shells(&self) -> Vec<Vec<usize>> {
        let mut faces_of: Vec<Vec<usize>> = vec![Vec::new(); self.edges.len()];
        for (index, face) in self.faces.iter().enumerate() {
            for one in face.loops.iter().flatten() {
                faces_of[one.edge].push(index);
            }
        }
        let mut seen = vec![false; self.faces.len()];
        let mut shells = Vec::new();
        for start in 0..self.faces.len() {
            if seen[start] {
                continue;
            }
            seen[start] = true;
            let mut shell = vec![start];
            let mut next = 0;
            while let Some(&face) = shell.get(next) {
                next += 1;
                for one in self.faces[face].loops.iter().flatten() {
                    for &other in &faces_of[one.edge] {
                        if !seen[other] {
                            seen[other] = true;
                            shell.push(other);
                        }
                    }
                }
            }
            shell.sort_unstable();
            shells.push(shell);
        }
        shells
    }
}

/// The curve along which the wall before segment `after` meets the wall on it.
fn upright_curve(one: &SlabLoop, z: [f64; 2], after: usize) -> Result<EdgeCurve, ShapeError> {
    /// How far a corner may lie from the straight line between its ends and still be one \[mm\].
    const STRAIGHT: f64 = 1e-9;
    match one.wall {
        Wall::Straight => Ok(EdgeCurve::Line),
        Wall::Twisted { per_mm } => Ok(EdgeCurve::Helix { angle: per_mm * (z[1] - z[0]) }),
        Wall::Tapered => {
            let count = one.bottom.0.len();
            let before = (after + count - 1) % count;
            let before = [one.bottom.0[before], one.top.0[before]];
            let after = [one.bottom.0[after], one.top.0[after]];
            let middle = corner_between([&before[0], &before[1]], [&after[0], &after[1]], 0.5)?;
            let chord = after[0].from.lerp(after[1].from, 0.5);
            if middle.distance(chord) < STRAIGHT {
                return Ok(EdgeCurve::Line);
            }
            if conic(&before, &after) {
                Ok(EdgeCurve::Conic(Box::new(Corner { before, after })))
            } else {
                Err(ShapeError::new(ShapeErrorKind::TaperCorner).at(middle.x, middle.y, (z[0] + z[1]) / 2.0))
            }
        }
    }
}

/// A plane meets a cone in a conic; two cones (or a cone and a cylinder) only where their slopes are equal.
fn conic(before: &[Segment; 2], after: &[Segment; 2]) -> bool {
    let growth = |wall: &[Segment; 2]| match (wall[0].curve, wall[1].curve) {
        (Curve::Arc { radius: bottom, .. }, Curve::Arc { radius: top, .. }) => Some(top - bottom),
        _ => None,
    };
    match (growth(before), growth(after)) {
        (Some(one), Some(other)) => (one.abs() - other.abs()).abs() < 1e-6,
        _ => true,
    }
}
