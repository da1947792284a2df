//! `found.toml`: what was noted at the coupons, read and held against itself.
//!
//! The file carries the steps as they were printed, so that it means the same after the profile has changed.

use std::path::Path;
use std::sync::Arc;

use crate::design::Printer;
use crate::design::document;
use crate::design::file;
use crate::design::key::Takes;
use crate::design::reader::{Entry, Reader};
use crate::design::section::section;
use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};
use crate::quantity::{self, Kind as Unit};
use crate::tables::Thread;

use super::{Coupon, Kind};

/// Steps in a found file: allowances and growths.
const fn allowances(count: usize) -> Takes {
    Takes::Quantities { count, kind: Unit::Length, least: -2.0, most: 2.5 }
}

const fn step(most: u32) -> Takes {
    Takes::Count { least: 1, most }
}

/// Sizes of what goes in.
const SIZE: Takes = Takes::length(0.5, 1000.0);

section! {
    "What was found at a design's coupons. A table for each; what wasn't tried is left out."
    pub struct FoundKeys {
        seat: Vec<SeatFound> = Takes::Sections(SeatFound::SECTION), [default "[]" "Not tried."], "", "Seats of bearings.";
        post: Vec<PostFound> = Takes::Sections(PostFound::SECTION), [default "[]" "Not tried."], "", "Posts in bearings.";
        pin: Vec<PinFound> = Takes::Sections(PinFound::SECTION), [default "[]" "Not tried."], "", "Holes of pins.";
        clearance: Vec<ClearanceFound> = Takes::Sections(ClearanceFound::SECTION), [default "[]" "Not tried."], "", "Holes of screws.";
        insert: Vec<InsertFound> = Takes::Sections(InsertFound::SECTION), [default "[]" "Not tried."], "", "Pockets of inserts.";
        ring_bore: Vec<RingBoreFound> = Takes::Sections(RingBoreFound::SECTION), [default "[]" "Not tried."], "", "Bores of the ring insert.";
        sun_socket: Vec<SunSocketFound> = Takes::Sections(SunSocketFound::SECTION), [default "[]" "Not tried."], "", "Sockets of the sun.";
        gear_pair: Vec<GearPairFound> = Takes::Sections(GearPairFound::SECTION), [default "[]" "Not tried."], "", "Mates of the gear pair.";
        bridge: Vec<BridgeFound> = Takes::Sections(BridgeFound::SECTION), [default "[]" "Not tried."], "", "Bridges.";
        overhang: Vec<OverhangFound> = Takes::Sections(OverhangFound::SECTION), [default "[]" "Not tried."], "", "Leaning walls.";
        gauge: Vec<GaugeFound> = Takes::Sections(GaugeFound::SECTION), [default "[]" "Not tried."], "", "The post that is measured.";
    }
}

section! {
    "Rings that a bearing goes into."
    pub struct SeatFound {
        outside: f64 = SIZE, [required], "65 mm", "The bearing's outside diameter.";
        allowances: [f64; 6] = allowances(6), [required], "[\"0 mm\", \"0.05 mm\", \"0.1 mm\", \"0.15 mm\", \"0.2 mm\", \"0.25 mm\"]", "Of steps 1 to 6, as printed: leave them.";
        by_hand: u32 = step(6), [optional "Not tried."], "3", "Tightest step that it goes into by hand.";
        loose: u32 = step(6), [optional "None was loose."], "5", "Tightest step that it falls out of.";
    }
}

section! {
    "Posts that go into a bearing's bore."
    pub struct PostFound {
        bore: f64 = SIZE, [required], "50 mm", "The bearing's bore.";
        allowances: [f64; 6] = allowances(6), [required], "[\"0.05 mm\", \"0 mm\", \"-0.05 mm\", \"-0.1 mm\", \"-0.15 mm\", \"-0.2 mm\"]", "Of steps 1 to 6, as printed: leave them.";
        by_hand: u32 = step(6), [optional "Not tried."], "3", "Tightest step that the bearing goes onto by hand.";
        loose: u32 = step(6), [optional "None was loose."], "5", "Tightest step on which the bearing rocks.";
    }
}

section! {
    "Holes of dowel pins."
    pub struct PinFound {
        diameter: f64 = SIZE, [required], "8 mm", "The pin's diameter.";
        allowances: [f64; 8] = allowances(8), [required], "[\"-0.05 mm\", \"0 mm\", \"0.05 mm\", \"0.1 mm\", \"0.15 mm\", \"0.2 mm\", \"0.25 mm\", \"0.3 mm\"]", "Of holes 1 to 8, as printed: leave them.";
        press: u32 = step(8), [optional "Not tried."], "3", "Tightest hole that it can be pressed into and then holds.";
        slip: u32 = step(8), [optional "Not tried."], "5", "Tightest hole that it slides through.";
    }
}

