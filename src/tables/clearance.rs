//! Radial internal clearance groups of deep groove ball bearings.

/// Clearance group as bought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum ClearanceGroup {
    /// CN, no suffix.
    #[default]
    Normal,
    C3,
    C4,
}

/// Bore over, up to and including \[mm\]; CN and C3, least and most \[um\].
/// SKF General Catalogue, page 297 (the same figures in TPI catalogue 2202/TE, table 6.1); read there.
const GROUPS: [(f64, f64, [f64; 2], [f64; 2]); 10] = [
    (0.0, 6.0, [2.0, 13.0], [8.0, 23.0]),
    (6.0, 10.0, [2.0, 13.0], [8.0, 23.0]),
    (10.0, 18.0, [3.0, 18.0], [11.0, 25.0]),
    (18.0, 24.0, [5.0, 20.0], [13.0, 28.0]),
    (24.0, 30.0, [5.0, 20.0], [13.0, 28.0]),
    (30.0, 40.0, [6.0, 20.0], [15.0, 33.0]),
    (40.0, 50.0, [6.0, 23.0], [18.0, 36.0]),
    (50.0, 65.0, [8.0, 28.0], [23.0, 43.0]),
    (65.0, 80.0, [10.0, 30.0], [25.0, 51.0]),
    (80.0, 100.0, [12.0, 36.0], [30.0, 58.0]),
];

/// Radial internal clearance before mounting, least and most \[mm\].
///
/// None beyond bore 100 mm and for C4, whose table has not been read.
pub fn radial_clearance(bore: f64, group: ClearanceGroup) -> Option<(f64, f64)> {
    let (_, _, normal, c3) = GROUPS.iter().find(|(over, up_to, ..)| bore > *over && bore <= *up_to)?;
    let [least, most] = match group {
        ClearanceGroup::Normal => *normal,
        ClearanceGroup::C3 => *c3,
        ClearanceGroup::C4 => return None,
    };
    Some((least / 1000.0, most / 1000.0))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ranges_are_over_and_up_to_and_including() {
        assert_eq!(radial_clearance(50.0, ClearanceGroup::Normal), Some((0.006, 0.023)));
        assert_eq!(radial_clearance(50.1, ClearanceGroup::C3), Some((0.023, 0.043)));
        assert_eq!(radial_clearance(0.0, ClearanceGroup::Normal), None);
        assert_eq!(radial_clearance(f64::NAN, ClearanceGroup::Normal), None);
        assert_eq!(radial_clearance(25.0, ClearanceGroup::C4), None);
    }
}
