//! Which coupon a table of `found.toml` means: one of the design's, and each once.

use crate::design::reader::Entry;
use crate::diagnostic::{Code, Diagnostic, Place, Problems};
use crate::quantity::{self, Kind as Unit};
use crate::tables::Thread;

use super::found_keys::FoundKeys;
use super::{Coupon, Kind};

/// Records two notes that contradict each other.
pub fn conflict(
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

pub fn millimetres(value: f64) -> String {
    quantity::format(value, Unit::Length)
}

/// Tables of coupons that this design doesn't have, or twice.
pub fn check(keys: &FoundKeys, coupons: &[Coupon], problems: &mut Problems) {
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
