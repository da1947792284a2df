//! The stand: an upright plate under the base, its tongue screwed to the edge of a bench, the actuator over the bench's top.

use super::{FOOT_THICKNESS, Lever, NoRig, STEP, WALL, enough};
use crate::layout::Actuator;
use crate::tables::{ScrewStandard, screw_head, screw_lengths};

/// Thinnest and thickest.
const THICKNESS: [f64; 2] = [12.0, 24.0];
/// Below the bench's top: what is screwed to its edge.
const TONGUE: f64 = 60.0;
const TONGUE_SCREWS: u32 = 4;
/// Under the foot, for a kitchen scale with its pan (common practice, no source).
const SCALE_ROOM: f64 = 45.0;
/// Between the actuator and the bench.
const OVER_BENCH: f64 = 3.0;
/// Around a screw's nut or tool in the opening.
const TOOL: f64 = 10.0;
/// Standard gravity \[m/s2\].
const GRAVITY: f64 = 9.806_65;

#[derive(Clone, Debug, PartialEq)]
pub struct Stand {
    pub width: f64,
    pub thickness: f64,
    /// Radius of the plate about the axis.
    pub above: f64,
    /// Of the axis over the bench.
    pub axis_height: f64,
    /// From the axis to the tongue's end.
    pub below: f64,
    /// Opening for a look at the magnet.
    pub bore: f64,
    pub hole: f64,
    /// Screws into the base to buy.
    pub screw_length: f64,
    /// Of the screws into the bench, relative to the axis.
    pub bench_holes: Vec<[f64; 2]>,
    pub bench_hole: f64,
}

/// Stresses of the stand \[MPa\], each with all of what acts there.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StandStress {
    /// Where the first bench screws leave the least width.
    pub at_screws: f64,
    /// Beside the opening about the axis.
    pub at_opening: f64,
}

impl StandStress {
    pub fn worst(self) -> f64 {
        self.at_screws.max(self.at_opening)
    }
}

impl Stand {
    /// # Errors
    /// No screw that fits.
    pub fn of(
        actuator: &Actuator,
        lever: &Lever,
        foot_diameter: f64,
        bench_hole: f64,
    ) -> Result<Stand, NoRig> {
        let machine = &actuator.joints.machine;
        let head = screw_head(ScrewStandard::Cap, machine.thread)
            .map_or(2.0 * machine.thread.nominal(), |head| head.diameter);
        let half = f64::max(actuator.base.outer / 2.0, machine.radius() + head / 2.0 + WALL);
        let axis_height =
            f64::max(actuator.outer_diameter() / 2.0 + OVER_BENCH, foot_diameter / 2.0 + SCALE_ROOM);
        let pitch = (2.0 * half - 2.0 * (bench_hole + WALL)) / f64::from(TONGUE_SCREWS / 2 - 1).max(1.0);
        let bench_holes = (0..TONGUE_SCREWS)
            .map(|index| {
                let (row, column) = (f64::from(index / 2), f64::from(index % 2));
                [(column - 0.5) * pitch, -(axis_height + TONGUE * (0.35 + 0.4 * row))]
            })
            .collect();
        let stand = Stand {
            width: 2.0 * half,
            thickness: THICKNESS[1],
            above: half,
            axis_height,
            below: axis_height + TONGUE,
            bore: f64::min(
                actuator.joints.adapter_to_rotor.circle + TOOL,
                machine.circle - head - 2.0 * WALL,
            ),
            hole: actuator.design.printer.hole(machine.clearance),
            screw_length: 0.0,
            bench_holes,
            bench_hole,
        };
        stand.thick_enough(actuator, lever)
    }

    /// The thinnest that bears the peak and takes a screw that is sold; the thickest that takes one where none bears it.
    fn thick_enough(self, actuator: &Actuator, lever: &Lever) -> Result<Stand, NoRig> {
        let machine = &actuator.joints.machine;
        let [least, most] = THICKNESS;
        // Through most of the insert, not to the bottom of its hole.
        let reach = [0.7 * machine.engagement_wanted(), machine.hole_depth()];
        let mut last = None;
        let mut thickness = least;
        while thickness <= most {
            let length = screw_lengths(ScrewStandard::Cap, machine.thread)
                .find(|length| *length >= thickness + reach[0] && *length <= thickness + reach[1]);
            if let Some(screw_length) = length {
                let tried = Stand { thickness, screw_length, ..self.clone() };
                // The weight is known only of a made product; it is a small part of the stress, and the rating has it.
                if enough(actuator, tried.stress(actuator, lever, 0.0).worst()) {
                    return Ok(tried);
                }
                last = Some(tried);
            }
            thickness += STEP;
        }
        last.ok_or(NoRig::NoStandScrew { thread: machine.thread, least, most })
    }

    /// The scale's push at the nearest mark, where it is greatest \[N\].
    pub fn push(actuator: &Actuator, lever: &Lever) -> f64 {
        actuator.torques.output * 1e3 / lever.marks.first().copied().unwrap_or(lever.length)
    }

    /// At the peak torque, the scale at the nearest mark; `mass` of the actuator \[kg\].
    ///
    /// In the plate's plane: the torque and the push. Out of it: the push in front of the plate, and the weight at half the height.
    /// Net sections bear all of it (beam formulas; the base stiffens the plate about the axis, which is left out: the safe side).
    pub fn stress(&self, actuator: &Actuator, lever: &Lever, mass: f64) -> StandStress {
        let torque = actuator.torques.output * 1e3;
        let push = Stand::push(actuator, lever);
        let height = actuator.stations.output_face;
        let in_front = height + lever.thickness + 0.5 * FOOT_THICKNESS;
        let out = push * (self.thickness / 2.0 + in_front) + mass * GRAVITY * height / 2.0;
        let at = |missing: f64, second_moment: f64| {
            let net = self.thickness * (self.width - missing);
            let in_plane = torque * self.width / 2.0 / second_moment;
            in_plane + push / net + 6.0 * out / (net * self.thickness)
        };
        let whole = self.width.powi(3);
        let by_screws: f64 = {
            // Two holes of one row, each at its distance from the middle.
            let off = self.bench_holes.first().map_or(0.0, |hole| hole[0].abs());
            2.0 * self.bench_hole * (self.bench_hole * self.bench_hole / 12.0 + off * off)
        };
        StandStress {
            at_screws: at(2.0 * self.bench_hole, self.thickness * (whole / 12.0 - by_screws)),
            at_opening: at(self.bore, self.thickness * (whole - self.bore.powi(3)) / 12.0),
        }
    }
}
