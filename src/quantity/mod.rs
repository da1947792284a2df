//! Quantities with units: "14.5 in" to 368.3 (mm), and back.
//!
//! Internal units: mm, rad, N, N m, kg, s, rad/s, Hz, degC, A, V, ohm, H, rpm/V, kg m2, g/cm3, MPa, N m/rad, W, K/W,
//! J/K, m/s. Every number that enters the program from a design file passes through [`parse`], every one that leaves
//! for a reader through [`format`](fn@format).

mod kind; // the kinds and their units

pub use kind::{KINDS, Kind, KindTable, Unit};

use std::fmt::Write;

/// Significant digits of a written quantity: enough to read back the same value to 1e-12, few enough to hide the last
/// bits of a unit conversion.
const WRITTEN_DIGITS: usize = 12;

/// Why a text is not a quantity of the wanted kind.
#[derive(Clone, Debug, PartialEq)]
pub enum QuantityFault {
    /// Nothing, or text that doesn't start with a number.
    NotANumber,
    /// "1,5 mm".
    DecimalComma,
    /// NaN, an infinity, or a number too large to hold.
    NotFinite,
    /// A number alone.
    NoUnit,
    /// A unit nobody knows; the near ones of the wanted kind.
    UnknownUnit { unit: String, near: Option<&'static str> },
    /// A unit of something else.
    WrongKind { unit: String, is: Kind },
}

impl Kind {
    /// The kind's units and names.
    pub fn table(self) -> &'static KindTable {
        // KINDS is in the order of the enum (tested), so the index is always inside it.
        &KINDS[self as usize]
    }

    /// "a length", as it stands in a sentence.
    pub fn name(self) -> &'static str {
        self.table().name
    }

    /// "mm, cm, m, um, in, ft".
    pub fn unit_list(self) -> String {
        let symbols: Vec<&str> = self.table().units.iter().map(|unit| unit.symbol).collect();
        symbols.join(", ")
    }

    fn unit(self, symbol: &str) -> Option<&'static Unit> {
        let wanted = squeezed(symbol);
        self.table().units.iter().find(|unit| squeezed(unit.symbol) == wanted)
    }
}

/// Reads "number unit" as a quantity of the wanted kind, in the internal unit.
///
/// # Errors
/// A [`QuantityFault`] that says what the text is instead.
pub fn parse(text: &str, kind: Kind) -> Result<f64, QuantityFault> {
    let text = text.trim();
    let (number, rest) = split_number(text);
    if number.is_empty() {
        return Err(if starts_like_not_finite(text) {
            QuantityFault::NotFinite
        } else {
            QuantityFault::NotANumber
        });
    }
    if rest.starts_with(',') && rest[1..].starts_with(|next: char| next.is_ascii_digit()) {
        return Err(QuantityFault::DecimalComma);
    }
    let number: f64 = number.parse().map_err(|_| QuantityFault::NotANumber)?;
    if !number.is_finite() {
        return Err(QuantityFault::NotFinite);
    }
    let symbol = plain_spelling(rest);
    if symbol.is_empty() {
        return Err(QuantityFault::NoUnit);
    }
    let Some(unit) = kind.unit(&symbol) else {
        return Err(match kind_of_unit(&symbol) {
            Some(is) => QuantityFault::WrongKind { unit: symbol, is },
            None => {
                let near = nearest_unit(&symbol, kind);
                QuantityFault::UnknownUnit { unit: symbol, near }
            }
        });
    };
    let value = number * unit.factor + unit.offset;
    if value.is_finite() { Ok(value) } else { Err(QuantityFault::NotFinite) }
}

/// Writes a value in the unit that reads best for its size.
pub fn format(value: f64, kind: Kind) -> String {
    let display = kind.table().display;
    let chosen = display.iter().find(|(_, from)| value.abs() >= *from).or(display.last());
    // Zero needs a unit too: the first one, which is the one people expect.
    let chosen = if value == 0.0 { display.first() } else { chosen };
    let Some(unit) = chosen.and_then(|(symbol, _)| kind.unit(symbol)) else {
        return format_number(value); // no kind lacks a display unit (tested)
    };
    format!("{} {}", format_number((value - unit.offset) / unit.factor), unit.symbol)
}

/// Writes a number with at most 12 significant digits and no trailing zeros.
pub fn format_number(value: f64) -> String {
    if value == 0.0 {
        return "0".into(); // also for -0
    }
    let rounded: f64 = format!("{:.*e}", WRITTEN_DIGITS - 1, value).parse().unwrap_or(value);
    if (1e-4..1e9).contains(&rounded.abs()) { format!("{rounded}") } else { format!("{rounded:e}") }
}

