//! The lever: an arm with marked holes on the output's screws, and a tail at a right angle that nothing loads, for the dial.

use super::{FOOT_THICKNESS, MARGIN, NoRig, POINTER_TIP, STEP, WALL, enough};
use crate::layout::{Actuator, Bolting, LINK};
use crate::ratings::joint::bolt_group::by_torque;
use crate::ratings::joint::head_pressure::once;
use crate::ratings::joint::pin::bearing_pressure;
use crate::tables::{ScrewStandard, screw_lengths};

/// Distance between marks, so that a number of centimetres names one.
const MARK_STEP: f64 = 50.0;
/// Longest lever that a hand holds level on a kitchen scale (common practice, no source).
const LONGEST: f64 = 250.0;
/// Longest tail: there a hundredth on the dial is a tenth of a milliradian.
const TAIL: f64 = 100.0;
const TAIL_STEP: f64 = 10.0;
/// Thinnest and thickest.
const THICKNESS: [f64; 2] = [8.0, 24.0];
/// Least seat under the screws' heads.
const LEAST_SEAT: f64 = 4.0;
/// Room around a head in its pocket, on the diameter, as the layout's.
const HEAD_ROOM: f64 = 0.5;

#[derive(Clone, Debug, PartialEq)]
pub struct Lever {
    pub hub_diameter: f64,
    pub bore: f64,
    pub width: f64,
    pub thickness: f64,
    /// Under the heads of the output screws.
    pub seat: f64,
    /// Output screws to buy.
    pub screw_length: f64,
    pub clearance: f64,
    pub head_pocket: f64,
    /// Distances from the axis, rising.
    pub marks: Vec<f64>,
    /// Of the foot's screw at each mark.
    pub mark_hole: f64,
    /// From the axis to the end.
    pub length: f64,
    /// From the axis to where the dial stands on the tail, as on the pointer.
    pub tail: f64,
}

impl Lever {
    /// # Errors
    /// A bed too small, no screw that fits.
    pub fn of(actuator: &Actuator, mark_hole: f64) -> Result<Lever, NoRig> {
        let (design, output) = (&actuator.design, &actuator.joints.output);
        let printer = &design.printer;
        let head_pocket = output.head_diameter + HEAD_ROOM;
        let hub_diameter = output.circle + head_pocket + 2.0 * WALL;
        let width = f64::max(mark_hole + 4.0 * WALL, 0.6 * hub_diameter);
        // Along the bed's longer side; the hub's half and the end's wall lie beyond the marks.
        let [short, bed] = {
            let [a, b, _] = printer.bed;
            [a.min(b), a.max(b)]
        };
        let room = bed - 2.0 * MARGIN - hub_diameter / 2.0 - width / 2.0;
        let count = (f64::min(room, LONGEST) / MARK_STEP).floor();
        let first = ((hub_diameter / 2.0 + mark_hole) / MARK_STEP).ceil().max(1.0);
        if count < first {
            return Err(NoRig::BedTooSmall { bed, wanted: first * MARK_STEP });
        }
        let marks: Vec<f64> = (first as u32..=count as u32).map(|mark| f64::from(mark) * MARK_STEP).collect();
        // Across it: the hub's other half, the tail, its end.
        let across = short - 2.0 * MARGIN - hub_diameter / 2.0 - POINTER_TIP;
        let tail = (f64::min(across, TAIL) / TAIL_STEP).floor() * TAIL_STEP;
        if tail < hub_diameter / 2.0 + TAIL_STEP {
            return Err(NoRig::BedTooSmall { bed: short, wanted: hub_diameter / 2.0 + TAIL_STEP });
        }
        let lever = Lever {
            hub_diameter,
            bore: printer
                .hole(actuator.clamp_ring.bore.min(output.circle - head_pocket - 2.0 * WALL).max(3.0)),
            width,
            thickness: THICKNESS[1],
            seat: LEAST_SEAT,
            screw_length: 0.0,
            clearance: printer.hole(output.clearance),
            head_pocket: printer.hole(head_pocket),
            length: marks.last().copied().unwrap_or(0.0) + width / 2.0,
            marks,
            mark_hole,
            tail,
        };
        lever.thick_enough(actuator)
    }

    /// The thinnest that bears the peak in its sections and at its screws; the thickest there is where none does.
    fn thick_enough(self, actuator: &Actuator) -> Result<Lever, NoRig> {
        let output = &actuator.joints.output;
        let mut last = None;
        let mut thickness = THICKNESS[0];
        while thickness <= THICKNESS[1] {
            if let Some((seat, screw_length)) = screw(output, thickness) {
                let tried = Lever { thickness, seat, screw_length, ..self.clone() };
                let bent = tried.worst(actuator.torques.output).equivalent;
                let pressed = tried.screw_pressure(actuator) / once(1.0);
                if enough(actuator, f64::max(bent, pressed)) {
                    return Ok(tried);
                }
                last = Some(tried);
            }
            thickness += STEP;
        }
        last.ok_or(NoRig::NoScrew { thread: output.thread, least: LEAST_SEAT, most: THICKNESS[1] })
    }

    /// Where it is stressed most by a torque \[N m\].
    pub fn worst(&self, torque: f64) -> LeverStress {
        let offset = 0.5 * (self.thickness + FOOT_THICKNESS);
        lever_stress(
            torque,
            [self.width, self.thickness],
            [self.hub_diameter, self.mark_hole],
            offset,
            &self.marks,
        )
    }

