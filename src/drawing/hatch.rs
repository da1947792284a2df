//! Hatching after ISO 128-3: narrow lines at 45 degrees; neighbours differ in direction, then in spacing.

use crate::geometry::Point;

use super::cut::Cut;

/// Direction and spacing on paper.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Style {
    /// Up to the right; else down to the right.
    pub rising: bool,
    /// \[mm\]
    pub spacing: f64,
    /// Where the first line runs, so that neighbours of one style don't line up \[mm\].
    pub offset: f64,
}

/// In the order of preference.
const STYLES: [Style; 6] = [
    Style { rising: true, spacing: 2.4, offset: 0.0 },
    Style { rising: false, spacing: 2.4, offset: 0.0 },
    Style { rising: true, spacing: 1.5, offset: 0.0 },
    Style { rising: false, spacing: 1.5, offset: 0.0 },
    Style { rising: true, spacing: 3.4, offset: 0.7 },
    Style { rising: false, spacing: 3.4, offset: 0.7 },
];

/// Bodies nearer than this count as neighbours \[mm of the model\].
const NEAR: f64 = 0.6;

/// A style a body, first come first served: the first that no neighbour has, or of these the least used one.
pub fn styles(bodies: &[Vec<&Cut>]) -> Vec<Style> {
    let mut chosen: Vec<usize> = Vec::with_capacity(bodies.len());
    for (index, body) in bodies.iter().enumerate() {
        let mut taken = [0_usize; STYLES.len()];
        for (other, style) in bodies.iter().zip(&chosen) {
            let near = body.iter().zip(other).any(|(one, two)| touch(one, two));
            if near && let Some(count) = taken.get_mut(*style) {
                *count += 1;
            }
        }
        let (best, _) = taken
            .iter()
            .enumerate()
            .min_by_key(|(style, count)| (**count, *style))
            .unwrap_or((index % 2, &0));
        chosen.push(best);
    }
    chosen.iter().filter_map(|style| STYLES.get(*style).copied()).collect()
}

/// Whether any two of their pieces' boxes come near each other.
fn touch(one: &Cut, two: &Cut) -> bool {
    let boxes = |cut: &Cut| -> Vec<[f64; 4]> {
        cut.pieces()
            .map(|[a, b, c, d]| {
                [a.x.min(d.x) - NEAR / 2.0, b.x.max(c.x) + NEAR / 2.0, a.y - NEAR / 2.0, c.y + NEAR / 2.0]
            })
            .collect()
    };
    let theirs = boxes(two);
    boxes(one).iter().any(|a| theirs.iter().any(|b| a[0] < b[1] && b[0] < a[1] && a[2] < b[3] && b[2] < a[3]))
}

/// Hatching lines in a convex corner list on the sheet.
pub fn lines(corners: &[Point], style: Style) -> Vec<[Point; 2]> {
    // Sheet y runs down: a rising line has x + y constant.
    let across = |point: Point| if style.rising { point.x + point.y } else { point.x - point.y };
    let step = style.spacing * std::f64::consts::SQRT_2;
    let (low, high) = corners
        .iter()
        .map(|corner| across(*corner))
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)));
    if !(low.is_finite() && high.is_finite()) {
        return Vec::new();
    }
    let first = ((low - style.offset) / step).ceil() as i64;
    let last = ((high - style.offset) / step).floor() as i64;
    let mut found = Vec::new();
    for index in first..=last {
        let value = style.offset + step * index as f64;
        let mut hits: Vec<Point> = Vec::new();
        for (a, b) in corners.iter().zip(corners.iter().cycle().skip(1)) {
            let (from, to) = (across(*a), across(*b));
            if (from <= value) != (to <= value) {
                hits.push(a.lerp(*b, (value - from) / (to - from)));
            }
        }
        if let [a, b] = hits[..]
            && a.distance(b) > 0.05
        {
            found.push([a, b]);
        }
    }
    found
}
