//! Reads a log: comma-separated values, the first row its columns with their units.
//!
//! ```text
//! test, current [A], force [g], lever [mm], note
//! torque, 4, 820, 300, rising
//! ```
//!
//! One row a reading; cells that a test doesn't need stay empty. Lines that begin with `#` are remarks. Units are those of the
//! design file. Every fault is told with its line; a log with one is not used.

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord, Trim};

use super::columns::{COLUMN_TABLE, COLUMNS, Column, NOTE, TEST, TESTS, TestKind};
use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};
use crate::quantity::{self, Kind, QuantityFault};

/// Largest file read \[bytes\]: a million rows.
const LARGEST_FILE: u64 = 1 << 26;
/// Faults beyond this many are only counted.
const MOST_FAULTS: usize = 20;
const EXAMPLE: &str = "test, current [A], force [g], lever [mm]";
/// Nothing that is measured at a joint is this large in internal units: a slip.
const LARGEST: f64 = 1e9;

/// One reading in internal units; what isn't given is not a number.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Row {
    pub line: usize,
    pub test: TestKind,
    values: [f64; COLUMNS],
}

impl Row {
    pub fn new(line: usize, test: TestKind) -> Row {
        Row { line, test, values: [f64::NAN; COLUMNS] }
    }

    #[must_use]
    pub fn with(mut self, column: Column, value: f64) -> Row {
        self.values[column as usize] = value; // as many places as columns
        self
    }

    pub fn get(&self, column: Column) -> Option<f64> {
        Some(self.values[column as usize]).filter(|value| value.is_finite()) // as above
    }

    /// Torque \[N m\], as given or by force and lever.
    pub fn torque(&self) -> Option<f64> {
        self.get(Column::Torque).or_else(|| Some(self.get(Column::Force)? * self.get(Column::Lever)? * 1e-3))
    }
}

/// A sound log.
#[derive(Clone, Debug, PartialEq)]
pub struct Log {
    pub rows: Vec<Row>,
}

impl Log {
    /// Rows of one kind of test, in their order.
    pub fn of(&self, test: TestKind) -> Vec<Row> {
        self.rows.iter().filter(|row| row.test == test).copied().collect()
    }
}

/// Reads a log from the disk.
///
/// # Errors
/// All that is wrong with it, by line.
pub fn read(path: &Path) -> Result<Log, Problems> {
    let name = path.to_string_lossy().into_owned();
    let text = text(path, &name).map_err(|diagnostic| Problems::from(*diagnostic))?;
    parse(&Arc::new(SourceFile { name, text }))
}

fn text(path: &Path, name: &str) -> Result<String, Box<Diagnostic>> {
    let refused = |code, message: String| Box::new(Diagnostic::error(code, message).example(EXAMPLE));
    if path.is_dir() {
        return Err(refused(Code::FileUnreadable, format!("{name} is a folder, not a log")));
    }
    let file = File::open(path).map_err(|error| match error.kind() {
        std::io::ErrorKind::NotFound => refused(Code::FileMissing, format!("There is no file {name}")),
        _ => refused(Code::FileUnreadable, format!("{name} cannot be read: {error}")),
    })?;
    let mut bytes = Vec::new();
    file.take(LARGEST_FILE + 1)
        .read_to_end(&mut bytes)
        .map_err(|error| refused(Code::FileUnreadable, format!("{name} cannot be read: {error}")))?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(refused(Code::FileTooLarge, format!("{name} is larger than any log: 64 MB at most")));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        refused(Code::FileNotText, format!("{name} is not UTF-8 text: byte {at} is none"))
    })
}

/// Collects the first faults and counts the rest.
struct Faults {
    problems: Problems,
    told: usize,
    more: usize,
}

impl Faults {
    fn push(&mut self, diagnostic: Diagnostic) {
        if self.told < MOST_FAULTS {
            self.problems.push(diagnostic);
            self.told += 1;
        } else {
            self.more += 1;
        }
    }
}

