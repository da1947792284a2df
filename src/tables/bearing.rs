//! One bearing: deep groove ball, or crossed roller.

/// What rolls in it.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub enum BearingKind {
    #[default]
    DeepGroove,
    /// Rollers crossed by turns on one circle \[mm\].
    CrossedRoller { pitch_circle: f64 },
}

/// A bearing as one maker lists it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bearing {
    /// The short form, whatever the maker prints: `6810` for 61810, `688` for 618/8 and 688A.
    pub designation: String,
    pub maker: String,
    pub kind: BearingKind,
    pub bore: f64,
    pub outer: f64,
    /// Width of the open bearing.
    pub width: f64,
    /// Width with shields, where it differs.
    pub width_shielded: f64,
    /// Basic dynamic radial rating C \[N\].
    pub dynamic_rating: f64,
    /// Basic static radial rating C0 \[N\].
    pub static_rating: f64,
    /// Factor f0 of ISO 76 / ISO 281 as printed; where the maker prints none, that of the balls that reproduce both
    /// ratings (then `f0_computed`), or none if no whole balls do.
    pub f0: Option<f64>,
    /// f0 worked back from the ratings, not printed.
    pub f0_computed: bool,
    /// Fatigue load limit \[N\], where printed.
    pub fatigue_limit: Option<f64>,
    /// Inner-ring abutment, least.
    pub shoulder_inner_min: f64,
    /// Inner-ring abutment, most; the least where no most is printed.
    pub shoulder_inner_max: f64,
    /// Outer-ring abutment bore, at most.
    pub shoulder_outer_max: f64,
    /// Shoulders estimated from the cross-section, not printed by a maker.
    pub shoulders_estimated: bool,
    /// \[kg\]
    pub mass: f64,
    pub mass_estimated: bool,
    /// Where the row was printed.
    pub source: String,
    /// Row from memory, not seen on a page.
    pub from_memory: bool,
}

impl Bearing {
    /// Width with or without shields.
    pub fn width_of(&self, shielded: bool) -> f64 {
        if shielded { self.width_shielded } else { self.width }
    }

    /// Mean diameter dm = (d + D) / 2, the usual stand-in for the pitch circle of the balls.
    pub fn mean_diameter(&self) -> f64 {
        (self.bore + self.outer) / 2.0
    }

    /// Diameter series of ISO 15 read from the designation: the digit before the bore code.
    ///
    /// # Returns
    /// `'7'`, `'8'`, `'9'`, `'0'`, `'1'`, `'2'`, `'3'`; none for a designation of another form.
    pub fn diameter_series(&self) -> Option<char> {
        diameter_series(&self.designation)
    }

    /// Whether the tighter axial limit of 0.25 C0 binds: bore up to 12 mm, or a light diameter series.
    ///
    /// The makers name series 8, 9, 0 and 1 (SKF General Catalogue, pages 296-299); the still thinner series 7 is
    /// counted with them, and so is a bearing whose series is unknown.
    pub fn is_light(&self) -> bool {
        self.bore <= 12.0 || !matches!(self.diameter_series(), Some('2'..='4'))
    }
}

/// The digit before the bore code: `6810` and `688` are of series 8, `16001` of series 0.
fn diameter_series(designation: &str) -> Option<char> {
    let head = designation.split('/').next().unwrap_or(designation);
    if !head.chars().all(|c| c.is_ascii_digit()) {
        return None;
    }
    let digits: Vec<char> = head.chars().collect();
    match digits.as_slice() {
        ['6', series] | ['6', series, _] | ['6', series, _, _] | ['1', '6', series, _, _] => Some(*series),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_series_is_the_digit_before_the_bore_code() {
        for (designation, series) in [
            ("6810", Some('8')),
            ("688", Some('8')),
            ("16001", Some('0')),
            ("6205", Some('2')),
            ("62/22", Some('2')),
            ("MR148", None),
            ("", None),
        ] {
            assert_eq!(diameter_series(designation), series, "{designation}");
        }
    }

    #[test]
    fn only_a_known_heavy_series_above_bore_12_escapes_the_tight_axial_limit() {
        let row = |designation: &str, bore: f64| Bearing {
            designation: designation.into(),
            bore,
            ..Bearing::default()
        };
        assert!(!row("6205", 25.0).is_light());
        assert!(row("6201", 12.0).is_light());
        assert!(row("6005", 25.0).is_light());
        assert!(row("6705", 25.0).is_light());
        assert!(row("own row", 25.0).is_light());
    }
}
