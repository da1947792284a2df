//! A point (or vector) of the plane, in millimetres.

use std::ops::{Add, Mul, Neg, Sub};

/// A point or vector of the plane \[mm\].
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Point {
    pub x: f64,
    pub y: f64,
}

impl Point {
    pub const ORIGIN: Point = Point { x: 0.0, y: 0.0 };

    pub const fn new(x: f64, y: f64) -> Point {
        Point { x, y }
    }

    /// The point at `radius` \[mm\] from the origin, `angle` \[rad\] from the x axis, counter-clockwise.
    pub fn polar(radius: f64, angle: f64) -> Point {
        Point::new(radius * libm::cos(angle), radius * libm::sin(angle))
    }

    /// Turned about the origin by `angle` \[rad\], counter-clockwise.
    pub fn rotated(self, angle: f64) -> Point {
        Rotation::by(angle).apply(self)
    }

    pub fn dot(self, other: Point) -> f64 {
        self.x * other.x + self.y * other.y
    }

    /// The z component of the vector product: positive when `other` lies counter-clockwise of `self`.
    pub fn cross(self, other: Point) -> f64 {
        self.x * other.y - self.y * other.x
    }

    /// Distance from the origin. A square root, not `hypot`: parts are far from overflow, and `sqrt` is exact
    /// to the last bit on every machine.
    pub fn norm(self) -> f64 {
        self.dot(self).sqrt()
    }

    /// Direction from the origin, in (-pi, pi] \[rad\].
    pub fn angle(self) -> f64 {
        libm::atan2(self.y, self.x)
    }

    /// A quarter turn counter-clockwise: the left normal of a direction.
    pub fn left_normal(self) -> Point {
        Point::new(-self.y, self.x)
    }

    /// The same direction with length one; the zero vector stays zero.
    pub fn unit(self) -> Point {
        let length = self.norm();
        if length > 0.0 { self * (1.0 / length) } else { self }
    }

    pub fn distance(self, other: Point) -> f64 {
        (self - other).norm()
    }

    /// The point a fraction `t` of the way to `other`.
    pub fn lerp(self, other: Point, t: f64) -> Point {
        self + (other - self) * t
    }

    /// Reflected in the x axis: (x, -y).
    pub fn mirrored(self) -> Point {
        Point::new(self.x, -self.y)
    }

    pub fn is_finite(self) -> bool {
        self.x.is_finite() && self.y.is_finite()
    }
}

impl Add for Point {
    type Output = Point;
    fn add(self, other: Point) -> Point {
        Point::new(self.x + other.x, self.y + other.y)
    }
}

impl Sub for Point {
    type Output = Point;
    fn sub(self, other: Point) -> Point {
        Point::new(self.x - other.x, self.y - other.y)
    }
}

impl Mul<f64> for Point {
    type Output = Point;
    fn mul(self, factor: f64) -> Point {
        Point::new(self.x * factor, self.y * factor)
    }
}

impl Neg for Point {
    type Output = Point;
    fn neg(self) -> Point {
        Point::new(-self.x, -self.y)
    }
}

/// A rotation about the origin with its sine and cosine computed once, for turning many points.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Rotation {
    sin: f64,
    cos: f64,
}

impl Rotation {
    pub(crate) fn by(angle: f64) -> Rotation {
        Rotation { sin: libm::sin(angle), cos: libm::cos(angle) }
    }

    pub(crate) fn apply(self, point: Point) -> Point {
        Point::new(self.cos * point.x - self.sin * point.y, self.sin * point.x + self.cos * point.y)
    }
}

/// An axis-parallel box.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    pub low: Point,
    pub high: Point,
}

impl Bounds {
    /// The box that holds nothing: growing it by a point gives that point.
    pub const EMPTY: Bounds = Bounds {
        low: Point::new(f64::INFINITY, f64::INFINITY),
        high: Point::new(f64::NEG_INFINITY, f64::NEG_INFINITY),
    };

    pub fn of(a: Point, b: Point) -> Bounds {
        Bounds::EMPTY.with(a).with(b)
    }

    #[must_use]
    pub fn with(self, point: Point) -> Bounds {
        Bounds {
            low: Point::new(self.low.x.min(point.x), self.low.y.min(point.y)),
            high: Point::new(self.high.x.max(point.x), self.high.y.max(point.y)),
        }
    }

    #[must_use]
    pub fn merged(self, other: Bounds) -> Bounds {
        self.with(other.low).with(other.high)
    }

    /// True for a box without points.
    pub fn is_empty(self) -> bool {
        self.low.x > self.high.x || self.low.y > self.high.y
    }

    /// Least distance between two boxes, 0 when they overlap.
    pub fn gap_to(self, other: Bounds) -> f64 {
        let dx = (other.low.x - self.high.x).max(self.low.x - other.high.x).max(0.0);
        let dy = (other.low.y - self.high.y).max(self.low.y - other.high.y).max(0.0);
        Point::new(dx, dy).norm()
    }
}
