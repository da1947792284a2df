//! From where one looks: obliquely from the front (output up) or, turned over, from the back.

use super::Shown;

/// The side that is up.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Front,
    Back,
}

/// Towards the eye, with the side up.
const TOWARDS: [f64; 3] = [0.56, -0.70, 0.62];
/// Share of the picture that stays free at each edge.
const MARGIN: f64 = 0.03;

/// A parallel projection: right, down and depth of a point.
#[derive(Clone, Copy, Debug)]
pub struct Eye {
    right: [f64; 3],
    up: [f64; 3],
    towards: [f64; 3],
    scale: f64,
    /// Of the picture's middle, along right and up.
    middle: [f64; 2],
    half: [f64; 2],
}

fn dot(a: [f64; 3], b: [f64; 3]) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

fn unit(a: [f64; 3]) -> [f64; 3] {
    let length = dot(a, a).sqrt();
    a.map(|value| value / length)
}

impl Eye {
    /// So that all bodies fill the picture. None without a point.
    pub fn around(bodies: &[Shown], side: Side, size: [usize; 2]) -> Option<Eye> {
        let upright = if side == Side::Front { 1.0 } else { -1.0 };
        let towards = unit([TOWARDS[0], TOWARDS[1], upright * TOWARDS[2]]);
        let right = unit(cross([0.0, 0.0, upright], towards));
        let up = cross(towards, right);
        let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
        for body in bodies {
            let put = Put::of(body);
            for position in &body.thing.surface.positions {
                let point = put.point(*position);
                let seen = [dot(right, point), dot(up, point)];
                low = [low[0].min(seen[0]), low[1].min(seen[1])];
                high = [high[0].max(seen[0]), high[1].max(seen[1])];
            }
        }
        if low[0] > high[0] {
            return None;
        }
        let half = size.map(|points| points as f64 / 2.0);
        let room = |axis: usize| 2.0 * half[axis] * (1.0 - 2.0 * MARGIN) / (high[axis] - low[axis]).max(1e-6);
        let middle = [0.5 * (low[0] + high[0]), 0.5 * (low[1] + high[1])];
        Some(Eye { right, up, towards, scale: room(0).min(room(1)), middle, half })
    }

    /// Points to the right, points down, millimetres towards the eye.
    pub fn see(&self, point: [f64; 3]) -> [f64; 3] {
        [
            self.half[0] + self.scale * (dot(self.right, point) - self.middle[0]),
            self.half[1] - self.scale * (dot(self.up, point) - self.middle[1]),
            dot(self.towards, point),
        ]
    }

    /// A direction as seen: to the right, up, towards the eye.
    pub fn turned(&self, direction: [f64; 3]) -> [f64; 3] {
        [dot(self.right, direction), dot(self.up, direction), dot(self.towards, direction)]
    }
}

/// Where a body's own points lie in the actuator.
#[derive(Clone, Copy, Debug)]
pub struct Put {
    sine: f64,
    cosine: f64,
    shift: [f64; 3],
}

impl Put {
    pub fn of(body: &Shown) -> Put {
        let place = body.place;
        Put {
            sine: libm::sin(place.turn),
            cosine: libm::cos(place.turn),
            shift: [
                place.distance * libm::cos(place.angle),
                place.distance * libm::sin(place.angle),
                body.lift,
            ],
        }
    }

    pub fn direction(&self, own: [f32; 3]) -> [f64; 3] {
        let [x, y, z] = own.map(f64::from);
        [self.cosine * x - self.sine * y, self.sine * x + self.cosine * y, z]
    }

    pub fn point(&self, own: [f32; 3]) -> [f64; 3] {
        let turned = self.direction(own);
        std::array::from_fn(|axis| turned[axis] + self.shift[axis])
    }
}
