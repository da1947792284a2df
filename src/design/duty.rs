//! `requirement.duty`: torque and speed over time, from a file of comma-separated values.
//!
//! First line the columns with their units: `time_s,torque_n_m,speed_rpm`, torque and speed at the output. Each row holds
//! until the next one's time; the last one only ends the cycle. Lines that begin with `#` are remarks.

use std::fs::File;
use std::io::Read;
use std::path::Path;
use std::sync::Arc;

use thiserror::Error;

use crate::diagnostic::{Code, Diagnostic, Problems};

use super::file::{canonical, roots};
use super::reader::Entry;

/// Largest file read \[bytes\]: two million rows.
const LARGEST_FILE: u64 = 1 << 26;
const KEY: &str = "requirement.duty";

/// The columns.
pub const COLUMNS: [&str; 3] = ["time_s", "torque_n_m", "speed_rpm"];
/// Faults beyond this many are only counted.
const MOST_FAULTS: usize = 20;
const RPM: f64 = std::f64::consts::PI / 30.0;

/// One row: s, N m, rad/s at the output.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DutyRow {
    pub line: usize,
    pub time: f64,
    pub torque: f64,
    pub speed: f64,
}

/// What is wrong with a line.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("line {line}: {message}")]
pub struct DutyFault {
    pub line: usize,
    pub message: String,
}

/// All that is wrong with a duty.
#[derive(Clone, Debug, PartialEq)]
pub struct DutyFaults {
    /// The first ones.
    pub faults: Vec<DutyFault>,
    pub more: usize,
}

impl DutyFaults {
    fn push(&mut self, line: usize, message: String) {
        if self.faults.len() < MOST_FAULTS {
            self.faults.push(DutyFault { line, message });
        } else {
            self.more += 1;
        }
    }
}

impl std::fmt::Display for DutyFaults {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        for fault in &self.faults {
            writeln!(f, "{fault}")?;
        }
        if self.more > 0 { writeln!(f, "and {} more", self.more) } else { Ok(()) }
    }
}

impl std::error::Error for DutyFaults {}

/// Reads a duty.
///
/// # Errors
/// All faults by line: columns, numbers that aren't, times that don't rise, fewer than two rows.
pub fn parse(text: &str) -> Result<Vec<DutyRow>, DutyFaults> {
    let mut faults = DutyFaults { faults: Vec::new(), more: 0 };
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut lines = text
        .lines()
        .zip(1..)
        .map(|(line, number)| (number, line.trim()))
        .filter(|(_, line)| !line.is_empty() && !line.starts_with('#'));
    let (number, columns) = lines.next().unwrap_or((1, ""));
    if !columns.split(',').map(str::trim).eq(COLUMNS) {
        faults.push(
            number,
            format!(
                "the columns are \"{columns}\"; expected \"{}\": time in seconds, torque at the output in N m, speed \
                 of the output in turns a minute",
                COLUMNS.join(",")
            ),
        );
        return Err(faults);
    }
    let rows: Vec<DutyRow> = lines.filter_map(|(number, line)| row(line, number, &mut faults)).collect();
    order(&rows, &mut faults);
    if rows.len() < 2 && faults.faults.is_empty() {
        faults
            .push(number, format!("{} rows follow; a duty has at least a beginning and an end", rows.len()));
    }
    if faults.faults.is_empty() { Ok(rows) } else { Err(faults) }
}

fn row(text: &str, line: usize, faults: &mut DutyFaults) -> Option<DutyRow> {
    let cells: Vec<&str> = text.split(',').map(str::trim).collect();
    if cells.len() != COLUMNS.len() {
        let message = format!("{} values; expected {}, as in \"12.5,3.2,40\"", cells.len(), COLUMNS.len());
        faults.push(line, message);
        return None;
    }
    let mut sound = true;
    let mut values = [0.0; COLUMNS.len()];
    for ((value, cell), column) in values.iter_mut().zip(&cells).zip(COLUMNS) {
        match cell.parse::<f64>() {
            // Beyond it nothing is meant: a slip.
            Ok(number) if number.abs() <= 1e9 => *value = number,
            _ => {
                sound = false;
                let found = if cell.is_empty() { "empty".into() } else { format!("\"{cell}\"") };
                faults.push(
                    line,
                    format!("{column} is {found}; expected a number without a unit, such as 12.5"),
                );
            }
        }
    }
    let [time, torque, speed] = values;
    sound.then_some(DutyRow { line, time, torque, speed: speed * RPM })
}

