//! What a check says: a value, a limit, and whether it holds.

use serde::Serialize;

use crate::words::Words;

/// How a check ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub enum Verdict {
    #[serde(rename = "holds")]
    Holds,
    #[serde(rename = "warns")]
    Warns,
    #[serde(rename = "fails")]
    Fails,
    /// The design doesn't have what is checked, or lies outside the rating's range.
    #[serde(rename = "not applicable")]
    NotApplicable,
}

impl Verdict {
    pub fn as_str(self) -> &'static str {
        match self {
            Verdict::Holds => "holds",
            Verdict::Warns => "warns",
            Verdict::Fails => "fails",
            Verdict::NotApplicable => "not applicable",
        }
    }
}

/// Which side of the limit is good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sense {
    AtLeast,
    AtMost,
}

/// The result of one check on one design.
#[derive(Clone, Debug)]
pub struct Outcome {
    pub value: Option<f64>,
    pub limit: Option<f64>,
    pub sense: Sense,
    pub verdict: Verdict,
    /// What it means here, or why it doesn't apply.
    pub remark: Words,
    /// What to change when it doesn't hold.
    pub remedy: Words,
}

impl Outcome {
    /// Holds when the value is at least the limit, else fails.
    pub fn at_least(value: f64, limit: f64) -> Outcome {
        Outcome::judged(value, limit, Sense::AtLeast, value >= limit)
    }

    /// Holds when the value is at most the limit, else fails.
    pub fn at_most(value: f64, limit: f64) -> Outcome {
        Outcome::judged(value, limit, Sense::AtMost, value <= limit)
    }

    fn judged(value: f64, limit: f64, sense: Sense, holds: bool) -> Outcome {
        // A value that isn't a number holds nothing.
        let verdict = if holds && !value.is_nan() { Verdict::Holds } else { Verdict::Fails };
        Outcome {
            value: Some(value),
            limit: Some(limit),
            sense,
            verdict,
            remark: Words::NONE,
            remedy: Words::NONE,
        }
    }

    pub fn not_applicable(why: impl Into<Words>) -> Outcome {
        Outcome {
            value: None,
            limit: None,
            sense: Sense::AtLeast,
            verdict: Verdict::NotApplicable,
            remark: why.into(),
            remedy: Words::NONE,
        }
    }

    /// A failure that is a caution, not a stop.
    pub fn only_warns(mut self) -> Outcome {
        if self.verdict == Verdict::Fails {
            self.verdict = Verdict::Warns;
        }
        self
    }

    pub fn remark(mut self, text: impl Into<Words>) -> Outcome {
        self.remark = text.into();
        self
    }

    pub fn remedy(mut self, text: impl Into<Words>) -> Outcome {
        self.remedy = text.into();
        self
    }

    /// Part of the limit that is left: 0.2 means a fifth in hand; negative fails.
    pub fn margin(&self) -> Option<f64> {
        let (value, limit) = (self.value?, self.limit?);
        let margin = match self.sense {
            Sense::AtLeast if limit != 0.0 => value / limit - 1.0,
            Sense::AtMost if value != 0.0 => limit / value - 1.0,
            _ => return None,
        };
        margin.is_finite().then_some(margin)
    }
}
