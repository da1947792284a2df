//! A plot of one test: readings, the prediction with its band, the fit.

use super::bench::{Axis, Point as Reading, TestResult};
use crate::drawing::canvas::Canvas;
use crate::geometry::Point;

/// Sheet and frame \[mm\].
const SHEET: [f64; 2] = [150.0, 100.0];
const LEFT: f64 = 20.0;
const RIGHT: f64 = 145.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = 86.0;
/// Readings drawn; of more, evenly picked ones and every outlier.
pub const MOST_DRAWN: usize = 400;
const TICKS: f64 = 6.0;
const RADIUS: f64 = 0.7;
/// Air around the data.
const ROOM: f64 = 0.05;

/// The drawing as SVG.
pub fn svg(result: &TestResult) -> String {
    let mut canvas = Canvas::default();
    let title = result.kind.info().title;
    canvas.text("head", Point::new(LEFT, 6.0), title);
    canvas.text(
        "",
        Point::new(LEFT, 11.0),
        "circles: measured (filled: outlier)   black: predicted, dashed its band   red: fitted",
    );
    let xs = Scale::of(result.x, [LEFT, RIGHT], result.points.iter().map(|point| point.x));
    let values = result.points.iter().flat_map(|point| {
        let predicted = point.predicted.map_or([f64::NAN; 3], |all| all);
        [point.measured, point.fitted.unwrap_or(f64::NAN)].into_iter().chain(predicted)
    });
    let ys = Scale::of(result.y, [BOTTOM, TOP], values);
    frame(&mut canvas, &xs, &ys);
    for (series, name) in result.series.iter().enumerate() {
        let mut points: Vec<&Reading> = result.points.iter().filter(|point| point.series == series).collect();
        points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.line.cmp(&b.line)));
        let stride = points.len().div_ceil(MOST_DRAWN).max(1);
        let drawn: Vec<&Reading> = points
            .iter()
            .enumerate()
            .filter(|(index, point)| index % stride == 0 || !point.used || *index + 1 == points.len())
            .map(|(_, point)| *point)
            .collect();
        for (which, class) in [(0, "outline"), (1, "dashed"), (2, "dashed")] {
            let line = drawn.iter().filter_map(|point| Some((point.x, *point.predicted?.get(which)?)));
            curve(&mut canvas, class, line.map(|(x, y)| Point::new(xs.at(x), ys.at(y))).collect());
        }
        let fitted = drawn.iter().filter_map(|point| Some(Point::new(xs.at(point.x), ys.at(point.fitted?))));
        curve(&mut canvas, "action", fitted.collect());
        for point in &drawn {
            let class = if point.used { "point" } else { "contact" };
            canvas.circle(class, Point::new(xs.at(point.x), ys.at(point.measured)), RADIUS);
        }
        if let Some(last) = drawn.last().filter(|_| !name.is_empty()) {
            canvas.text("halo end", Point::new(xs.at(last.x) - 1.0, ys.at(last.measured) - 2.0), name);
        }
    }
    canvas.finish(SHEET[0], SHEET[1], title)
}

fn curve(canvas: &mut Canvas, class: &str, points: Vec<Point>) {
    if points.len() > 1 {
        canvas.lines(class, &points);
    }
}

fn frame(canvas: &mut Canvas, xs: &Scale, ys: &Scale) {
    canvas.rectangle("window", Point::new(LEFT, TOP), Point::new(RIGHT, BOTTOM));
    for (place, words) in xs.ticks() {
        canvas.lines("leader", &[Point::new(place, BOTTOM), Point::new(place, BOTTOM + 1.0)]);
        canvas.text("mid", Point::new(place, BOTTOM + 4.0), &words);
    }
    for (place, words) in ys.ticks() {
        canvas.lines("leader", &[Point::new(LEFT - 1.0, place), Point::new(LEFT, place)]);
        canvas.text("end", Point::new(LEFT - 1.5, place + 0.9), &words);
    }
    canvas.text("mid", Point::new(0.5 * (LEFT + RIGHT), BOTTOM + 9.0), &xs.title);
    canvas.text("", Point::new(2.0, TOP - 1.5), &ys.title);
}

/// From values to millimetres of the sheet.
struct Scale {
    factor: f64,
    range: [f64; 2],
    sheet: [f64; 2],
    title: String,
}

impl Scale {
    fn of(axis: Axis, sheet: [f64; 2], values: impl Iterator<Item = f64>) -> Scale {
        let mut range = [f64::INFINITY, f64::NEG_INFINITY];
        for value in values.filter(|value| value.is_finite()) {
            range = [range[0].min(value / axis.factor), range[1].max(value / axis.factor)];
        }
        if range[0] > range[1] {
            range = [0.0, 1.0];
        }
        let room = f64::max(ROOM * (range[1] - range[0]), 1e-9 + 1e-3 * range[1].abs());
        let title = if axis.unit.is_empty() {
            axis.name.to_string()
        } else {
            format!("{} [{}]", axis.name, axis.unit)
        };
        Scale { factor: axis.factor, range: [range[0] - room, range[1] + room], sheet, title }
    }

    fn at(&self, value: f64) -> f64 {
        self.place(value / self.factor)
    }

    fn place(&self, shown: f64) -> f64 {
        let share = (shown - self.range[0]) / (self.range[1] - self.range[0]);
        self.sheet[0] + share * (self.sheet[1] - self.sheet[0])
    }

    /// Round numbers with their places.
    fn ticks(&self) -> Vec<(f64, String)> {
        let rough = (self.range[1] - self.range[0]) / TICKS;
        let power = libm::pow(10.0, libm::floor(libm::log10(rough)));
        let step = [1.0, 2.0, 5.0, 10.0]
            .into_iter()
            .map(|of| of * power)
            .find(|step| *step >= rough)
            .unwrap_or(rough);
        let first = (self.range[0] / step).ceil();
        let last = (self.range[1] / step).floor();
        let digits = (-libm::floor(libm::log10(step))).clamp(0.0, 9.0) as usize;
        // Some six steps by their making; never more than a few dozen.
        let count = (last - first).clamp(0.0, 30.0) as usize;
        (0..=count)
            .map(|index| {
                let value = (first + index as f64) * step;
                let value = if value == 0.0 { 0.0 } else { value };
                (self.place(value), format!("{value:.digits$}"))
            })
            .collect()
    }
}