fn order(rows: &[DutyRow], faults: &mut DutyFaults) {
    for pair in rows.windows(2) {
        let [before, after] = pair else { continue };
        if after.time <= before.time {
            faults.push(
                after.line,
                format!(
                    "time {} s does not follow {} s of line {}: times must rise",
                    after.time, before.time, before.line
                ),
            );
        }
    }
}

/// Reads the file that the key names, from the design's folder; none if there is no key, or something is wrong with it.
pub fn read(entry: &Option<Entry<String>>, folder: &Path, problems: &mut Problems) -> Option<Arc<[DutyRow]>> {
    let entry = entry.as_ref()?;
    let place = entry.place().cloned();
    match text(&entry.value, folder) {
        Err(diagnostic) => problems.push(diagnostic.at_maybe(place).key(KEY)),
        Ok(text) => match parse(&text) {
            Ok(rows) => return Some(rows.into()),
            Err(faults) => {
                for fault in &faults.faults {
                    let message = format!("{}, {fault}", entry.value);
                    problems
                        .push(Diagnostic::error(Code::WrongDuty, message).at_maybe(place.clone()).key(KEY));
                }
                if faults.more > 0 {
                    let message = format!("{} has {} more faults like these", entry.value, faults.more);
                    problems.push(Diagnostic::error(Code::WrongDuty, message).at_maybe(place).key(KEY));
                }
            }
        },
    }
    None
}

/// The file's text: a file beside the design or in a `designs` folder, as for `from`.
#[expect(clippy::result_large_err, reason = "made once for a file that can't be read: nothing to save")]
fn text(name: &str, folder: &Path) -> Result<String, Diagnostic> {
    const EXAMPLE: &str = "duty = \"duty/weeding.csv\"";
    let refused = |code: Code, message: String| {
        Diagnostic::error(code, message)
            .found(format!("\"{name}\""))
            .expected("a file of comma-separated values, named from the design's folder")
            .example(EXAMPLE)
    };
    let path = folder.join(name);
    let found = canonical(&path)
        .map_err(|error| refused(Code::FileMissing, format!("{} cannot be read: {error}", path.display())))?;
    if Path::new(name).is_absolute() || !roots(folder).iter().any(|root| found.starts_with(root)) {
        return Err(refused(Code::FromRefused, "The duty leaves the design's folder".into()));
    }
    let mut bytes = Vec::new();
    File::open(&found).and_then(|file| file.take(LARGEST_FILE + 1).read_to_end(&mut bytes)).map_err(
        |error| refused(Code::FileUnreadable, format!("{} cannot be read: {error}", path.display())),
    )?;
    if bytes.len() as u64 > LARGEST_FILE {
        return Err(refused(Code::FileTooLarge, format!("{} is larger than any duty", path.display())));
    }
    String::from_utf8(bytes)
        .map_err(|_| refused(Code::FileNotText, format!("{} is not text", path.display())))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_in_internal_units() {
        let rows = parse("time_s,torque_n_m,speed_rpm\n# lift\n0, 4.5, 60\n2,0,0\n").expect("sound");
        assert_eq!(rows.len(), 2);
        assert_eq!((rows[0].line, rows[0].time, rows[0].torque), (3, 0.0, 4.5));
        assert!((rows[0].speed - 2.0 * std::f64::consts::PI).abs() < 1e-12);
    }

    #[test]
    fn all_faults_at_once_by_line() {
        let text = "time_s,torque_n_m,speed_rpm\n0,1,2\n1,NaN,2\n2,,2\n3,4 N m,2\n4,5\n3.5,1,1\n3.5,1,1\n";
        let faults = parse(text).expect_err("wrong");
        let lines: Vec<usize> = faults.faults.iter().map(|fault| fault.line).collect();
        assert_eq!(lines, [3, 4, 5, 6, 8], "{faults}");
    }

    #[test]
    fn other_columns_and_nothing_are_refused() {
        assert!(
            parse("t,torque,speed\n0,1,2\n1,1,2\n").expect_err("columns").faults[0]
                .message
                .contains("time_s")
        );
        assert!(parse("").is_err());
        assert!(parse("time_s,torque_n_m,speed_rpm\n0,1,2\n").is_err());
    }

    #[test]
    fn many_faults_are_counted() {
        let rows: String = (0..1000).map(|line| format!("{line},x,0\n")).collect();
        let faults = parse(&format!("time_s,torque_n_m,speed_rpm\n{rows}")).expect_err("wrong");
        assert_eq!((faults.faults.len(), faults.more), (20, 980));
    }
}