    /// Force of the output screws on their holes at the peak, friction gone \[N\]: half of them carry, since holes have play and the
    /// first ones meet it.
    pub fn screw_force(actuator: &Actuator) -> f64 {
        let output = &actuator.joints.output;
        let carrying = output.count.div_ceil(2).max(1) as usize;
        by_torque(actuator.torques.output * 1e3, &vec![output.radius(); carrying], output.radius())
    }

    /// Its pressure on the seat \[MPa\].
    pub fn screw_pressure(&self, actuator: &Actuator) -> f64 {
        bearing_pressure(Lever::screw_force(actuator), actuator.joints.output.thread.nominal(), self.seat)
    }

    /// How far it turns on the output once it slips \[rad\]: from one side of its holes to the other.
    pub fn play(&self, actuator: &Actuator) -> f64 {
        let output = &actuator.joints.output;
        (output.clearance - output.thread.nominal()) / output.radius()
    }

    /// Deflection \[mm\] of its end under a torque \[N m\] at the last mark: `F L^3 / (3 E I)` from the hub's edge (Roark's Formulas, table 8.1,
    /// from memory).
    pub fn deflection(&self, torque: f64, modulus: f64) -> f64 {
        let mark = self.marks.last().copied().unwrap_or(self.length);
        let free = mark - self.hub_diameter / 2.0;
        let second_moment = self.thickness * self.width.powi(3) / 12.0;
        torque * 1e3 / mark * free.powi(3) / (3.0 * modulus * second_moment)
    }
}

/// Where a lever is stressed most.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LeverStress {
    /// \[MPa\]
    pub bending: f64,
    /// By torsion \[MPa\].
    pub shear: f64,
    /// Both, as if at one place \[MPa\].
    pub equivalent: f64,
    /// From the axis.
    pub section: f64,
    /// Where the scale pushes.
    pub mark: f64,
}

/// Stress of the lever, a cantilever with one force at a mark.
///
/// - Bending: `M(x) = T (1 - x / r)`, `sigma = 6 M w / (t (w^3 - d^3))` with a hole d in the middle of the section, d = 0 at the hub's
///   edge (beam formula; W. Young, R. Budynas, Roark's Formulas, table 8.1, from memory).
/// - Torsion: the foot stands beside the lever, so that the force acts `offset` from its middle;
///   `tau = 3 F e / (8 a b^2) (1 + 0.6095 k + 0.8865 k^2 - 1.8023 k^3 + 0.91 k^4)`, k = b / a, with half of the longer side a and half of
///   the shorter b of the section, the hole's width taken off (W. Young, R. Budynas, Roark's Formulas, table 10.1, from memory; within
///   0.5 % of the exact value).
/// - Together `sqrt(sigma^2 + 3 tau^2)` (von Mises), though the two are greatest at different places: the safe side.
///
/// `torque` \[N m\]; width and thickness of the section; diameters of hub and holes; lengths mm.
pub fn lever_stress(
    torque: f64,
    [width, thickness]: [f64; 2],
    [hub, hole]: [f64; 2],
    offset: f64,
    marks: &[f64],
) -> LeverStress {
    let mut worst = LeverStress { bending: 0.0, shear: 0.0, equivalent: 0.0, section: 0.0, mark: 0.0 };
    for mark in marks {
        let force = torque * 1e3 / mark;
        let at_hub = std::iter::once((hub / 2.0, 0.0));
        let at_holes = marks.iter().map(|other| (*other, hole));
        for (section, hole) in at_hub.chain(at_holes).filter(|(section, _)| section < mark) {
            let moment = force * (mark - section);
            let bending = 6.0 * moment * width / (thickness * (width.powi(3) - hole.powi(3)));
            let shear = torsion(force * offset, [width - hole, thickness]);
            let equivalent = (bending * bending + 3.0 * shear * shear).sqrt();
            if equivalent > worst.equivalent {
                worst = LeverStress { bending, shear, equivalent, section, mark: *mark };
            }
        }
    }
    worst
}

/// Greatest shear stress \[MPa\] of a rectangular section under a torsion \[N mm\].
fn torsion(moment: f64, sides: [f64; 2]) -> f64 {
    let (a, b) = (sides[0].max(sides[1]) / 2.0, sides[0].min(sides[1]) / 2.0);
    let k = b / a;
    let shape = 1.0 + k * (0.6095 + k * (0.8865 + k * (-1.8023 + k * 0.91)));
    3.0 * moment / (8.0 * a * b * b) * shape
}

/// Seat under the heads and length, so that the screws reach into the output's inserts just as with the link that is meant.
fn screw(output: &Bolting, thickness: f64) -> Option<(f64, f64)> {
    let beyond = output.length - LINK;
    // The layout's screw reaches this far under a link's face: no deeper, its hole is blind.
    screw_lengths(ScrewStandard::Cap, output.thread)
        .map(|length| (length - beyond, length))
        .filter(|(seat, _)| *seat >= LEAST_SEAT && *seat <= thickness)
        .max_by(|(a, _), (b, _)| a.total_cmp(b))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Exact factors of rectangular sections, tau = T / (alpha a b^2): alpha 0.208 for a square, 0.246 for 2 to 1, 0.267 for 3 to 1
    /// (Timoshenko and Goodier, Theory of Elasticity, from memory, to three digits).
    #[test]
    fn torsion_is_within_half_a_percent_of_the_exact_factors() {
        for (long, alpha) in [(10.0, 0.208), (20.0, 0.246), (30.0, 0.267)] {
            let exact = 1000.0 / (alpha * long * 10.0 * 10.0);
            let ratio = torsion(1000.0, [10.0, long]) / exact;
            assert!((0.995..1.005).contains(&ratio), "{long}: {ratio}");
        }
    }
}
