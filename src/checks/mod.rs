//! checks
