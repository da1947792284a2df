//! What tolerances make of gaps along the axis.

use super::Check;
use super::outcome::Outcome;
use super::ranking::Load;
use crate::design::PartName;
use crate::interference::pair::REACH;
use crate::interference::{Role, State};
use crate::product::Product;
use crate::ratings::axial_chain::Chain;

/// Gap in which magnet encoders read well \[mm\] (makers' usual range, from memory).
const ENCODER: [f64; 2] = [0.5, 3.0];
/// Largest stack of shims worth laying under a ring \[mm\] (common practice, no source).
const SHIMS: f64 = 0.3;
/// Shims are sold in steps of this \[mm\].
const SHIM_STEP: f64 = 0.05;
/// Between what is tightened and the ring it must not press \[mm\] (common practice, no source).
const CLEAR_OF_RING: f64 = 0.2;

const FORMULA: &str = "sum of links; least and most by root sum square decide, worst case is stated";
const CLAUSE: &str =
    "bearing widths ISO 492 class Normal (from memory); printed heights, motor and board: stated estimate";
const SYMBOLS: &str =
    "printed height: rounding to whole layers + 0.05 + 0.1 %\nring width: 0 to -0.12, from bore 50 -0.15";

pub static CHECKS: &[Check] = &[
    Check {
        id: "encoder-gap",
        title: "Gap of the encoder magnet with tolerances",
        unit: "mm",
        load: Load::None,
        formula: FORMULA,
        symbols: SYMBOLS,
        clause: CLAUSE,
        range: "0.5 to 3 mm",
        not_covered: "the chip's own range for this magnet",
        parts: &[PartName::VentedBase, PartName::StatorMount, PartName::MagnetCup],
        run: encoder_gap,
    },
    Check {
        id: "planet-float",
        title: "Free play of a planet along its pin, the least with tolerances",
        unit: "mm",
        load: Load::None,
        formula: FORMULA,
        symbols: SYMBOLS,
        clause: CLAUSE,
        range: "planets float, whatever the screws do",
        not_covered: "heat, burrs",
        parts: &[PartName::CarrierBackPlate, PartName::PlanetWasher, PartName::PlanetSleeve],
        run: |made| {
            let chain = &made.axial().planet;
            Outcome::at_least(chain.likely[0], 0.0)
                .remark(format!(
                    "{} Spin each planet before closing; where one binds, sand its washer by {:.2}.",
                    bands(chain),
                    f64::max(0.0, -chain.worst[0])
                ))
                .remedy("A face width that makes pillars, bosses and sleeve whole layers, or a finer layer.")
        },
    },
    Check {
        id: "ring-float",
        title: "Shims under the output bearing's outer ring at most",
        unit: "mm",
        load: Load::None,
        formula: FORMULA,
        symbols: SYMBOLS,
        clause: CLAUSE,
        range: "shims make up what the ring lies below its seat",
        not_covered: "play inside the bearing",
        parts: &[PartName::RingHousing, PartName::BearingKeeper],
        run: ring_float,
    },
    Check {
        id: "inner-clamp",
        title: "Inner ring over the hub, the least with tolerances",
        unit: "mm",
        load: Load::None,
        formula: FORMULA,
        symbols: SYMBOLS,
        clause: CLAUSE,
        range: "above 0 the clamp ring presses the inner ring, not the hub",
        not_covered: "creep of the clamp ring",
        parts: &[PartName::OutputCarrier, PartName::OutputClampRing],
        run: |made| {
            let chain = &made.axial().inner_ring;
            Outcome::at_least(chain.likely[0], 0.0)
                .remark(bands(chain))
                .remedy("A shim between inner ring and clamp ring, or a finer layer for the carrier.")
        },
    },
    Check {
        id: "rotor-gap",
        title: "Rotor adapter to carrier, the least with tolerances",
        unit: "mm",
        load: Load::None,
        formula: FORMULA,
        symbols: SYMBOLS,
        clause: CLAUSE,
        range: "from the motor's bearing to the output bearing",
        not_covered: "tilt, deflection, heat",
        parts: &[PartName::RotorAdapter, PartName::CarrierBackPlate],
        run: |made| {
            let chain = &made.axial().rotor;
            Outcome::at_least(chain.likely[0], 0.0)
                .remark(bands(chain))
                .remedy("A wider printer.running_axial, a finer layer, or measure motor and bearings and give their sizes.")
        },
    },
    Check {
        id: "clamp-path",
        title: "What is tightened, clear of the ring that turns against it",
        unit: "mm",
        load: Load::None,
        formula: "least gap: keeper, lip and outer spacer to the inner ring; step, clamp ring and inner spacer to the outer",
        symbols: "",
        clause: "common practice, no source",
        range: "no screw's force goes through what turns",
        not_covered: "inner shape of the bearing: lands drawn by proportion",
        parts: &[PartName::BearingKeeper, PartName::OutputCarrier, PartName::OutputClampRing],
        run: clamp_path,
    },
];

