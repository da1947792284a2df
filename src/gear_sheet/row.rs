//! A line of a gear sheet: what it is called, its symbol, its value with the unit.

/// What a row says. Lengths mm, angles rad; degrees in text.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    Count(u32),
    /// A coefficient or ratio.
    Number(f64),
    Length(f64),
    Angle(f64),
    Text(String),
    /// There is none, and why.
    Absent(String),
}

/// One line of a sheet.
#[derive(Clone, Debug, PartialEq)]
pub struct Row {
    /// Name in `report.json`, without the unit.
    pub key: &'static str,
    pub label: &'static str,
    /// ISO 21771's symbol, in plain letters; empty if it has none.
    pub symbol: &'static str,
    pub value: Value,
}

/// Rows under one heading.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    pub title: &'static str,
    /// Name of the section's own object in `report.json`; none puts its rows beside those of the gear.
    pub key: Option<&'static str>,
    pub rows: Vec<Row>,
}

impl Row {
    pub fn new(key: &'static str, label: &'static str, symbol: &'static str, value: Value) -> Row {
        Row { key, label, symbol, value }
    }

    pub fn unit(&self) -> &'static str {
        match self.value {
            Value::Length(_) => "mm",
            Value::Angle(_) => "deg",
            _ => "",
        }
    }

    /// The value as it is printed, without its unit: lengths to the micrometre, angles and coefficients to 4 decimals.
    pub fn text(&self) -> String {
        match &self.value {
            Value::Count(count) => count.to_string(),
            Value::Number(number) => decimals(*number, 4),
            Value::Length(length) => decimals(*length, 3),
            Value::Angle(angle) => decimals(angle.to_degrees(), 4),
            Value::Text(text) => text.clone(),
            Value::Absent(_) => "-".to_owned(),
        }
    }

    /// The name in `report.json`, the unit as suffix.
    pub fn json_key(&self) -> String {
        match self.unit() {
            "" => self.key.to_owned(),
            unit => format!("{}_{unit}", self.key),
        }
    }
}

/// Fixed decimals without a minus sign before nothing.
fn decimals(value: f64, places: usize) -> String {
    let text = format!("{value:.places$}");
    match text.strip_prefix('-') {
        Some(rest) if rest.chars().all(|sign| sign == '0' || sign == '.') => rest.to_owned(),
        _ => text,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn texts_and_keys() {
        let row = |value| Row::new("lead", "lead", "pz", value);
        assert_eq!(row(Value::Length(88.1804)).text(), "88.180");
        assert_eq!(row(Value::Length(-0.0001)).text(), "0.000");
        assert_eq!(row(Value::Number(-0.2)).text(), "-0.2000");
        assert_eq!(row(Value::Angle(20f64.to_radians())).text(), "20.0000");
        assert_eq!(row(Value::Length(1.0)).json_key(), "lead_mm");
        assert_eq!(row(Value::Angle(1.0)).json_key(), "lead_deg");
        assert_eq!(row(Value::Count(1)).json_key(), "lead");
    }
}
