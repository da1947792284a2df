//! Lists of allowances by diameter, with what was found put in.

use crate::design::FitRange;

/// What was found, and the list it goes into. A range in which one diameter was tried takes its value; one in which several
/// were tried with different results is parted midway between them.
pub fn with_found(ranges: &[FitRange], found: &[[f64; 2]], beyond: Beyond) -> Vec<FitRange> {
    let mut found = found.to_vec();
    found.sort_by(|one, other| one[0].total_cmp(&other[0]));
    let mut covering = ranges.to_vec();
    for [diameter, _] in &found {
        cover(&mut covering, *diameter, beyond);
    }
    covering
        .iter()
        .flat_map(|range| {
            let inside: Vec<[f64; 2]> =
                found.iter().copied().filter(|[diameter, _]| holds(range, *diameter)).collect();
            parted(range, &inside)
        })
        .collect()
}

/// What happens to a diameter outside all ranges.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Beyond {
    /// The nearest range counts there: a range of its own reaches from it to the end.
    Nearest,
    /// A general value counts there: a range around the diameter takes its place.
    General(f64),
}

/// Half the width of a range made for one diameter \[mm\].
const AROUND: f64 = 0.5;
/// A range beyond the last one reaches this far past what was tried.
const PAST: f64 = 1.25;

pub fn holds(range: &FitRange, diameter: f64) -> bool {
    diameter > range.over && diameter <= range.up_to
}

/// Adds a range for a diameter that lies in none.
fn cover(ranges: &mut Vec<FitRange>, diameter: f64, beyond: Beyond) {
    if ranges.iter().any(|range| holds(range, diameter)) {
        return;
    }
    let at = ranges.iter().position(|range| diameter <= range.over).unwrap_or(ranges.len());
    let below = at.checked_sub(1).and_then(|index| ranges.get(index)).cloned();
    let above = ranges.get(at).cloned();
    let range = match beyond {
        Beyond::Nearest => {
            let allowance = above.as_ref().or(below.as_ref()).map_or(0.0, |range| range.allowance);
            FitRange {
                over: below.map_or(0.0, |range| range.up_to),
                up_to: above.map_or((diameter * PAST).ceil(), |range| range.over),
                allowance,
            }
        }
        Beyond::General(allowance) => FitRange {
            over: below.map_or(0.0, |range| range.up_to).max(hundredths(diameter - AROUND)),
            up_to: above.map_or(f64::INFINITY, |range| range.over).min(hundredths(diameter + AROUND)),
            allowance,
        },
    };
    ranges.insert(at, range);
}

/// A range with the values found inside it.
fn parted(range: &FitRange, inside: &[[f64; 2]]) -> Vec<FitRange> {
    let Some([_, first]) = inside.first() else { return vec![range.clone()] };
    let mut parts = vec![FitRange { allowance: *first, ..range.clone() }];
    for pair in inside.windows(2) {
        let [[small, before], [large, after]] = [pair[0], pair[1]];
        if let Some(last) = parts.last_mut()
            && before != after
        {
            let middle = hundredths((small + large) / 2.0);
            last.up_to = middle;
            parts.push(FitRange { over: middle, up_to: range.up_to, allowance: after });
        }
    }
    parts
}

fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(over: f64, up_to: f64, allowance: f64) -> FitRange {
        FitRange { over, up_to, allowance }
    }

    #[test]
    fn one_diameter_sets_its_range() {
        let ranges = [range(8.0, 16.0, 0.18), range(16.0, 100.0, 0.1)];
        let found = with_found(&ranges, &[[65.0, 0.15]], Beyond::Nearest);
        assert_eq!(found, [range(8.0, 16.0, 0.18), range(16.0, 100.0, 0.15)]);
    }

    #[test]
    fn two_that_differ_part_a_range_and_two_alike_do_not() {
        let ranges = [range(8.0, 100.0, 0.1)];
        let found = with_found(&ranges, &[[65.0, 0.15], [16.0, 0.2]], Beyond::Nearest);
        assert_eq!(found, [range(8.0, 40.5, 0.2), range(40.5, 100.0, 0.15)]);
        let found = with_found(&ranges, &[[65.0, 0.15], [16.0, 0.15]], Beyond::Nearest);
        assert_eq!(found, [range(8.0, 100.0, 0.15)]);
    }

    #[test]
    fn beyond_the_ends_the_list_grows_without_a_gap() {
        let ranges = [range(8.0, 16.0, 0.18)];
        let found = with_found(&ranges, &[[5.0, 0.1], [65.0, 0.2]], Beyond::Nearest);
        assert_eq!(found, [range(0.0, 8.0, 0.1), range(8.0, 16.0, 0.18), range(16.0, 82.0, 0.2)]);
    }

    #[test]
    fn holes_get_a_range_around_them_that_overlaps_no_other() {
        let found = with_found(&[], &[[4.0, 0.25], [3.2, 0.15]], Beyond::General(0.2));
        assert_eq!(found, [range(2.7, 3.7, 0.15), range(3.7, 4.5, 0.25)]);
    }
}
