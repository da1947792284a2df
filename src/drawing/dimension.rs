//! Dimensions after ISO 129-1, laid out in rows and columns outside the view: the short ones nearest, none across another.

use crate::geometry::Point;

use super::sheet::{Anchor, Letters, Sheet, breadth};

/// From one row to the next \[mm of paper\].
const PITCH: f64 = 6.2;
/// From the view to the first row.
const FIRST: f64 = 7.5;
/// Extension lines begin off the outline and end past the dimension line.
const OFF: f64 = 1.0;
const PAST: f64 = 1.5;
/// Spans below this have their arrows outside.
const NARROW: f64 = 9.0;
/// How far outside arrows reach.
const TAIL: f64 = 6.0;

/// Which side of the view a dimension stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Above,
    Below,
    Left,
    Right,
}

/// One dimension: the two points it measures between, on the sheet, and its words.
#[derive(Clone, Debug)]
pub struct Dimension {
    pub ends: [Point; 2],
    pub words: String,
}

/// Along and across the row: rows run along x, columns along y; `out` is the sign that leads away from the view.
impl Side {
    fn is_row(self) -> bool {
        matches!(self, Side::Above | Side::Below)
    }

    fn out(self) -> f64 {
        match self {
            Side::Above | Side::Left => -1.0,
            Side::Below | Side::Right => 1.0,
        }
    }

    fn along(self, point: Point) -> f64 {
        if self.is_row() { point.x } else { point.y }
    }

    fn across(self, point: Point) -> f64 {
        if self.is_row() { point.y } else { point.x }
    }

    fn point(self, along: f64, across: f64) -> Point {
        if self.is_row() { Point::new(along, across) } else { Point::new(across, along) }
    }
}

/// A dimension in its row.
struct Placed<'a> {
    dimension: &'a Dimension,
    low: f64,
    high: f64,
    row: usize,
    /// Words that don't fit between stand beyond the end with the greater coordinate.
    words_after: bool,
}

impl Placed<'_> {
    fn is_narrow(&self) -> bool {
        self.high - self.low < NARROW
    }

    /// Words that don't fit between the arrows stand beside them.
    fn beside(&self) -> bool {
        breadth(&self.dimension.words, Letters::Normal) + 2.0 > self.high - self.low
    }

    fn tail(&self) -> f64 {
        if self.is_narrow() { TAIL } else { 0.0 }
    }

    /// Where words beside the arrows stand.
    fn words(&self) -> [f64; 2] {
        let breadth = breadth(&self.dimension.words, Letters::Normal);
        let off = f64::max(self.tail() - breadth, 0.0) + 3.0;
        if self.words_after {
            [self.high + off, self.high + off + breadth]
        } else {
            [self.low - off - breadth, self.low - off]
        }
    }

    /// What it takes of its row, outside arrows and words included.
    fn taken(&self) -> [f64; 2] {
        let [low, high] = [self.low - self.tail(), self.high + self.tail()];
        if self.beside() { [low.min(self.words()[0]), high.max(self.words()[1])] } else { [low, high] }
    }
}

/// Draws dimensions on one side of a view whose edge is at `edge`; returns how far out the last row is.
pub fn draw(sheet: &mut Sheet, side: Side, edge: f64, dimensions: &[Dimension]) -> f64 {
    let mut sorted: Vec<&Dimension> = dimensions.iter().collect();
    let span = |dimension: &Dimension| {
        let [a, b] = dimension.ends.map(|end| side.along(end));
        (a - b).abs()
    };
    sorted.sort_by(|a, b| span(a).total_cmp(&span(b)));
    let ends: Vec<f64> =
        dimensions.iter().flat_map(|dimension| dimension.ends).map(|end| side.along(end)).collect();
    let mut rows: Vec<Vec<[f64; 2]>> = Vec::new();
    let mut last = edge;
    for dimension in sorted {
        let [a, b] = dimension.ends.map(|end| side.along(end));
        let mut placed = Placed { dimension, low: a.min(b), high: a.max(b), row: 0, words_after: false };
        // Off the other dimensions' extension lines, if either end is.
        let clear = |placed: &Placed| {
            let [low, high] = placed.words();
            ends.iter().all(|end| *end < low - 0.5 || *end > high + 0.5)
        };
        if placed.beside() && !clear(&placed) {
            placed.words_after = true;
            placed.words_after = clear(&placed);
        }
        let [low, high] = placed.taken();
        // Beyond every row in which something lies across its extension lines or beside it.
        let blocks =
            |row: &Vec<[f64; 2]>| row.iter().any(|taken| taken[0] < high + 1.5 && low - 1.5 < taken[1]);
        placed.row = rows.iter().rposition(blocks).map_or(0, |row| row + 1);
        if rows.len() <= placed.row {
            rows.push(Vec::new());
        }
        if let Some(row) = rows.get_mut(placed.row) {
            row.push([low, high]);
        }
        let at = edge + side.out() * (FIRST + PITCH * placed.row as f64);
        draw_one(sheet, side, at, &placed);
        last = if side.out() > 0.0 { last.max(at) } else { last.min(at) };
    }
    last
}

fn draw_one(sheet: &mut Sheet, side: Side, at: f64, placed: &Placed) {
    let out = side.out();
    let extension = |end: &Point| {
        let along = side.along(*end);
        [side.point(along, side.across(*end) + out * OFF), side.point(along, at + out * PAST)]
    };
    let extensions: Vec<[Point; 2]> = placed.dimension.ends.iter().map(extension).collect();
    sheet.canvas.strokes("narrow", &extensions);
    let (low, high) = (side.point(placed.low, at), side.point(placed.high, at));
    let forward = (high - low).unit();
    let (line, arrows) = if placed.is_narrow() {
        ([low - forward * TAIL, high + forward * TAIL], [forward, forward * -1.0])
    } else {
        ([low, high], [forward * -1.0, forward])
    };
    sheet.canvas.strokes("narrow", &[line]);
    sheet.canvas.arrow(low, arrows[0]);
    sheet.canvas.arrow(high, arrows[1]);
    let middle = if placed.beside() {
        let [from, to] = placed.words();
        let under = if placed.words_after { [high, side.point(to, at)] } else { [side.point(from, at), low] };
        sheet.canvas.strokes("narrow", &[under]);
        (from + to) / 2.0
    } else {
        (placed.low + placed.high) / 2.0
    };
    // Words stand over the line, read from below or from the right.
    if side.is_row() {
        sheet.text(Point::new(middle, at - 0.9), &placed.dimension.words, Letters::Normal, Anchor::Middle);
    } else {
        sheet.text_upright(Point::new(at - 0.9, middle), &placed.dimension.words);
    }
}