section! {
    "Clearance holes."
    pub struct ClearanceFound {
        thread: Thread = Takes::Thread, [required], "M3", "The screw.";
        allowances: [f64; 5] = allowances(5), [required], "[\"0 mm\", \"0.1 mm\", \"0.2 mm\", \"0.3 mm\", \"0.4 mm\"]", "Of holes 1 to 5, as printed: leave them.";
        free: u32 = step(5), [optional "Not tried."], "3", "Tightest hole that the screw drops through.";
    }
}

section! {
    "Pockets of heat-set inserts."
    pub struct InsertFound {
        thread: Thread = Takes::Thread, [required], "M3", "The insert's thread.";
        hole: f64 = SIZE, [required], "4 mm", "The pocket that is wanted, as in `hubwright tables inserts`: leave it.";
        growths: [f64; 4] = allowances(4), [required], "[\"0.1 mm\", \"0.2 mm\", \"0.3 mm\", \"0.4 mm\"]", "Added to it at pockets 1 to 4, as printed: leave them.";
        holds: u32 = step(4), [optional "Not tried."], "2", "Pocket in which the insert sits straight, flush and without a bulge.";
        measured: f64 = SIZE, [optional "Not measured."], "3.9 mm", "In place of that: what pocket 1 measures, empty.";
    }
}

section! {
    "Bores of the ring insert."
    pub struct RingBoreFound {
        diameter: f64 = SIZE, [required], "90 mm", "The ring's outside.";
        allowances: [f64; 3] = allowances(3), [required], "[\"0.15 mm\", \"0.25 mm\", \"0.35 mm\"]", "Of rings 1 to 3, as printed: leave them.";
        by_hand: u32 = step(3), [optional "Not tried."], "2", "Tightest ring that the gauge goes into by hand.";
    }
}

section! {
    "Toothed sockets of the sun."
    pub struct SunSocketFound {
        allowances: [f64; 4] = allowances(4), [required], "[\"0.05 mm\", \"0.1 mm\", \"0.15 mm\", \"0.2 mm\"]", "Of sockets 1 to 4, as printed: leave them.";
        light_force: u32 = step(4), [optional "Not tried."], "2", "Tightest socket that the sun slides into with light force.";
    }
}

section! {
    "Mates of the gear pair."
    pub struct GearPairFound {
        growths: [f64; 5] = allowances(5), [required], "[\"-0.025 mm\", \"0 mm\", \"0.025 mm\", \"0.05 mm\", \"0.075 mm\"]", "Of mates 1 to 5, as printed: leave them.";
        runs: u32 = step(5), [optional "Not tried."], "3", "Tightest mate that runs freely all the way round.";
    }
}

section! {
    "Bridges."
    pub struct BridgeFound {
        spans: [f64; 4] = Takes::Quantities { count: 4, kind: Unit::Length, least: 0.0, most: 200.0 }, [required], "[\"4 mm\", \"6 mm\", \"8 mm\", \"10 mm\"]", "Of bridges 1 to 4, as printed: leave them.";
        clean: f64 = Takes::length(0.0, 200.0), [optional "Not looked at."], "10 mm", "Longest bridge without a hanging line.";
    }
}

section! {
    "Leaning walls."
    pub struct OverhangFound {
        angles: [f64; 4] = Takes::Quantities { count: 4, kind: Unit::Angle, least: 0.0, most: std::f64::consts::FRAC_PI_2 }, [required], "[\"32 deg\", \"36 deg\", \"41 deg\", \"45 deg\"]", "Of walls 1 to 4, as printed: leave them.";
        clean: f64 = Takes::Quantity { kind: Unit::Angle, least: 0.0, most: std::f64::consts::FRAC_PI_2 }, [optional "Not looked at."], "45 deg", "Steepest lean whose underside is clean.";
    }
}

section! {
    "The post that is measured."
    pub struct GaugeFound {
        drawn: f64 = SIZE, [required], "20 mm", "Its diameter as drawn: leave it.";
        at_top: f64 = SIZE, [optional "Not measured."], "20.1 mm", "Measured across, a few millimetres up.";
        at_bed: f64 = SIZE, [optional "Not measured."], "20.4 mm", "Measured across, at the very bottom.";
    }
}

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
    known(&keys, coupons, &mut problems);
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

fn conflict(
    problems: &mut Problems,
    place: Option<&Place>,
    key: &str,
    message: String,
    found: String,
    hint: &str,
) {
    problems.push(
        Diagnostic::error(Code::Conflict, message).at_maybe(place.cloned()).key(key).found(found).hint(hint),
    );
}

