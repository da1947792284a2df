//! Heat-set inserts of brass.

use std::f64::consts::PI;

use super::Thread;

/// A heat-set insert and the hole it wants.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insert {
    pub thread: Thread,
    /// Diameter of the moulded or printed hole.
    pub hole: f64,
    /// Over the knurls.
    pub outer: f64,
    pub length: f64,
    pub source: &'static str,
    pub from_memory: bool,
}

/// Which of two lengths, where a thread has two.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum InsertLength {
    Long,
    Short,
}

/// Published rules for the hole contradict each other (a chart for printed parts gives holes larger than the knurls,
/// another page 0.1 to 0.2 under them); these are the hole of the chart's insert outside, the fit coupon decides.
const CHART: &str =
    "creative3dp heat-set chart for printed parts (outside and length as printed; hole taken equal to it)";

const ROWS: [(Thread, f64, f64, f64, f64); 6] = [
    // thread, hole, outside, long, short
    (Thread::M2, 3.2, 3.6, 4.0, 4.0),
    (Thread::M2_5, 3.6, 4.0, 4.0, 4.0),
    (Thread::M3, 4.0, 4.6, 5.7, 4.0),
    (Thread::M4, 5.6, 6.3, 8.1, 8.1),
    (Thread::M5, 6.4, 7.1, 9.5, 9.5),
    (Thread::M6, 8.0, 8.7, 12.7, 12.7),
];

/// The insert of a thread; the only one where there is one.
pub fn heat_set_insert(thread: Thread, length: InsertLength) -> Insert {
    let (_, hole, outer, long, short) = ROWS.into_iter().find(|row| row.0 == thread).unwrap_or(ROWS[2]);
    let length = match length {
        InsertLength::Long => long,
        InsertLength::Short => short,
    };
    // Knurl outsides over the hole: from memory, makers differ by 0.2.
    Insert { thread, hole, outer, length, source: CHART, from_memory: true }
}

/// Mass of a brass insert \[kg\]: tube between mean knurl and thread, 8.4 g/cm3. An estimate.
pub fn insert_mass(insert: &Insert) -> f64 {
    const BRASS: f64 = 8.4e-6; // kg/mm3
    let outside = (insert.hole + insert.outer) / 2.0;
    BRASS * PI / 4.0 * (outside * outside - insert.thread.nominal().powi(2)) * insert.length
}
