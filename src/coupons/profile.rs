//! Findings into a printer profile: which values change, and the profile's text with only those changed.

use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, TableLike, Value};

use super::findings::{Found, Single};
use super::ranges::{self, Beyond};
use super::values;
use crate::design::{FitRange, Printer};
use crate::quantity::{self, Kind as Unit};

/// A key of the profile and what it becomes.
#[derive(Clone, Debug, PartialEq)]
pub struct Change {
    /// The key, as in `[printer]`.
    pub key: &'static str,
    /// Which diameters, in a list by diameter; empty for a single value.
    pub range: String,
    pub old: String,
    pub new: String,
    edit: Edit,
}

#[derive(Clone, Debug, PartialEq)]
enum Edit {
    Value(String),
    Ranges(Vec<FitRange>),
}

impl Single {
    pub fn key(self) -> &'static str {
        match self {
            Single::BearingPost => "bearing_post",
            Single::RingInsert => "ring_insert",
            Single::SunSocket => "sun_socket",
            Single::ClearanceHole => "clearance_hole",
            Single::PinPress => "pin_press",
            Single::PinSlip => "pin_slip",
            Single::PostGrowth => "post_growth",
            Single::Bridge => "bridge",
            Single::Overhang => "overhang",
            Single::ElephantFoot => "elephant_foot",
            Single::ToothGrowth => "tooth_growth",
        }
    }

    fn of(self, printer: &mut Printer) -> &mut f64 {
        match self {
            Single::BearingPost => &mut printer.bearing_post,
            Single::RingInsert => &mut printer.ring_insert,
            Single::SunSocket => &mut printer.sun_socket,
            Single::ClearanceHole => &mut printer.clearance_hole,
            Single::PinPress => &mut printer.pin_press,
            Single::PinSlip => &mut printer.pin_slip,
            Single::PostGrowth => &mut printer.post_growth,
            Single::Bridge => &mut printer.bridge,
            Single::Overhang => &mut printer.overhang,
            Single::ElephantFoot => &mut printer.elephant_foot,
            Single::ToothGrowth => &mut printer.tooth_growth,
        }
    }

    fn written(self, value: f64) -> String {
        if self == Single::Overhang { values::degrees(value) } else { values::millimetres(value) }
    }
}

const SEATS: &str = "bearing_seat";
const HOLES: &str = "hole_growth_by_size";

/// The printer as found, and what that changes.
pub fn updated(printer: &Printer, found: &Found) -> (Printer, Vec<Change>) {
    let mut new = printer.clone();
    let mut changes = Vec::new();
    new.bearing_seat = ranges::with_found(&printer.bearing_seat, &found.seats, Beyond::Nearest);
    changes.extend(list_changes(SEATS, &found.seats, &new.bearing_seat, |size| printer.seat_fit(size)));
    for (single, value) in &found.singles {
        let (old, written) = (single.written(*single.of(&mut new)), single.written(*value));
        *single.of(&mut new) = *value;
        if old != written {
            let edit = Edit::Value(written.clone());
            changes.push(Change { key: single.key(), range: String::new(), old, new: written, edit });
        }
    }
    // The last range holds what no measured one does.
    if let Some((general, measured)) = printer.hole_growth.split_last() {
        let by_size = ranges::with_found(measured, &found.holes, Beyond::General(general.allowance));
        let growth = |size: f64| printer.hole(size) - size;
        changes.extend(list_changes(HOLES, &found.holes, &by_size, growth));
        new.hole_growth = by_size.into_iter().chain([general.clone()]).collect();
    }
    (new, changes)
}

/// A change for each diameter at which a list's value differs.
fn list_changes(
    key: &'static str,
    found: &[[f64; 2]],
    new: &[FitRange],
    present: impl Fn(f64) -> f64,
) -> Vec<Change> {
    found
        .iter()
        .filter_map(|[size, value]| {
            let (old, written) = (values::millimetres(present(*size)), values::millimetres(*value));
            let range = new.iter().find(|range| ranges::holds(range, *size))?;
            (old != written).then(|| Change {
                key,
                range: format!(
                    "over {} up to {}",
                    values::millimetres(range.over),
                    values::millimetres(range.up_to)
                ),
                old,
                new: written,
                edit: Edit::Ranges(new.to_vec()),
            })
        })
        .collect()
}

