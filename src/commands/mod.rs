//! One file a command.

pub mod explain;
pub mod tables;
