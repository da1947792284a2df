//! Bearings by designation, from the table or the design's own rows.

use std::f64::consts::PI;

use crate::diagnostic::{Code, Diagnostic, Problems};
use crate::tables::{self, Bearing, BearingKind};

use super::keys::{BearingsKeys, CustomBearingKeys, GearsetKeys};
use super::reader::Entry;
use super::suggest;

/// The bearings a design names; none where a designation isn't known or its key was faulty.
pub struct FoundBearings {
    pub custom: Vec<Bearing>,
    pub output: Option<Bearing>,
    /// None inside if the file leaves the choice to the layout.
    pub planet: Option<Option<Bearing>>,
}

/// Looks every designation up and records those that lead nowhere.
pub fn find(keys: &BearingsKeys, gearset: &GearsetKeys, problems: &mut Problems) -> FoundBearings {
    let custom: Vec<Bearing> = keys.custom.value.iter().map(|row| custom_row(row, problems)).collect();
    let output = look_up(&keys.output.value.designation, "bearings.output.designation", &custom, problems);
    let in_gearset = gearset.planet.value.bearing.as_ref();
    if let (Some(here), Some(there)) = (&keys.planet, in_gearset)
        && here.value != there.value
    {
        problems.push(
            Diagnostic::error(Code::Conflict, "The planet bearing is named twice, and differently")
                .at_maybe(there.place().cloned())
                .key("gearset.planet.bearing")
                .found(format!("\"{}\" here, \"{}\" in [bearings]", there.value, here.value))
                .expected("one of the two"),
        );
    }
    let planet = match keys.planet.as_ref().map(|entry| (entry, "bearings.planet")) {
        Some((entry, key)) => look_up(entry, key, &custom, problems).map(Some),
        None => match in_gearset {
            Some(entry) => look_up(entry, "gearset.planet.bearing", &custom, problems).map(Some),
            None => Some(None),
        },
    };
    let crossed = |bearing: &Bearing| matches!(bearing.kind, BearingKind::CrossedRoller { .. });
    if output.as_ref().is_some_and(crossed) && keys.output.value.count.value == 2 {
        problems.push(
            Diagnostic::error(Code::Conflict, "A crossed roller bearing stands alone")
                .at_maybe(keys.output.value.count.place().cloned())
                .key("bearings.output.count")
                .found("a pair")
                .hint("one carries radial and axial load and moment; two would brace each other"),
        );
    }
    if planet.as_ref().is_some_and(|planet| planet.as_ref().is_some_and(crossed)) {
        problems.push(
            Diagnostic::error(Code::Conflict, "A planet can't turn on crossed roller bearings")
                .at_maybe(keys.planet.as_ref().and_then(|entry| entry.place().cloned()))
                .key("bearings.planet")
                .hint("two small deep groove bearings, such as 688, or a bush"),
        );
    }
    if let (Some(bearing), Some(_)) = (&keys.planet, &gearset.planet.value.bush) {
        problems.push(
            Diagnostic::error(Code::Conflict, "A planet turns on bearings or on a bush")
                .at_maybe(bearing.place().cloned())
                .key("bearings.planet")
                .found(format!("\"{}\" beside gearset.planet.bush", bearing.value))
                .hint("leave one of the two out"),
        );
    }
    FoundBearings { custom, output, planet }
}

fn look_up(entry: &Entry<String>, key: &str, custom: &[Bearing], problems: &mut Problems) -> Option<Bearing> {
    if !entry.is_sound() {
        return None;
    }
    let designation = &entry.value;
    let own = custom.iter().find(|bearing| bearing.designation == *designation);
    let found =
        own.or_else(|| tables::bearing(designation)).or_else(|| tables::crossed_roller(designation)).cloned();
    if found.is_none() {
        let own_names: Vec<&str> = custom.iter().map(|bearing| bearing.designation.as_str()).collect();
        let near_own = suggest::near(designation, &own_names).map(str::to_string);
        let near: Vec<String> = near_own.into_iter().chain(tables::bearing_names_near(designation)).collect();
        let hint = if near.is_empty() {
            "`hubwright tables bearings` lists them; a row of your own goes into [[bearings.custom]]"
                .to_string()
        } else {
            format!("near it: {}; a row of your own goes into [[bearings.custom]]", near.join(", "))
        };
        problems.push(
            Diagnostic::error(Code::UnknownBearing, format!("No bearing is called \"{designation}\""))
                .at_maybe(entry.place().cloned())
                .key(key)
                .found(format!("\"{designation}\""))
                .expected("a designation of the table, or of a row of your own")
                .example("designation = \"6810\"")
                .hint(hint),
        );
    }
    found
}

/// A row of one's own, with what a maker would print besides.
pub fn custom_row(row: &CustomBearingKeys, problems: &mut Problems) -> Bearing {
    let (bore, outer, width) = (row.bore.value, row.outer.value, row.width.value);
    if row.bore.is_sound() && row.outer.is_sound() && bore >= outer {
        problems.push(
            Diagnostic::error(Code::Conflict, "A bearing's bore is smaller than its outside")
                .at_maybe(row.bore.place().cloned())
                .key("bearings.custom")
                .found(format!("bore {bore} mm, outside {outer} mm")),
        );
    }
    let section = outer - bore;
    let given = |entry: &Option<Entry<f64>>| entry.as_ref().map(|entry| entry.value);
    // Abutments where the maker prints none: the usual quarter of the section inside, 0.22 outside (estimates).
    let quarter = bore + 0.25 * section;
    let inner_min = given(&row.shoulder_inner_min);
    let inner_max = given(&row.shoulder_inner_max);
    let outer_max = given(&row.shoulder_outer_max);
    let shoulders_estimated = inner_min.is_none() || inner_max.is_none() || outer_max.is_none();
    // Rings and balls fill about three fifths of the box (mean of the table's rows); steel of 7.8 g/cm3.
    let estimated_mass = 0.6 * PI / 4.0 * (outer * outer - bore * bore) * width * 7.8e-6;
    Bearing {
        kind: BearingKind::DeepGroove,
        designation: row.designation.value.clone(),
        maker: row.maker.value.clone(),
        bore,
        outer,
        width,
        width_shielded: given(&row.width_shielded).unwrap_or(width),
        dynamic_rating: row.dynamic_rating.value,
        static_rating: row.static_rating.value,
        f0: given(&row.f0),
        f0_computed: false,
        fatigue_limit: given(&row.fatigue_limit),
        shoulder_inner_min: inner_min.unwrap_or_else(|| inner_max.map_or(quarter, |max| max.min(quarter))),
        shoulder_inner_max: inner_max.unwrap_or_else(|| inner_min.map_or(quarter, |min| min.max(quarter))),
        shoulder_outer_max: outer_max.unwrap_or(outer - 0.22 * section),
        shoulders_estimated,
        mass: given(&row.mass).unwrap_or(estimated_mass),
        mass_estimated: row.mass.is_none(),
        source: "the design file".into(),
        from_memory: false,
    }
}