/// A profile's text with the changes in it; comments, order and all other values stay.
///
/// # Errors
/// A text that isn't TOML.
pub fn edited(text: &str, changes: &[Change]) -> Result<String, toml_edit::TomlError> {
    let mut document: DocumentMut = text.parse()?;
    for change in changes {
        match &change.edit {
            Edit::Value(value) => set(document.as_table_mut(), change.key, value.as_str().into()),
            Edit::Ranges(ranges) => set_ranges(&mut document, change.key, ranges),
        }
    }
    let edited = document.to_string();
    // The library writes line feeds alone.
    let is_dos = text.contains("\r\n");
    Ok(if is_dos { edited.replace("\r\n", "\n").replace('\n', "\r\n") } else { edited })
}

/// The lines that say the same in a design's own `[printer]`.
pub fn lines(changes: &[Change]) -> String {
    // An empty text is TOML.
    edited("", changes).unwrap_or_default()
}

/// Sets a value and keeps the spaces and the comment around it.
fn set(table: &mut dyn TableLike, key: &str, mut value: Value) {
    match table.get_mut(key).and_then(Item::as_value_mut) {
        Some(present) => {
            *value.decor_mut() = present.decor().clone();
            *present = value;
        }
        None => {
            table.insert(key, Item::Value(value));
        }
    }
}

fn set_ranges(document: &mut DocumentMut, key: &str, ranges: &[FitRange]) {
    match document.get_mut(key) {
        Some(Item::Value(Value::Array(array))) => set_array(array, ranges),
        Some(Item::ArrayOfTables(tables)) => set_tables(tables, ranges),
        _ => {
            let mut array = Array::new();
            set_array(&mut array, ranges);
            array.set_trailing("\n");
            array.set_trailing_comma(true);
            document.insert(key, Item::Value(Value::Array(array)));
        }
    }
}

/// Where a range of the file begins.
fn over(table: &dyn TableLike) -> Option<f64> {
    quantity::parse(table.get("over")?.as_str()?, Unit::Length).ok()
}

fn is_at(table: &dyn TableLike, range: &FitRange) -> bool {
    /// A range is written to a micrometre.
    const SAME: f64 = 1e-4;
    over(table).is_some_and(|over| (over - range.over).abs() < SAME)
}

/// Sets the keys of a range that differ from what the table says.
fn set_range(table: &mut dyn TableLike, range: &FitRange) {
    const SAME: f64 = 1e-9;
    for (key, value) in [("over", range.over), ("up_to", range.up_to), ("allowance", range.allowance)] {
        let present = table.get(key).and_then(Item::as_str);
        let present = present.and_then(|text| quantity::parse(text, Unit::Length).ok());
        if present.is_none_or(|present| (present - value).abs() > SAME) {
            set(table, key, values::millimetres(value).into());
        }
    }
}

/// What stands before an element that is added: as before the others, without their comments.
fn new_element_prefix(old: &[Value]) -> String {
    let prefix = old.last().and_then(|value| value.decor().prefix()?.as_str());
    match prefix {
        None => "\n    ".into(),
        Some(prefix) => prefix.rfind('\n').map_or(" ", |at| &prefix[at..]).into(),
    }
}

fn set_array(array: &mut Array, ranges: &[FitRange]) {
    let old: Vec<Value> = array.iter().cloned().collect();
    let before = new_element_prefix(&old);
    array.clear();
    for range in ranges {
        let kept = old.iter().find(|value| value.as_inline_table().is_some_and(|table| is_at(table, range)));
        let mut value = kept
            .cloned()
            .unwrap_or_else(|| Value::InlineTable(InlineTable::new()).decorated(before.as_str(), ""));
        if let Some(table) = value.as_inline_table_mut() {
            set_range(table, range);
        }
        array.push_formatted(value);
    }
}

