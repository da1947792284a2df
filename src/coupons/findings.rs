//! `found.toml`: what was noted at the coupons, read and held against itself.
//!
//! The file carries the steps as they were printed, so that it means the same after the profile has changed.

use std::path::Path;
use std::sync::Arc;

use crate::design::Printer;
use crate::design::document;
use crate::design::file;
use crate::design::reader::{Entry, Reader};
use crate::diagnostic::{Problems, SourceFile};
use crate::quantity::{self, Kind as Unit};

use super::Coupon;
use super::found_keys::*;
use super::known::{self, conflict, millimetres};

/// What a profile holds as one value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Single {
    BearingPost,
    RingInsert,
    SunSocket,
    ClearanceHole,
    PinPress,
    PinSlip,
    PostGrowth,
    Bridge,
    Overhang,
    ElephantFoot,
    ToothGrowth,
}

/// What the coupons say about the printer.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Found {
    /// Bearing outside, allowance.
    pub seats: Vec<[f64; 2]>,
    /// Hole diameter, growth.
    pub holes: Vec<[f64; 2]>,
    pub singles: Vec<(Single, f64)>,
}

/// Whether a found file has notes in it, or can't be read, which its owner may still mean to mend.
pub fn has_notes(text: &str) -> bool {
    let source = Arc::new(SourceFile { name: "found.toml".into(), text: text.to_string() });
    let (keys, problems) = keys(&source);
    problems.has_errors() || collect(&keys, &mut Problems::default()) != Found::default()
}

/// Reads a found file and holds it against itself, the design's coupons and the profile.
///
/// # Errors
/// Everything that is wrong with it.
pub fn read(path: &Path, coupons: &[Coupon], printer: &Printer) -> Result<Found, Problems> {
    let mut problems = Problems::default();
    let Some(source) = file::read(path, &mut problems) else { return Err(problems) };
    let (keys, mut problems) = keys(&source);
    let is_readable = !problems.has_errors();
    known::check(&keys, coupons, &mut problems);
    let found = collect(&keys, &mut problems);
    if is_readable {
        press_below_slip(&keys, &found, printer, &mut problems);
    }
    problems.sort();
    if problems.has_errors() { Err(problems) } else { Ok(found) }
}

fn keys(source: &Arc<SourceFile>) -> (FoundKeys, Problems) {
    let mut syntax = Problems::default();
    let table = document::parse(source, &mut syntax);
    let mut reader = Reader::new(FoundKeys::SECTION, syntax);
    let keys = FoundKeys::from_table(&table, &mut reader);
    (keys, reader.problems)
}

/// The value a step stands for. Steps lie in the list's range: what they take says so.
fn at_step(steps: &[f64], step: &Option<Entry<u32>>) -> Option<f64> {
    let step = step.as_ref().filter(|entry| entry.is_sound())?.value as usize;
    steps.get(step.checked_sub(1)?).copied()
}

/// Steps must go one way: they were printed so.
fn in_order(problems: &mut Problems, entry: &Entry<impl AsRef<[f64]>>, key: &str, falling: bool) -> bool {
    if !entry.is_sound() {
        return false;
    }
    let right =
        entry.value.as_ref().windows(2).all(|pair| (pair[0] > pair[1]) == falling && pair[0] != pair[1]);
    if !right {
        let way = if falling { "smaller from step to step" } else { "larger from step to step" };
        conflict(
            problems,
            entry.place(),
            key,
            format!("`{key}` are the steps as printed, each {way}"),
            "another order".into(),
            "take the line from the found.toml that was written with the coupons",
        );
    }
    right
}

/// A tighter fit must be found at a tighter step.
fn tighter(
    problems: &mut Problems,
    [tight, loose]: [&Option<Entry<u32>>; 2],
    section: &str,
    [tight_key, loose_key]: [&str; 2],
) {
    if let (Some(tight), Some(loose)) = (tight, loose)
        && tight.value >= loose.value
    {
        conflict(
            problems,
            loose.place(),
            &format!("{section}.{loose_key}"),
            format!(
                "`{section}.{loose_key}` is the looser fit, and yet its step is no looser than `{tight_key}`"
            ),
            format!("{tight_key} at step {}, {loose_key} at step {}", tight.value, loose.value),
            "step 1 is the tightest: check the numbers on the prints",
        );
    }
}

