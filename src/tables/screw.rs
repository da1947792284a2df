//! Hexagon socket screws: heads, lengths one can buy, masses.

use std::f64::consts::PI;

use super::Thread;

/// Form of head.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum ScrewStandard {
    /// ISO 4762, cylindrical head.
    Cap,
    /// ISO 7380-1, button head.
    Button,
    /// ISO 10642, countersunk head, 90 degrees.
    Countersunk,
}

/// A screw head.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScrewHead {
    pub standard: ScrewStandard,
    pub thread: Thread,
    /// Head diameter dk of a plain head; of a countersunk one the sharp (theoretical) diameter.
    pub diameter: f64,
    /// Largest head that may come out of the bag: a knurled cap, the sharp edge of a countersunk head. Pockets clear this.
    pub diameter_most: f64,
    /// Height k.
    pub height: f64,
    /// Width across flats of the key.
    pub hex: f64,
    /// Depth of the socket t, at least.
    pub socket_depth: f64,
    pub source: &'static str,
    pub from_memory: bool,
}

const CAP: &str = "ISO 4762, read at the University of Stavanger, creativefasteners.co.in and engineeringhardware.com; knurled \
                   head from memory";
const BUTTON: &str = "ISO 7380-1, from memory";
const COUNTERSUNK: &str = "ISO 10642 by GKN, table 16.5, sharp diameter and height read at codecupboard.com and joshuanava.biz; \
                           socket depth from memory";
const SMALL_COUNTERSUNK: &str =
    "smaller than ISO 10642 begins: its proportions (2.24 d, 0.62 d), sold as DIN 7991; from memory";

/// Shorthand for the table below: diameter, largest diameter, height, hex, socket depth.
const fn head(
    standard: ScrewStandard,
    thread: Thread,
    [diameter, diameter_most, height, hex, socket_depth]: [f64; 5],
    (source, from_memory): (&'static str, bool),
) -> ScrewHead {
    ScrewHead { standard, thread, diameter, diameter_most, height, hex, socket_depth, source, from_memory }
}

/// A newer edition of ISO 10642 prints smaller real heads; the pocket follows the larger, sharp diameter.
const HEADS: [ScrewHead; 16] = [
    head(ScrewStandard::Cap, Thread::M2, [3.8, 3.98, 2.0, 1.5, 1.0], (CAP, false)),
    head(ScrewStandard::Cap, Thread::M2_5, [4.5, 4.68, 2.5, 2.0, 1.1], (CAP, false)),
    head(ScrewStandard::Cap, Thread::M3, [5.5, 5.68, 3.0, 2.5, 1.3], (CAP, false)),
    head(ScrewStandard::Cap, Thread::M4, [7.0, 7.22, 4.0, 3.0, 2.0], (CAP, false)),
    head(ScrewStandard::Cap, Thread::M5, [8.5, 8.72, 5.0, 4.0, 2.5], (CAP, false)),
    head(ScrewStandard::Cap, Thread::M6, [10.0, 10.22, 6.0, 5.0, 3.0], (CAP, false)),
    head(ScrewStandard::Button, Thread::M3, [5.7, 5.7, 1.65, 2.0, 1.04], (BUTTON, true)),
    head(ScrewStandard::Button, Thread::M4, [7.6, 7.6, 2.2, 2.5, 1.3], (BUTTON, true)),
    head(ScrewStandard::Button, Thread::M5, [9.5, 9.5, 2.75, 3.0, 1.56], (BUTTON, true)),
    head(ScrewStandard::Button, Thread::M6, [10.5, 10.5, 3.3, 4.0, 2.08], (BUTTON, true)),
    head(ScrewStandard::Countersunk, Thread::M2, [4.48, 4.48, 1.24, 1.3, 0.7], (SMALL_COUNTERSUNK, true)),
    head(ScrewStandard::Countersunk, Thread::M2_5, [5.6, 5.6, 1.55, 1.5, 0.9], (SMALL_COUNTERSUNK, true)),
    head(ScrewStandard::Countersunk, Thread::M3, [6.72, 6.72, 1.86, 2.0, 1.1], (COUNTERSUNK, false)),
    head(ScrewStandard::Countersunk, Thread::M4, [8.96, 8.96, 2.48, 2.5, 1.5], (COUNTERSUNK, false)),
    head(ScrewStandard::Countersunk, Thread::M5, [11.2, 11.2, 3.1, 3.0, 1.9], (COUNTERSUNK, false)),
    head(ScrewStandard::Countersunk, Thread::M6, [13.44, 13.44, 3.72, 4.0, 2.2], (COUNTERSUNK, false)),
];

/// All heads, by standard and size.
pub fn screw_heads() -> &'static [ScrewHead] {
    &HEADS
}

