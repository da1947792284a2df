//! What a crown carries, laid out once for each output bearing: many candidates differ in nothing that it asks for.

use std::collections::BTreeMap;
use std::sync::{Mutex, PoisonError};

use crate::design::Design;
use crate::gears::Stage;
use crate::layout::Outline;

use super::candidates::Candidate;

/// Motor, output bearing and planets, and the clamp ring's thickness by its bits: the loads are a search's.
type Key = (usize, usize, u32, u64);

/// What is known so far. The same whoever asks first: an answer follows from its key alone.
#[derive(Debug, Default)]
pub struct KnownCrowns {
    known: Mutex<BTreeMap<Key, Option<f64>>>,
}

impl KnownCrowns {
    /// Torque carried \[N m\]; none where the output side can't be laid out.
    pub fn capacity(
        &self,
        candidate: &Candidate,
        design: &Design,
        stage: &Stage,
        outline: &Outline,
    ) -> Option<f64> {
        let choices = &candidate.choices;
        let key = (choices.motor, choices.output, stage.planets, outline.clamp_thickness().to_bits());
        let known = self.known.lock().unwrap_or_else(PoisonError::into_inner).get(&key).copied();
        known.unwrap_or_else(|| {
            let capacity = outline.crown_capacity(design, stage);
            self.known.lock().unwrap_or_else(PoisonError::into_inner).insert(key, capacity);
            capacity
        })
    }
}