/// Nominal and both bands, in a sentence.
fn bands(chain: &Chain) -> String {
    let [[least, most], [likely, likely_most]] = [chain.worst, chain.likely];
    format!(
        "Nominal {:.2}; {likely:.2} to {likely_most:.2} by root sum square, {least:.2} to {most:.2} at worst.",
        chain.nominal
    )
}

fn encoder_gap(made: &Product) -> Outcome {
    let chain = &made.axial().encoder;
    let [least, most] = chain.likely;
    let [low, high] = ENCODER;
    // The side that is nearer its limit.
    let outcome =
        if high - most < least - low { Outcome::at_most(most, high) } else { Outcome::at_least(least, low) };
    outcome
        .remark(format!("{} Set the cup on the shaft by a feeler before it is glued.", bands(chain)))
        .remedy(format!("controller.encoder.gap of about {:.1}.", (low + high) / 2.0))
}

fn ring_float(made: &Product) -> Outcome {
    let chain = &made.axial().outer_ring;
    let shims = |short: f64| (f64::max(0.0, -short) / SHIM_STEP).ceil() * SHIM_STEP;
    let (likely, worst) = (shims(chain.likely[0]), shims(chain.worst[0]));
    let advice = if worst > 0.0 {
        format!(
            "Feel for play with the keeper on; have shims of {SHIM_STEP} to {worst:.2} for under the outer ring."
        )
    } else {
        "No shims.".to_string()
    };
    Outcome::at_most(likely, SHIMS)
        .remark(format!("Proud: {} {advice}", bands(chain)))
        .remedy("A finer layer for the housing, or its seat depth as whole layers.")
}

fn clamp_path(made: &Product) -> Outcome {
    use PartName::{BearingKeeper, InnerSpacer, OuterSpacer, OutputCarrier, OutputClampRing, RingHousing};
    let fit = match &made.fit {
        Ok(fit) => fit,
        Err(error) => return Outcome::not_applicable(format!("Bodies could not be compared: {error}.")),
    };
    let fixed = [BearingKeeper, RingHousing, OuterSpacer];
    let turning = [OutputCarrier, OutputClampRing, InnerSpacer];
    let role = |label: &str| fit.bodies.iter().find(|body| body.label() == label).map(|body| body.role);
    let crosses = |a: Role, b: Role| match (a, b) {
        (Role::OutputInnerRing, Role::Printed(part)) => fixed.contains(&part),
        (Role::OutputOuterRing, Role::Printed(part)) => turning.contains(&part),
        _ => false,
    };
    let mut least: Option<(f64, String)> = None;
    for meeting in &fit.interference.meetings {
        let [Some(a), Some(b)] = meeting.bodies.each_ref().map(|label| role(label)) else { continue };
        let gap = if matches!(meeting.state, State::Overlaps { .. }) { 0.0 } else { meeting.gap };
        if (crosses(a, b) || crosses(b, a)) && least.as_ref().is_none_or(|(known, _)| gap < *known) {
            least = Some((gap, format!("{} and {}.", meeting.bodies[0], meeting.bodies[1])));
        }
    }
    match least {
        Some((gap, who)) => Outcome::at_least((gap * 1e5).round() / 1e5, CLEAR_OF_RING)
            .remark(who)
            .remedy("Give the bearing's shoulders as its maker does, or take one with a thicker section."),
        None => Outcome::at_least(REACH, CLEAR_OF_RING)
            .remark("Nothing that is tightened comes nearer than this to the ring that turns against it."),
    }
}
