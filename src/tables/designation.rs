//! What a user or a catalogue writes for a bearing, taken apart.

use super::ClearanceGroup;

/// Closed on the sides or not, as a suffix says it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Enclosure {
    /// Metal shields: `Z`, `ZZ`, `2Z`.
    Shielded,
    /// Rubbing or non-rubbing rubber seals: `2RS`, `LLU`, `DDU`, ...
    Sealed,
}

/// A bearing designation in its parts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Designation {
    /// The short basic form: `6810` for 61810, `688` for 618/8 or 688A, `MR148`.
    pub basic: String,
    /// Maker after an `@`, in capitals.
    pub maker: Option<String>,
    pub enclosure: Option<Enclosure>,
    pub clearance: Option<ClearanceGroup>,
}

/// Suffixes that leave the box and the ratings as they are. Longest first where one begins another.
const SUFFIXES: [(&str, Meaning); 31] = [
    ("2RS1", Meaning::Closed(Enclosure::Sealed)),
    ("2RSH", Meaning::Closed(Enclosure::Sealed)),
    ("2RSR", Meaning::Closed(Enclosure::Sealed)),
    ("2RSL", Meaning::Closed(Enclosure::Sealed)),
    ("2NSE", Meaning::Closed(Enclosure::Sealed)),
    ("2NKE", Meaning::Closed(Enclosure::Sealed)),
    ("2RS", Meaning::Closed(Enclosure::Sealed)),
    ("2RZ", Meaning::Closed(Enclosure::Sealed)),
    ("2RU", Meaning::Closed(Enclosure::Sealed)),
    ("2RD", Meaning::Closed(Enclosure::Sealed)),
    ("LLU", Meaning::Closed(Enclosure::Sealed)),
    ("LLB", Meaning::Closed(Enclosure::Sealed)),
    ("LLH", Meaning::Closed(Enclosure::Sealed)),
    ("DDU", Meaning::Closed(Enclosure::Sealed)),
    ("RS1", Meaning::Closed(Enclosure::Sealed)),
    ("RS", Meaning::Closed(Enclosure::Sealed)),
    ("VV", Meaning::Closed(Enclosure::Sealed)),
    ("DD", Meaning::Closed(Enclosure::Sealed)),
    ("UU", Meaning::Closed(Enclosure::Sealed)),
    ("ZZ", Meaning::Closed(Enclosure::Shielded)),
    ("2Z", Meaning::Closed(Enclosure::Shielded)),
    ("Z", Meaning::Closed(Enclosure::Shielded)),
    ("CN", Meaning::Clearance(ClearanceGroup::Normal)),
    ("C3", Meaning::Clearance(ClearanceGroup::C3)),
    ("C4", Meaning::Clearance(ClearanceGroup::C4)),
    ("CM", Meaning::Clearance(ClearanceGroup::Normal)),
    ("P6", Meaning::Neutral),
    ("P5", Meaning::Neutral),
    ("P0", Meaning::Neutral),
    ("A", Meaning::Neutral),
    ("B", Meaning::Neutral),
];

#[derive(Clone, Copy)]
enum Meaning {
    Closed(Enclosure),
    Clearance(ClearanceGroup),
    Neutral,
}

