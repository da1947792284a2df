//! The first line of a log: its columns with their units; and a row under them.

use csv::StringRecord;

use super::cells::{LARGEST, Line, Separator};
use super::columns::{COLUMN_TABLE, Column, NOTE, TEST, TESTS, TestKind};
use super::log::{EXAMPLE, Faults, Row};
use crate::diagnostic::{Code, Diagnostic, Place};
use crate::quantity::{self, Kind, QuantityFault};

/// What each column of the file is.
pub struct Heads {
    /// Column and, for a value, factor and offset to the internal unit.
    columns: Vec<Head>,
    /// None of them is wrong, and one says the test.
    is_sound: bool,
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
    /// None where the line is no head at all.
    pub fn of(record: &StringRecord, line: &Line, faults: &mut Faults) -> Option<Heads> {
        let names: Vec<String> = record.iter().map(|cell| parted(cell).0.to_lowercase()).collect();
        if !names.iter().any(|name| is_known(name)) {
            faults.push(
                wrong(format!("Line {} names no column that there is", line.number), line.whole())
                    .expected(format!("the columns of the log: {}", known().join(", ")))
                    .example(EXAMPLE),
            );
            return None;
        }
        let told = faults.told;
        let mut columns = Vec::with_capacity(record.len());
        for (index, (cell, name)) in record.iter().zip(&names).enumerate() {
            let before = names.get(..index).unwrap_or_default();
            if before.contains(name) {
                faults.push(wrong(format!("The column {name} is there twice"), line.cell(index)).key(name));
                columns.push(Head::Wrong);
                continue;
            }
            columns.push(match head(name, parted(cell).1) {
                Ok(head) => head,
                Err(diagnostic) => {
                    faults.push(diagnostic.at(line.cell(index)).key(name));
                    Head::Wrong
                }
            });
        }
        if !names.iter().any(|name| name == TEST) {
            faults.push(
                wrong("No column says which test a row belongs to".into(), line.whole())
                    .key(TEST)
                    .expected(format!("a column `{TEST}` with one of {}", words()))
                    .example(EXAMPLE),
            );
        }
        Some(Heads { columns, is_sound: faults.told == told })
    }

    /// Where a column's cell stands in a line.
    pub fn place(&self, column: Column, line: &Line) -> Place {
        let index = self
            .columns
            .iter()
            .position(|head| matches!(head, Head::Value { column: one, .. } if *one == column));
        index.map_or_else(|| line.whole(), |index| line.cell(index))
    }

    /// None, with what is wrong, where it isn't a reading. Under wrong heads only what can be judged is.
    pub fn row(&self, record: &StringRecord, line: &Line, faults: &mut Faults) -> Option<Row> {
        if record.len() != self.columns.len() {
            faults.push(self.wrong_count(record.len(), line));
            return None;
        }
        let test = self.test(record, line, faults);
        let mut row = test.map(|test| Row::new(line.number, test));
        let mut is_sound = true;
        for (index, (head, cell)) in self.columns.iter().zip(record).enumerate() {
            let Head::Value { column, factor, offset } = *head else { continue };
            if cell.is_empty() {
                continue;
            }
            match line.separator.number(cell).map(|number| number * factor + offset) {
                Some(value) if value.abs() <= LARGEST => row = row.map(|row| row.with(column, value)),
                _ => {
                    is_sound = false;
                    faults.push(wrong_number(column, cell, line.number).at(line.cell(index)));
                }
            }
        }
        // A cell that is wrong isn't one that lacks.
        row.filter(|row| is_sound && self.is_sound && complete(row, line, faults))
    }

    fn test(&self, record: &StringRecord, line: &Line, faults: &mut Faults) -> Option<TestKind> {
        let index = self.columns.iter().position(|head| matches!(head, Head::Test))?;
        let word = record.get(index)?;
        let test = TestKind::named(&word.to_lowercase());
        if test.is_none() {
            let near = TESTS.iter().find(|test| strsim::damerau_levenshtein(test.word, word) <= 2);
            let fault = wrong(format!("Line {}: there is no test {word:?}", line.number), line.cell(index))
                .key(TEST)
                .expected(format!("one of {}", words()));
            faults.push(match near {
                Some(near) => fault.hint(format!("did you mean {}?", near.word)),
                None => fault,
            });
        }
        test
    }

    fn wrong_count(&self, found: usize, line: &Line) -> Diagnostic {
        let wanted = self.columns.len();
        let cells = if found == 1 { "cell" } else { "cells" };
        let message = format!("Line {} has {found} {cells}; the first line has {wanted}", line.number);
        let fault = wrong(message, line.whole());
        let (own, text) = (line.separator, line.text());
        if let Some(other) = own.rival(text) {
            return fault.hint(format!(
                "this line is parted by {}, the first by {}: one for all",
                other.as_str(),
                own.as_str()
            ));
        }
        if found > wanted && own == Separator::Comma {
            return fault.hint(
                "a decimal comma? Write 4.5; or part all cells by semicolons, then 4,5 is a number, too",
            );
        }
        fault.hint("a cell with nothing in it keeps its separator")
    }
}

fn wrong_number(column: Column, cell: &str, number: usize) -> Diagnostic {
    let name = column.info().name;
    let fault = Diagnostic::error(Code::WrongLog, format!("Line {number}: {name} is {cell:?}"))
        .key(name)
        .expected("a number without a unit, such as 12.5; or nothing");
    if cell.contains(',') {
        return fault.hint("a comma is a decimal mark only where semicolons or tabs part the cells; thousands aren't parted at all");
    }
    fault
}

fn words() -> String {
    TESTS.map(|test| test.word).join(", ")
}

/// All names of columns.
fn known() -> Vec<&'static str> {
    [TEST, NOTE].into_iter().chain(COLUMN_TABLE.iter().map(|info| info.name)).collect()
}

fn is_known(name: &str) -> bool {
    known().contains(&name)
}

/// Whether all is there that its test needs.
fn complete(row: &Row, line: &Line, faults: &mut Faults) -> bool {
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
    faults.push(wrong(message, line.whole()));
    false
}

fn wrong(message: String, place: Place) -> Diagnostic {
    Diagnostic::error(Code::WrongLog, message).at(place)
}

/// "torque [N m]" or "torque (N m)" as name and unit.
fn parted(cell: &str) -> (&str, Option<&str>) {
    match cell.split_once(['[', '(']) {
        Some((name, rest)) => (name.trim(), Some(rest.trim_end().trim_end_matches([']', ')']).trim())),
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
        let names = known();
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
