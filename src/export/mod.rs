//! export
