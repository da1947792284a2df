//! Which values of a design were measured: a comment behind the value says so, in the words that a trial writes.

use std::collections::BTreeMap;

use crate::diagnostic::Place;

/// How the comment begins that a trial writes behind a measured value.
pub const MARK: &str = "measured (";

/// A value that a comment says is measured.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    pub key: String,
    /// As the file has it.
    pub value: String,
    /// How, as the comment says: the kind of test, the interval.
    pub how: String,
}

/// All such values, by the place where each given key stands.
pub fn measured(places: &BTreeMap<String, Place>) -> Vec<Measured> {
    let one = |(key, place): (&String, &Place)| {
        let rest = place.file.text.get(place.span.end..)?.lines().next()?;
        let (before, comment) = rest.split_once('#')?;
        // Behind this value and no other: inside braces or lists more may follow on the line.
        if before.chars().any(|c| !c.is_whitespace() && !matches!(c, '"' | '\'')) {
            return None;
        }
        let at = comment.find(MARK)?;
        let how = comment.get(at..)?.trim().to_string();
        let value = place.text().trim_matches(['"', '\'']).to_string();
        Some(Measured { key: key.clone(), value, how })
    };
    places.iter().filter_map(one).collect()
}
