//! Nuts, for traps and pockets.

use super::Thread;

/// Standard of a nut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NutStandard {
    /// ISO 4032, hexagon, style 1.
    Iso4032,
    /// DIN 934, hexagon.
    Din934,
    /// DIN 562, square, thin.
    Din562,
}

/// A nut of one size.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nut {
    pub standard: NutStandard,
    pub thread: Thread,
    pub across_flats: f64,
    /// At most.
    pub height: f64,
    /// At least; none where it wasn't printed.
    pub across_corners: Option<f64>,
    pub source: &'static str,
}

const TROJAN: &str = "ISO 4032, read at trojansf.co.uk";
const CREATIVE: &str = "read at creativefasteners.co.in";

const fn nut(
    standard: NutStandard,
    thread: Thread,
    [across_flats, height]: [f64; 2],
    across_corners: Option<f64>,
) -> Nut {
    let source = match standard {
        NutStandard::Iso4032 => TROJAN,
        NutStandard::Din934 | NutStandard::Din562 => CREATIVE,
    };
    Nut { standard, thread, across_flats, height, across_corners, source }
}

const NUTS: [Nut; 14] = [
    nut(NutStandard::Iso4032, Thread::M3, [5.5, 2.4], Some(6.01)),
    nut(NutStandard::Iso4032, Thread::M4, [7.0, 3.2], Some(7.66)),
    nut(NutStandard::Iso4032, Thread::M5, [8.0, 4.7], Some(8.79)),
    nut(NutStandard::Iso4032, Thread::M6, [10.0, 5.2], Some(11.05)),
    nut(NutStandard::Din934, Thread::M2, [4.0, 1.6], Some(4.32)),
    nut(NutStandard::Din934, Thread::M2_5, [5.0, 2.0], Some(5.45)),
    nut(NutStandard::Din934, Thread::M3, [5.5, 2.4], None),
    nut(NutStandard::Din934, Thread::M4, [7.0, 3.2], None),
    nut(NutStandard::Din934, Thread::M5, [8.0, 4.0], None),
    nut(NutStandard::Din934, Thread::M6, [10.0, 5.0], None),
    nut(NutStandard::Din562, Thread::M3, [5.5, 1.8], None),
    nut(NutStandard::Din562, Thread::M4, [7.0, 2.2], None),
    nut(NutStandard::Din562, Thread::M5, [8.0, 2.7], None),
    nut(NutStandard::Din562, Thread::M6, [10.0, 3.2], None),
];

/// All nuts, by standard and size.
pub fn nuts() -> &'static [Nut] {
    &NUTS
}

/// Height a trap for a hexagon nut must have: the taller of the two standards, since the bag doesn't say which it is.
pub fn trap_height(thread: Thread) -> f64 {
    let hexagon = |nut: &&Nut| nut.thread == thread && nut.standard != NutStandard::Din562;
    NUTS.iter().filter(hexagon).map(|nut| nut.height).fold(0.0, f64::max)
}

impl NutStandard {
    /// Number of the standard.
    pub fn number(self) -> &'static str {
        match self {
            NutStandard::Iso4032 => "ISO 4032",
            NutStandard::Din934 => "DIN 934",
            NutStandard::Din562 => "DIN 562",
        }
    }
}
