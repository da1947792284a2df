//! The whole stage at its true size.

use super::layout::{Layout, Window, scale_text};
use super::{Drawn, number_text};
use crate::drawing::canvas::{Canvas, View};
use crate::geometry::Point;

/// Length of the bar that shows whether a print came out to scale.
const SCALE_BAR: f64 = 50.0;

pub fn draw(canvas: &mut Canvas, drawn: &Drawn, layout: &Layout) {
    let view = View { origin: Point::ORIGIN, place: layout.stage_centre, scale: layout.stage_scale };
    let heading = Point::new(layout.frame.low.x + 4.0, layout.frame.low.y + 7.0);
    canvas.text("head", heading, &format!("Stage, {}", scale_text(view.scale)));
    canvas.open("id=\"stage\"");
    bodies(canvas, drawn, view);
    circles(canvas, drawn, view);
    for (letter, window) in ["A", "B"].into_iter().zip(&layout.windows) {
        mark_window(canvas, letter, window, view);
    }
    centre_distance(canvas, drawn, view);
    planet_gap(canvas, drawn, view);
    canvas.close();
    scale_bar(canvas, drawn, view);
}

fn bodies(canvas: &mut Canvas, drawn: &Drawn, view: View) {
    let at = |centre| view.to_sheet(centre);
    canvas.outline("ring", "stage-ring", view, &[&drawn.ring_outside, &drawn.ring]);
    for (index, (planet, placed)) in drawn.planets.iter().zip(&drawn.position.planets).enumerate() {
        canvas.outline("gear", &format!("stage-planet-{index}"), view, &[planet]);
        canvas.circle("hole", at(placed.centre), 0.5 * drawn.planet_bore * view.scale);
    }
    canvas.outline("gear", "stage-sun", view, &[&drawn.sun]);
    canvas.circle("hole", at(Point::ORIGIN), 0.5 * drawn.sun_bore * view.scale);
}

/// Reference circles, the circle of the planets' axes, and a cross at each axis.
fn circles(canvas: &mut Canvas, drawn: &Drawn, view: View) {
    let stage = drawn.stage;
    let mut chain = |centre, diameter: f64| {
        canvas.circle("chain", view.to_sheet(centre), 0.5 * diameter * view.scale);
    };
    chain(Point::ORIGIN, stage.sun.reference_diameter);
    chain(Point::ORIGIN, stage.ring.reference_diameter);
    chain(Point::ORIGIN, 2.0 * stage.centre_distance);
    for planet in &drawn.position.planets {
        chain(planet.centre, stage.planet.reference_diameter);
    }
    for planet in &drawn.position.planets {
        cross(canvas, view.to_sheet(planet.centre), 0.5 * drawn.planet_bore * view.scale + 1.5);
    }
    cross(canvas, view.to_sheet(Point::ORIGIN), 0.5 * stage.sun.tip_diameter * view.scale + 1.5);
}

fn cross(canvas: &mut Canvas, at: Point, arm: f64) {
    for arm in [Point::new(arm, 0.0), Point::new(0.0, arm)] {
        canvas.lines("chain", &[at - arm, at + arm]);
    }
}

/// The detail's frame with its letter at the upper left corner.
fn mark_window(canvas: &mut Canvas, letter: &str, window: &Window, view: View) {
    let half = window.half_size();
    let upper_left = view.to_sheet(window.centre + Point::new(-half.x, half.y));
    let lower_right = view.to_sheet(window.centre + Point::new(half.x, -half.y));
    canvas.rectangle("window", upper_left, lower_right);
    canvas.text("head halo", upper_left + Point::new(0.8, 4.0), letter);
}

/// Under the ring, from the sun's axis to planet 0's.
fn centre_distance(canvas: &mut Canvas, drawn: &Drawn, view: View) {
    const BELOW: f64 = 8.0;
    let centre = view.to_sheet(Point::ORIGIN);
    let right = view.to_sheet(Point::new(drawn.stage.centre_distance, 0.0));
    let y = centre.y + 0.5 * drawn.outer_diameter * view.scale + BELOW;
    let [left, right] = [centre.x, right.x].map(|x| Point::new(x, y));
    let beyond = Point::new(0.0, 1.5);
    canvas.lines("thin", &[Point::new(left.x, centre.y), left + beyond]);
    canvas.lines("thin", &[Point::new(right.x, centre.y), right + beyond]);
    canvas.lines("thin", &[left, right]);
    canvas.arrow(left, Point::new(-1.0, 0.0));
    canvas.arrow(right, Point::new(1.0, 0.0));
    let text = number_text(drawn.stage.centre_distance);
    canvas.text("mid", (left + right) * 0.5 - Point::new(0.0, 0.9), &text);
    canvas.text("", right + Point::new(1.5, 0.9), "centre distance");
}

/// Between the two neighbours that come nearest, the first of equals.
fn planet_gap(canvas: &mut Canvas, drawn: &Drawn, view: View) {
    let centres: Vec<Point> = drawn.position.planets.iter().map(|planet| planet.centre).collect();
    let next = centres.iter().cycle().skip(1);
    // Equal but for rounding is equal: a nanometre's difference must not choose the place.
    let nanometres = |(a, b): &(&Point, &Point)| (a.distance(**b) * 1e6).round();
    let nearest = centres.iter().zip(next).min_by(|one, other| nanometres(one).total_cmp(&nanometres(other)));
    let Some((first, second)) = nearest else { return };
    let gap = first.distance(*second) - drawn.stage.planet.tip_diameter;
    let middle = (*first + *second) * 0.5;
    let along = (*second - *first).unit();
    for side in [1.0, -1.0] {
        const TAIL: f64 = 6.0;
        let tip = view.to_sheet(middle + along * (0.5 * gap * side));
        let outwards = view.to_sheet(middle + along * side) - view.to_sheet(middle);
        canvas.lines("thin", &[tip, tip + outwards.unit() * TAIL]);
        canvas.arrow(tip, -outwards);
    }
    // Two planets leave the direction open: upwards then.
    let outwards = if middle.norm() > 1e-6 { middle.unit() } else { Point::new(0.0, 1.0) };
    let end = view.to_sheet(outwards * (0.5 * drawn.outer_diameter + 3.0 / view.scale));
    canvas.lines("thin", &[view.to_sheet(middle), end]);
    let left = outwards.x < -1e-6;
    let nudge = Point::new(if left { -0.8 } else { 0.8 }, 0.0);
    canvas.text(if left { "end" } else { "" }, end + nudge, &format!("planet gap {}", number_text(gap)));
}

/// Ten millimetre ticks, and what to do with them.
fn scale_bar(canvas: &mut Canvas, drawn: &Drawn, view: View) {
    let below = 0.5 * drawn.outer_diameter * view.scale + 19.0;
    let start = view.place + Point::new(-0.5 * SCALE_BAR, below);
    canvas.lines("thin", &[start, start + Point::new(SCALE_BAR, 0.0)]);
    for tick in 0..=5 {
        let foot = start + Point::new(f64::from(tick) * 0.2 * SCALE_BAR, 0.0);
        let height = if tick % 5 == 0 { 2.0 } else { 1.2 };
        canvas.lines("thin", &[foot, foot - Point::new(0.0, height)]);
    }
    let words = format!("{SCALE_BAR:.0} mm on paper, if printed at 100 %");
    canvas.text("mid", start + Point::new(0.5 * SCALE_BAR, 3.6), &words);
}
