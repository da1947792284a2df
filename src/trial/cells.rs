//! Where the cells of a log's line stand, what parts them, and the numbers in them.

use std::ops::Range;
use std::sync::Arc;

use crate::diagnostic::{Place, SourceFile};

/// Nothing that is measured at a joint is this large in internal units: a slip.
pub const LARGEST: f64 = 1e9;

/// What parts the cells of a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Separator {
    Comma,
    Semicolon,
    Tab,
}

impl Separator {
    const ALL: [Separator; 3] = [Separator::Comma, Separator::Semicolon, Separator::Tab];

    /// That which the first line has most of: a head has no decimal marks.
    pub fn of(text: &str) -> Separator {
        let head = text.lines().find(|line| !line.trim().is_empty() && !line.starts_with('#')).unwrap_or("");
        let mut most = Separator::Comma;
        for one in Separator::ALL {
            if one.count(head) > most.count(head) {
                most = one;
            }
        }
        most
    }

    pub fn byte(self) -> u8 {
        match self {
            Separator::Comma => b',',
            Separator::Semicolon => b';',
            Separator::Tab => b'\t',
        }
    }

    pub fn as_str(self) -> &'static str {
        match self {
            Separator::Comma => "commas",
            Separator::Semicolon => "semicolons",
            Separator::Tab => "tabs",
        }
    }

    pub fn count(self, line: &str) -> usize {
        line.bytes().filter(|byte| *byte == self.byte()).count()
    }

    /// Another one that a line has more of.
    pub fn rival(self, line: &str) -> Option<Separator> {
        Separator::ALL.into_iter().find(|other| *other != self && other.count(line) > self.count(line))
    }

    /// A number in a cell; none for what isn't one, or isn't finite. Where commas don't part cells they are decimal marks.
    pub fn number(self, cell: &str) -> Option<f64> {
        let has_mark = self != Separator::Comma && !cell.contains('.') && cell.matches(',').count() == 1;
        let number = if has_mark { cell.replace(',', ".").parse::<f64>() } else { cell.parse::<f64>() };
        number.ok().filter(|number| number.is_finite())
    }
}

/// One line of a log.
#[derive(Clone, Copy, Debug)]
pub struct Line<'a> {
    pub file: &'a Arc<SourceFile>,
    /// First byte.
    pub start: usize,
    /// From 1.
    pub number: usize,
    pub separator: Separator,
}

impl Line<'_> {
    /// To its end.
    pub fn text(&self) -> &str {
        let rest = self.file.text.get(self.start..).unwrap_or("");
        rest.split(['\n', '\r']).next().unwrap_or("")
    }

    pub fn whole(&self) -> Place {
        Place::new(self.file, self.start..self.start + self.text().len())
    }

    /// A cell by its number, the first 0; the whole line where it has none or nothing stands in it.
    pub fn cell(&self, index: usize) -> Place {
        match cells(self.text(), self.separator).get(index).filter(|cell| !cell.is_empty()) {
            Some(cell) => Place::new(self.file, self.start + cell.start..self.start + cell.end),
            None => self.whole(),
        }
    }
}

/// Each cell of a line without the blanks around it. Separators between quotes part nothing.
fn cells(line: &str, separator: Separator) -> Vec<Range<usize>> {
    let mut cells = Vec::new();
    let (mut begin, mut quoted) = (0, false);
    let ends = line.bytes().enumerate().map(|(at, byte)| (at, Some(byte))).chain([(line.len(), None)]);
    for (at, byte) in ends {
        match byte {
            // As the reader: a quote opens at the cell's very begin only.
            Some(b'"') if quoted || at == begin => quoted = !quoted,
            Some(byte) if byte != separator.byte() || quoted => {}
            _ => {
                let cell = line.get(begin..at).unwrap_or("");
                let blank = cell.len() - cell.trim_start().len();
                cells.push(begin + blank..begin + blank + cell.trim().len());
                begin = at + 1;
            }
        }
    }
    cells
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cells_are_where_they_stand() {
        let line = "torque, 4 ,\"a, b\",,ß;1";
        let found: Vec<&str> =
            cells(line, Separator::Comma).into_iter().map(|cell| line.get(cell).unwrap_or("?")).collect();
        assert_eq!(found, ["torque", "4", "\"a, b\"", "", "ß;1"]);
    }

    #[test]
    fn decimal_commas_only_where_commas_part_nothing() {
        assert_eq!(Separator::Semicolon.number("4,5"), Some(4.5));
        assert_eq!(Separator::Tab.number("-1,25e-3"), Some(-0.00125));
        for wrong in ["1,234.5", "1,2,3", "NaN", "inf", "9 A", ""] {
            assert_eq!(Separator::Semicolon.number(wrong), None, "{wrong}");
        }
        assert_eq!(Separator::Comma.number("4,5"), None);
        assert_eq!(Separator::of("# a, b, c\ntest; current [A]; force [N]\n"), Separator::Semicolon);
    }
}
