//! Tables and how numbers are written in them.

/// A table with a heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    pub title: &'static str,
    /// A line above it; may be empty.
    pub about: String,
    pub head: Vec<String>,
    pub rows: Vec<Vec<String>>,
}

impl Table {
    /// Quantity and value.
    pub(super) fn pairs(title: &'static str, about: impl Into<String>, rows: Vec<[String; 2]>) -> Table {
        Table {
            title,
            about: about.into(),
            head: vec!["quantity".into(), "value".into()],
            rows: rows.into_iter().map(Vec::from).collect(),
        }
    }
}

/// A row of two.
pub(super) fn row(label: &str, value: impl Into<String>) -> [String; 2] {
    [label.to_string(), value.into()]
}

/// Four significant digits with a unit, without an exponent where one can read it.
pub(super) fn number(value: f64, unit: &str) -> String {
    let text = match value.abs() {
        size if size >= 1000.0 || size == 0.0 => format!("{value:.0}"),
        size if size >= 100.0 => format!("{value:.1}"),
        size if size >= 10.0 => format!("{value:.2}"),
        size if size >= 1.0 => format!("{value:.3}"),
        size if size >= 0.1 => format!("{value:.4}"),
        size if size >= 0.01 => format!("{value:.5}"),
        size if size >= 0.001 => format!("{value:.6}"),
        _ => format!("{value:.3e}"),
    };
    format!("{text} {unit}").trim_end().to_string()
}

/// A value that may be missing.
pub(super) fn maybe(value: Option<f64>, unit: &str) -> String {
    value.map_or_else(|| "not known".to_string(), |value| number(value, unit))
}

/// Hundredths: simulated figures, rounded before they are written.
pub(super) fn hundredths(value: f64, unit: &str) -> String {
    format!("{:.2} {unit}", value).trim_end().to_string()
}