/// Splits the longest leading decimal number from what follows.
fn split_number(text: &str) -> (&str, &str) {
    let bytes = text.as_bytes();
    let digits_from =
        |start: usize| bytes[start.min(bytes.len())..].iter().take_while(|b| b.is_ascii_digit()).count();
    let sign = usize::from(matches!(bytes.first(), Some(b'+' | b'-')));
    let whole = digits_from(sign);
    let mut end = sign + whole;
    let mut digits = whole;
    if bytes.get(end) == Some(&b'.') {
        let fraction = digits_from(end + 1);
        digits += fraction;
        end += 1 + fraction;
    }
    if digits == 0 {
        return ("", text);
    }
    if matches!(bytes.get(end), Some(b'e' | b'E')) {
        let exponent_sign = usize::from(matches!(bytes.get(end + 1), Some(b'+' | b'-')));
        let exponent = digits_from(end + 1 + exponent_sign);
        if exponent > 0 {
            end += 1 + exponent_sign + exponent;
        }
    }
    text.split_at(end) // ASCII up to here, so a character boundary
}

fn starts_like_not_finite(text: &str) -> bool {
    let word = text.trim_start_matches(['+', '-']).to_ascii_lowercase();
    word.starts_with("nan") || word.starts_with("inf") || word.starts_with('∞')
}

/// A unit as typed, in the spelling of the tables: ASCII, single spaces.
fn plain_spelling(symbol: &str) -> String {
    let mut plain = String::new();
    for character in symbol.chars() {
        match character {
            '·' | '*' | '⋅' => plain.push(' '),
            '\u{b5}' | '\u{3bc}' => plain.push('u'), // micro sign, Greek mu
            '\u{3a9}' | '\u{2126}' => plain.push_str("ohm"), // Greek omega, ohm sign
            '°' => plain.push_str("deg"),
            '²' => plain.push('2'),
            '³' => plain.push('3'),
            '″' | '"' => plain.push_str("in"),
            _ if character.is_whitespace() => plain.push(' '),
            _ => {
                let _ = plain.write_char(character); // writing to a String cannot fail
            }
        }
    }
    plain.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// "N m" and "Nm" are the same unit, and so are "kg m^2" and "kg m2".
fn squeezed(symbol: &str) -> String {
    symbol.chars().filter(|c| !c.is_whitespace() && *c != '^').collect()
}

fn kind_of_unit(symbol: &str) -> Option<Kind> {
    KINDS.iter().map(|table| table.kind).find(|kind| kind.unit(symbol).is_some())
}

/// The unit of this kind that was most likely meant.
fn nearest_unit(symbol: &str, kind: Kind) -> Option<&'static str> {
    let wanted = squeezed(symbol);
    let symbols = || kind.table().units.iter().map(|unit| unit.symbol);
    let other_case = symbols().find(|candidate| squeezed(candidate).eq_ignore_ascii_case(&wanted));
    // "inch", "millimetre", "newton": long names of units, from memory of how people write them.
    let long_name = || {
        let lower = wanted.to_ascii_lowercase();
        LONG_NAMES
            .iter()
            .find(|(name, _)| lower.trim_end_matches('s') == *name)
            .and_then(|(_, short)| symbols().find(|candidate| candidate == short))
    };
    let similar = || {
        symbols()
            .map(|candidate| (strsim::damerau_levenshtein(&squeezed(candidate), &wanted), candidate))
            .filter(|(distance, candidate)| *distance < squeezed(candidate).len().max(2) && *distance <= 2)
            .min_by_key(|(distance, _)| *distance)
            .map(|(_, candidate)| candidate)
    };
    other_case.or_else(long_name).or_else(similar)
}

const LONG_NAMES: &[(&str, &str)] = &[
    ("millimetre", "mm"),
    ("millimeter", "mm"),
    ("centimetre", "cm"),
    ("centimeter", "cm"),
    ("metre", "m"),
    ("meter", "m"),
    ("micron", "um"),
    ("inch", "in"),
    ("inche", "in"),
    ("foot", "ft"),
    ("feet", "ft"),
    ("degree", "deg"),
    ("radian", "rad"),
    ("newton", "N"),
    ("kilogram", "kg"),
    ("kilo", "kg"),
    ("gram", "g"),
    ("pound", "lb"),
    ("ounce", "oz"),
    ("second", "s"),
    ("sec", "s"),
    ("minute", "min"),
    ("hour", "h"),
    ("hr", "h"),
    ("day", "d"),
    ("amp", "A"),
    ("ampere", "A"),
    ("volt", "V"),
    ("c", "degC"),
    ("celsiu", "degC"),
    ("f", "degF"),
    ("kv", "rpm/V"),
    ("r", "ohm"),
];

#[cfg(test)]
mod tests;
