//! The makers' rows, read from one data file a source.

use std::collections::HashMap;
use std::f64::consts::PI;

use serde::Deserialize;

use super::whole_balls::find_ball_set;
use super::{Bearing, BearingKind, Designation};

/// One data file.
struct Source {
    maker: &'static str,
    text: &'static str,
    /// How the source is cited.
    citation: &'static str,
    from_memory: bool,
}

const SOURCES: [Source; 9] = [
    Source {
        maker: "NSK",
        text: include_str!("data/nsk-rolling-bearings-b10.csv"),
        citation: "NSK Rolling Bearings, pages B10-B15",
        from_memory: false,
    },
    Source {
        maker: "NSK",
        text: include_str!("data/nsk-rolling-bearings-b34.csv"),
        citation: "NSK Rolling Bearings, pages B34-B37",
        from_memory: false,
    },
    Source {
        maker: "SKF",
        text: include_str!("data/skf-general-catalogue-p296.csv"),
        citation: "SKF General Catalogue, pages 296-313",
        from_memory: false,
    },
    Source {
        maker: "TPI",
        text: include_str!("data/tpi-2202-te.csv"),
        citation: "TPI catalogue 2202/TE, pages 15-31",
        from_memory: false,
    },
    Source {
        maker: "KOYO",
        text: include_str!("data/koyo-ball-and-roller-bearings-b8.csv"),
        citation: "KOYO ball and roller bearings, pages B8-B14",
        from_memory: false,
    },
    Source {
        maker: "NACHI",
        text: include_str!("data/nachi-b3402e-2008.csv"),
        citation: "NACHI catalogue B3402E, 2008",
        from_memory: false,
    },
    Source {
        maker: "FBJ",
        text: include_str!("data/fbj-bearings-p46.csv"),
        citation: "FBJ bearing catalogue, pages 46-59",
        from_memory: false,
    },
    Source {
        maker: "NTN",
        text: include_str!("data/ntn-deep-groove-67-to-64.csv"),
        citation: "NTN deep groove ball bearings, series 67 to 64",
        from_memory: false,
    },
    Source {
        maker: "NTN",
        text: include_str!("data/from-memory-series-67.csv"),
        citation: "NTN-type row from memory",
        from_memory: true,
    },
];

/// A row as printed; a blank is a value the maker does not print.
#[derive(Debug, Deserialize)]
struct Row {
    designation: String,
    bore_mm: f64,
    outer_mm: f64,
    width_mm: f64,
    width_shielded_mm: f64,
    c_n: f64,
    c0_n: f64,
    f0: Option<f64>,
    pu_n: Option<f64>,
    da_min_mm: Option<f64>,
    da_max_mm: Option<f64>,
    shoulder_outer_max_mm: Option<f64>,
    mass_g: Option<f64>,
}

/// Mass of a deep groove bearing against the full ring between bore and outside: 0.68 is the median of the 64 NSK rows
/// above 10 mm, which lie between 0.59 and 0.73.
const MASS_SHARE: f64 = 0.68;
/// Bearing steel \[kg/mm3\].
const STEEL_DENSITY: f64 = 7.8e-6;
/// C and C0 from whole balls within this share of the printed ones are taken as reproduced.
pub(super) const REPRODUCED_WITHIN: f64 = 0.012;

/// Every row, in order of bore, outside, width and maker.
pub(super) fn load() -> Result<Vec<Bearing>, csv::Error> {
    let mut printed = Vec::new();
    for source in &SOURCES {
        let mut reader = csv::ReaderBuilder::new().comment(Some(b'#')).from_reader(source.text.as_bytes());
        for row in reader.deserialize() {
            printed.push((source, row?));
        }
    }
    let shoulders_of_nsk: HashMap<String, Shoulders> = printed
        .iter()
        .filter(|(source, _): &&(&Source, Row)| source.maker == "NSK")
        .filter_map(|(_, row)| Some((basic(row), printed_shoulders(row)?)))
        .collect();
    let mut bearings: Vec<Bearing> = printed
        .iter()
        .map(|(source, row)| complete(source, row, shoulders_of_nsk.get(&basic(row)).copied()))
        .collect();
    bearings.sort_by(|a, b| {
        a.bore
            .total_cmp(&b.bore)
            .then(a.outer.total_cmp(&b.outer))
            .then(a.width.total_cmp(&b.width))
            .then(a.maker.cmp(&b.maker))
    });
    Ok(bearings)
}

