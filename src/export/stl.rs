//! Binary STL in millimetres, through `stl_io`.

use std::io::{self, Write};

use stl_io::{Normal, Triangle, Vertex};

use crate::geometry::{Mesh, norm, normal};

/// Writes a mesh whose vertices 32-bit floats hold exactly (see [`Mesh::snapped`]).
pub fn write(mesh: &Mesh, out: &mut impl Write) -> io::Result<()> {
    let triangles = mesh.triangles.iter().map(|triangle| {
        let corners = triangle.map(|index| mesh.vertices[index as usize]);
        let across = normal(corners);
        let length = norm(across).max(f64::MIN_POSITIVE);
        Triangle {
            normal: Normal::new(across.map(|x| (x / length) as f32)),
            vertices: corners.map(|corner| Vertex::new(corner.map(|x| x as f32))),
        }
    });
    let triangles: Vec<Triangle> = triangles.collect();
    stl_io::write_stl(out, triangles.iter())
}