impl Designation {
    /// Takes a designation apart.
    ///
    /// # Returns
    /// None if the text has no basic number, or a suffix that is not known to leave the ratings alone.
    ///
    /// ```
    /// use hubwright::tables::{Designation, Enclosure};
    /// let sealed = Designation::parse("61810-2RS1 @skf").unwrap();
    /// assert_eq!(sealed.basic, "6810");
    /// assert_eq!(sealed.maker.as_deref(), Some("SKF"));
    /// assert_eq!(sealed.enclosure, Some(Enclosure::Sealed));
    /// ```
    pub fn parse(text: &str) -> Option<Designation> {
        let upper = text.trim().to_ascii_uppercase();
        let (name, maker) = match upper.split_once('@') {
            Some((name, maker)) if !maker.trim().is_empty() => (name, Some(maker.trim().to_string())),
            Some(_) => return None,
            None => (upper.as_str(), None),
        };
        let (number, suffixes) = split_number(name.trim())?;
        let mut designation =
            Designation { basic: short_form(number), maker, enclosure: None, clearance: None };
        let mut rest = suffixes.trim_start_matches(SEPARATORS);
        while !rest.is_empty() {
            let (suffix, meaning) = SUFFIXES.iter().find(|(suffix, _)| rest.starts_with(suffix))?;
            match meaning {
                Meaning::Closed(enclosure) => designation.enclosure = Some(*enclosure),
                Meaning::Clearance(group) => designation.clearance = Some(*group),
                Meaning::Neutral => {}
            }
            rest = rest.strip_prefix(suffix)?.trim_start_matches(SEPARATORS);
        }
        Some(designation)
    }
}

const SEPARATORS: [char; 4] = [' ', '-', '_', '/'];

/// Splits `61810-2RS` after its number; the number may begin with MR and may hold a bore after a slash.
fn split_number(name: &str) -> Option<(&str, &str)> {
    let start = if name.starts_with("MR") { 2 } else { 0 };
    let end_of_digits = |from: usize| {
        name.get(from..)
            .map_or(from, |tail| from + tail.find(|c: char| !c.is_ascii_digit()).unwrap_or(tail.len()))
    };
    let mut end = end_of_digits(start);
    if end == start {
        return None;
    }
    if name.get(end..).is_some_and(|tail| tail.starts_with('/')) {
        let with_bore = end_of_digits(end + 1);
        let ends_there =
            !name.get(with_bore..).is_some_and(|tail| tail.starts_with(|c: char| c.is_alphabetic()));
        // "618/8" carries its bore after the slash, "6810/2RS" a suffix.
        if with_bore > end + 1 && ends_there {
            end = with_bore;
        }
    }
    Some((name.get(..end)?, name.get(end..)?))
}

/// 61810 to 6810, 618/8 to 688; other numbers as they are.
fn short_form(number: &str) -> String {
    let thin = |series: &str| matches!(series, "617" | "618" | "619");
    match number.split_once('/') {
        Some((series, bore)) if thin(series) && bore.len() == 1 => format!("6{}{bore}", &series[2..]),
        Some(_) => number.to_string(),
        None if number.len() == 5 && number.get(..3).is_some_and(thin) => format!("6{}", &number[2..]),
        None => number.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spellings_of_the_same_bearing_meet() {
        for (text, basic) in [
            ("6810", "6810"),
            (" 61810 ", "6810"),
            ("6810-2RS", "6810"),
            ("6810/2RS", "6810"),
            ("6810 zz c3", "6810"),
            ("61810-2RZ/C3", "6810"),
            ("618/8", "688"),
            ("618/8-2Z", "688"),
            ("618/8 ZZ", "688"),
            ("688A", "688"),
            ("688AZZ", "688"),
            ("686ZZ", "686"),
            ("mr104b", "MR104"),
            ("16001", "16001"),
            ("62/22", "62/22"),
        ] {
            assert_eq!(Designation::parse(text).map(|d| d.basic).as_deref(), Some(basic), "{text}");
        }
    }

    #[test]
    fn what_cannot_be_read_is_refused() {
        for text in ["", "@NSK", "6810@", "ZZ", "6810XYZ", "MR", "688Ä", "6810 \u{1F600}"] {
            assert_eq!(Designation::parse(text), None, "{text}");
        }
    }

    #[test]
    fn suffixes_keep_their_meaning() {
        let designation = Designation::parse("6001LLU/C3@ntn").expect("a known form");
        assert_eq!(designation.maker.as_deref(), Some("NTN"));
        assert_eq!(designation.enclosure, Some(Enclosure::Sealed));
        assert_eq!(designation.clearance, Some(ClearanceGroup::C3));
    }
}