/// A head by standard and size; none where the standard has no such size (button heads below M3).
pub fn screw_head(standard: ScrewStandard, thread: Thread) -> Option<&'static ScrewHead> {
    HEADS.iter().find(|head| head.standard == standard && head.thread == thread)
}

/// The cap head of a thread: every thread has one.
pub fn cap_head(thread: Thread) -> &'static ScrewHead {
    match thread {
        Thread::M2 => &HEADS[0],
        Thread::M2_5 => &HEADS[1],
        Thread::M3 => &HEADS[2],
        Thread::M4 => &HEADS[3],
        Thread::M5 => &HEADS[4],
        Thread::M6 => &HEADS[5],
    }
}

/// Nominal lengths of ISO 888 that shops keep. From memory; 14, 18 and 22 exist but are not kept everywhere.
const LENGTHS: [f64; 19] = [
    2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 55.0, 60.0,
    70.0,
];

/// Shortest and longest length sold. From memory, common practice: M3 caps are kept to 50 and M4 caps to 70, past
/// the ranges of the standard's table (30, 40); what must be longer takes the next size.
const fn length_range(standard: ScrewStandard, thread: Thread) -> Option<(f64, f64)> {
    match (standard, thread) {
        (ScrewStandard::Cap, Thread::M2) => Some((3.0, 20.0)),
        (ScrewStandard::Cap, Thread::M2_5) => Some((4.0, 25.0)),
        (ScrewStandard::Cap, Thread::M3) => Some((5.0, 50.0)),
        (ScrewStandard::Cap, Thread::M4) => Some((6.0, 70.0)),
        (ScrewStandard::Cap, Thread::M5) => Some((8.0, 70.0)),
        (ScrewStandard::Cap, Thread::M6) => Some((10.0, 70.0)),
        (ScrewStandard::Button, Thread::M2 | Thread::M2_5) => None,
        (ScrewStandard::Button, Thread::M3) => Some((6.0, 30.0)),
        (ScrewStandard::Button, Thread::M4) => Some((8.0, 40.0)),
        (ScrewStandard::Button, Thread::M5) => Some((10.0, 50.0)),
        (ScrewStandard::Button, Thread::M6) => Some((10.0, 60.0)),
        (ScrewStandard::Countersunk, Thread::M2) => Some((4.0, 16.0)),
        (ScrewStandard::Countersunk, Thread::M2_5) => Some((5.0, 25.0)),
        (ScrewStandard::Countersunk, Thread::M3) => Some((8.0, 30.0)),
        (ScrewStandard::Countersunk, Thread::M4) => Some((8.0, 40.0)),
        (ScrewStandard::Countersunk, Thread::M5) => Some((8.0, 50.0)),
        (ScrewStandard::Countersunk, Thread::M6) => Some((8.0, 60.0)),
    }
}

/// Lengths one can buy, shortest first. The length of a countersunk screw includes its head.
pub fn screw_lengths(standard: ScrewStandard, thread: Thread) -> impl Iterator<Item = f64> {
    let (least, most) = length_range(standard, thread).unwrap_or((f64::INFINITY, 0.0));
    LENGTHS.into_iter().filter(move |length| (least..=most).contains(length))
}

/// The shortest length one can buy that is at least `at_least`; none if there is none so long.
pub fn next_length(standard: ScrewStandard, thread: Thread, at_least: f64) -> Option<f64> {
    // A wanted length is a sum of stack heights: its rounding must not cost a whole step.
    const ROUNDING: f64 = 1e-9;
    screw_lengths(standard, thread).find(|length| *length >= at_least - ROUNDING)
}

/// Length of thread from the tip: up to the head for short screws, else b of the standard's table (the head of a
/// countersunk screw taken off). The plain part under a fully threaded screw's head is up to 3 P.
///
/// b: ISO 4762 (16, 17, 18, 20, 22, 24 for M2 to M6; read except M2.5), the same for the other two. Lengths up to which the
/// screw is threaded to the head: from memory.
pub fn threaded_length(standard: ScrewStandard, thread: Thread, length: f64) -> f64 {
    let (b, full_up_to) = match thread {
        Thread::M2 => (16.0, 16.0),
        Thread::M2_5 => (17.0, 20.0),
        Thread::M3 => (18.0, 20.0),
        Thread::M4 => (20.0, 25.0),
        Thread::M5 => (22.0, 25.0),
        Thread::M6 => (24.0, 30.0),
    };
    let under_head = match (standard, screw_head(standard, thread)) {
        (ScrewStandard::Countersunk, Some(head)) => length - head.height,
        _ => length,
    };
    let plain = 3.0 * thread.pitch();
    if length <= full_up_to { (under_head - plain).max(0.0) } else { b }
}

