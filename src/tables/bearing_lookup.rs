//! From a designation to a row.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use super::{Bearing, Designation, bearing_rows};

/// All rows, and for each designation the row that stands for it.
struct Shelf {
    rows: Vec<Bearing>,
    /// Designation to the index of its default row.
    defaults: BTreeMap<String, usize>,
    /// Defaults of the miniature sizes, by outside diameter.
    planets: Vec<usize>,
}

static SHELF: LazyLock<Shelf> = LazyLock::new(|| {
    // The data files are part of the program and a test reads every row, so this cannot fail in a built program.
    let rows = bearing_rows::load().expect("built-in bearing rows are well formed");
    let mut defaults: BTreeMap<String, usize> = BTreeMap::new();
    for (index, row) in rows.iter().enumerate() {
        match defaults.get(&row.designation).and_then(|&held| rows.get(held)) {
            Some(held) if !is_preferred(row, held) => {}
            _ => {
                defaults.insert(row.designation.clone(), index);
            }
        }
    }
    let mut planets: Vec<usize> =
        defaults.values().copied().filter(|&i| rows[i].bore < MINIATURE_BELOW).collect();
    planets.sort_by(|&a, &b| {
        let (a, b) = (&rows[a], &rows[b]);
        a.outer.total_cmp(&b.outer).then(a.bore.total_cmp(&b.bore)).then(a.width.total_cmp(&b.width))
    });
    Shelf { rows, defaults, planets }
});

/// The catalogues list bores below 10 mm as extra small and miniature (NSK Rolling Bearings, pages B34-B37).
const MINIATURE_BELOW: f64 = 10.0;

/// Which of two makers' rows stands for a designation: a row that was read before one from memory, then the lower C,
/// the lower C0, and the maker's name so that the choice never depends on order.
fn is_preferred(row: &Bearing, held: &Bearing) -> bool {
    let by_reading = row.from_memory.cmp(&held.from_memory);
    let by_ratings = row
        .dynamic_rating
        .total_cmp(&held.dynamic_rating)
        .then(row.static_rating.total_cmp(&held.static_rating));
    by_reading.then(by_ratings).then(row.maker.cmp(&held.maker)).is_lt()
}

/// The row for a designation.
///
/// Where makers differ the whole row of the maker with the lowest C (ties: lowest C0) stands for it; another maker's is
/// reached as `6810@NSK`. Spellings such as 61810, 618/8, 688A, 686ZZ, 6810-2RS are understood; the ratings are those of the open
/// bearing. None if no such row exists.
///
/// ```
/// let lower = hubwright::tables::bearing("61810-2RS1").unwrap();
/// let chosen = hubwright::tables::bearing("6810@SKF").unwrap();
/// assert!(lower.dynamic_rating <= chosen.dynamic_rating);
/// ```
pub fn bearing(designation: &str) -> Option<&'static Bearing> {
    let asked = Designation::parse(designation)?;
    match asked.maker {
        Some(maker) => SHELF.rows.iter().find(|row| row.designation == asked.basic && row.maker == maker),
        None => SHELF.defaults.get(&asked.basic).and_then(|&index| SHELF.rows.get(index)),
    }
}

/// Every row of every maker, in order of bore, outside, width and maker.
pub fn bearings() -> &'static [Bearing] {
    &SHELF.rows
}

/// The default rows of the miniature sizes (bore below 10 mm), in order of outside, bore and width.
pub fn planet_bearings() -> impl Iterator<Item = &'static Bearing> {
    SHELF.planets.iter().filter_map(|&index| SHELF.rows.get(index))
}

