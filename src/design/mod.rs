//! The design file: text to spans to typed values to a resolved [`Design`].

mod model;
pub use model::*;
