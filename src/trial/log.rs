//! Reads a log: comma-separated values, the first row its columns with their units.
//!
//! ```text
//! test, current [A], force [g], lever [mm], note
//! torque, 4, 820, 300, rising
//! ```
//!
//! One row a reading; cells that a test doesn't need stay empty. Lines that begin with `#` are remarks. Units are those of the
//! design file. Cells may be parted by semicolons or tabs instead; then a comma is a decimal mark, too. Every fault is told with its
//! line and cell, all at once; a log with one is not used.

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::sync::Arc;

use csv::{ReaderBuilder, StringRecord, Trim};

use super::cells::{Line, Separator};
use super::columns::{COLUMNS, Column, TESTS, TestKind};
use super::heads::Heads;
use crate::diagnostic::{Code, Diagnostic, Problems, SourceFile};

/// Largest file read \[bytes\]: a million rows.
const LARGEST_FILE: u64 = 1 << 26;
/// Faults beyond this many are only counted.
const MOST_FAULTS: usize = 20;
pub(super) const EXAMPLE: &str = "test, current [A], force [g], lever [mm]";

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
    let is_wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
    if is_wide {
        return Err(refused(Code::FileNotText, format!("{name} is UTF-16 text: save it as UTF-8")));
    }
    String::from_utf8(bytes).map_err(|error| {
        let at = error.utf8_error().valid_up_to();
        refused(Code::FileNotText, format!("{name} is not UTF-8 text: byte {at} is none; save it as UTF-8"))
    })
}

/// Collects the first faults and counts the rest.
pub(super) struct Faults {
    problems: Problems,
    pub(super) told: usize,
    more: usize,
}

impl Faults {
    pub(super) fn push(&mut self, diagnostic: Diagnostic) {
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
    let separator = Separator::of(text);
    let mut reader = ReaderBuilder::new()
        .has_headers(false)
        .delimiter(separator.byte())
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
        let line = Line { file, start: start + byte, number: line, separator };
        if record.iter().any(|cell| cell.contains('\n')) {
            let message = format!("Line {}: a quote that is opened and not closed", line.number);
            faults.push(Diagnostic::error(Code::WrongLog, message).at(line.whole()));
            break;
        }
        let Some(known) = &heads else {
            match Heads::of(&record, &line, &mut faults) {
                Some(known) => heads = Some(known),
                None => break,
            }
            continue;
        };
        if let Some(row) = known.row(&record, &line, &mut faults) {
            check_time(&row, &mut last_time, &line, known, &mut faults);
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

fn check_time(
    row: &Row,
    last: &mut [Option<(f64, usize)>; TESTS.len()],
    line: &Line,
    heads: &Heads,
    faults: &mut Faults,
) {
    let Some(time) = row.get(Column::Time) else { return };
    let Some(slot) = last.get_mut(row.test as usize) else { return };
    if let Some((before, earlier)) = *slot
        && time <= before
    {
        let what = if time < before { "goes backwards" } else { "stands still" };
        let message = format!(
            "Line {}: time {what}, {time} s after {before} s of line {earlier} of the same test",
            row.line
        );
        faults.push(
            Diagnostic::error(Code::WrongLog, message)
                .at(heads.place(Column::Time, line))
                .key(Column::Time.info().name)
                .hint("a second run of a test goes into a log of its own"),
        );
        return; // held against the last sound one, so that one slip is one fault
    }
    *slot = Some((time, row.line));
}
