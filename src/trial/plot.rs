//! A plot of one test: readings, the prediction with its band, the fit. Colours are those of the page it stands in, light or dark.

use super::bench::{Axis, Point as Reading, TestResult};
use crate::drawing::canvas::Canvas;
use crate::geometry::Point;

/// Sheet and frame \[mm\].
const SHEET: [f64; 2] = [150.0, 104.0];
const LEFT: f64 = 20.0;
const RIGHT: f64 = 145.0;
const TOP: f64 = 18.0;
const BOTTOM: f64 = 90.0;
/// Readings drawn; of more, evenly picked ones and every outlier.
pub const MOST_DRAWN: usize = 400;
const TICKS: f64 = 6.0;
const RADIUS: f64 = 0.8;
/// Air around the data.
const ROOM: f64 = 0.05;

/// A file of its own has no page's colours: those behind the commas.
const STYLE: &str = "\
text{font-family:sans-serif;font-size:3px;fill:var(--ink,#1d2428)}.head{font-size:3.8px;font-weight:bold}
.mid{text-anchor:middle}.end{text-anchor:end}
.halo{paint-order:stroke;stroke:var(--sheet,#fff);stroke-width:1px;stroke-linejoin:round}
svg>rect:first-of-type{fill:var(--sheet,#fff)}
.window{fill:none;stroke:var(--soft,#4d585e);stroke-width:.25px}.grid{fill:none;stroke:var(--rule,#cfd3d0);stroke-width:.15px}
.bands{opacity:.14}.band{fill:var(--series-1,#0b5a66);stroke:none}
.predicted{fill:none;stroke:var(--series-1,#0b5a66);stroke-width:.5px;stroke-dasharray:2.4 1}
.fitted{fill:none;stroke:var(--series-2,#a3481d);stroke-width:.5px}
.measured{fill:var(--sheet,#fff);stroke:var(--ink,#1d2428);stroke-width:.25px}
.outlier{fill:none;stroke:var(--fails,#a3201d);stroke-width:.5px}
";

/// The drawing as SVG.
pub fn svg(result: &TestResult) -> String {
    let mut canvas = Canvas::default();
    let title = result.kind.info().title;
    canvas.text("head", Point::new(LEFT, 6.0), title);
    legend(&mut canvas, result);
    let xs = Scale::of(result.x, [LEFT, RIGHT], result.points.iter().map(|point| point.x));
    let values = result.points.iter().flat_map(|point| {
        let predicted = point.predicted.map_or([f64::NAN; 3], |all| all);
        [point.measured, point.fitted.unwrap_or(f64::NAN)].into_iter().chain(predicted)
    });
    let ys = Scale::of(result.y, [BOTTOM, TOP], values);
    frame(&mut canvas, &xs, &ys);
    let drawn: Vec<Vec<&Reading>> = (0..result.series.len()).map(|series| picked(result, series)).collect();
    // Faded as one: where bands lie over each other they aren't darker.
    canvas.open("class=\"bands\"");
    for points in &drawn {
        band(&mut canvas, points, &xs, &ys);
    }
    canvas.close();
    for points in &drawn {
        lines(&mut canvas, points, &xs, &ys);
    }
    // Readings over all lines, so that none is hidden.
    for point in drawn.iter().flatten() {
        mark(&mut canvas, point, Point::new(xs.at(point.x), ys.at(point.measured)));
    }
    for (series, name) in result.series.iter().enumerate().filter(|(_, name)| !name.is_empty()) {
        label(&mut canvas, &drawn, series, name, (&xs, &ys));
    }
    canvas.finish_styled(SHEET[0], SHEET[1], title, STYLE)
}

/// What is drawn of a series, by x.
fn picked(result: &TestResult, series: usize) -> Vec<&Reading> {
    let mut points: Vec<&Reading> = result.points.iter().filter(|point| point.series == series).collect();
    points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.line.cmp(&b.line)));
    let (stride, last) = (points.len().div_ceil(MOST_DRAWN).max(1), points.len());
    points
        .into_iter()
        .enumerate()
        .filter(|(index, point)| index % stride == 0 || !point.used || index + 1 == last)
        .map(|(_, point)| point)
        .collect()
}

/// The prediction or an end of its band, across the whole plot where all readings are at one place.
fn predicted(points: &[&Reading], which: usize, xs: &Scale, ys: &Scale) -> Vec<Point> {
    let there = points.iter().filter_map(|point| Some((point.x, *point.predicted?.get(which)?)));
    let line: Vec<Point> = there.map(|(x, y)| Point::new(xs.at(x), ys.at(y))).collect();
    match (line.first(), line.last()) {
        (Some(first), Some(last)) if (last.x - first.x).abs() < RADIUS => {
            vec![Point::new(LEFT, first.y), Point::new(RIGHT, last.y)]
        }
        _ => line,
    }
}

fn band(canvas: &mut Canvas, points: &[&Reading], xs: &Scale, ys: &Scale) {
    let (low, high) = (predicted(points, 1, xs, ys), predicted(points, 2, xs, ys));
    let around: Vec<Point> = low.iter().chain(high.iter().rev()).copied().collect();
    curve(canvas, "band", &around);
}

/// Prediction and fit.
fn lines(canvas: &mut Canvas, points: &[&Reading], xs: &Scale, ys: &Scale) {
    curve(canvas, "predicted", &predicted(points, 0, xs, ys));
    let fitted = points.iter().filter_map(|point| Some(Point::new(xs.at(point.x), ys.at(point.fitted?))));
    curve(canvas, "fitted", &fitted.collect::<Vec<Point>>());
}

/// A series' name, on the side where the others aren't.
fn label(
    canvas: &mut Canvas,
    drawn: &[Vec<&Reading>],
    series: usize,
    name: &str,
    (xs, ys): (&Scale, &Scale),
) {
    let Some(points) = drawn.get(series) else { return };
    let Some(at) = points.get(points.len() * 2 / 5) else { return };
    let others = drawn.iter().enumerate().filter(|(other, _)| *other != series);
    let nearest = others
        .flat_map(|(_, points)| points)
        .min_by(|a, b| (a.x - at.x).abs().total_cmp(&(b.x - at.x).abs()));
    let is_under = nearest.is_some_and(|other| other.measured > at.measured);
    let (class, place) = if is_under { ("halo", [2.0, 4.5]) } else { ("halo end", [-2.0, -2.5]) };
    canvas.text(class, Point::new(xs.at(at.x) + place[0], ys.at(at.measured) + place[1]), name);
}

/// A ring; an outlier a cross.
fn mark(canvas: &mut Canvas, point: &Reading, at: Point) {
    if point.used {
        canvas.circle("measured", at, RADIUS);
        return;
    }
    let arm = 1.4 * RADIUS;
    for way in [1.0, -1.0] {
        let along = Point::new(arm, way * arm);
        canvas.lines("outlier", &[at - along, at + along]);
    }
}

/// Only what the plot has.
fn legend(canvas: &mut Canvas, result: &TestResult) {
    let has_prediction = result.points.iter().any(|point| point.predicted.is_some());
    let has_fit = result.points.iter().any(|point| point.fitted.is_some());
    let has_outliers = result.outliers().next().is_some();
    let mut left = LEFT;
    let mut entry = |canvas: &mut Canvas, words: &str, width: f64, draw: &dyn Fn(&mut Canvas, Point)| {
        let at = Point::new(left, 11.0);
        draw(canvas, at);
        canvas.text("", Point::new(left + 8.0, 12.0), words);
        left += 8.0 + width;
    };
    let across = |at: Point| [at, at + Point::new(6.0, 0.0)];
    let reading = |used: bool| Reading {
        line: 0,
        x: 0.0,
        measured: 0.0,
        predicted: None,
        fitted: None,
        used,
        series: 0,
    };
    entry(canvas, "measured", 16.0, &|canvas, at| mark(canvas, &reading(true), at + Point::new(3.0, 0.0)));
    if has_outliers {
        entry(canvas, "outlier, not in the fit", 33.0, &|canvas, at| {
            mark(canvas, &reading(false), at + Point::new(3.0, 0.0));
        });
    }
    if has_fit {
        entry(canvas, "fitted", 12.0, &|canvas, at| canvas.lines("fitted", &across(at)));
    }
    if has_prediction {
        entry(canvas, "predicted, with its band", 0.0, &|canvas, at| {
            let [from, to] = across(at);
            canvas.open("class=\"bands\"");
            canvas.rectangle("band", from - Point::new(0.0, 1.5), to + Point::new(0.0, 1.5));
            canvas.close();
            canvas.lines("predicted", &[from, to]);
        });
    }
}

fn curve(canvas: &mut Canvas, class: &str, points: &[Point]) {
    if points.len() > 1 {
        canvas.lines(class, points);
    }
}

fn frame(canvas: &mut Canvas, xs: &Scale, ys: &Scale) {
    for (place, words) in xs.ticks() {
        canvas.lines("grid", &[Point::new(place, TOP), Point::new(place, BOTTOM)]);
        canvas.text("mid", Point::new(place, BOTTOM + 4.0), &words);
    }
    for (place, words) in ys.ticks() {
        canvas.lines("grid", &[Point::new(LEFT, place), Point::new(RIGHT, place)]);
        canvas.text("end", Point::new(LEFT - 1.5, place + 1.0), &words);
    }
    canvas.rectangle("window", Point::new(LEFT, TOP), Point::new(RIGHT, BOTTOM));
    canvas.text("mid", Point::new(0.5 * (LEFT + RIGHT), BOTTOM + 9.5), &xs.title);
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
