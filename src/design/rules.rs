//! Rules about several keys together: contradictions that no single key shows.

use crate::diagnostic::{Code, Diagnostic, Place, Problems};
use crate::quantity::{self, Kind};
use crate::tables;

use super::keys::{
    BearingsKeys, DesignKeys, FitRangeKeys, GearsetKeys, LinkKeys, MotorKeys, RequirementKeys,
};
use super::model::{GearSource, RingKind, ToothForm};
use super::reader::Entry;
use super::suggest;

/// Records every contradiction between sound values.
pub fn check(keys: &DesignKeys, problems: &mut Problems) {
    let mut rules = Rules { problems };
    rules.motor(&keys.motor);
    rules.gearset(&keys.gearset.value);
    rules.bearings(&keys.bearings.value);
    rules.board(keys);
    rules.printer(keys);
    rules.requirement(keys);
    rules.joints(keys);
}

/// Records what contradicts itself in a link; `path` is its section.
pub(crate) fn check_link(link: &LinkKeys, path: &str, problems: &mut Problems) {
    Rules { problems }.link(link, path);
}

struct Rules<'a> {
    problems: &'a mut Problems,
}

impl Rules<'_> {
    fn conflict<T>(
        &mut self,
        at: &Entry<T>,
        key: &str,
        message: impl Into<String>,
        found: String,
        hint: &str,
    ) {
        self.problems.push(
            Diagnostic::error(Code::Conflict, message)
                .at_maybe(at.place().cloned())
                .key(key)
                .found(found)
                .hint(hint),
        );
    }

    /// `small` must stay below `large`.
    fn below(&mut self, small: (&Entry<f64>, &str), large: (&Entry<f64>, &str), why: &str) {
        let ((small, small_key), (large, large_key)) = (small, large);
        if small.is_sound() && large.is_sound() && small.value >= large.value {
            self.problems.push(
                Diagnostic::error(Code::Conflict, format!("`{small_key}` must be less than `{large_key}`"))
                    .at_maybe(small.place().or(large.place()).cloned())
                    .key(small_key)
                    .found(millimetres(small.value))
                    .expected(format!("less than {}", millimetres(large.value)))
                    .hint(why),
            );
        }
    }

    fn motor(&mut self, section: &Entry<MotorKeys>) {
        let motor = &section.value;
        self.one_of(
            section,
            "motor.phase_resistance",
            [
                ("motor.phase_resistance", motor.phase_resistance.as_ref().map(Entry::place)),
                ("motor.line_resistance", motor.line_resistance.as_ref().map(Entry::place)),
                ("motor.resistance_drop", motor.resistance_drop.as_ref().map(Entry::place)),
            ],
            (
                "phase_resistance, line_resistance measured between two leads, or resistance_drop",
                "phase_resistance = \"0.13 ohm\"",
            ),
            "The resistance is given twice",
            "keep one: between two leads of a star there are two phases",
        );
        self.one_of(
            section,
            "motor.kv",
            [
                ("motor.kv", motor.kv.as_ref().map(Entry::place)),
                ("motor.spin", motor.spin.as_ref().map(Entry::place)),
            ],
            ("kv, or spin", "kv = \"90 rpm/V\""),
            "Kv is given twice",
            "keep one: spin is what kv is worked out from",
        );
        self.motor_record(motor);
        let outside = (&motor.outer_diameter, "motor.outer_diameter");
        self.below((&motor.shaft_diameter, "motor.shaft_diameter"), outside, "the shaft is inside the rotor");
        let bolts = &motor.stator_bolts;
        if bolts.is_sound() {
            self.below(
                (&bolts.value.circle, "motor.stator_bolts.circle"),
                outside,
                "the bolts are inside the motor",
            );
        }
        let bolts = &motor.rotor_bolts;
        if bolts.is_sound() {
            self.below(
                (&bolts.value.circle, "motor.rotor_bolts.circle"),
                outside,
                "the bolts are inside the rotor",
            );
            if let Some(pilot) = &bolts.value.pilot {
                self.below(
                    (&pilot.value.diameter, "motor.rotor_bolts.pilot.diameter"),
                    (&bolts.value.circle, "motor.rotor_bolts.circle"),
                    "the pilot is inside the bolt circle",
                );
            }
        }
    }

    /// A record whose figures can't belong to one motor.
    fn motor_record(&mut self, motor: &MotorKeys) {
        if let Some(no_load) = &motor.no_load_current
            && no_load.is_sound()
            && motor.current_limit.is_sound()
            && no_load.value >= motor.current_limit.value
        {
            self.conflict(
                no_load,
                "motor.no_load_current",
                "The motor takes more current turning freely than it may ever have",
                format!("{} A, current_limit {} A", no_load.value, motor.current_limit.value),
                "the no-load current is read from the supply, the limit is the peak in one phase",
            );
        }
        let line = motor
            .line_resistance
            .as_ref()
            .map(|entry| entry.value)
            .or_else(|| motor.phase_resistance.as_ref().map(|entry| 2.0 * entry.value));
        let (Some(kv), Some(line)) = (&motor.kv, line) else { return };
        let sound = kv.is_sound() && motor.mass.is_sound() && motor.outer_diameter.is_sound();
        if !sound || kv.value <= 0.0 || line <= 0.0 {
            return;
        }
        // Torque squared per copper loss, of a motor's mass and size squared: outrunners from 50 to 90 mm lie between 14 and 130
        // (measured and makers' figures; the band around them is common practice, no source).
        const FROM: f64 = 3.0;
        const TO: f64 = 600.0;
        let constant = 1.5 / 3.0_f64.sqrt() * 60.0 / (2.0 * std::f64::consts::PI) / kv.value;
        let diameter = motor.outer_diameter.value * 1e-3;
        let goodness = 1.5 * constant * constant / (line / 2.0) / (motor.mass.value * diameter * diameter);
        if !(FROM..=TO).contains(&goodness) {
            let (kind, slip) = if goodness > TO {
                (
                    "promise more torque for their heat than any motor of this size gives",
                    "Kv too low or resistance too small",
                )
            } else {
                (
                    "give less torque for their heat than any motor of this size",
                    "Kv too high or resistance too large",
                )
            };
            self.problems.push(
                Diagnostic::warning(Code::Conflict, format!("Kv and resistance {kind}"))
                    .at_maybe(kv.place().cloned())
                    .key("motor.kv")
                    .found(format!(
                        "{} rpm/V with {line} ohm between two leads, {} and {} g",
                        kv.value,
                        millimetres(motor.outer_diameter.value),
                        motor.mass.value * 1e3
                    ))
                    .expected(format!("{FROM} to {TO} N2 m2/W per kg m2; these give {goodness:.2}"))
                    .hint(format!(
                        "{slip} by a factor? A unit slipped (mohm, ohm), or one is of another winding"
                    )),
            );
        }
    }

    /// Of several keys that say the same exactly one must be there.
    fn one_of<const N: usize>(
        &mut self,
        section: &Entry<MotorKeys>,
        missing: &str,
        keys: [(&'static str, Option<Option<&Place>>); N],
        (expected, example): (&str, &str),
        twice: &str,
        hint: &str,
    ) {
        let given: Vec<(&str, Option<&Place>)> =
            keys.iter().filter_map(|(key, place)| place.map(|place| (*key, place))).collect();
        match given.as_slice() {
            [] if !is_faulty(self.problems, &keys.map(|(key, _)| key)) => self.problems.push(
                Diagnostic::error(Code::MissingKey, format!("`{missing}` is missing"))
                    .key(missing)
                    .expected(expected)
                    .example(example)
                    .at_maybe(section.place().cloned()),
            ),
            [(first, _), .., (last, place)] => {
                let short = |key: &str| key.rsplit('.').next().unwrap_or_default().to_string();
                self.problems.push(
                    Diagnostic::error(Code::Conflict, twice)
                        .at_maybe(place.cloned())
                        .key(*last)
                        .found(format!("`{}` and `{}`", short(first), short(last)))
                        .hint(hint),
                );
            }
            _ => {}
        }
    }

    fn gearset(&mut self, gearset: &GearsetKeys) {
        let (sun, planet, ring) = (&gearset.sun_teeth, &gearset.planet_teeth, &gearset.ring_teeth);
        let all_sound = [sun, planet, ring].iter().all(|teeth| teeth.is_sound());
        if all_sound && ring.value <= sun.value.saturating_add(planet.value) {
            let found = format!("sun {}, planet {}, ring {}", sun.value, planet.value, ring.value);
            let hint = format!(
                "sun + 2 planets would be {}",
                sun.value.saturating_add(2u32.saturating_mul(planet.value))
            );
            self.conflict(
                ring,
                "gearset.ring_teeth",
                "The ring is too small to hold sun and planets",
                found,
                &hint,
            );
        }
        self.tooth_form(gearset);
        self.bush(gearset);
        let printed = |made: &Entry<GearSource>| made.value == GearSource::Print;
        self.print_material(
            "gearset.sun.material",
            &gearset.sun.value.material,
            printed(&gearset.sun.value.made),
        );
        self.print_material(
            "gearset.planet.material",
            &gearset.planet.value.material,
            printed(&gearset.planet.value.made),
        );
        self.print_material("gearset.ring.material", &gearset.ring.value.material, true);
    }

    /// A bush and bearings exclude each other.
    fn bush(&mut self, gearset: &GearsetKeys) {
        let planet = &gearset.planet.value;
        let Some(bush) = &planet.bush else { return };
        if let Some(bearing) = &planet.bearing {
            self.conflict(
                bearing,
                "gearset.planet.bearing",
                "A planet turns on bearings or on a bush",
                format!("\"{}\" beside a bush", bearing.value),
                "leave one of the two out",
            );
        }
        self.below(
            (&bush.value.bore, "gearset.planet.bush.bore"),
            (&bush.value.outer, "gearset.planet.bush.outer"),
            "the bush needs a wall",
        );
    }

    /// What straight and herringbone teeth ask of the rest.
    fn tooth_form(&mut self, gearset: &GearsetKeys) {
        let (teeth, helix) = (&gearset.teeth, &gearset.helix_angle);
        let angle = format!("{} deg", helix.value.to_degrees());
        match teeth.value {
            ToothForm::Helical => {}
            ToothForm::Straight => {
                if helix.place().is_some() && helix.value != 0.0 {
                    let hint = "leave the helix angle out, or teeth = \"helical\"";
                    self.conflict(helix, "gearset.helix_angle", "Straight teeth have no helix", angle, hint);
                }
            }
            ToothForm::Herringbone => {
                if helix.value == 0.0 {
                    let hint = "20 deg is usual, or teeth = \"straight\"";
                    self.conflict(
                        helix,
                        "gearset.helix_angle",
                        "Herringbone teeth need a helix",
                        angle,
                        hint,
                    );
                }
                let ring = &gearset.ring.value.made;
                if ring.value == RingKind::Cut {
                    self.problems.push(
                        Diagnostic::error(
                            Code::Conflict,
                            "Herringbone planets can't be put into a ring of one piece: the teeth lock along the axis",
                        )
                        .at_maybe(ring.place().or(teeth.place()).cloned())
                        .key("gearset.ring")
                        .found("\"cut\"")
                        .hint("gearset.ring = \"insert\" splits the ring into two halves that close around the planets"),
                    );
                }
                let sun = &gearset.sun.value.made;
                if sun.value == GearSource::Print {
                    self.conflict(
                        sun,
                        "gearset.sun",
                        "A herringbone sun can't be one with the rotor adapter: it goes in together with the planets",
                        "\"print\"".to_string(),
                        "gearset.sun = \"buy\": its back end then stands in the adapter's toothed socket",
                    );
                }
            }
        }
    }

    /// A printed gear's material must be one of the table; a bought one's is only a name.
    fn print_material(&mut self, key: &str, material: &Option<Entry<String>>, printed: bool) {
        let Some(entry) = material.as_ref().filter(|_| printed) else { return };
        if tables::material(&entry.value).is_some() {
            return;
        }
        let names = tables::material_names();
        let diagnostic = Diagnostic::error(
            Code::UnknownMaterial,
            format!("No print material is called \"{}\"", entry.value),
        )
        .at_maybe(entry.place().cloned())
        .key(key)
        .found(format!("\"{}\"", entry.value))
        .expected(format!("a print material: {}", names.join(", ")));
        self.problems.push(match suggest::near(&entry.value, &names) {
            Some(near) => diagnostic.hint(format!("did you mean \"{near}\"?")),
            None => diagnostic.hint("a gear of another material is bought: made = \"buy\""),
        });
    }

    fn bearings(&mut self, bearings: &BearingsKeys) {
        let output = &bearings.output.value;
        if output.count.value == 1
            && let Some(place) = output.spacing.place()
        {
            self.problems.push(
                Diagnostic::warning(Code::Conflict, "A single output bearing has no spacing")
                    .at(place.clone())
                    .key("bearings.output.spacing")
                    .hint("count = 2 makes it a pair"),
            );
        }
        let rows = &bearings.custom.value;
        for (index, row) in rows.iter().enumerate() {
            let name = &row.designation;
            if name.is_sound()
                && rows.iter().take(index).any(|earlier| earlier.designation.value == name.value)
            {
                self.conflict(
                    name,
                    "bearings.custom",
                    "Two rows have one designation",
                    format!("\"{}\"", name.value),
                    "rename one",
                );
            }
        }
    }

    fn board(&mut self, keys: &DesignKeys) {
        let board = &keys.controller.value.board.value;
        let [along, across] = board.holes.value.pattern.value;
        if !board.holes.value.pattern.is_sound() || !board.length.is_sound() || !board.width.is_sound() {
            return;
        }
        if along >= board.length.value || across >= board.width.value {
            let found = format!(
                "holes {along} x {across} mm, board {} x {} mm",
                board.length.value, board.width.value
            );
            let key = "controller.board.holes.pattern";
            let at = if board.holes.value.pattern.place().is_some() {
                board.holes.value.pattern.place()
            } else {
                board.length.place().or(board.width.place())
            };
            self.problems.push(
                Diagnostic::error(Code::Conflict, "The mounting holes lie outside the board")
                    .at_maybe(at.cloned())
                    .key(key)
                    .found(found)
                    .hint("the pattern is given centre to centre, along length and width"),
            );
        }
    }

    fn printer(&mut self, keys: &DesignKeys) {
        let printer = &keys.printer.value;
        if printer.bearing_seat.is_sound() {
            for range in &printer.bearing_seat.value {
                let why = "a range goes from its smaller to its larger diameter";
                self.below(
                    (&range.over, "printer.bearing_seat.over"),
                    (&range.up_to, "printer.bearing_seat.up_to"),
                    why,
                );
            }
            self.seat_order(&printer.bearing_seat.value);
            if printer.bearing_seat.value.is_empty() {
                self.conflict(
                    &printer.bearing_seat,
                    "printer.bearing_seat",
                    "A printer has at least one seat allowance",
                    "an empty list".into(),
                    "leave the key out for the defaults",
                );
            }
        }
        for (ranges, [over, up_to]) in [
            (
                &printer.hole_growth_by_size.value,
                ["printer.hole_growth_by_size.over", "printer.hole_growth_by_size.up_to"],
            ),
            (
                &printer.post_growth_by_size.value,
                ["printer.post_growth_by_size.over", "printer.post_growth_by_size.up_to"],
            ),
        ] {
            let why = "a range goes from its smaller to its larger diameter";
            for range in ranges {
                self.below((&range.over, over), (&range.up_to, up_to), why);
            }
            self.no_overlap(ranges, over);
        }
        self.below(
            (&printer.layer_height, "printer.layer_height"),
            (&printer.line_width, "printer.line_width"),
            "a line wider than it is high holds",
        );
    }

    fn requirement(&mut self, keys: &DesignKeys) {
        let requirement = &keys.requirement.value;
        if let (Some(continuous), Some(peak)) = (&requirement.continuous_torque, &requirement.peak_torque)
            && continuous.value > peak.value
        {
            let torque = |value| quantity::format(value, Kind::Torque);
            self.conflict(
                continuous,
                "requirement.continuous_torque",
                "The continuous torque is above the peak torque",
                format!("{}, the peak is {}", torque(continuous.value), torque(peak.value)),
                "the peak is the highest torque of all",
            );
        }
        self.demands(requirement);
    }

    /// What lever, link and leg must be to make sense.
    fn demands(&mut self, requirement: &RequirementKeys) {
        if let Some(entry) = &requirement.link {
            self.link(&entry.value, "requirement.link");
        }
        if let Some(leg) = &requirement.leg {
            let (bent, stretched) = (&leg.value.knee_angle, &leg.value.stretched);
            if bent.is_sound() && stretched.is_sound() && bent.value >= stretched.value {
                let at = if bent.place().is_some() { bent } else { stretched };
                let angle = |value| quantity::format(value, Kind::Angle);
                self.conflict(
                    at,
                    "requirement.leg.knee_angle",
                    "The leg isn't longer stretched than bent",
                    format!("{} bent, {} stretched", angle(bent.value), angle(stretched.value)),
                    "the knee angle lies between thigh and shank: 180 deg is straight",
                );
            }
        }
    }

    /// A swing has two keys, and a link's middle lies on it.
    fn link(&mut self, link: &LinkKeys, path: &str) {
        let alone = match (&link.swing, &link.swing_time) {
            (Some(angle), None) => Some((angle, "swing", "swing_time = \"0.6 s\"")),
            (None, Some(time)) => Some((time, "swing_time", "swing = \"90 deg\"")),
            _ => None,
        };
        if let Some((entry, key, missing)) = alone {
            self.conflict(
                entry,
                &format!("{path}.{key}"),
                "A swing has an angle and a time",
                format!("`{key}` alone"),
                &format!("add {missing}"),
            );
        }
        if let Some(centre) = &link.centre
            && centre.is_sound()
            && link.length.is_sound()
            && centre.value > link.length.value
        {
            self.conflict(
                centre,
                &format!("{path}.centre"),
                "The link's centre of mass lies beyond its end",
                format!("{}, length {}", millimetres(centre.value), millimetres(link.length.value)),
                "what hangs at the end is the payload",
            );
        }
    }

    /// Measured ranges may leave gaps, which the general value fills, but a diameter lies in one of them only.
    fn no_overlap(&mut self, ranges: &[FitRangeKeys], key: &str) {
        for pair in ranges.windows(2) {
            let [first, second] = pair else { continue };
            if first.up_to.is_sound() && second.over.is_sound() && second.over.value < first.up_to.value {
                let found = format!(
                    "up to {}, then over {}",
                    millimetres(first.up_to.value),
                    millimetres(second.over.value)
                );
                self.conflict(
                    &second.over,
                    key,
                    "The ranges of growth overlap",
                    found,
                    "smaller diameters first, each range beginning where the one before it ends or later",
                );
            }
        }
    }

    fn seat_order(&mut self, ranges: &[FitRangeKeys]) {
        for pair in ranges.windows(2) {
            let [first, second] = pair else { continue };
            if first.up_to.is_sound() && second.over.is_sound() && first.up_to.value != second.over.value {
                let found = format!(
                    "up to {}, then over {}",
                    millimetres(first.up_to.value),
                    millimetres(second.over.value)
                );
                self.conflict(
                    &second.over,
                    "printer.bearing_seat.over",
                    "The seat ranges leave a gap or overlap",
                    found,
                    "each begins where the one before it ends",
                );
            }
        }
    }

    fn joints(&mut self, keys: &DesignKeys) {
        let is_cut = keys.gearset.value.ring.value.made.value == RingKind::Cut;
        if let Some(entry) = keys.fasteners.value.get("ring-insert").filter(|_| is_cut) {
            self.problems.push(
                Diagnostic::warning(Code::Conflict, "A ring cut into the housing has no screws")
                    .at_maybe(entry.place().cloned())
                    .key("fasteners.ring-insert")
                    .hint("gearset.ring = \"insert\" makes it a part of its own"),
            );
        }
    }
}

/// Whether one of the motor's keys was given but could not be read, or may be in a file that could not: then it isn't
/// missing.
fn is_faulty(problems: &Problems, keys: &[&str]) -> bool {
    problems.iter().any(|problem| {
        keys.iter().any(|key| problem.key == *key || problem.key.starts_with(&format!("{key}.")))
            || problem.key == "motor"
            || problem.key == "motor.from"
    })
}

fn millimetres(value: f64) -> String {
    quantity::format(value, Kind::Length)
}
