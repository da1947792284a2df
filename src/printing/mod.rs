//! How the parts print: walls, hold on the bed, time, filament, and why each lies the way it does.
//!
//! - [`wall`]: thinnest wall of a part, in its sections
//! - [`bed_hold`]: first layer and how steadily a part stands on it
//! - [`print_time`]: time and filament by the plastic of every layer
//! - [`orientation`]: the part as it lies against the part turned over; what its loads do to the layers

pub mod bed_hold;
pub mod orientation;
pub mod print_time;
pub mod wall;

pub use bed_hold::BedHold;
pub use orientation::Orientation;
pub use print_time::PrintTime;
pub use wall::Wall;
