//! Geometry: regions, slab stacks, boundaries and meshes.

mod plane; // regions of lines and arcs
mod shapes; // bodies against closed forms
mod stacks; // meshes against the true surfaces
mod truck; // the boundary as another kernel sees it

#[path = "../support/mod.rs"]
mod support;