/// Steel \[kg/mm3\].
pub(super) const STEEL: f64 = 7.85e-6;

/// Mass \[kg\], estimated from the volume: shank at pitch diameter, head less its hexagon socket, steel of 7.85 g/cm3.
/// None where the standard has no such size.
pub fn screw_mass(standard: ScrewStandard, thread: Thread, length: f64) -> Option<f64> {
    let head = screw_head(standard, thread)?;
    let radius = head.diameter / 2.0;
    let socket = 3.0_f64.sqrt() / 2.0 * head.hex * head.hex * head.socket_depth;
    let nominal = thread.nominal() / 2.0;
    let (head_volume, shank) = match standard {
        ScrewStandard::Cap => (PI * radius * radius * head.height, length),
        // A spherical cap.
        ScrewStandard::Button => {
            (PI * head.height / 6.0 * (3.0 * radius * radius + head.height * head.height), length)
        }
        // A frustum, inside the length.
        ScrewStandard::Countersunk => (
            PI * head.height / 3.0 * (radius * radius + radius * nominal + nominal * nominal),
            (length - head.height).max(0.0),
        ),
    };
    let shank_radius = thread.pitch_diameter() / 2.0;
    Some(STEEL * (head_volume - socket + PI * shank_radius * shank_radius * shank))
}

impl ScrewStandard {
    pub const ALL: [ScrewStandard; 3] =
        [ScrewStandard::Cap, ScrewStandard::Button, ScrewStandard::Countersunk];

    /// Number of the standard.
    pub fn number(self) -> &'static str {
        match self {
            ScrewStandard::Cap => "ISO 4762",
            ScrewStandard::Button => "ISO 7380-1",
            ScrewStandard::Countersunk => "ISO 10642",
        }
    }

    /// What the head is called.
    pub fn head_name(self) -> &'static str {
        match self {
            ScrewStandard::Cap => "socket head cap",
            ScrewStandard::Button => "button head",
            ScrewStandard::Countersunk => "countersunk head",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_next_length_is_one_that_is_sold() {
        let next = |standard, thread, at_least| next_length(standard, thread, at_least);
        assert_eq!(next(ScrewStandard::Cap, Thread::M3, 36.2), Some(40.0));
        assert_eq!(next(ScrewStandard::Cap, Thread::M3, 0.1 + 0.2 + 9.7), Some(10.0));
        assert_eq!(next(ScrewStandard::Cap, Thread::M3, 1.0), Some(5.0));
        assert_eq!(next(ScrewStandard::Cap, Thread::M3, 50.5), None, "longer means M4");
        assert_eq!(next(ScrewStandard::Cap, Thread::M4, 50.5), Some(55.0));
        assert_eq!(next(ScrewStandard::Button, Thread::M2_5, 8.0), None);
        assert_eq!(next(ScrewStandard::Cap, Thread::M3, f64::NAN), None);
    }

    #[test]
    fn every_thread_has_its_own_cap_head() {
        for thread in Thread::ALL {
            assert_eq!(Some(cap_head(thread)), screw_head(ScrewStandard::Cap, thread));
        }
    }

    #[test]
    fn a_countersunk_head_is_a_right_angled_cone() {
        // ISO 10642: 90 degrees, so the height is half the step in diameter; the printed table keeps that to 0.01.
        for head in HEADS.iter().filter(|head| head.standard == ScrewStandard::Countersunk) {
            let cone = (head.diameter - head.thread.nominal()) / 2.0;
            assert!((head.height - cone).abs() < 0.011, "{}", head.thread);
        }
    }

    #[test]
    fn the_thread_is_never_longer_than_what_is_under_the_head() {
        for standard in ScrewStandard::ALL {
            for thread in Thread::ALL {
                for length in screw_lengths(standard, thread) {
                    let threaded = threaded_length(standard, thread, length);
                    assert!(
                        threaded >= 0.0 && threaded <= length,
                        "{standard:?} {thread} x {length}: {threaded}"
                    );
                }
            }
        }
    }

    #[test]
    fn estimated_masses_come_near_catalogue_masses() {
        // Mass tables of DIN 912 \[kg per 1000\], from memory: M3x10 0.88, M4x16 2.2, M5x20 4.5. Range check of 12 %.
        for (thread, length, grams) in
            [(Thread::M3, 10.0, 0.88), (Thread::M4, 16.0, 2.2), (Thread::M5, 20.0, 4.5)]
        {
            let mass =
                screw_mass(ScrewStandard::Cap, thread, length).expect("a size of the standard") * 1000.0;
            assert!((mass / grams - 1.0).abs() < 0.12, "{thread} x {length}: {mass} g against {grams} g");
        }
    }
}
