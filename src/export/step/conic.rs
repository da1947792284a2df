//! Where two tapered walls meet in a conic: the control point and weight of its rational quadratic form, which is exact.
//!
//! The end tangents follow from the walls' gradients and meet in the control point; the weight puts the curve through its
//! point at half height: w = b / (2 sqrt(a c)) for a point with the barycentric coordinates a, b, c (Farin, Curves and
//! Surfaces for CAGD; from memory).

use crate::geometry::{Corner, Curve, Point, Segment, ShapeError, ShapeErrorKind, Vertex, norm};

/// A curve that rises less than this above its chord is taken for straight \[mm\].
const STRAIGHT: f64 = 1e-7;

/// Between two ends of weight one.
pub(super) struct Conic {
    pub control: Vertex,
    pub weight: f64,
}

/// The conic from `start`, at the bottom, to `end`; none where it is as good as straight.
///
/// # Errors
/// [`ShapeErrorKind::TaperCorner`] where the walls don't meet in a conic.
pub(super) fn conic(corner: &Corner, [start, end]: [Vertex; 2]) -> Result<Option<Conic>, ShapeError> {
    let height = end[2] - start[2];
    let middle = corner.at(0.5)?;
    let to_middle = minus([middle.x, middle.y, start[2] + height / 2.0], start);
    let chord = minus(end, start);
    if norm(cross(chord, to_middle)) < STRAIGHT * norm(chord) {
        return Ok(None);
    }
    let tangent = |u: f64, at: Vertex| {
        let at = Point::new(at[0], at[1]);
        cross(gradient(&corner.before, u, at, height), gradient(&corner.after, u, at, height))
    };
    let (first, last) = (tangent(0.0, start), tangent(1.0, end));
    let across = cross(first, last);
    let along = dot(cross(chord, last), across) / dot(across, across);
    let to_control = first.map(|component| component * along);

    // Barycentric coordinates of the middle in start, control, end.
    let normal = cross(to_control, chord);
    let b = dot(cross(to_middle, chord), normal) / dot(normal, normal);
    let c = dot(cross(to_control, to_middle), normal) / dot(normal, normal);
    let control = [0, 1, 2].map(|axis| start[axis] + to_control[axis]);
    let weight = b / (2.0 * ((1.0 - b - c) * c).sqrt());
    if weight > 0.0 && weight.is_finite() {
        Ok(Some(Conic { control, weight }))
    } else {
        Err(ShapeError::new(ShapeErrorKind::TaperCorner).at(middle.x, middle.y, start[2] + height / 2.0))
    }
}

/// Gradient of the wall's implicit form at a point of it, at fraction `u` of the height.
fn gradient([bottom, top]: &[Segment; 2], u: f64, at: Point, height: f64) -> Vertex {
    if let (Curve::Arc { centre, radius, .. }, Curve::Arc { radius: above, .. }) = (bottom.curve, top.curve) {
        let outwards = (at - centre).unit();
        return [outwards.x, outwards.y, (radius - above) / height];
    }
    let line = if u < 0.5 { bottom } else { top };
    let normal = (line.to - line.from).left_normal().unit();
    [normal.x, normal.y, -normal.dot(top.from - bottom.from) / height]
}

fn minus(a: Vertex, b: Vertex) -> Vertex {
    [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}

fn dot(a: Vertex, b: Vertex) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vertex, b: Vertex) -> Vertex {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A cone of radius 5 to 3 about the origin, over height 2, and the upright plane y = 1: a hyperbola.
    #[test]
    fn a_plane_cuts_a_cone() {
        let arc = |radius: f64| {
            let on_plane = Point::new((radius * radius - 1.0).sqrt(), 1.0);
            Segment::arc(Point::new(0.0, -radius), on_plane, Point::ORIGIN, true)
        };
        let (before, line) =
            ([arc(5.0), arc(3.0)], |arc: Segment| Segment::line(arc.to, Point::new(0.0, 1.0)));
        let corner = Corner { before, after: before.map(line) };
        let ends = [[before[0].to.x, 1.0, 10.0], [before[1].to.x, 1.0, 12.0]];
        let found = conic(&corner, ends).expect("a corner").expect("not straight");
        for step in 1..10 {
            let t = f64::from(step) / 10.0;
            let shares = [(1.0 - t) * (1.0 - t), 2.0 * t * (1.0 - t) * found.weight, t * t];
            let sum: f64 = shares.iter().sum();
            let mix = |axis: usize| {
                (shares[0] * ends[0][axis] + shares[1] * found.control[axis] + shares[2] * ends[1][axis])
                    / sum
            };
            let (x, y, z) = (mix(0), mix(1), mix(2));
            assert!((y - 1.0).abs() < 1e-12, "on the plane");
            assert!((x.hypot(y) - (5.0 - (z - 10.0))).abs() < 1e-12, "on the cone at {t}");
        }
    }
}
