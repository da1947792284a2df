//! What is on the carrier's hub, laid out once for each output bearing: many candidates differ in nothing that it asks for.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use crate::design::Design;
use crate::gears::Stage;
use crate::layout::{CrownedHub, Fault, Outline};

use super::candidates::Candidate;

/// Motor, output bearing and planets, and the clamp ring's thickness by its bits: the loads are a search's.
type Key = (usize, usize, u32, u64);

/// What is known so far. The same whoever asks first: an answer follows from its key alone.
#[derive(Debug, Default)]
pub struct KnownHubs {
    known: Mutex<BTreeMap<Key, Result<CrownedHub, Vec<Fault>>>>,
}

impl KnownHubs {
    /// As [`Outline::crowned_hub`].
    ///
    /// # Errors
    /// As there.
    pub fn crowned_hub(
        &self,
        candidate: &Candidate,
        design: &Design,
        stage: &Stage,
        outline: &Outline,
    ) -> Result<CrownedHub, Vec<Fault>> {
        let choices = &candidate.choices;
        let key = (choices.motor, choices.output, stage.planets, outline.clamp_thickness().to_bits());
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner).get(&key).cloned();
        known.unwrap_or_else(|| {
            let hub = outline.crowned_hub(design, stage);
            self.known.lock().unwrap_or_else(PoisonError::into_inner).insert(key, hub.clone());
            hub
        })
    }
}
