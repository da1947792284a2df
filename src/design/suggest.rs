//! "Did you mean": the nearest of a few names.

use super::key::{Section, Takes};

/// Least likeness (Jaro-Winkler) that is worth suggesting: with less, suggestions are mostly noise (tried out on
/// misspelt keys of the demo designs).
const LEAST_LIKENESS: f64 = 0.8;

/// The nearest name, if one is near.
pub fn near<'a>(typed: &str, names: &[&'a str]) -> Option<&'a str> {
    let plain = |name: &str| name.to_ascii_lowercase().replace(['-', '_', ' '], "");
    let wanted = plain(typed);
    if let Some(same) = names.iter().find(|name| plain(name) == wanted) {
        return Some(same);
    }
    names
        .iter()
        .map(|name| (strsim::jaro_winkler(&wanted, &plain(name)), *name))
        .filter(|(likeness, _)| *likeness >= LEAST_LIKENESS)
        // The first of equally near ones: the order of declaration.
        .fold(None, |best: Option<(f64, &str)>, next| match best {
            Some(best) if best.0 >= next.0 => Some(best),
            _ => Some(next),
        })
        .map(|(_, name)| name)
}

/// The dotted path of a key of this name anywhere in the design file.
pub fn elsewhere(typed: &str, root: &Section) -> Option<String> {
    for key in root.keys {
        if key.name == typed {
            return Some(key.name.to_string());
        }
        let (Takes::Section(section) | Takes::Sections(section)) = &key.takes else { continue };
        if let Some(path) = elsewhere(typed, section) {
            return Some(format!("{}.{path}", key.name));
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::near;

    #[test]
    fn near_names_are_found_and_far_ones_are_not() {
        let names = ["outer_diameter", "height", "shaft_diameter", "kv"];
        assert_eq!(near("outer_diametre", &names), Some("outer_diameter"));
        assert_eq!(near("Outer-Diameter", &names), Some("outer_diameter"));
        assert_eq!(near("hight", &names), Some("height"));
        assert_eq!(near("colour", &names), None);
    }
}
