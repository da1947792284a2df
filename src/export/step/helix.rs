//! Turning about the z axis as a polynomial spline: Hermite pieces, cubic for a small turn, else quintic.
//!
//! No polynomial turns exactly. A piece that takes value and first derivative (and second) at both its ends is off by at
//! most radius * step^4 / 384 (radius * step^6 / 46 080): the remainder of Hermite interpolation, (step / 2)^n / n!. The
//! steps are chosen for that to be below [`TOLERANCE`].

use super::spline::Knots;
use crate::geometry::Point;

/// Farthest that a turning point may be off the true helix \[mm\]: a hundredth of what readers allow.
const TOLERANCE: f64 = 1e-7;

/// A turn with steady rise, as control points of a spline.
pub(super) struct Helix {
    pub knots: Knots,
    pub controls: Vec<Control>,
}

/// What a control point does to a point at the start: turned and stretched as by a complex number, and raised.
#[derive(Clone, Copy, Debug)]
pub(super) struct Control {
    along: f64,
    across: f64,
    /// Share of the whole rise.
    pub rise: f64,
}

impl Control {
    pub(super) fn apply(self, point: Point) -> Point {
        point * self.along + point.left_normal() * self.across
    }
}

impl Helix {
    /// A turn by `angle` \[rad\] of points no farther than `radius` \[mm\] from the axis.
    pub(super) fn new(angle: f64, radius: f64) -> Helix {
        let squared = angle * angle;
        if radius * squared * squared / 384.0 < TOLERANCE {
            return Helix::pieces(angle, 1, 3);
        }
        let least = angle.abs() * libm::pow(radius / (46_080.0 * TOLERANCE), 1.0 / 6.0);
        Helix::pieces(angle, least.ceil().max(1.0) as usize, 5)
    }

    /// Pieces of odd degree, each smoothly joined to the next: derivatives agree up to the half of the degree.
    fn pieces(angle: f64, count: usize, degree: usize) -> Helix {
        let step = angle / count as f64;
        let mut controls = Vec::with_capacity(3 * (count + 1));
        for index in 0..=count {
            // The spline's blossom with all arguments but two at this knot, those a step away or none.
            let offsets: &[(f64, f64)] = match index {
                0 => &[(0.0, 0.0), (0.0, 1.0), (1.0, 1.0)],
                last if last == count => &[(-1.0, -1.0), (-1.0, 0.0), (0.0, 0.0)],
                _ => &[(-1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)],
            };
            let (sin, cos) = (libm::sin(step * index as f64), libm::cos(step * index as f64));
            // A cubic has no room for the second derivative.
            for &(one, other) in offsets.iter().filter(|(one, other)| degree > 3 || one * other == 0.0) {
                let n = degree as f64;
                let turn = (one + other) * step / n;
                let bend = one * other * step * step / (n * (n - 1.0));
                controls.push(Control {
                    along: cos * (1.0 - bend) - sin * turn,
                    across: sin * (1.0 - bend) + cos * turn,
                    rise: (index as f64 + (one + other) / n) / count as f64,
                });
            }
        }
        let knots = (0..=count).map(|index| index as f64 / count as f64).collect();
        Helix { knots: Knots::clamped(degree, knots, 3), controls }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The spline at `u` by de Boor's algorithm, here with affine maps of a point in place of numbers.
    fn at(helix: &Helix, u: f64, start: Point) -> (Point, f64) {
        let knots: Vec<f64> = helix
            .knots
            .values
            .iter()
            .zip(&helix.knots.multiplicities)
            .flat_map(|(value, count)| vec![*value; *count])
            .collect();
        let degree = helix.knots.degree;
        let last = helix.controls.len() - 1;
        let span = (degree..=last).rev().find(|&k| knots[k] <= u).expect("within the knots");
        let mut points: Vec<(Point, f64)> = (span - degree..=span)
            .map(|i| (helix.controls[i].apply(start), helix.controls[i].rise))
            .collect();
        for level in 1..=degree {
            for j in (level..=degree).rev() {
                let i = span - degree + j;
                let t = (u - knots[i]) / (knots[i + degree + 1 - level] - knots[i]);
                let (a, b) = (points[j - 1], points[j]);
                points[j] = (a.0.lerp(b.0, t), a.1 + (b.1 - a.1) * t);
            }
        }
        points[degree]
    }

    #[test]
    fn the_spline_turns_within_its_tolerance() {
        // A chamfer's step, a ring's twist, a sun's, more than a turn; negative for a left hand.
        for (angle, radius) in [(5e-4, 50.0), (0.11, 55.0), (-0.82, 8.0), (7.5, 20.0)] {
            let helix = Helix::new(angle, radius);
            let mut most: f64 = 0.0;
            for step in 0..=1000 {
                let u = f64::from(step) / 1000.0;
                let (found, rise) = at(&helix, u, Point::new(radius, 0.0));
                assert!((rise - u).abs() < 1e-12, "rises evenly");
                most = most.max(found.distance(Point::polar(radius, angle * u)));
            }
            assert!(most <= TOLERANCE, "off by {most:.1e} at {angle} rad");
        }
        // The bound isn't idle: half the pieces would be off by more.
        let coarse = Helix::pieces(7.5, Helix::new(7.5, 20.0).controls.len() / 6, 5);
        let (found, _) = at(&coarse, 0.5 / (coarse.controls.len() / 3 - 1) as f64, Point::new(20.0, 0.0));
        let angle = 7.5 * 0.5 / (coarse.controls.len() / 3 - 1) as f64;
        assert!(found.distance(Point::polar(20.0, angle)) > TOLERANCE);
    }
}
