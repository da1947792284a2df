pub mod geometry;
pub mod tables;
pub mod gears;
pub mod design;
pub mod layout;
pub mod parts;
pub mod export;
