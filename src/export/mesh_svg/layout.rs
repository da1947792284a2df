//! The sheet: which size, which scales, and where each view goes.

use crate::geometry::{Bounds, Point};

/// Scales after ISO 5455, largest first, paper over part.
const SCALES: [f64; 13] = [50.0, 20.0, 10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005];
/// Landscape sheets, ISO 216.
const SHEETS: [(&str, f64, f64); 5] = [
    ("A4", 297.0, 210.0),
    ("A3", 420.0, 297.0),
    ("A2", 594.0, 420.0),
    ("A1", 841.0, 594.0),
    ("A0", 1189.0, 841.0),
];
/// Frame to the sheet's edge: left for binding, elsewhere (ISO 5457).
const BINDING: f64 = 20.0;
const EDGE: f64 = 10.0;
/// A module in a detail is at least so long: smaller teeth can't be told from their circles.
const LEAST_MODULE: f64 = 4.0;
pub const TITLE_WIDTH: f64 = 180.0;
pub const TITLE_HEIGHT: f64 = 34.0;
/// Beside the ring, for the words at the planet gap; its heading above, its dimension and scale bar below.
const STAGE_SIDE: f64 = 14.0;
const STAGE_ABOVE: f64 = 16.0;
const STAGE_BELOW: f64 = 25.0;
/// Around a detail's window: heading and one row of labels above, labels and three lines below.
pub const WINDOW_ABOVE: f64 = 21.0;
pub const WINDOW_BELOW: f64 = 26.0;
const GAP: f64 = 6.0;

/// A rectangle on the sheet, y down.
#[derive(Clone, Copy, Debug)]
pub struct Area {
    pub low: Point,
    pub high: Point,
}

impl Area {
    pub fn middle(self) -> Point {
        (self.low + self.high) * 0.5
    }
}

/// A detail's window on the paper, what it shows, and how large.
#[derive(Clone, Copy, Debug)]
pub struct Window {
    pub paper: Area,
    pub centre: Point,
    pub scale: f64,
}

impl Window {
    /// Half the size of what it shows, in the model.
    pub fn half_size(&self) -> Point {
        (self.paper.high - self.paper.low) * (0.5 / self.scale)
    }
}

#[derive(Clone, Debug)]
pub struct Layout {
    pub sheet: &'static str,
    pub width: f64,
    pub height: f64,
    pub frame: Area,
    pub stage_centre: Point,
    pub stage_scale: f64,
    pub windows: [Window; 2],
    pub title: Area,
    /// Under the stage.
    pub table: Area,
}

impl Layout {
    /// `outer`: diameter of the stage; `shown`: what each detail must show, in the model.
    pub fn of(outer: f64, normal_module: f64, shown: [Bounds; 2]) -> Layout {
        let layouts = SHEETS.map(|sheet| Layout::on(sheet, outer, shown));
        let [.., largest] = &layouts;
        let readable = |layout: &&Layout| {
            let legible = |window: &Window| window.scale * normal_module >= LEAST_MODULE;
            layout.stage_scale == 1.0 && layout.windows.iter().all(legible)
        };
        layouts.iter().find(readable).unwrap_or(largest).clone()
    }

    fn on((sheet, width, height): (&'static str, f64, f64), outer: f64, shown: [Bounds; 2]) -> Layout {
        let frame = Area { low: Point::new(BINDING, EDGE), high: Point::new(width - EDGE, height - EDGE) };
        let title = Area { low: frame.high - Point::new(TITLE_WIDTH, TITLE_HEIGHT), high: frame.high };
        let views_height = title.low.y - frame.low.y;
        // The details keep about half of the width.
        let room = f64::min(
            views_height - STAGE_ABOVE - STAGE_BELOW,
            (frame.high.x - frame.low.x) / 2.2 - 2.0 * STAGE_SIDE,
        );
        let reductions = || SCALES.into_iter().filter(|scale| *scale <= 1.0);
        let stage_scale = largest(reductions(), |scale| outer * scale <= room);
        let column = outer * stage_scale + 2.0 * STAGE_SIDE;
        let stage_centre =
            Point::new(frame.low.x + 0.5 * column, frame.low.y + STAGE_ABOVE + 0.5 * outer * stage_scale);
        let table_top = stage_centre.y + 0.5 * outer * stage_scale + STAGE_BELOW;
        let table = Area {
            low: Point::new(frame.low.x + 3.0, table_top),
            high: Point::new(frame.low.x + column, title.low.y),
        };
        let left = frame.low.x + column;
        let window_width = 0.5 * (frame.high.x - left - 2.0 * GAP) - 0.5 * GAP;
        let windows = [0.0, 1.0].map(|index| {
            let x = left + GAP + index * (window_width + GAP);
            Area {
                low: Point::new(x, frame.low.y + WINDOW_ABOVE),
                high: Point::new(x + window_width, title.low.y - WINDOW_BELOW),
            }
        });
        let [first, second] = windows;
        let [first_shown, second_shown] = shown;
        Layout {
            sheet,
            width,
            height,
            frame,
            stage_centre,
            stage_scale,
            windows: [window(first, first_shown), window(second, second_shown)],
            title,
            table,
        }
    }
}

fn window(paper: Area, shown: Bounds) -> Window {
    let size = paper.high - paper.low;
    let wanted = shown.high - shown.low;
    let scale = largest(SCALES.into_iter(), |scale| wanted.x * scale <= size.x && wanted.y * scale <= size.y);
    Window { paper, centre: (shown.low + shown.high) * 0.5, scale }
}

/// The first that fits; the smallest if none does.
fn largest(mut scales: impl Iterator<Item = f64>, fits: impl Fn(f64) -> bool) -> f64 {
    const SMALLEST: f64 = SCALES[SCALES.len() - 1];
    scales.find(|scale| fits(*scale)).unwrap_or(SMALLEST)
}

/// As drawings write it: "5:1", "1:2".
pub fn scale_text(scale: f64) -> String {
    if scale >= 1.0 { format!("{scale:.0}:1") } else { format!("1:{:.0}", 1.0 / scale) }
}