/// The profile's values out of the notes; what contradicts itself is recorded.
fn collect(keys: &FoundKeys, problems: &mut Problems) -> Found {
    let mut found = Found::default();
    let mut single = |name: Single, value: Option<f64>| {
        if let Some(value) = value {
            found.singles.push((name, value));
        }
    };
    for post in &keys.post.value {
        in_order(problems, &post.allowances, "post.allowances", true);
        tighter(problems, [&post.by_hand, &post.loose], "post", ["by_hand", "loose"]);
        single(Single::BearingPost, at_step(&post.allowances.value, &post.by_hand));
    }
    for pin in &keys.pin.value {
        in_order(problems, &pin.allowances, "pin.allowances", false);
        tighter(problems, [&pin.press, &pin.slip], "pin", ["press", "slip"]);
        single(Single::PinPress, at_step(&pin.allowances.value, &pin.press));
        single(Single::PinSlip, at_step(&pin.allowances.value, &pin.slip));
    }
    // One allowance serves all screws: the one that lets every screw through.
    let free = keys.clearance.value.iter().filter_map(|one| {
        in_order(problems, &one.allowances, "clearance.allowances", false);
        at_step(&one.allowances.value, &one.free)
    });
    let free = free.reduce(f64::max);
    single(Single::ClearanceHole, free);
    for ring in &keys.ring_bore.value {
        in_order(problems, &ring.allowances, "ring_bore.allowances", false);
        single(Single::RingInsert, at_step(&ring.allowances.value, &ring.by_hand));
    }
    for socket in &keys.sun_socket.value {
        in_order(problems, &socket.allowances, "sun_socket.allowances", false);
        single(Single::SunSocket, at_step(&socket.allowances.value, &socket.light_force));
    }
    for pair in &keys.gear_pair.value {
        in_order(problems, &pair.growths, "gear_pair.growths", false);
        single(Single::ToothGrowth, at_step(&pair.growths.value, &pair.runs));
    }
    for bridge in &keys.bridge.value {
        in_order(problems, &bridge.spans, "bridge.spans", false);
        single(Single::Bridge, within(problems, &bridge.spans, &bridge.clean, "bridge.clean", Unit::Length));
    }
    for wall in &keys.overhang.value {
        in_order(problems, &wall.angles, "overhang.angles", false);
        single(Single::Overhang, within(problems, &wall.angles, &wall.clean, "overhang.clean", Unit::Angle));
    }
    for gauge in &keys.gauge.value {
        let (growth, foot) = measured_post(problems, gauge);
        single(Single::PostGrowth, growth);
        single(Single::ElephantFoot, foot);
    }
    for seat in &keys.seat.value {
        in_order(problems, &seat.allowances, "seat.allowances", false);
        tighter(problems, [&seat.by_hand, &seat.loose], "seat", ["by_hand", "loose"]);
        if let Some(allowance) = at_step(&seat.allowances.value, &seat.by_hand) {
            found.seats.push([seat.outside.value, allowance]);
        }
    }
    for insert in &keys.insert.value {
        in_order(problems, &insert.growths, "insert.growths", false);
        if let Some(growth) = hole_growth(problems, insert) {
            found.holes.push([insert.hole.value, growth]);
        }
    }
    found
}

/// What was found clean, if the coupon has it.
fn within(
    problems: &mut Problems,
    printed: &Entry<[f64; 4]>,
    clean: &Option<Entry<f64>>,
    key: &str,
    unit: Unit,
) -> Option<f64> {
    // Angles in a file are rounded to hundredths of a degree.
    const ROUNDING: f64 = 2e-4;
    let clean = clean.as_ref().filter(|entry| entry.is_sound() && printed.is_sound())?;
    let most = printed.value.iter().copied().fold(0.0, f64::max);
    if clean.value > most + ROUNDING {
        conflict(
            problems,
            clean.place(),
            key,
            format!("`{key}` is more than the coupon has"),
            format!(
                "{}, the coupon goes to {}",
                quantity::format(clean.value, unit),
                quantity::format(most, unit)
            ),
            "raise the limit in the profile by hand and print the coupon again to find more",
        );
        return None;
    }
    Some(clean.value)
}