/// The short basic designation of a printed row.
fn basic(row: &Row) -> String {
    Designation::parse(&row.designation)
        .map_or_else(|| row.designation.clone(), |designation| designation.basic)
}

/// Shoulders as a maker prints them; many print only the least at the shaft.
#[derive(Clone, Copy)]
struct Shoulders {
    inner_min: f64,
    inner_max: Option<f64>,
    outer_max: f64,
}

impl Shoulders {
    /// Least and most at the shaft, most at the housing. The least stands for a most that isn't printed: the safe side.
    fn filled(self) -> [f64; 3] {
        [self.inner_min, self.inner_max.unwrap_or(self.inner_min), self.outer_max]
    }
}

fn printed_shoulders(row: &Row) -> Option<Shoulders> {
    Some(Shoulders {
        inner_min: row.da_min_mm?,
        inner_max: row.da_max_mm,
        outer_max: row.shoulder_outer_max_mm?,
    })
}

/// Fills what the maker does not print, and marks it.
fn complete(source: &Source, row: &Row, nsk_shoulders: Option<Shoulders>) -> Bearing {
    let designation = basic(row);
    let mut citation = source.citation.to_string();
    if designation != row.designation {
        citation.push_str(&format!(", printed as {}", row.designation));
    }
    let (shoulders, shoulders_estimated) = shoulders(row, nsk_shoulders, &mut citation);
    let (f0, f0_computed) = match row.f0 {
        Some(f0) => (Some(f0), false),
        None => {
            let f0 = f0_of_whole_balls(row);
            (f0, f0.is_some())
        }
    };
    Bearing {
        kind: BearingKind::DeepGroove,
        designation,
        maker: source.maker.to_string(),
        bore: row.bore_mm,
        outer: row.outer_mm,
        width: row.width_mm,
        width_shielded: row.width_shielded_mm,
        dynamic_rating: row.c_n,
        static_rating: row.c0_n,
        f0,
        f0_computed,
        fatigue_limit: row.pu_n,
        shoulder_inner_min: shoulders[0],
        shoulder_inner_max: shoulders[1],
        shoulder_outer_max: shoulders[2],
        shoulders_estimated,
        mass: row.mass_g.map_or_else(|| estimated_mass(row), |grams| grams / 1000.0),
        mass_estimated: row.mass_g.is_none(),
        source: citation,
        from_memory: source.from_memory,
    }
}

/// The maker's own shoulders; what is missing from them, of the NSK row of the same box if NSK prints it; where there is
/// neither, an estimate from the cross-section.
fn shoulders(row: &Row, nsk: Option<Shoulders>, citation: &mut String) -> ([f64; 3], bool) {
    let Some(mut own) = printed_shoulders(row) else {
        return match nsk {
            Some(nsk) => {
                citation.push_str("; shoulders of NSK");
                (nsk.filled(), false)
            }
            None => (estimated_shoulders(row), true),
        };
    };
    if own.inner_max.is_none() {
        own.inner_max = nsk.and_then(|nsk| nsk.inner_max).filter(|&most| most > own.inner_min);
        if own.inner_max.is_some() {
            citation.push_str("; largest shaft shoulder of NSK");
        }
    }
    (own.filled(), false)
}

fn estimated_shoulders(row: &Row) -> [f64; 3] {
    let section = row.outer_mm - row.bore_mm;
    let inner = row.bore_mm + 0.25 * section;
    [inner, inner, row.outer_mm - 0.22 * section]
}

fn estimated_mass(row: &Row) -> f64 {
    let ring = PI / 4.0 * (row.outer_mm * row.outer_mm - row.bore_mm * row.bore_mm) * row.width_mm;
    MASS_SHARE * ring * STEEL_DENSITY
}

/// f0 of ISO 76 for the balls that reproduce both ratings; none if none do.
fn f0_of_whole_balls(row: &Row) -> Option<f64> {
    let (balls, error) = find_ball_set(row.bore_mm, row.outer_mm, row.c_n, row.c0_n, None)?;
    if error.worst() > REPRODUCED_WITHIN {
        return None;
    }
    // To the digit in which the makers print it.
    balls.f0().map(|f0| (f0 * 10.0).round() / 10.0)
}
