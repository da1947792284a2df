//! Crossed roller bearings with rings in two pieces, THK catalogue 382-3E (read). Outsides that the stored text lacks follow from the
//! maker's size code (from memory); so does the rating C of RB6013.

use std::sync::LazyLock;

use super::bearing::{Bearing, BearingKind};

const READ: &str = "THK crossed roller rings, catalogue 382-3E, read";
const OUTSIDE_BY_CODE: &str =
    "THK crossed roller rings, catalogue 382-3E, read; outside from the size code (from memory)";
const RATING_TOO: &str =
    "THK crossed roller rings, catalogue 382-3E, read; outside from the size code and C (from memory)";

/// Rows whose outside the stored text lacks.
const BY_CODE: [&str; 7] = ["RB3510", "RB4510", "RB5013", "RB7013", "RB8016", "RB9016", "RB6013"];

/// Designation; bore, outside, pitch circle of the rollers, width, shoulders inside and outside \[mm\]; C, C0 \[N\]; mass \[kg\].
type Row = (&'static str, [f64; 6], [f64; 2], f64);

const ROWS: [Row; 17] = [
    ("RB2008", [20.0, 36.0, 27.0, 8.0, 23.5, 30.5], [3230.0, 3100.0], 0.04),
    ("RB2508", [25.0, 41.0, 32.0, 8.0, 28.5, 35.5], [3630.0, 3830.0], 0.05),
    ("RB3010", [30.0, 55.0, 41.5, 10.0, 37.0, 47.0], [7350.0, 8360.0], 0.12),
    ("RB3510", [35.0, 60.0, 46.5, 10.0, 41.0, 51.5], [7640.0, 9120.0], 0.13),
    ("RB4010", [40.0, 65.0, 51.5, 10.0, 47.5, 57.5], [8330.0, 10_600.0], 0.16),
    ("RB4510", [45.0, 70.0, 56.5, 10.0, 51.0, 61.5], [8620.0, 11_300.0], 0.17),
    ("RB5013", [50.0, 80.0, 64.0, 13.0, 57.4, 72.0], [16_700.0, 20_900.0], 0.27),
    ("RB6013", [60.0, 90.0, 74.0, 13.0, 68.0, 82.0], [18_000.0, 24_300.0], 0.30),
    ("RB7013", [70.0, 100.0, 84.0, 13.0, 78.0, 92.0], [19_400.0, 27_700.0], 0.35),
    ("RB8016", [80.0, 120.0, 98.0, 16.0, 91.0, 111.0], [30_100.0, 42_100.0], 0.70),
    ("RB9016", [90.0, 130.0, 108.0, 16.0, 98.0, 118.0], [31_400.0, 45_300.0], 0.75),
    ("RA5008", [50.0, 66.0, 57.0, 8.0, 53.5, 60.5], [5100.0, 7190.0], 0.08),
    ("RA6008", [60.0, 76.0, 67.0, 8.0, 63.5, 70.5], [5680.0, 8680.0], 0.09),
    ("RA7008", [70.0, 86.0, 77.0, 8.0, 73.5, 80.5], [5980.0, 9800.0], 0.10),
    ("RA8008", [80.0, 96.0, 87.0, 8.0, 83.5, 90.5], [6370.0, 11_300.0], 0.11),
    ("RA9008", [90.0, 106.0, 97.0, 8.0, 93.5, 100.5], [6760.0, 12_400.0], 0.12),
    ("RA10008", [100.0, 116.0, 107.0, 8.0, 103.5, 110.5], [7150.0, 13_900.0], 0.14),
];

static SHELF: LazyLock<Vec<Bearing>> = LazyLock::new(|| ROWS.iter().map(row).collect());

fn row((designation, sizes, [dynamic_rating, static_rating], mass): &Row) -> Bearing {
    let [bore, outer, pitch_circle, width, inner, outside] = *sizes;
    Bearing {
        designation: (*designation).to_string(),
        maker: "THK".to_string(),
        kind: BearingKind::CrossedRoller { pitch_circle },
        bore,
        outer,
        width,
        width_shielded: width,
        dynamic_rating: *dynamic_rating,
        static_rating: *static_rating,
        shoulder_inner_min: inner,
        shoulder_inner_max: inner,
        shoulder_outer_max: outside,
        mass: *mass,
        source: match *designation {
            "RB6013" => RATING_TOO,
            code if BY_CODE.contains(&code) => OUTSIDE_BY_CODE,
            _ => READ,
        }
        .to_string(),
        ..Bearing::default()
    }
}

/// All rows.
pub fn crossed_rollers() -> &'static [Bearing] {
    &SHELF
}

/// The row of a designation, written with or without a space.
pub fn crossed_roller(designation: &str) -> Option<&'static Bearing> {
    let asked: String = designation.chars().filter(|c| !c.is_whitespace()).collect();
    SHELF.iter().find(|row| row.designation.eq_ignore_ascii_case(&asked))
}
