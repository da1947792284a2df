//! diagnostic
