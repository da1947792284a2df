//! A figure on both sides.

/// Which way is better, where that doesn't depend on the joint's purpose.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Better {
    Less,
    More,
    /// Depends on what the joint is for.
    Open,
}

/// What one side reads.
#[derive(Clone, Debug, PartialEq)]
pub enum Reading {
    Number(f64),
    Text(String),
    /// The design doesn't have it, or it can't be told.
    None,
}

impl Reading {
    pub fn number(self) -> Option<f64> {
        match self {
            Reading::Number(value) => Some(value),
            Reading::Text(_) | Reading::None => None,
        }
    }
}

impl From<f64> for Reading {
    fn from(value: f64) -> Reading {
        Reading::from(Some(value))
    }
}

impl From<Option<f64>> for Reading {
    fn from(value: Option<f64>) -> Reading {
        value.filter(|value| value.is_finite()).map_or(Reading::None, Reading::Number)
    }
}

impl From<String> for Reading {
    fn from(text: String) -> Reading {
        Reading::Text(text)
    }
}

/// One figure of both.
#[derive(Clone, Debug, PartialEq)]
pub struct FigureRow {
    /// What it belongs to.
    pub group: &'static str,
    /// Name for machines; unit as suffix.
    pub id: String,
    pub label: String,
    pub unit: &'static str,
    /// Digits after the point for people.
    pub digits: usize,
    pub better: Better,
    pub values: [Reading; 2],
}

/// Sums of the same sizes in another order differ by rounding: this share of a value is none.
const ROUNDING: f64 = 1e-9;

/// More hours than a century has, and more than any other figure comes to: two beyond it are both more than enough.
pub const FAR: f64 = 1e6;

/// Whether two numbers differ by more than rounding.
fn differ(a: f64, b: f64) -> bool {
    (a - b).abs() > ROUNDING * f64::max(1.0, f64::max(a.abs(), b.abs()))
}

impl FigureRow {
    /// Two figures that are both out of sight count as alike.
    pub fn differs(&self) -> bool {
        match &self.values {
            [Reading::Number(a), Reading::Number(b)] if *a >= FAR && *b >= FAR => false,
            [Reading::Number(a), Reading::Number(b)] => differ(*a, *b),
            [a, b] => a != b,
        }
    }

    /// Second less first, of two numbers.
    pub fn change(&self) -> Option<f64> {
        match self.values {
            [Reading::Number(a), Reading::Number(b)] => Some(b - a),
            _ => None,
        }
    }

    /// Whether the second is better (or worse) than the first; none where they are alike or it isn't clear.
    pub fn second_is_better(&self) -> Option<bool> {
        let change = self.change().filter(|_| self.differs())?;
        match self.better {
            Better::Less => Some(change < 0.0),
            Better::More => Some(change > 0.0),
            Better::Open => None,
        }
    }
}
