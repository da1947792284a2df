//! gears
