//! ratings
