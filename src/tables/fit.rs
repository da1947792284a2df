//! Tolerances and fits of ISO 286 for diameters over 1 to 120 mm.
//!
//! Standard tolerances IT5 to IT13: engineersvault.blogspot.com (read); fundamental deviations of shafts g, h, k, m, p: Sumitomo, JIS
//! B 0401, page 28 (read; over 80 mm from memory), m from DIN 7 (read to 18 mm). Ranges are "over ... up to and including".
//! Holes: H, and N up to grade 8 (ISO 286-1:2010, rule with the difference of two grades, from memory). Not covered: other letters,
//! larger sizes.

/// Largest size of a range, and its standard tolerances IT5 to IT13 \[um\].
const GRADES: [(f64, [f64; 9]); 8] = [
    (3.0, [4.0, 6.0, 10.0, 14.0, 25.0, 40.0, 60.0, 100.0, 140.0]),
    (6.0, [5.0, 8.0, 12.0, 18.0, 30.0, 48.0, 75.0, 120.0, 180.0]),
    (10.0, [6.0, 9.0, 15.0, 22.0, 36.0, 58.0, 90.0, 150.0, 220.0]),
    (18.0, [8.0, 11.0, 18.0, 27.0, 43.0, 70.0, 110.0, 180.0, 270.0]),
    (30.0, [9.0, 13.0, 21.0, 33.0, 52.0, 84.0, 130.0, 210.0, 330.0]),
    (50.0, [11.0, 16.0, 25.0, 39.0, 62.0, 100.0, 160.0, 250.0, 390.0]),
    (80.0, [13.0, 19.0, 30.0, 46.0, 74.0, 120.0, 190.0, 300.0, 460.0]),
    (120.0, [15.0, 22.0, 35.0, 54.0, 87.0, 140.0, 220.0, 350.0, 540.0]),
];
/// Lower deviation of shafts n \[um\] (ISO 286-1:2010, table of shafts, from memory); holes N follow from it.
const N: [f64; 8] = [4.0, 8.0, 10.0, 12.0, 15.0, 17.0, 20.0, 23.0];
const LEAST_SIZE: f64 = 1.0;
const FIRST_GRADE: u32 = 5;

/// Nearest deviation to the zero line by range \[um\]: g and the like from above, k, m, p from below. None where no value was read.
const G: [Option<f64>; 8] =
    [None, Some(-4.0), Some(-5.0), Some(-6.0), Some(-7.0), Some(-9.0), Some(-10.0), Some(-12.0)];
const K: [Option<f64>; 8] =
    [None, Some(1.0), Some(1.0), Some(1.0), Some(2.0), Some(2.0), Some(2.0), Some(3.0)];
const M: [Option<f64>; 8] = [Some(2.0), Some(4.0), Some(6.0), Some(7.0), None, None, None, None];
const P: [Option<f64>; 8] =
    [None, Some(12.0), Some(15.0), Some(18.0), Some(22.0), Some(26.0), Some(32.0), Some(37.0)];

/// A tolerance class: letter and grade.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Class {
    /// Hole H.
    Hole(u32),
    /// Hole N, tight; over 3 mm, grades 6 to 8.
    HoleN(u32),
    Shaft(Letter, u32),
}

/// Letter of a shaft.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Letter {
    G,
    H,
    K,
    M,
    P,
}

impl std::fmt::Display for Class {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Class::Hole(grade) => write!(f, "H{grade}"),
            Class::HoleN(grade) => write!(f, "N{grade}"),
            Class::Shaft(letter, grade) => write!(f, "{}{grade}", format!("{letter:?}").to_lowercase()),
        }
    }
}

fn range(size: f64) -> Option<usize> {
    (size > LEAST_SIZE).then(|| GRADES.iter().position(|(up_to, _)| size <= *up_to)).flatten()
}

/// Standard tolerance \[mm\] of a grade for a size \[mm\]; none out of the table.
pub fn standard_tolerance(size: f64, grade: u32) -> Option<f64> {
    let (_, grades) = GRADES.get(range(size)?)?;
    grades.get(grade.checked_sub(FIRST_GRADE)? as usize).map(|microns| microns * 1e-3)
}

/// Least and most deviation from the size \[mm\]; none out of the tables.
pub fn limits(size: f64, class: Class) -> Option<[f64; 2]> {
    match class {
        Class::Hole(grade) => Some([0.0, standard_tolerance(size, grade)?]),
        Class::HoleN(grade @ 6..=8) if size > 3.0 => {
            let tolerance = standard_tolerance(size, grade)?;
            // As tight in its fit as the shaft n with the hole H of the next finer grade.
            let finer = tolerance - standard_tolerance(size, grade - 1)?;
            let upper = finer - N.get(range(size)?)? * 1e-3;
            Some([upper - tolerance, upper])
        }
        Class::HoleN(_) => None,
        Class::Shaft(letter, grade) => {
            let tolerance = standard_tolerance(size, grade)?;
            let by_range = |table: &[Option<f64>; 8]| table[range(size)?].map(|microns| microns * 1e-3);
            match letter {
                Letter::H => Some([-tolerance, 0.0]),
                Letter::G => by_range(&G).map(|upper| [upper - tolerance, upper]),
                Letter::K => by_range(&K).map(|lower| [lower, lower + tolerance]),
                Letter::M => by_range(&M).map(|lower| [lower, lower + tolerance]),
                Letter::P => by_range(&P).map(|lower| [lower, lower + tolerance]),
            }
        }
    }
}

/// Least and most clearance of a hole over a shaft of one size \[mm\], negative where they interfere; none out of the tables.
pub fn clearance(size: f64, hole: Class, shaft: Class) -> Option<[f64; 2]> {
    let ([hole_least, hole_most], [shaft_least, shaft_most]) = (limits(size, hole)?, limits(size, shaft)?);
    Some([hole_least - shaft_most, hole_most - shaft_least])
}
