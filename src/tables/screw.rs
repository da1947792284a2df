//! Socket screws: heads, lengths one can buy, mass.

use std::f64::consts::PI;

use super::Thread;

/// Head forms, each of one standard.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Head {
    /// ISO 4762 socket head cap screw.
    Cap,
    /// ISO 7380-1 button head.
    Button,
    /// ISO 10642 countersunk, 90 degrees.
    Countersunk,
}

impl Head {
    pub fn standard(self) -> &'static str {
        match self {
            Head::Cap => "ISO 4762",
            Head::Button => "ISO 7380-1",
            Head::Countersunk => "ISO 10642",
        }
    }
}

/// What a pocket must take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct HeadDimensions {
    /// Cap: the largest a knurled head may be; button: largest; countersunk: the sharp theoretical diameter.
    pub diameter_max: f64,
    pub height: f64,
    /// Hexagon socket across flats.
    pub hexagon: f64,
    pub from_memory: bool,
}

/// (thread, head diameter, height, hexagon, from memory).
type Row = (Thread, f64, f64, f64, bool);

/// ISO 4762: height and hexagon as printed by the University of Stavanger's bolt tables and engineeringhardware.com;
/// the knurled diameters (nominal + 0.18 .. 0.22) from memory.
const CAP: [Row; 6] = [
    (Thread::M2, 3.98, 2.0, 1.5, true),
    (Thread::M2_5, 4.68, 2.5, 2.0, true),
    (Thread::M3, 5.68, 3.0, 2.5, true),
    (Thread::M4, 7.22, 4.0, 3.0, true),
    (Thread::M5, 8.72, 5.0, 4.0, true),
    (Thread::M6, 10.22, 6.0, 5.0, true),
];

/// ISO 7380-1, from memory. The standard begins at M3; smaller threads get the cap head's pocket.
const BUTTON: [Row; 4] = [
    (Thread::M3, 5.7, 1.65, 2.0, true),
    (Thread::M4, 7.6, 2.2, 2.5, true),
    (Thread::M5, 9.5, 2.75, 3.0, true),
    (Thread::M6, 10.5, 3.3, 4.0, true),
];

/// ISO 10642: sharp diameter and height for M3 to M6 as printed by codecupboard.com and GKN table 16.5; M2 and M2.5
/// from memory in proportion (the standard begins at M3, the smaller ones are sold to the same form).
const COUNTERSUNK: [Row; 6] = [
    (Thread::M2, 4.48, 1.24, 1.3, true),
    (Thread::M2_5, 5.6, 1.55, 1.5, true),
    (Thread::M3, 6.72, 1.86, 2.0, false),
    (Thread::M4, 8.96, 2.48, 2.5, false),
    (Thread::M5, 11.2, 3.1, 3.0, false),
    (Thread::M6, 13.44, 3.72, 4.0, false),
];

fn row(head: Head, thread: Thread) -> Row {
    let rows: &[Row] = match head {
        Head::Cap => &CAP,
        Head::Button => &BUTTON,
        Head::Countersunk => &COUNTERSUNK,
    };
    // ISO 7380-1 has none under M3: the cap head stands in, which is taller and so never too small a pocket.
    let found = rows.iter().find(|row| row.0 == thread).or_else(|| CAP.iter().find(|row| row.0 == thread));
    found.copied().unwrap_or(CAP[5])
}

/// Head of a screw. The cap screw's for button heads under M3, which the standard doesn't have.
pub fn head_dimensions(head: Head, thread: Thread) -> HeadDimensions {
    let (_, diameter_max, height, hexagon, from_memory) = row(head, thread);
    HeadDimensions { diameter_max, height, hexagon, from_memory }
}

/// ISO 888 lengths, from memory, without the bracketed 55 and 65.
const LENGTHS: [f64; 19] = [
    3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 60.0, 70.0, 80.0,
    90.0,
];

/// Shortest and longest commonly sold (from memory; M3 to 50 is the layout's own limit: longer ones are rare).
fn range(head: Head, thread: Thread) -> (f64, f64) {
    match (head, thread) {
        (_, Thread::M2) => (3.0, 20.0),
        (_, Thread::M2_5) => (4.0, 25.0),
        (Head::Countersunk, Thread::M3) => (6.0, 50.0),
        (Head::Button, Thread::M3) => (4.0, 30.0),
        (Head::Cap, Thread::M3) => (4.0, 50.0),
        (Head::Button, Thread::M4) => (6.0, 40.0),
        (_, Thread::M4) => (6.0, 70.0),
        (_, Thread::M5) => (8.0, 80.0),
        (_, Thread::M6) => (10.0, 90.0),
    }
}

/// Lengths one can buy.
pub fn lengths(head: Head, thread: Thread) -> impl Iterator<Item = f64> {
    let (shortest, longest) = range(head, thread);
    LENGTHS.into_iter().filter(move |length| (shortest..=longest).contains(length))
}

/// The shortest screw of at least this length, if one is sold. A thousandth short is long enough.
pub fn next_length(head: Head, thread: Thread, at_least: f64) -> Option<f64> {
    lengths(head, thread).find(|&length| length >= at_least - 1e-3)
}

/// The longest screw that is at most this long, if one is sold.
pub fn longest_length_within(head: Head, thread: Thread, at_most: f64) -> Option<f64> {
    lengths(head, thread).filter(|&length| length <= at_most + 1e-3).last()
}

/// Mass of a steel screw \[kg\]: shank at the stress area's diameter, head as its cylinder or cone less the socket, at
/// 7.85 g/cm3. An estimate, within about 10 %.
pub fn screw_mass(head: Head, thread: Thread, length: f64) -> f64 {
    const STEEL: f64 = 7.85e-6; // kg/mm3
    let dimensions = head_dimensions(head, thread);
    let nominal = thread.nominal();
    let disc = |diameter: f64| PI / 4.0 * diameter * diameter;
    let socket = disc(dimensions.hexagon * 1.05) * dimensions.height * 0.5;
    let (head_volume, shank) = match head {
        Head::Cap | Head::Button => {
            (disc(dimensions.diameter_max) * dimensions.height * 0.95 - socket, length)
        }
        Head::Countersunk => {
            let (wide, narrow) = (dimensions.diameter_max, nominal);
            let cone = PI / 12.0 * dimensions.height * (wide * wide + wide * narrow + narrow * narrow);
            (cone - socket, length - dimensions.height)
        }
    };
    STEEL * (head_volume + thread.stress_area() * shank.max(0.0))
}
