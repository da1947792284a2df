//! What leaves the program: files, tables, text.

pub mod bom;
pub mod report;
pub mod stl;
pub mod summary;