/// Reads a log's text.
///
/// # Errors
/// All that is wrong with it, by line.
pub fn parse(file: &Arc<SourceFile>) -> Result<Log, Problems> {
    let mut faults = Faults { problems: Problems::default(), told: 0, more: 0 };
    let start = if file.text.starts_with('\u{feff}') { 3 } else { 0 };
    let text = &file.text[start..];
    if text.trim().is_empty() {
        let nothing = Diagnostic::error(Code::FileEmpty, format!("{} says nothing", file.name));
        return Err(nothing.expected("a row of columns with units, then readings").example(EXAMPLE).into());
    }
    if text.contains('\0') {
        let binary =
            Diagnostic::error(Code::FileNotText, format!("{} is not text: it has zero bytes", file.name));
        return Err(binary.expected("comma-separated values").example(EXAMPLE).into());
    }
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(Trim::All)
        .from_reader(text.as_bytes());
    let mut record = StringRecord::new();
    let mut heads: Option<Heads> = None;
    let mut rows = Vec::new();
    let mut last_time: [Option<(f64, usize)>; TESTS.len()] = [None; TESTS.len()];
    loop {
        match reader.read_record(&mut record) {
            Ok(true) => {}
            Ok(false) => break,
            Err(error) => {
                faults.push(Diagnostic::error(Code::WrongLog, format!("The log breaks off: {error}")));
                break;
            }
        }
        let (byte, line) =
            record.position().map_or((0, 0), |position| (position.byte() as usize, position.line() as usize));
        let (byte, line) = record_start(text, byte, line);
        let place = || Place::new(file, line_span(&file.text, start + byte));
        let Some(known) = &heads else {
            match Heads::of(&record, &place(), &mut faults) {
                Some(known) => heads = Some(known),
                None => break,
            }
            continue;
        };
        if let Some(row) = known.row(&record, line, &place, &mut faults) {
            check_time(&row, &mut last_time, &place, &mut faults);
            rows.push(row);
        }
    }
    if rows.is_empty() && faults.told == 0 {
        faults.push(
            Diagnostic::error(Code::FileEmpty, format!("{} has no readings", file.name))
                .example("torque, 4, 820, 300"),
        );
    }
    if faults.more > 0 {
        let message = format!("{} has {} more faults like these", file.name, faults.more);
        faults.problems.push(Diagnostic::error(Code::WrongLog, message));
    }
    if faults.problems.has_errors() { Err(faults.problems) } else { Ok(Log { rows }) }
}

/// The reader's position may lie before blank lines and remarks: from there to the record's own first byte and line.
fn record_start(text: &str, byte: usize, line: usize) -> (usize, usize) {
    let bytes = text.as_bytes();
    let (mut byte, mut line) = (byte.min(bytes.len()), line);
    loop {
        match bytes.get(byte) {
            Some(b'\n') => line += 1,
            Some(b'\r') => {}
            Some(b'#') => {
                let rest = bytes.iter().skip(byte).take_while(|b| !matches!(b, b'\n' | b'\r')).count();
                byte += rest;
                continue;
            }
            _ => return (byte, line),
        }
        byte += 1;
    }
}

/// From a byte to the end of its line.
fn line_span(text: &str, start: usize) -> std::ops::Range<usize> {
    let length = text.bytes().skip(start).take_while(|b| !matches!(b, b'\n' | b'\r')).count();
    start..start + length
}

fn check_time(
    row: &Row,
    last: &mut [Option<(f64, usize)>; TESTS.len()],
    place: &dyn Fn() -> Place,
    faults: &mut Faults,
) {
    let Some(time) = row.get(Column::Time) else { return };
    let Some(slot) = last.get_mut(row.test as usize) else { return };
    if let Some((before, line)) = *slot
        && time <= before
    {
        let message = format!(
            "Line {}: time goes backwards, {time} s after {before} s of line {line} of the same test",
            row.line
        );
        faults.push(
            Diagnostic::error(Code::WrongLog, message)
                .at(place())
                .key(Column::Time.info().name)
                .hint("a second run of a test goes into a log of its own"),
        );
        return; // held against the last sound one, so that one slip is one fault
    }
    *slot = Some((time, row.line));
}

/// What each column of the file is.
struct Heads {
    /// Column and, for a value, factor and offset to the internal unit.
    columns: Vec<Head>,
}

#[derive(Clone, Copy)]
enum Head {
    Test,
    Note,
    Value {
        column: Column,
        factor: f64,
        offset: f64,
    },
    /// Told already.
    Wrong,
}

impl Heads {
    fn of(record: &StringRecord, place: &Place, faults: &mut Faults) -> Option<Heads> {
        let told = faults.told;
        let mut columns = Vec::with_capacity(record.len());
        let mut seen: Vec<&str> = Vec::new();
        for cell in record {
            let (name, unit) = parted(cell);
            if seen.contains(&name) {
                faults.push(wrong(format!("The column {name} is there twice"), place).key(name));
            }
            seen.push(name);
            columns.push(match head(name, unit) {
                Ok(head) => head,
                Err(diagnostic) => {
                    faults.push(diagnostic.at(place.clone()).key(name));
                    Head::Wrong
                }
            });
        }
        if !seen.contains(&TEST) {
            let words: Vec<&str> = TESTS.iter().map(|test| test.word).collect();
            faults.push(
                wrong("No column says which test a row belongs to".into(), place)
                    .key(TEST)
                    .expected(format!("a column `{TEST}` with one of {}", words.join(", ")))
                    .example(EXAMPLE),
            );
        }
        // Rows under wrong heads would only repeat their fault.
        (faults.told == told).then_some(Heads { columns })
    }