fn set_tables(tables: &mut ArrayOfTables, ranges: &[FitRange]) {
    let old: Vec<toml_edit::Table> = tables.iter().cloned().collect();
    tables.clear();
    for range in ranges {
        let mut table = old.iter().find(|table| is_at(*table, range)).cloned().unwrap_or_default();
        set_range(&mut table, range);
        tables.push(table);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn change(key: &'static str, edit: Edit) -> Change {
        Change { key, range: String::new(), old: String::new(), new: String::new(), edit }
    }

    fn seats(ranges: &[[f64; 3]]) -> Change {
        let ranges = ranges.iter().map(|[over, up_to, allowance]| FitRange {
            over: *over,
            up_to: *up_to,
            allowance: *allowance,
        });
        change(SEATS, Edit::Ranges(ranges.collect()))
    }

    #[test]
    fn a_parted_range_keeps_its_neighbours_and_their_comments() {
        let text = "bearing_seat = [\n  # small\n  { over = \"8 mm\", up_to = \"16 mm\", allowance = \"0.18 mm\" },\n  \
                    # large\n  { over = \"16 mm\", up_to = \"10 cm\", allowance = \"0.1 mm\" }, # all of them\n]\nbridge = \"1 cm\" # far\n";
        let edited = edited(text, &[seats(&[[8.0, 16.0, 0.18], [16.0, 40.0, 0.2], [40.0, 100.0, 0.1]])]);
        assert_eq!(
            edited.expect("TOML"),
            "bearing_seat = [\n  # small\n  { over = \"8 mm\", up_to = \"16 mm\", allowance = \"0.18 mm\" },\n  # large\n  \
             { over = \"16 mm\", up_to = \"40 mm\", allowance = \"0.2 mm\" },\n  \
             { over = \"40 mm\", up_to = \"100 mm\", allowance = \"0.1 mm\" }, # all of them\n]\nbridge = \"1 cm\" # far\n"
        );
    }

    #[test]
    fn tables_stay_tables() {
        let text = "bridge = \"10 mm\"\n\n[[bearing_seat]] # small\nover = \"8 mm\"\nup_to = \"16 mm\"\nallowance = \"0.18 mm\" # tried\n\n\
                    [[bearing_seat]]\nover = \"16 mm\"\nup_to = \"100 mm\"\nallowance = \"0.1 mm\"\n";
        let changes = [
            seats(&[[8.0, 16.0, 0.2], [16.0, 100.0, 0.1]]),
            change("pin_slip", Edit::Value("0.2 mm".into())),
        ];
        let wanted = text
            .replace("\"0.18 mm\" # tried", "\"0.2 mm\" # tried")
            .replace("bridge = \"10 mm\"\n", "bridge = \"10 mm\"\npin_slip = \"0.2 mm\"\n");
        assert_eq!(edited(text, &changes).expect("TOML"), wanted);
        // A range more is a table more.
        let more = seats(&[[8.0, 16.0, 0.18], [16.0, 40.0, 0.1], [40.0, 100.0, 0.2]]);
        let edited = edited(text, &[more]).expect("TOML");
        assert_eq!(edited.matches("[[bearing_seat]]").count(), 3, "{edited}");
        let document: DocumentMut = edited.parse().expect("TOML");
        let overs: Vec<Option<f64>> = document["bearing_seat"]
            .as_array_of_tables()
            .expect("tables")
            .iter()
            .map(|table| over(table))
            .collect();
        assert_eq!(overs, [Some(8.0), Some(16.0), Some(40.0)], "{edited}");
    }

    #[test]
    fn line_ends_of_dos_stay() {
        let text = "# mine\r\nbridge = \"10 mm\"\r\n";
        let edited = edited(text, &[change("bridge", Edit::Value("8 mm".into()))]).expect("TOML");
        assert_eq!(edited, "# mine\r\nbridge = \"8 mm\"\r\n");
    }
}
