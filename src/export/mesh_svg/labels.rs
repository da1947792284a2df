//! Labels in a row outside a window, each with a leader to its circle, none over another.

use super::layout::{Area, Window};
use crate::drawing::canvas::Canvas;
use crate::geometry::Point;

/// Two short lines of text, and the point on the paper they belong to.
pub struct Label {
    pub anchor: Point,
    pub lines: [String; 2],
}

/// Width of a label: "reference" or "d 123.456" in letters of 2.5 mm.
const LABEL_WIDTH: f64 = 14.0;
/// Room between the window and the nearer line of text.
const LEADER: f64 = 2.0;

/// A point on each of the circles about `centre`, at one height near the window's lower (upper) edge. `towards`: the
/// side of the centre, along x, on which the window lies.
pub fn anchors(centre: Point, radii: &[f64], window: &Window, towards: f64, top: bool) -> Vec<Point> {
    // Of the window's half height: clear of the mesh in its middle, and of the edge.
    const HEIGHT: f64 = 0.9;
    // A circle smaller than the window is met at this angle at most.
    const STEEPEST_SINE: f64 = 0.8;
    let up = if top { 1.0 } else { -1.0 };
    let wanted = window.centre.y + up * HEIGHT * window.half_size().y - centre.y;
    let on_circle = |radius: &f64| {
        let sine = (wanted / radius).clamp(-STEEPEST_SINE, STEEPEST_SINE);
        let cosine = towards * (1.0 - sine * sine).sqrt();
        centre + Point::new(cosine, sine) * *radius
    };
    radii.iter().map(on_circle).collect()
}

/// Draws the labels above (below) the paper's window.
pub fn row(canvas: &mut Canvas, mut labels: Vec<Label>, paper: Area, top: bool) {
    labels.sort_by(|a, b| a.anchor.x.total_cmp(&b.anchor.x));
    let wanted: Vec<f64> = labels.iter().map(|label| label.anchor.x).collect();
    let ends = [paper.low.x + 0.5 * LABEL_WIDTH, paper.high.x - 0.5 * LABEL_WIDTH];
    let places = spread(&wanted, ends);
    let (edge, lines) = if top {
        (paper.low.y, [paper.low.y - LEADER - 4.1, paper.low.y - LEADER - 1.0])
    } else {
        (paper.high.y, [paper.high.y + LEADER + 2.4, paper.high.y + LEADER + 5.5])
    };
    let leader_end = if top { edge - LEADER } else { edge + LEADER };
    for (label, x) in labels.iter().zip(places) {
        canvas.lines("leader", &[label.anchor, Point::new(x, edge), Point::new(x, leader_end)]);
        canvas.circle("arrow", label.anchor, 0.35);
        for (line, y) in label.lines.iter().zip(lines) {
            canvas.text("mid", Point::new(x, y), line);
        }
    }
}

/// Places at least a label's width apart and between the ends, in order, near to where they are wanted.
fn spread(wanted: &[f64], [first, last]: [f64; 2]) -> Vec<f64> {
    let gaps = wanted.len().saturating_sub(1) as f64;
    let width = if gaps > 0.0 { f64::min(LABEL_WIDTH, (last - first).max(0.0) / gaps) } else { 0.0 };
    let mut places = Vec::with_capacity(wanted.len());
    let mut least = first;
    for place in wanted {
        let place = f64::max(*place, least);
        places.push(place);
        least = place + width;
    }
    let mut most = last;
    for place in places.iter_mut().rev() {
        *place = f64::min(*place, most);
        most = *place - width;
    }
    places
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn labels_keep_their_order_and_distance() {
        let places = spread(&[10.0, 11.0, 12.0, 95.0, 99.0], [5.0, 100.0]);
        assert_eq!(places, [10.0, 24.0, 38.0, 86.0, 100.0]);
        assert_eq!(spread(&[50.0], [0.0, 40.0]), [40.0]);
    }
}