    fn row(
        &self,
        record: &StringRecord,
        line: usize,
        place: &dyn Fn() -> Place,
        faults: &mut Faults,
    ) -> Option<Row> {
        if record.len() != self.columns.len() {
            let message =
                format!("Line {line} has {} cells; the first line has {}", record.len(), self.columns.len());
            faults.push(wrong(message, &place()));
            return None;
        }
        let word = self.columns.iter().zip(record).find_map(|(head, cell)| match head {
            Head::Test => Some(cell),
            _ => None,
        })?;
        let Some(test) = TestKind::named(word) else {
            let words: Vec<&str> = TESTS.iter().map(|test| test.word).collect();
            faults.push(
                wrong(format!("Line {line}: there is no test {word:?}"), &place())
                    .key(TEST)
                    .expected(format!("one of {}", words.join(", "))),
            );
            return None;
        };
        let mut row = Row::new(line, test);
        let mut sound = true;
        for (head, cell) in self.columns.iter().zip(record) {
            let Head::Value { column, factor, offset } = *head else { continue };
            if cell.is_empty() {
                continue;
            }
            match cell.parse::<f64>().map(|number| number * factor + offset) {
                Ok(value) if value.abs() <= LARGEST => row = row.with(column, value),
                _ => {
                    sound = false;
                    let name = column.info().name;
                    faults.push(
                        wrong(format!("Line {line}: {name} is {cell:?}"), &place())
                            .key(name)
                            .expected("a number without a unit, such as 12.5; or nothing"),
                    );
                }
            }
        }
        // A cell that is wrong isn't one that lacks.
        (sound && complete(&row, place, faults)).then_some(row)
    }
}

/// Whether all is there that its test needs.
fn complete(row: &Row, place: &dyn Fn() -> Place, faults: &mut Faults) -> bool {
    let mut missing: Vec<String> = Vec::new();
    for any in row.test.needs() {
        if !any.iter().any(|column| row.get(*column).is_some()) {
            missing.push(any.iter().map(|column| column.info().name).collect::<Vec<_>>().join(" or "));
        }
    }
    let by_scale = row.get(Column::Force).is_some() && row.get(Column::Torque).is_none();
    if by_scale && row.get(Column::Lever).is_none() {
        missing.push("lever (with force)".into());
    }
    if missing.is_empty() {
        return true;
    }
    let message = format!("Line {}: the test {} lacks {}", row.line, row.test.word(), missing.join(" and "));
    faults.push(wrong(message, &place()));
    false
}

fn wrong(message: String, place: &Place) -> Diagnostic {
    Diagnostic::error(Code::WrongLog, message).at(place.clone())
}

/// "torque [N m]" as name and unit.
fn parted(cell: &str) -> (&str, Option<&str>) {
    match cell.split_once('[') {
        Some((name, rest)) => (name.trim(), Some(rest.trim_end().trim_end_matches(']').trim())),
        None => (cell.trim(), None),
    }
}

#[expect(clippy::result_large_err, reason = "made once for a head that is wrong: nothing to save")]
fn head(name: &str, unit: Option<&str>) -> Result<Head, Diagnostic> {
    match (name, unit) {
        (TEST, _) => return Ok(Head::Test),
        (NOTE, _) => return Ok(Head::Note),
        _ => {}
    }
    let Some(column) = Column::named(name) else {
        let names: Vec<&str> =
            [TEST, NOTE].into_iter().chain(COLUMN_TABLE.iter().map(|info| info.name)).collect();
        let near = names.iter().find(|known| strsim::damerau_levenshtein(known, name) <= 2);
        let diagnostic = Diagnostic::error(Code::WrongLog, format!("There is no column {name:?}"))
            .expected(format!("one of {}", names.join(", ")));
        return Err(match near {
            Some(near) => diagnostic.hint(format!("did you mean {near}?")),
            None => diagnostic,
        });
    };
    let kind = column.info().kind;
    let example = format!("{name} [{}]", kind.table().units.first().map_or("", |unit| unit.symbol));
    let Some(unit) = unit else {
        return Err(Diagnostic::error(Code::NoUnit, format!("The column {name} has no unit"))
            .expected(format!("{} in one of {}", kind.name(), kind.unit_list()))
            .example(example));
    };
    let [zero, one] = ["0", "1"].map(|number| quantity::parse(&format!("{number} {unit}"), kind));
    match (zero, one) {
        (Ok(zero), Ok(one)) => Ok(Head::Value { column, factor: one - zero, offset: zero }),
        (Err(fault), _) | (_, Err(fault)) => Err(unit_fault(name, unit, kind, &fault).example(example)),
    }
}

fn unit_fault(name: &str, unit: &str, kind: Kind, fault: &QuantityFault) -> Diagnostic {
    let expected = format!("{} in one of {}", kind.name(), kind.unit_list());
    match fault {
        QuantityFault::WrongKind { is, .. } => Diagnostic::error(
            Code::WrongUnit,
            format!("The unit of the column {name} is of {}: {unit}", is.name()),
        ),
        QuantityFault::UnknownUnit { near, .. } => {
            let diagnostic = Diagnostic::error(
                Code::UnknownUnit,
                format!("The unit of the column {name} is not known: {unit}"),
            );
            near.map_or(diagnostic.clone(), |near| diagnostic.hint(format!("did you mean {near}?")))
        }
        _ => Diagnostic::error(Code::NoUnit, format!("The column {name} has no unit")),
    }
    .expected(expected)
}
