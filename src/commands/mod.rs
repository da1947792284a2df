//! commands
