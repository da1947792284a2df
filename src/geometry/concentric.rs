//! What two figures of circles about one centre share: rings, told by their radii alone. Screws, pins, bearings and magnets in
//! their holes are such figures.

use super::point::Point;
use super::region::Region;
use super::section::Reduced;

/// Centres nearer than this are one \[mm\]: above rounding, far below the kernel's snap.
const ONE_CENTRE: f64 = 1e-9;
/// Thinner rings are none \[mm\]: the kernel's snap distance.
const THINNEST: f64 = 1e-5;

/// A circle of a figure and how it winds.
struct Circle {
    radius: f64,
    winding: i32,
}

/// The rings that both cover; none where an outline is no circle, or has another centre.
pub(crate) fn shared(one: &Reduced, other: &Reduced) -> Option<Region> {
    let (centre, ..) = one.loops.first().or(other.loops.first())?.as_circle()?;
    let (own, theirs) = (circles(one, centre)?, circles(other, centre)?);
    let mut radii: Vec<f64> = own.iter().chain(&theirs).map(|circle| circle.radius).collect();
    radii.push(0.0);
    radii.sort_by(f64::total_cmp);
    let covered = |radius: f64| {
        let winding = |around: i32, circles: &[Circle]| {
            let outside = circles.iter().filter(|circle| circle.radius > radius);
            around + outside.map(|circle| circle.winding).sum::<i32>()
        };
        winding(one.around, &own) > 0 && winding(other.around, &theirs) > 0
    };
    let mut rings: Vec<[f64; 2]> = Vec::new();
    for pair in radii.windows(2) {
        let &[inner, outer] = pair else { continue };
        if outer - inner < THINNEST || !covered((inner + outer) / 2.0) {
            continue;
        }
        match rings.last_mut() {
            Some(last) if inner - last[1] < THINNEST => last[1] = outer,
            _ => rings.push([inner, outer]),
        }
    }
    // All that lies around both would be shared, too, and has no outline.
    if covered(radii.last()? + 1.0) {
        return None;
    }
    let ring = |&[inner, outer]: &[f64; 2]| match inner > THINNEST {
        true => Region::annulus(centre, inner, outer),
        false => Region::disc(centre, outer),
    };
    Some(Region { loops: rings.iter().flat_map(|radii| ring(radii).loops).collect() })
}

fn circles(of: &Reduced, centre: Point) -> Option<Vec<Circle>> {
    let circle = |(own, radius, ccw): (Point, f64, bool)| {
        (own.distance(centre) < ONE_CENTRE).then_some(Circle { radius, winding: if ccw { 1 } else { -1 } })
    };
    of.loops.iter().map(|one| one.as_circle().and_then(circle)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::geometry::Section;

    /// Against the general way: a screw's shank in a hole of a plate, off the axis.
    #[test]
    fn rings_are_what_the_arrangement_finds() {
        let place = Point::new(21.0, 4.0);
        let plate = Region::rectangle(Point::new(-30.0, -30.0), Point::new(30.0, 30.0));
        for (hole, shank) in [(1.25, 1.5), (1.6, 1.5), (1.5, 1.5), (1.4, 3.0)] {
            let drilled = plate.minus(&Region::disc(place, hole)).expect("drilled");
            let screw = Region::disc(place, shank);
            let exact = drilled.intersection(&screw).expect("shared");
            let found = Section::of(drilled).shared(&Section::of(screw)).expect("shared");
            assert!((found.area() - exact.area()).abs() < 1e-9, "hole {hole}, shank {shank}");
            assert!((found.perimeter() - exact.perimeter()).abs() < 1e-9, "hole {hole}, shank {shank}");
            let ring = std::f64::consts::PI * f64::max(shank * shank - hole * hole, 0.0);
            assert!((found.area() - ring).abs() < 1e-9, "hole {hole}, shank {shank}: {}", found.area());
        }
    }

    /// A bush between a pin and its bore, and a figure of another centre that isn't told this way.
    #[test]
    fn other_centres_go_the_general_way() {
        let bush = Section::of(Region::annulus(Point::ORIGIN, 4.0, 6.0));
        let off = Section::of(Region::disc(Point::new(5.0, 0.0), 1.5));
        let lens = bush.region.intersection(&off.region).expect("shared").area();
        assert!((bush.shared(&off).expect("shared").area() - lens).abs() < 1e-12);
        let same = bush.shared(&Section::of(Region::disc(Point::ORIGIN, 5.0))).expect("shared");
        assert!((same.area() - 9.0 * std::f64::consts::PI).abs() < 1e-9);
    }
}
