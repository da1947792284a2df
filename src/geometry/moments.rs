//! Area, first and second moments of plane figures, in closed form.

use std::ops::{Add, Sub};

use super::point::{Point, Rotation};

/// Integrals over a plane figure about the origin.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Moments {
    /// Area \[mm2\].
    pub area: f64,
    /// Integral of x \[mm3\].
    pub x: f64,
    /// Integral of y \[mm3\].
    pub y: f64,
    /// Integral of x squared \[mm4\].
    pub xx: f64,
    /// Integral of y squared \[mm4\].
    pub yy: f64,
    /// Integral of x y \[mm4\].
    pub xy: f64,
}

impl Moments {
    /// The triangle origin, a, b (signed: positive counter-clockwise).
    pub(crate) fn of_triangle(a: Point, b: Point) -> Moments {
        let cross = a.cross(b);
        Moments {
            area: cross / 2.0,
            x: cross * (a.x + b.x) / 6.0,
            y: cross * (a.y + b.y) / 6.0,
            xx: cross * (a.x * a.x + a.x * b.x + b.x * b.x) / 12.0,
            yy: cross * (a.y * a.y + a.y * b.y + b.y * b.y) / 12.0,
            xy: cross * (a.x * (2.0 * a.y + b.y) + b.x * (a.y + 2.0 * b.y)) / 24.0,
        }
    }

    /// The circular sector about the origin from direction `u` to `v`, with signed `sweep`.
    pub(crate) fn of_sector(u: Point, v: Point, radius: f64, sweep: f64) -> Moments {
        let (a, b) = (u.unit(), v.unit());
        let (cube, fourth) = (radius.powi(3) / 3.0, radius.powi(4) / 4.0);
        let double_angle = (b.x * b.y - a.x * a.y) / 2.0; // (sin 2b - sin 2a) / 4
        Moments {
            area: radius * radius * sweep / 2.0,
            x: cube * (b.y - a.y),
            y: cube * (a.x - b.x),
            xx: fourth * (sweep / 2.0 + double_angle),
            yy: fourth * (sweep / 2.0 - double_angle),
            xy: fourth * (b.y * b.y - a.y * a.y) / 2.0,
        }
    }

    /// The moments after moving the figure by `by`.
    pub fn translated(self, by: Point) -> Moments {
        Moments {
            area: self.area,
            x: self.x + by.x * self.area,
            y: self.y + by.y * self.area,
            xx: self.xx + 2.0 * by.x * self.x + by.x * by.x * self.area,
            yy: self.yy + 2.0 * by.y * self.y + by.y * by.y * self.area,
            xy: self.xy + by.x * self.y + by.y * self.x + by.x * by.y * self.area,
        }
    }

    /// The moments after turning the figure about the origin by `angle` \[rad\].
    pub fn rotated(self, angle: f64) -> Moments {
        let first = Point::new(self.x, self.y).rotated(angle);
        let (mean, half) = ((self.xx + self.yy) / 2.0, Point::new((self.xx - self.yy) / 2.0, self.xy));
        let turned = Rotation::by(2.0 * angle).apply(half);
        Moments {
            area: self.area,
            x: first.x,
            y: first.y,
            xx: mean + turned.x,
            yy: mean - turned.x,
            xy: turned.y,
        }
    }

    pub fn scaled(self, factor: f64) -> Moments {
        Moments {
            area: self.area * factor,
            x: self.x * factor,
            y: self.y * factor,
            xx: self.xx * factor,
            yy: self.yy * factor,
            xy: self.xy * factor,
        }
    }

    /// Polar second moment about the origin \[mm4\].
    pub fn polar(self) -> f64 {
        self.xx + self.yy
    }

    /// Centroid; none for a figure without area.
    pub fn centroid(self) -> Option<Point> {
        (self.area != 0.0).then(|| Point::new(self.x / self.area, self.y / self.area))
    }
}

impl Add for Moments {
    type Output = Moments;
    fn add(self, other: Moments) -> Moments {
        Moments {
            area: self.area + other.area,
            x: self.x + other.x,
            y: self.y + other.y,
            xx: self.xx + other.xx,
            yy: self.yy + other.yy,
            xy: self.xy + other.xy,
        }
    }
}

impl Sub for Moments {
    type Output = Moments;
    fn sub(self, other: Moments) -> Moments {
        self + other.scaled(-1.0)
    }
}

impl std::iter::Sum for Moments {
    fn sum<I: Iterator<Item = Moments>>(parts: I) -> Moments {
        parts.fold(Moments::default(), Add::add)
    }
}
