//! The order in which it goes together and comes apart, proven by what is in whose way along the axis.
//!
//! - [`path`]: whether a body can leave along the axis, straight or turning with its teeth; whether a driver reaches a screw
//! - `turning`: a toothed body on its way past another
//! - [`item`]: what is handled as one piece on the bench
//! - [`order`]: taking apart what is free, until one piece is left; backwards it is the assembly
//! - [`service`]: what must come off to change one thing
//!
//! Every removal is checked against all that is still there. Preferences say what to try first; they can't make a path.

pub mod item;
pub mod order;
pub mod path;
pub mod service;
mod turning;

pub use item::{Item, items};
pub use order::{Bench, Step, Stuck};
pub use service::Exchange;

use crate::interference::{Body, Unmet};
use crate::layout::Actuator;
use path::Obstacles;

/// How it goes together, and what changing a part takes.
#[derive(Clone, Debug)]
pub struct Assembly {
    pub items: Vec<Item>,
    /// In the order of the bench: sub-assemblies before what they go into.
    pub benches: Vec<Bench>,
    pub exchanges: Vec<Exchange>,
}

impl Assembly {
    /// # Errors
    /// Sections that can't be formed.
    pub fn of(actuator: &Actuator, bodies: &[Body]) -> Result<Assembly, Unmet> {
        let items = items(actuator, bodies);
        let obstacles = Obstacles::between(actuator, bodies, &items)?;
        let benches = order::benches(&items, &obstacles);
        let exchanges = service::exchanges(&items, &obstacles);
        Ok(Assembly { items, benches, exchanges })
    }

    /// What can't be taken apart, by bench.
    pub fn stuck(&self) -> impl Iterator<Item = (&Bench, &Stuck)> {
        self.benches.iter().filter_map(|bench| Some((bench, bench.stuck.as_ref()?)))
    }
}
