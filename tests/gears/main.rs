//! The gears: published values, what must hold of any stage, and the outlines in mesh.

mod mesh; // outlines turned in mesh: gaps and overlaps
mod profile; // one outline against the exact curves
mod published; // worked examples as data
mod stage; // the numbers of a stage, and inputs that are refused
mod stages; // stages to try things on
