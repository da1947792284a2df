//! Numbers one can read on a print: seven strokes, engraved into a face that points up.

use crate::geometry::{Point, Region, ShapeError};

/// A stroke is two lines wide: the slot between them stays open though prints grow.
const STROKE_IN_LINES: f64 = 2.0;
/// Room inside a digit, in strokes: an island of three lines keeps to the floor.
const ROOM: f64 = 1.6;
/// Layers a digit is deep.
pub const DEPTH_IN_LAYERS: f64 = 3.0;

/// Strokes of 0 to 9: top, upper right, lower right, bottom, lower left, upper left, middle (the usual display).
const STROKES: [[bool; 7]; 10] = [
    [true, true, true, true, true, true, false],
    [false, true, true, false, false, false, false],
    [true, true, false, true, true, false, true],
    [true, true, true, true, false, false, true],
    [false, true, true, false, false, true, true],
    [true, false, true, true, false, true, true],
    [true, false, true, true, true, true, true],
    [true, true, true, false, false, false, false],
    [true, true, true, true, true, true, true],
    [true, true, true, true, false, true, true],
];

/// A digit's sizes at a line width.
#[derive(Clone, Copy, Debug)]
pub struct Digit {
    pub stroke: f64,
    pub width: f64,
    pub height: f64,
}

impl Digit {
    pub fn of(line_width: f64) -> Digit {
        let stroke = STROKE_IN_LINES * line_width;
        Digit { stroke, width: (2.0 + ROOM) * stroke, height: (3.0 + 2.0 * ROOM) * stroke }
    }

    /// The strokes of a number of one digit, upright along y, about `centre`. What has more digits has no strokes.
    pub fn region(&self, number: u32, centre: Point) -> Result<Region, ShapeError> {
        let Some(strokes) = STROKES.get(number as usize) else { return Ok(Region::empty()) };
        let (w, h, s) = (self.width / 2.0, self.height / 2.0, self.stroke);
        let bars = [
            [-w, h - s, w, h],
            [w - s, -s / 2.0, w, h],
            [w - s, -h, w, s / 2.0],
            [-w, -h, w, -h + s],
            [-w, -h, -w + s, s / 2.0],
            [-w, -s / 2.0, -w + s, h],
            [-w, -s / 2.0, w, s / 2.0],
        ];
        let drawn: Vec<Region> = bars
            .iter()
            .zip(strokes)
            .filter(|(_, drawn)| **drawn)
            .map(|([left, low, right, high], _)| {
                Region::rectangle(centre + Point::new(*left, *low), centre + Point::new(*right, *high))
            })
            .collect();
        Region::union_of(&drawn)
    }
}
