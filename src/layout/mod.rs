//! layout
