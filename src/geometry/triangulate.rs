//! Constrained Delaunay triangulation of a face, by the library `spade`.

use std::panic::{AssertUnwindSafe, catch_unwind};

use spade::{ConstrainedDelaunayTriangulation, Point2, Triangulation};

use super::error::{ShapeError, ShapeErrorKind};
use super::point::Point;

/// Triangles between loops of point indices, counter-clockwise. Inside is what an odd number of loops surrounds. A point
/// may be passed more than once, where the face narrows to nothing.
///
/// # Errors
/// [`ShapeErrorKind::Triangulation`] when loops cross, or two points lie in one place, which chords coarser than a gap
/// cause.
pub(crate) fn triangulate(
    loops: &[Vec<u32>],
    place: impl Fn(u32) -> Point,
) -> Result<Vec<[u32; 3]>, ShapeError> {
    let refused = || ShapeError::new(ShapeErrorKind::Triangulation);
    // The library panics on crossing constraints that rounding made; a panic here is a refusal like any other.
    let outcome = catch_unwind(AssertUnwindSafe(|| triangulate_or_panic(loops, &place)));
    outcome.map_err(|_| refused())?.ok_or_else(refused)
}

fn triangulate_or_panic(loops: &[Vec<u32>], place: &dyn Fn(u32) -> Point) -> Option<Vec<[u32; 3]>> {
    let mut indices: Vec<u32> = loops.iter().flatten().copied().collect();
    indices.sort_unstable();
    indices.dedup();
    let points: Vec<Point2<f64>> = indices
        .iter()
        .map(|&index| {
            let point = place(index);
            Point2::new(point.x, point.y)
        })
        .collect();
    let mut edges = Vec::with_capacity(points.len());
    for one in loops {
        for (from, to) in one.iter().zip(one.iter().cycle().skip(1)) {
            edges.push([indices.binary_search(from).ok()?, indices.binary_search(to).ok()?]);
        }
    }
    // Vertices keep their order, so that a vertex index leads back to the point.
    let mut conflicts = 0;
    let cdt =
        ConstrainedDelaunayTriangulation::<Point2<f64>>::try_bulk_load_cdt(points, edges, |_| conflicts += 1)
            .ok()?;
    if conflicts > 0 || cdt.num_vertices() != indices.len() {
        return None;
    }
    // Flood from outside: crossing a constraint changes sides.
    let mut inside: Vec<Option<bool>> = vec![None; cdt.num_all_faces()];
    let mut stack = Vec::new();
    for edge in cdt.directed_edges().filter(|edge| edge.is_outer_edge()) {
        let face = edge.rev().face();
        if inside[face.fix().index()].is_none() {
            inside[face.fix().index()] = Some(edge.is_constraint_edge());
            stack.push(face.fix());
        }
    }
    while let Some(handle) = stack.pop() {
        let here = inside[handle.index()]?;
        let face = cdt.face(handle).as_inner()?;
        for edge in face.adjacent_edges() {
            let other = edge.rev().face();
            if other.is_outer() || inside[other.fix().index()].is_some() {
                continue;
            }
            inside[other.fix().index()] = Some(here ^ edge.is_constraint_edge());
            stack.push(other.fix());
        }
    }
    let triangles = cdt
        .inner_faces()
        .filter(|face| inside[face.fix().index()] == Some(true))
        .map(|face| face.vertices().map(|vertex| indices[vertex.fix().index()]));
    Some(triangles.collect())
}
