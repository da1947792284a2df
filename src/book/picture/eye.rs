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
        // First as it is in millimetres; the rows run downwards.
        let plain = Eye { right, up, towards, scale: 1.0, middle: [0.0; 2], half: [0.0; 2] };
        let (mut low, mut high) = ([f32::INFINITY; 2], [f32::NEG_INFINITY; 2]);
        for body in bodies {
            let see = plain.on(body);
            for position in &body.thing.surface.positions {
                let seen = see.point(*position);
                low = [low[0].min(seen[0]), low[1].min(seen[1])];
                high = [high[0].max(seen[0]), high[1].max(seen[1])];
            }
        }
        if low[0] > high[0] {
            return None;
        }
        let half = size.map(|points| points as f64 / 2.0);
        let room = |axis: usize| {
            2.0 * half[axis] * (1.0 - 2.0 * MARGIN) / f64::from(high[axis] - low[axis]).max(1e-6)
        };
        let middle = |axis: usize| 0.5 * (f64::from(low[axis]) + f64::from(high[axis]));
        Some(Eye { scale: room(0).min(room(1)), middle: [middle(0), -middle(1)], half, ..plain })
    }

    /// Points to the right, points down, millimetres towards the eye.
    fn see(&self, point: [f64; 3]) -> [f64; 3] {
        [
            self.half[0] + self.scale * (dot(self.right, point) - self.middle[0]),
            self.half[1] - self.scale * (dot(self.up, point) - self.middle[1]),
            dot(self.towards, point),
        ]
    }

    /// How the points of one body are seen.
    pub fn on(&self, body: &Shown) -> Sight {
        let place = body.place;
        let (sine, cosine) = (libm::sin(place.turn), libm::cos(place.turn));
        let shift =
            [place.distance * libm::cos(place.angle), place.distance * libm::sin(place.angle), body.lift];
        let own_axes = [[cosine, sine, 0.0], [-sine, cosine, 0.0], [0.0, 0.0, 1.0]];
        let origin = self.see(shift);
        let axes = own_axes.map(|axis| {
            let end = self.see(std::array::from_fn(|along| shift[along] + axis[along]));
            std::array::from_fn(|along| (end[along] - origin[along]) as f32)
        });
        let directions = own_axes
            .map(|axis| [self.right, self.up, self.towards].map(|direction| dot(direction, axis) as f32));
        Sight { origin: origin.map(|value| value as f32), axes, directions }
    }
}

/// From a body's own points to those of the picture.
#[derive(Clone, Copy, Debug)]
pub struct Sight {
    origin: [f32; 3],
    /// Where a millimetre along each of its axes leads.
    axes: [[f32; 3]; 3],
    directions: [[f32; 3]; 3],
}

impl Sight {
    /// To the right, down, towards the eye.
    pub fn point(&self, own: [f32; 3]) -> [f32; 3] {
        let moved = combined(&self.axes, own);
        std::array::from_fn(|along| self.origin[along] + moved[along])
    }

    /// To the right, up, towards the eye.
    pub fn direction(&self, own: [f32; 3]) -> [f32; 3] {
        combined(&self.directions, own)
    }
}

fn combined(axes: &[[f32; 3]; 3], shares: [f32; 3]) -> [f32; 3] {
    std::array::from_fn(|along| {
        shares[0] * axes[0][along] + shares[1] * axes[1][along] + shares[2] * axes[2][along]
    })
}
