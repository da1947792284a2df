//! A boundary as one solid: shell, faces, loops, edges, vertices.

use super::curve::curve;
use super::entities::{Entities, Id, List, boolean};
use super::surface::surface;
use crate::geometry::{Brep, EdgeUse, ShapeError, ShapeErrorKind};

/// Adds the solid with everything it is made of.
///
/// # Errors
/// [`ShapeErrorKind::ManyShells`] unless the boundary is one shell.
pub(super) fn solid(brep: &Brep, entities: &mut Entities) -> Result<Id, ShapeError> {
    if brep.shells().len() != 1 {
        return Err(ShapeError::new(ShapeErrorKind::ManyShells));
    }
    let vertices: Vec<Id> = brep
        .vertices
        .iter()
        .map(|&vertex| {
            let point = entities.point(vertex);
            entities.add(format_args!("VERTEX_POINT('',{point})"))
        })
        .collect();
    let mut edges = Vec::with_capacity(brep.edges.len());
    for edge in &brep.edges {
        let curve = curve(brep, edge, entities)?;
        let (from, to) = (vertices[edge.from], vertices[edge.to]);
        edges.push(entities.add(format_args!("EDGE_CURVE('',{from},{to},{curve},.T.)")));
    }
    let mut faces = Vec::with_capacity(brep.faces.len());
    for face in &brep.faces {
        let (surface, same_sense) = surface(&face.surface, entities);
        let same_sense = boolean(same_sense);
        let mut bounds = Vec::with_capacity(face.loops.len());
        for (index, uses) in face.loops.iter().enumerate() {
            let around = edge_loop(uses, &edges, entities);
            let kind = if index == 0 { "FACE_OUTER_BOUND" } else { "FACE_BOUND" };
            bounds.push(entities.add(format_args!("{kind}('',{around},.T.)")));
        }
        let bounds = List(&bounds);
        faces.push(entities.add(format_args!("ADVANCED_FACE('',{bounds},{surface},{same_sense})")));
    }
    let shell = entities.add(format_args!("CLOSED_SHELL('',{})", List(&faces)));
    Ok(entities.add(format_args!("MANIFOLD_SOLID_BREP('',{shell})")))
}

fn edge_loop(uses: &[EdgeUse], edges: &[Id], entities: &mut Entities) -> Id {
    let oriented: Vec<Id> = uses
        .iter()
        .map(|one| {
            let (edge, forward) = (edges[one.edge], boolean(one.forward));
            entities.add(format_args!("ORIENTED_EDGE('',*,*,{edge},{forward})"))
        })
        .collect();
    entities.add(format_args!("EDGE_LOOP('',{})", List(&oriented)))
}