/// Growth of the post and bulge of its foot.
fn measured_post(problems: &mut Problems, gauge: &GaugeFound) -> (Option<f64>, Option<f64>) {
    /// No printer that prints a ladder is this far off \[mm\]: the limits of `post_growth` and `elephant_foot`.
    const MOST_GROWTH: f64 = 0.5;
    const MOST_FOOT: f64 = 1.0;
    let sound = |entry: &Option<Entry<f64>>| entry.as_ref().filter(|entry| entry.is_sound()).cloned();
    let (top, bed) = (sound(&gauge.at_top), sound(&gauge.at_bed));
    let Some(top) = top else {
        if let Some(bed) = bed {
            conflict(
                problems,
                bed.place(),
                "gauge.at_bed",
                "The foot is told from both measures, at the bed and higher up".into(),
                "`at_bed` alone".into(),
                "measure `at_top` as well",
            );
        }
        return (None, None);
    };
    let growth = top.value - gauge.drawn.value;
    if growth.abs() > MOST_GROWTH {
        conflict(
            problems,
            top.place(),
            "gauge.at_top",
            "A post as far off as this was measured wrongly, or at another print".into(),
            format!("{}, drawn {}", millimetres(top.value), millimetres(gauge.drawn.value)),
            "at most 0.5 mm off is believed",
        );
        return (None, None);
    }
    let foot = bed.and_then(|bed| {
        let foot = (bed.value - top.value) / 2.0;
        if (0.0..=MOST_FOOT).contains(&foot) {
            return Some(foot);
        }
        conflict(
            problems,
            bed.place(),
            "gauge.at_bed",
            "The first layers bulge outwards: the post is at least as wide at the bed as above, and at most 2 mm wider".into(),
            format!("{} at the bed, {} above", millimetres(bed.value), millimetres(top.value)),
            "are the two measures swapped?",
        );
        None
    });
    (Some(growth), foot)
}

/// Growth that gives the pocket its size: by what holds, or by measure.
fn hole_growth(problems: &mut Problems, insert: &InsertFound) -> Option<f64> {
    /// Prints of holes come out small; larger or smaller than this no printer makes them \[mm\].
    const MOST_LARGER: f64 = 0.3;
    const MOST_SMALLER: f64 = 1.0;
    let holds = at_step(&insert.growths.value, &insert.holds);
    let Some(measured) = insert.measured.as_ref().filter(|entry| entry.is_sound()) else { return holds };
    if holds.is_some() {
        conflict(
            problems,
            measured.place(),
            "insert.measured",
            format!("Two findings for one {} pocket", insert.thread.value),
            "`holds` and `measured`".into(),
            "keep what was tried with an insert, or what was measured",
        );
        return None;
    }
    let drawn = insert.hole.value + insert.growths.value[0];
    let smaller = drawn - measured.value;
    if !(-MOST_LARGER..=MOST_SMALLER).contains(&smaller) {
        conflict(
            problems,
            measured.place(),
            "insert.measured",
            "A hole as far off as this was measured wrongly, or is another one".into(),
            format!("{}, pocket 1 is drawn {}", millimetres(measured.value), millimetres(drawn)),
            "at most 0.3 mm larger and 1 mm smaller is believed",
        );
        return None;
    }
    Some(smaller)
}

/// A press fit that ends up looser than the sliding one, with the profile's value for the one that wasn't tried.
fn press_below_slip(keys: &FoundKeys, found: &Found, printer: &Printer, problems: &mut Problems) {
    let value = |name: Single, present: f64| {
        found.singles.iter().find(|(one, _)| *one == name).map_or(present, |(_, value)| *value)
    };
    let (press, slip) =
        (value(Single::PinPress, printer.pin_press), value(Single::PinSlip, printer.pin_slip));
    for pin in &keys.pin.value {
        let only_one = pin.press.is_some() != pin.slip.is_some();
        if only_one && press >= slip {
            let place = pin.press.as_ref().or(pin.slip.as_ref()).and_then(Entry::place);
            conflict(
                problems,
                place,
                "pin",
                "A pressed pin's hole must be smaller than a sliding pin's".into(),
                format!("press {}, slip {}", millimetres(press), millimetres(slip)),
                "the fit that wasn't tried is the profile's: try both",
            );
        }
    }
}