/// Up to five designations that look like `text`, best first, for a "did you mean". With a maker after an `@` that does
/// not list the bearing, the makers that do.
pub fn bearing_names_near(text: &str) -> Vec<String> {
    const LEAST_LIKENESS: f64 = 0.8;
    const MOST: usize = 5;
    let asked = Designation::parse(text);
    let name = asked.as_ref().map_or_else(|| text.trim().to_ascii_uppercase(), |asked| asked.basic.clone());
    if asked.is_some_and(|asked| asked.maker.is_some()) && SHELF.defaults.contains_key(&name) {
        let makers = SHELF.rows.iter().filter(|row| row.designation == name);
        return makers.map(|row| format!("{name}@{}", row.maker)).collect();
    }
    let mut near: Vec<(f64, &String)> = SHELF
        .defaults
        .keys()
        .map(|known| (strsim::jaro_winkler(&name, known), known))
        .filter(|(likeness, _)| *likeness >= LEAST_LIKENESS)
        .collect();
    near.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    near.into_iter().take(MOST).map(|(_, known)| known.clone()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn where_makers_differ_the_lower_rating_stands() {
        for row in bearings() {
            let default = bearing(&row.designation).expect("every row has a default");
            if !row.from_memory {
                assert!(default.dynamic_rating <= row.dynamic_rating, "{} of {}", row.designation, row.maker);
                assert!(!default.from_memory);
            }
        }
        let lower = bearing("6808").expect("listed by three makers");
        assert_eq!(
            (lower.maker.as_str(), lower.dynamic_rating, lower.static_rating),
            ("SKF", 4940.0, 3450.0)
        );
    }

    #[test]
    fn another_makers_row_is_reached_by_name() {
        let nsk = bearing("61808@nsk").expect("NSK lists 6808");
        assert_eq!((nsk.maker.as_str(), nsk.dynamic_rating), ("NSK", 6350.0));
        assert_eq!(bearing("6808@NOBODY"), None);
    }

    /// NSK prints a least and a most shaft shoulder from bore 10 up, below only the least: that is no largest one.
    #[test]
    fn a_largest_shoulder_is_borrowed_only_where_one_is_printed() {
        let of = |name| bearing(name).expect("a row of the table");
        let borrowed = of("6908@SKF");
        assert_eq!(borrowed.shoulder_inner_max, of("6908@NSK").shoulder_inner_max);
        assert!(borrowed.source.ends_with("largest shaft shoulder of NSK"), "{}", borrowed.source);
        let own = of("688@SKF");
        assert_eq!((own.shoulder_inner_min, own.shoulder_inner_max), (9.4, 9.4));
        assert!(!own.source.contains("NSK"), "{}", own.source);
    }

    #[test]
    fn a_name_that_is_not_listed_gets_neighbours() {
        assert_eq!(bearing("6809X"), None);
        assert!(bearing_names_near("6180").contains(&"6800".to_string()));
        assert_eq!(bearing_names_near("6705@NSK"), ["6705@NTN"]);
        assert!(bearing_names_near("").is_empty());
    }

    #[test]
    fn rows_are_in_order_and_a_maker_lists_a_bearing_once() {
        for pair in bearings().windows(2) {
            let [a, b] = pair else { continue };
            let key = |row: &Bearing| [row.bore, row.outer, row.width];
            assert!(key(a) <= key(b), "{} before {}", a.designation, b.designation);
            assert!(
                (&a.designation, &a.maker) != (&b.designation, &b.maker),
                "{} of {}",
                a.designation,
                a.maker
            );
        }
    }

    #[test]
    fn planet_bearings_are_miniature_and_ordered_by_outside() {
        let rows: Vec<_> = planet_bearings().collect();
        assert!(rows.len() > 40);
        assert!(rows.iter().all(|row| row.bore < 10.0));
        assert!(rows.windows(2).all(|pair| pair[0].outer <= pair[1].outer));
    }

    #[test]
    fn every_row_is_a_possible_bearing() {
        for row in bearings() {
            let name = format!("{} of {}", row.designation, row.maker);
            assert!(row.bore < row.shoulder_inner_min, "{name}");
            assert!(row.shoulder_inner_min <= row.shoulder_inner_max, "{name}");
            assert!(row.shoulder_inner_max <= row.shoulder_outer_max, "{name}");
            assert!(row.shoulder_outer_max < row.outer, "{name}");
            assert!(row.width <= row.width_shielded, "{name}");
            assert!(row.mass > 0.0 && row.dynamic_rating > 0.0 && row.static_rating > 0.0, "{name}");
        }
    }
}
