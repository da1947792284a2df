//! The demo designs, for the tests.
#![allow(dead_code)] // Each test binary uses its part of this.

pub mod heat;
pub mod published;
pub mod synthetic;

use std::path::Path;

use hubwright::design::{self, Design};

pub const SHOULDER: &str = "weeder-shoulder";
pub const WRIST: &str = "weeder-wrist";
pub const MAST: &str = "mast-pan";

/// A demo as its file resolves.
pub fn demo(name: &str) -> Design {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(format!("{name}.toml"));
    match design::load(&path) {
        Ok(loaded) => loaded.design,
        Err(problems) => panic!("{}: {problems:#?}", path.display()),
    }
}