fn millimetres(value: f64) -> String {
    quantity::format(value, Unit::Length)
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

/// Tables of coupons that this design doesn't have, or twice.
fn known(keys: &FoundKeys, coupons: &[Coupon], problems: &mut Problems) {
    let mut known = Known { coupons, problems };
    known.sizes("seat.outside", Kind::Seat, keys.seat.value.iter().map(|one| &one.outside));
    known.sizes("post.bore", Kind::Post, keys.post.value.iter().map(|one| &one.bore));
    known.sizes("pin.diameter", Kind::Pin, keys.pin.value.iter().map(|one| &one.diameter));
    known.sizes("ring_bore.diameter", Kind::RingInsert, keys.ring_bore.value.iter().map(|one| &one.diameter));
    known.sizes("gauge.drawn", Kind::Gauge, keys.gauge.value.iter().map(|one| &one.drawn));
    known.sizes("insert.hole", Kind::Insert, keys.insert.value.iter().map(|one| &one.hole));
    known.threads("clearance", keys.clearance.value.iter().map(|one| &one.thread));
    known.threads("insert", keys.insert.value.iter().map(|one| &one.thread));
    known.one("sun_socket", Kind::SunSocket, keys.sun_socket.value.iter().map(|one| one.allowances.place()));
    known.one("gear_pair", Kind::GearPair, keys.gear_pair.value.iter().map(|one| one.growths.place()));
    known.one("bridge", Kind::Bridge, keys.bridge.value.iter().map(|one| one.spans.place()));
    known.one("overhang", Kind::Overhang, keys.overhang.value.iter().map(|one| one.angles.place()));
}

struct Known<'a> {
    coupons: &'a [Coupon],
    problems: &'a mut Problems,
}

impl Known<'_> {
    fn sizes<'k>(&mut self, key: &str, kind: Kind, entries: impl Iterator<Item = &'k Entry<f64>>) {
        /// Sizes in a file have at most three decimals.
        const SAME: f64 = 1e-3;
        let sizes: Vec<f64> =
            self.coupons.iter().filter(|one| one.kind == kind).map(|one| one.size).collect();
        let mut seen: Vec<f64> = Vec::new();
        for entry in entries.filter(|entry| entry.is_sound()) {
            let is = |size: &f64| (size - entry.value).abs() < SAME;
            if !sizes.iter().any(is) {
                let there: Vec<String> = sizes.iter().map(|size| millimetres(*size)).collect();
                self.unknown(entry.place(), key, millimetres(entry.value), &there);
            } else if seen.iter().any(is) {
                self.twice(entry.place(), key, millimetres(entry.value));
            }
            seen.push(entry.value);
        }
    }

    fn threads<'k>(&mut self, section: &str, entries: impl Iterator<Item = &'k Entry<Thread>>) {
        let key = format!("{section}.thread");
        let names: Vec<String> = self
            .coupons
            .iter()
            .filter_map(|one| one.name.strip_prefix(&format!("{section}-")))
            .map(str::to_uppercase)
            .collect();
        let mut seen: Vec<String> = Vec::new();
        for entry in entries.filter(|entry| entry.is_sound()) {
            let name = entry.value.to_string();
            if !names.contains(&name) {
                self.unknown(entry.place(), &key, name.clone(), &names);
            } else if seen.contains(&name) {
                self.twice(entry.place(), &key, name.clone());
            }
            seen.push(name);
        }
    }

    fn one<'k>(&mut self, key: &str, kind: Kind, places: impl Iterator<Item = Option<&'k Place>>) {
        for (index, place) in places.enumerate() {
            if !self.coupons.iter().any(|one| one.kind == kind) {
                self.unknown(place, key, format!("[[{key}]]"), &[]);
            } else if index > 0 {
                self.twice(place, key, format!("[[{key}]]"));
            }
        }
    }

    fn unknown(&mut self, place: Option<&Place>, key: &str, found: String, there: &[String]) {
        let expected = if there.is_empty() { "none".to_string() } else { there.join(", ") };
        self.problems.push(
            Diagnostic::error(
                Code::Conflict,
                format!("`{key}` names a coupon that this design doesn't have"),
            )
            .at_maybe(place.cloned())
            .key(key)
            .found(found)
            .expected(format!("of this design: {expected}"))
            .hint("were these coupons printed for another design?"),
        );
    }

    fn twice(&mut self, place: Option<&Place>, key: &str, found: String) {
        conflict(
            self.problems,
            place,
            key,
            format!("`{key}` is there twice"),
            found,
            "one table for each coupon",
        );
    }
}
