//! Curves over two axes as SVG, with the same figures as a table below.

use maud::{Markup, html};

use super::text::table;

pub struct Line {
    pub name: &'static str,
    pub points: Vec<[f64; 2]>,
}

pub struct Plot {
    pub title: &'static str,
    pub across: &'static str,
    pub up: &'static str,
    pub lines: Vec<Line>,
}

const WIDTH: f64 = 640.0;
const HEIGHT: f64 = 330.0;
const LEFT: f64 = 62.0;
const RIGHT: f64 = 24.0;
const TOP: f64 = 14.0;
const BOTTOM: f64 = 56.0;
/// Rows of the table at most.
const ROWS: usize = 30;
/// Lines differ in dash as well as in colour.
const DASHES: [&str; 4] = ["", "9 4", "3 3", "12 3 2 3"];

impl Plot {
    pub fn draw(&self) -> Markup {
        let all = || self.lines.iter().flat_map(|line| &line.points);
        if all().next().is_none() {
            return html! {};
        }
        let (x, y) = (Axis::of(all().map(|point| point[0])), Axis::of(all().map(|point| point[1])));
        let right = |value: f64| LEFT + (WIDTH - LEFT - RIGHT) * x.share(value);
        let down = |value: f64| HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * y.share(value);
        html! {
            figure.plot {
                figcaption { (self.title) }
                svg viewBox=(format!("0 0 {WIDTH} {HEIGHT}")) role="img" aria-label={ (self.title) "; figures in the table below" } {
                    @for value in x.ticks() {
                        path.grid d=(format!("M{0:.1} {TOP} V{1:.1}", right(value), HEIGHT - BOTTOM)) {}
                        text x=(format!("{:.1}", right(value))) y=(HEIGHT - BOTTOM + 22.0) text-anchor="middle" { (x.label(value)) }
                    }
                    @for value in y.ticks() {
                        path.grid d=(format!("M{LEFT} {0:.1} H{1:.1}", down(value), WIDTH - RIGHT)) {}
                        text x=(LEFT - 6.0) y=(format!("{:.1}", down(value) + 4.0)) text-anchor="end" { (y.label(value)) }
                    }
                    text x=((LEFT + WIDTH - RIGHT) / 2.0) y=(HEIGHT - 8.0) text-anchor="middle" { (self.across) }
                    text transform=(format!("translate(16 {:.1}) rotate(-90)", (TOP + HEIGHT - BOTTOM) / 2.0)) text-anchor="middle" { (self.up) }
                    @for (index, line) in self.lines.iter().enumerate() {
                        @let points: Vec<String> = line.points.iter().map(|[a, b]| format!("{:.1},{:.1}", right(*a), down(*b))).collect();
                        polyline class={ "line series-" (index % 4 + 1) } points=(points.join(" ")) stroke-dasharray=(DASHES[index % 4]) {}
                    }
                }
                ul.key {
                    @for (index, line) in self.lines.iter().enumerate() {
                        li {
                            svg viewBox="0 0 36 8" aria-hidden="true" { path class={ "line series-" (index % 4 + 1) } d="M0 4H36" stroke-dasharray=(DASHES[index % 4]) {} }
                            (line.name)
                        }
                    }
                }
                details { summary { "Figures" } (self.figures(&x, &y)) }
            }
        }
    }

    /// Each line by itself: they needn't share their places.
    fn figures(&self, x: &Axis, y: &Axis) -> Markup {
        let rows: Vec<Vec<String>> = self
            .lines
            .iter()
            .flat_map(|line| {
                let every = line.points.len().div_ceil(ROWS).max(1);
                line.points
                    .iter()
                    .step_by(every)
                    .map(|[a, b]| vec![line.name.to_string(), x.figure(*a), y.figure(*b)])
            })
            .collect();
        table(&["curve", self.across, self.up], &rows, 1)
    }
}

/// From a round number to a round number, zero included.
struct Axis {
    low: f64,
    high: f64,
    step: f64,
}

impl Axis {
    fn of(values: impl Iterator<Item = f64>) -> Axis {
        let (low, high) =
            values.fold((0.0_f64, 0.0_f64), |(low, high), value| (low.min(value), high.max(value)));
        let step = round_step((high - low) / 6.0);
        Axis { low: (low / step).floor() * step, high: (high / step).ceil().max(1.0) * step, step }
    }

    fn share(&self, value: f64) -> f64 {
        (value - self.low) / (self.high - self.low)
    }

    fn ticks(&self) -> Vec<f64> {
        let count = ((self.high - self.low) / self.step).round() as usize;
        (0..=count).map(|index| self.low + self.step * index as f64).collect()
    }

    fn decimals(&self) -> usize {
        // Of a step of 1, 2 or 5 times a power of ten, 0.001 at least.
        [1.0, 0.1, 0.01].iter().position(|unit| self.step >= 0.999 * unit).unwrap_or(3)
    }

    fn label(&self, value: f64) -> String {
        format!("{value:.*}", self.decimals())
    }

    fn figure(&self, value: f64) -> String {
        format!("{value:.*}", self.decimals() + 1)
    }
}

/// The next of 1, 2, 5 times a power of ten; 1 for nothing.
fn round_step(least: f64) -> f64 {
    if !(least.is_finite() && least > 0.0) {
        return 1.0;
    }
    let mut power = 1e-3;
    while power * 10.0 <= least && power < 1e12 {
        power *= 10.0;
    }
    [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|times| times * power)
        .find(|step| *step >= least)
        .unwrap_or(10.0 * power)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn axes_are_round() {
        let axis = Axis::of([3.0, 47.0].into_iter());
        assert_eq!((axis.low, axis.high, axis.step), (0.0, 50.0, 10.0));
        assert_eq!(axis.ticks(), [0.0, 10.0, 20.0, 30.0, 40.0, 50.0]);
        let cold = Axis::of([-10.0, 4.0].into_iter());
        assert_eq!((cold.low, cold.high, cold.step), (-10.0, 5.0, 5.0));
        // All nothing: still an axis.
        let flat = Axis::of([0.0].into_iter());
        assert!(flat.high > flat.low);
    }
}
