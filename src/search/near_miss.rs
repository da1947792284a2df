//! What came closest, when nothing holds: which requirement to relax, and by how much.

use std::collections::BTreeMap;

use serde_json::{Value, json};

use crate::words::Words;

/// How far a candidate had come when it missed. The further, the more its miss says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// By a bound that flatters: the real value is no better.
    Bound,
    /// Laid out and rated.
    Rated,
    /// Made: this check alone failed.
    OnlyCheck,
}

/// The nearest miss of one requirement.
#[derive(Clone, Debug, PartialEq)]
pub struct Miss {
    pub stage: Stage,
    pub value: f64,
    pub limit: f64,
    pub unit: &'static str,
}

impl Miss {
    /// Part of the limit that it was off.
    pub fn off(&self) -> f64 {
        ((self.value - self.limit) / self.limit.abs().max(f64::MIN_POSITIVE)).abs()
    }
}

/// The nearest of each requirement, and how often the layout refused.
#[derive(Clone, Debug, Default)]
pub struct Misses {
    pub nearest: BTreeMap<String, Miss>,
    /// Condition of the layout: how often, and one message.
    pub refused: BTreeMap<&'static str, (u64, String)>,
}

impl Misses {
    /// Notes a value over its limit; whether it is.
    pub fn over(
        &mut self,
        stage: Stage,
        key: &str,
        value: f64,
        limit: Option<f64>,
        unit: &'static str,
    ) -> bool {
        self.beyond(limit.filter(|limit| value > *limit), key, stage, value, unit)
    }

    /// Notes a value under its limit; whether it is.
    pub fn under(
        &mut self,
        stage: Stage,
        key: &str,
        value: f64,
        limit: Option<f64>,
        unit: &'static str,
    ) -> bool {
        self.beyond(limit.filter(|limit| value < *limit), key, stage, value, unit)
    }

    fn beyond(
        &mut self,
        missed: Option<f64>,
        key: &str,
        stage: Stage,
        value: f64,
        unit: &'static str,
    ) -> bool {
        if let Some(limit) = missed {
            self.note(key, Miss { stage, value, limit, unit });
        }
        missed.is_some()
    }

    /// Keeps a miss if it got further, or as far and nearer.
    pub fn note(&mut self, key: &str, miss: Miss) {
        let better = self
            .nearest
            .get(key)
            .is_none_or(|old| miss.stage > old.stage || (miss.stage == old.stage && miss.off() < old.off()));
        if better && miss.value.is_finite() {
            self.nearest.insert(key.to_string(), miss);
        }
    }

    pub fn refuse(&mut self, id: &'static str, message: &Words) {
        let entry = self.refused.entry(id).or_insert_with(|| (0, message.to_string()));
        entry.0 += 1;
    }

    /// Many candidates at once, refused for one reason.
    pub fn refuse_many(&mut self, id: &'static str, count: u64, message: impl FnOnce() -> String) {
        let entry = self.refused.entry(id).or_insert_with(|| (0, message()));
        entry.0 += count;
    }

    /// Takes over another's.
    pub fn merge(&mut self, other: &Misses) {
        for (key, miss) in &other.nearest {
            self.note(key, miss.clone());
        }
        for (id, (count, message)) in &other.refused {
            let entry = self.refused.entry(id).or_insert_with(|| (0, message.clone()));
            entry.0 += count;
        }
    }

    /// Furthest and nearest first.
    pub fn sorted(&self) -> Vec<(&str, &Miss)> {
        let mut all: Vec<(&str, &Miss)> =
            self.nearest.iter().map(|(key, miss)| (key.as_str(), miss)).collect();
        all.sort_by(|(_, a), (_, b)| b.stage.cmp(&a.stage).then(a.off().total_cmp(&b.off())));
        all
    }

    pub fn tree(&self) -> Value {
        let misses = self.sorted().into_iter().map(|(key, miss)| {
            json!({ "requirement": key, "best": miss.value, "asked": miss.limit, "unit": miss.unit, "off_percent": miss.off() * 100.0,
                    "exact": miss.stage != Stage::Bound })
        });
        let refused = self
            .refused
            .iter()
            .map(|(id, (count, message))| json!({ "condition": id, "count": count, "example": message }));
        json!({ "misses": misses.collect::<Vec<_>>(), "layout": refused.collect::<Vec<_>>() })
    }
}
