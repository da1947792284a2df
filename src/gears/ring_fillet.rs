//! The root fillet of a printed ring: a circular arc tangent to flank and root circle.
//!
//! A printed ring is not cut, so its fillet need not be any cutter's trochoid. The arc is as round as the basic rack's
//! corner where there is room, and smaller where the planet's tip would meet it.

use super::gear::Gear;

/// Least half land at the root in modules, so that the two fillets of a space stay two.
const LEAST_HALF_LAND: f64 = 0.01;

/// A circular arc tangent to a ring's flank and to its root circle.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RingFillet {
    pub radius: f64,
    /// Where the arc leaves the flank, from the axis.
    pub flank_radius: f64,
    /// Distance of the arc's centre from the axis.
    pub centre_radius: f64,
    /// Angle of the arc's centre from the middle of the tooth space \[rad\]: half the root land.
    pub centre_angle: f64,
}

impl RingFillet {
    /// The centre lies on the flank's normal, which is a tangent of the base circle, nearer to the tangent point than
    /// the flank by `radius`, and inside the root circle by `radius`.
    pub fn tangent(ring: &Gear, radius: f64) -> RingFillet {
        let base = 0.5 * ring.base_diameter;
        let centre_radius = 0.5 * ring.root_diameter - radius;
        let centre_length = ring.along_tangent(2.0 * centre_radius);
        let roll = (centre_length + radius) / base;
        RingFillet {
            radius,
            flank_radius: ring.radius_at(centre_length + radius),
            centre_radius,
            centre_angle: ring.base_half_angle() - roll + libm::atan(centre_length / base),
        }
    }
}

/// Radius of the arc that leaves the flank at `flank_radius`, from `(t - r)^2 + rb^2 = (rf - r)^2`.
fn radius_leaving_at(ring: &Gear, flank_radius: f64) -> f64 {
    let root = 0.5 * ring.root_diameter;
    let length = ring.along_tangent(2.0 * flank_radius);
    (root - flank_radius) * (root + flank_radius) / (2.0 * (root - length))
}

/// A planet in a ring, for finding the ring's fillet.
pub(super) struct PlanetInRing<'a> {
    pub planet: &'a Gear,
    /// Its `fillet_radius` is not used.
    pub ring: &'a Gear,
    pub centre_distance: f64,
    /// `a sin awt`
    pub line_of_action: f64,
    /// Half the circumferential play over the ring's pitch radius \[rad\]: from the middle to flank contact.
    pub turn_to_contact: f64,
}

impl PlanetInRing<'_> {
    /// The largest fillet radius up to the rack's that leaves the planet's contact and the path of its tip alone, and a
    /// land between the two fillets of a space.
    pub fn largest_fillet(&self) -> f64 {
        // The flank goes on past the last contact by this much of the module, so that a ring printed a little off
        // still touches on its flank.
        const FLANK_BEYOND_CONTACT: f64 = 0.02;
        // Halvings: finer than the printed part by far (module / 2^12).
        const HALVINGS: usize = 12;
        let module = self.ring.normal_module;
        let last_contact =
            self.ring.radius_at(self.line_of_action + self.planet.along_tangent(self.planet.tip_diameter));
        let flank_end = last_contact + FLANK_BEYOND_CONTACT * module;
        let wanted = (self.ring.rack.fillet * module).min(radius_leaving_at(self.ring, flank_end)).max(0.0);
        if self.is_clear(wanted) {
            return wanted;
        }
        let (mut clear, mut fouled) = (0.0, wanted);
        for _ in 0..HALVINGS {
            let radius = 0.5 * (clear + fouled);
            if self.is_clear(radius) {
                clear = radius;
            } else {
                fouled = radius;
            }
        }
        clear
    }

    /// The planet's tip corner, followed from its contact to the line of centres in the frame of the ring's tooth space
    /// with the flanks touching, never enters the fillet.
    fn is_clear(&self, radius: f64) -> bool {
        // The corner's distance to the arc changes slowly; twelve places find its least to a few micrometres.
        const PLACES: u32 = 12;
        let fillet = RingFillet::tangent(self.ring, radius);
        if fillet.centre_angle * fillet.centre_radius < LEAST_HALF_LAND * self.ring.normal_module {
            return false;
        }
        let (a, tip) = (self.centre_distance, 0.5 * self.planet.tip_diameter);
        let cosine = (fillet.flank_radius * fillet.flank_radius - a * a - tip * tip) / (2.0 * a * tip);
        if cosine >= 1.0 {
            return true;
        }
        let farthest = libm::acos(cosine.max(-1.0));
        let tip_half_angle = self.planet.half_angle_at(tip);
        let ratio = f64::from(self.planet.teeth) / f64::from(self.ring.teeth);
        let centre = (fillet.centre_radius, fillet.centre_angle);
        (0..PLACES).all(|place| {
            let corner = farthest * f64::from(place) / f64::from(PLACES);
            let ring_turn = (corner - tip_half_angle) * ratio - self.turn_to_contact;
            let (x, y) = (a + tip * libm::cos(corner), tip * libm::sin(corner));
            let (corner_radius, angle) = (libm::hypot(x, y), libm::atan2(y, x) - ring_turn);
            angle <= fillet.centre_angle || polar_distance((corner_radius, angle), centre) <= radius
        })
    }
}

fn polar_distance((r1, angle1): (f64, f64), (r2, angle2): (f64, f64)) -> f64 {
    (r1 * r1 + r2 * r2 - 2.0 * r1 * r2 * libm::cos(angle1 - angle2)).max(0.0).sqrt()
}
