//! Item numbers in circles to the left and right of a view, evenly spaced, with leaders that don't cross.

use crate::geometry::Point;

use super::sheet::{Anchor, Letters, Sheet};

/// Of a balloon \[mm\].
const RADIUS: f64 = 4.0;
/// A balloon takes so much of its column.
const PITCH: f64 = 9.0;

/// An item and the place on it that its leader ends at.
#[derive(Clone, Debug)]
pub struct Balloon {
    pub item: usize,
    pub at: Point,
}

/// Draws a column of balloons whose middles stand at `x` between two heights, but not on a line at one of the heights `avoid`.
pub fn draw(sheet: &mut Sheet, balloons: &[Balloon], x: f64, [top, bottom]: [f64; 2], avoid: &[f64]) {
    let slots = slots(balloons.len(), [top, bottom], avoid);
    let mut order: Vec<&Balloon> = balloons.iter().collect();
    order.sort_by(|a, b| a.at.y.total_cmp(&b.at.y).then(a.item.cmp(&b.item)));
    uncross(&mut order, &slots, x);
    for (balloon, y) in order.into_iter().zip(slots) {
        let middle = Point::new(x, y);
        let toward = (balloon.at - middle).unit();
        sheet.canvas.strokes("narrow", &[[middle + toward * RADIUS, balloon.at]]);
        sheet.canvas.circle("dot", balloon.at, 0.6);
        sheet.canvas.circle("balloon", middle, RADIUS);
        sheet.canvas.open("class=\"item\"");
        sheet.text(middle + Point::new(0.0, 1.2), &balloon.item.to_string(), Letters::Normal, Anchor::Middle);
        sheet.canvas.close();
    }
}

/// Heights of the balloons: spread evenly over the column, moved off the lines to avoid while there is room.
fn slots(count: usize, [top, bottom]: [f64; 2], avoid: &[f64]) -> Vec<f64> {
    let step = ((bottom - top) / count.max(1) as f64).max(PITCH);
    let mut found: Vec<f64> = (0..count).map(|index| top + step * (index as f64 + 0.5)).collect();
    let mut least = f64::NEG_INFINITY;
    for (index, slot) in found.iter_mut().enumerate() {
        let free = |y: f64| avoid.iter().all(|line| (line - y).abs() > RADIUS + 0.5);
        let most = top + step * (index as f64 + 1.4);
        let start = slot.max(least);
        let tried = (0..40).map(|tenth| start + 0.5 * f64::from(tenth)).find(|y| *y <= most && free(*y));
        *slot = tried.unwrap_or(start);
        least = *slot + PITCH;
    }
    found
}

/// Swaps neighbours until no leader crosses another: each swap of a crossing pair shortens the sum of the leaders.
fn uncross(order: &mut [&Balloon], slots: &[f64], x: f64) {
    let limit = order.len() * order.len() * 4;
    for _ in 0..limit {
        let crossing = pairs(order.len()).find(|&(i, j)| {
            let leader = |index: usize| -> Option<[Point; 2]> {
                Some([Point::new(x, *slots.get(index)?), order.get(index)?.at])
            };
            matches!((leader(i), leader(j)), (Some(a), Some(b)) if cross(a, b))
        });
        match crossing {
            Some((i, j)) => order.swap(i, j),
            None => break,
        }
    }
}

fn pairs(count: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..count).flat_map(move |i| (i + 1..count).map(move |j| (i, j)))
}

fn cross([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}
