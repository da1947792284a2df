//! The gears: published values, what must hold of any stage, and the outlines in mesh.

mod contact; // least gap and first contact of two outlines
mod cycloidal; // the cycloidal disc stage
mod mesh; // outlines turned in mesh: gaps, overlaps, transmission error
mod profile; // one outline against the exact curves
mod published; // worked examples as data
mod sheet; // gear sheets, and the drawing of the mesh
mod stage; // the numbers of a stage, and inputs that are refused
mod stages; // stages to try things on

#[path = "../support/mod.rs"]
mod support;
