//! Heat-set threaded inserts.
//!
//! Published rules for the hole contradict each other: one makes it smaller than the knurl by a fixed melt, another larger
//! than the diameter it prints as the insert's outside. Both are recorded; the makers' recommended holes are the default,
//! and a printed coupon decides.

use std::f64::consts::PI;

use super::Thread;

/// Long or short form of the same thread.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum InsertForm {
    #[default]
    Standard,
    Short,
}

/// A heat-set insert.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Insert {
    pub thread: Thread,
    pub form: InsertForm,
    /// Hole in the model, before the printer's own hole growth.
    pub hole: f64,
    /// Over the knurl.
    pub outside: f64,
    pub length: f64,
    /// The rule the hole follows.
    pub rule: HoleRule,
    pub source: &'static str,
    pub from_memory: bool,
}

/// Which of the published rules a hole follows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HoleRule {
    /// The maker's recommended hole, smaller than the knurl: the default.
    Recommended,
    /// A chart's pocket for printed PLA, larger than the outside it prints because it holds a print allowance.
    PrintedPocket,
    /// A moulded-plastics maker's hole, with its own smaller inserts.
    Moulded,
}

const RECOMMENDED: &str = "recommended hole and length: printed-part insert chart, read; knurl from memory";
const POCKET: &str = "printed-part insert chart, suggested PLA pocket and the outside it prints, read";
const PENCOM: &str = "Penn Engineering MNZ metric miniature inserts, read at pencomsf.com";

const fn insert(
    thread: Thread,
    form: InsertForm,
    [hole, outside, length]: [f64; 3],
    (rule, source, from_memory): (HoleRule, &'static str, bool),
) -> Insert {
    Insert { thread, form, hole, outside, length, rule, source, from_memory }
}

const BY_HOLE: (HoleRule, &str, bool) = (HoleRule::Recommended, RECOMMENDED, true);
const BY_POCKET: (HoleRule, &str, bool) = (HoleRule::PrintedPocket, POCKET, false);
const BY_MOULD: (HoleRule, &str, bool) = (HoleRule::Moulded, PENCOM, false);

const INSERTS: [Insert; 16] = [
    insert(Thread::M2, InsertForm::Standard, [3.2, 3.6, 4.0], BY_HOLE),
    insert(Thread::M2_5, InsertForm::Standard, [3.6, 4.0, 4.0], BY_HOLE),
    insert(Thread::M3, InsertForm::Standard, [4.0, 4.6, 5.7], BY_HOLE),
    insert(Thread::M3, InsertForm::Short, [4.0, 4.6, 4.0], BY_HOLE),
    insert(Thread::M4, InsertForm::Standard, [5.6, 6.3, 8.1], BY_HOLE),
    insert(Thread::M5, InsertForm::Standard, [6.4, 7.1, 9.5], BY_HOLE),
    insert(Thread::M6, InsertForm::Standard, [8.0, 8.7, 12.7], BY_HOLE),
    insert(Thread::M2, InsertForm::Standard, [3.43, 3.2, 4.0], BY_POCKET),
    insert(Thread::M2_5, InsertForm::Standard, [3.84, 3.6, 4.0], BY_POCKET),
    insert(Thread::M3, InsertForm::Standard, [4.24, 4.0, 5.7], BY_POCKET),
    insert(Thread::M3, InsertForm::Short, [4.24, 4.0, 4.0], BY_POCKET),
    insert(Thread::M4, InsertForm::Standard, [5.83, 5.6, 8.1], BY_POCKET),
    insert(Thread::M5, InsertForm::Standard, [6.63, 6.4, 9.5], BY_POCKET),
    insert(Thread::M6, InsertForm::Standard, [8.23, 8.0, 12.7], BY_POCKET),
    insert(Thread::M2, InsertForm::Short, [2.65, 3.0, 3.0], BY_MOULD),
    insert(Thread::M2_5, InsertForm::Short, [3.2, 3.65, 4.0], BY_MOULD),
];

/// Every row, the contradicting rules included.
pub fn inserts() -> &'static [Insert] {
    &INSERTS
}

/// The standard insert of a thread, recommended hole: every thread has one.
pub fn usual_insert(thread: Thread) -> &'static Insert {
    match thread {
        Thread::M2 => &INSERTS[0],
        Thread::M2_5 => &INSERTS[1],
        Thread::M3 => &INSERTS[2],
        Thread::M4 => &INSERTS[4],
        Thread::M5 => &INSERTS[5],
        Thread::M6 => &INSERTS[6],
    }
}

/// An insert of a thread by its form: recommended hole. Only M3 has a short form.
pub fn insert_of(thread: Thread, form: InsertForm) -> Option<&'static Insert> {
    INSERTS
        .iter()
        .find(|insert| insert.thread == thread && insert.form == form && insert.rule == HoleRule::Recommended)
}

impl Insert {
    /// Mass \[kg\], estimated: ring between thread and knurl of brass (8.5 g/cm3), a tenth off for the grooves.
    pub fn mass(&self) -> f64 {
        const BRASS: f64 = 8.5e-6;
        const GROOVES: f64 = 0.9;
        let thread = self.thread.pitch_diameter();
        PI / 4.0 * (self.outside * self.outside - thread * thread) * self.length * BRASS * GROOVES
    }

    /// Boss wall around the hole, at least: the larger of 2 mm and half the hole (common practice, no source).
    pub fn boss_wall(&self) -> f64 {
        (self.hole / 2.0).max(2.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_default_hole_is_smaller_than_the_knurl_it_must_grip() {
        for thread in Thread::ALL {
            let insert = usual_insert(thread);
            assert_eq!(Some(insert), insert_of(thread, InsertForm::Standard));
            assert!(insert.hole < insert.outside && insert.hole > thread.nominal());
            assert!(insert.boss_wall() >= 2.0 && insert.mass() > 0.0);
        }
        assert_eq!(insert_of(Thread::M4, InsertForm::Short), None);
    }

    #[test]
    fn the_rules_do_contradict() {
        let pockets = INSERTS.iter().filter(|insert| insert.rule == HoleRule::PrintedPocket);
        for pocket in pockets {
            assert!(pocket.hole > pocket.outside, "{}", pocket.thread);
        }
    }
}
