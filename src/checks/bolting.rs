//! Bolted joints: one check a way to give, judged on the joint that is nearest to it.

use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use super::{Check, ESTIMATE};
use crate::assessment::joint_loads::Path;
use crate::assessment::joints::JointRating;
use crate::bom::place;
use crate::design::PartName;
use crate::product::Product;

/// Why a joint has no clamp force.
pub(super) const NO_CLAMP: &str = "A print of the joint is hotter than its service temperature, or no thread is engaged: no clamp force to reckon with.";

const HOUSINGS: &[PartName] = &[
    PartName::VentedBase,
    PartName::RingHousing,
    PartName::StatorMount,
    PartName::RotorAdapter,
    PartName::OutputCarrier,
    PartName::OutputClampRing,
];

pub static CHECKS: &[Check] = &[
    Check {
        id: "joint-slip",
        title: "Friction of the bolted joints, times what turns or shifts them",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "n F mu / (T / r + Fq); clamp force F = preload x share kept",
        symbols: "n screws\nF clamp force of a screw after creep and heat, N: preload, the least of 0.9 yield of the screw (VDI 2230), 1.2 sigma A \
                  under the head, half of the insert's pull-out and torque-out, half of the thread's strip load; of that 0.7 at \
                  23 degC to 0.3 at the print's service temperature\nmu = 0.2\nT torque, N mm\nr circle radius, mm\nFq force across that no register carries, N",
        clause: "VDI 2230 for the screw (from memory); the rest is a stated estimate",
        range: "joints whose torque has no other way than friction, at the peak torque; clamp force band 0.5 to 1.5 of the value; \
                prints up to their service temperature",
        not_covered: "glue, thread lock, ribs between the parts",
        parts: HOUSINGS,
        run: |made| {
            let friction = |rating: &JointRating| rating.load.path == Path::Friction;
            clamped(made, friction, |rating| rating.slip, made.actuator.design.limits.service_factor)
                .remedy("More screws, a larger thread or circle, or a stronger plastic for the two parts.")
        },
    },
    Check {
        id: "pillar-slip",
        title: "Friction of the pillars, times the back plate's share of the torque",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "n F mu r / (0.5 T)",
        symbols: "n pillars\nF clamp force of a screw, N (see joint-slip)\nmu = 0.2\nr pillars' distance from the axis, mm\nT output torque, N mm",
        clause: ESTIMATE,
        range: "clamp force band 0.5 to 1.5 of the value; the planet in the middle of its pin",
        not_covered: "what the pins in the carrier hold themselves; under 1 the plate may settle by the play of its screws in their holes",
        parts: &[PartName::OutputCarrier, PartName::CarrierBackPlate],
        run: |made| {
            clamped(made, |rating| rating.load.path == Path::Pins, |rating| rating.slip, 1.0)
                .only_warns()
                .remedy("A stronger plastic for carrier and back plate, M4 under [fasteners.pillars], or one more planet.")
        },
    },
    Check {
        id: "joint-opening",
        title: "Clamp force of the bolted joints, times what pulls them open",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "F / F_i, F_i = Fa / n + M l_i A_i / sum A l^2",
        symbols: "F clamp force of a screw, N (see joint-slip)\nF_i outer force on the most loaded screw, N\nFa axial pull and the gears' thrust, N\n\
                  M overturning moment of the lever with shock, N mm\nl_i distance from the edge over which the joint tilts, mm\nA stress area, mm2",
        clause: "statics of rigid parts; clamp force a stated estimate",
        range: "clamp force band 0.5 to 1.5 of the value; worst direction of 72; output bolts and clamp screws together",
        not_covered: "bending of the parts, prying, vibration",
        parts: HOUSINGS,
        run: |made| {
            clamped(made, |rating| rating.outer_force > 0.0, |rating| rating.opening, made.actuator.design.limits.service_factor)
                .remedy("More screws, a larger thread or circle, a shorter overhang, or a stronger plastic around the inserts.")
        },
    },
    Check {
        id: "joint-shear",
        title: "Shear strength of the screws, times their share once a joint has slipped",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "n 0.6 Rm As / (T / r + Fq)",
        symbols: "n screws\nRm tensile strength of the screw, MPa\nAs stress area, mm2\nT torque, N mm\nr circle radius, mm\nFq force across, N",
        clause: "ISO 898-1 (Rm, As); shear strength 0.6 Rm from memory",
        range: "thread in the parting plane, all screws bear",
        not_covered: "screws that bear one after the other, fatigue, the print's hole",
        parts: HOUSINGS,
        run: |made| {
            let sheared = |rating: &JointRating| matches!(rating.load.path, Path::Friction | Path::Pins);
            judge(made, sheared, |rating| rating.shear, made.actuator.design.limits.joint_factor)
                .remedy("More or thicker screws.")
        },
    },
    Check {
        id: "joint-pull-out",
        title: "Inserts and heads against pulling out or through, times the outer force",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "least of 0.2 sigma_t pi D L and 1.2 sigma A, over F_i",
        symbols: "sigma_t strength across layers, sigma in their plane, MPa\nD insert outside, L its length, mm\nA ring under the head, mm2\n\
                  F_i outer force on the most loaded screw, N (see joint-opening)",
        clause: "stated estimate; inserts fitted to one test (Polymers 18(1) 112, 2025)",
        range: "band half to twice the value; once the joint has opened",
        not_covered: "installation quality, heat, creep under a load that stays",
        parts: HOUSINGS,
        run: |made| {
            let least = |rating: &JointRating| {
                [rating.insert_pull, rating.head_pull].into_iter().flatten().reduce(f64::min)
            };
            judge(made, |_| true, least, made.actuator.design.limits.keeper_factor).remedy(
                "More screws, a larger thread, a shorter overhang, or a stronger plastic around the inserts.",
            )
        },
    },
    Check {
        id: "joint-thread",
        title: "Strip load of the engaged threads, times preload or outer force",
        unit: "",
        load: Load::Peak(Growth::Other),
        formula: "0.6 Rm A' L / max(F_M, F_i)",
        symbols: "Rm tensile strength: brass insert 380, motor's aluminium 180 MPa\nA' = pi d (0.5 + 0.577 (d - d2)/P), shear area per length, mm2/mm\n\
                  L engaged thread, mm\nF_M preload, F_i outer force, N",
        clause: "FED-STD-H28 form, from memory; strengths from memory",
        range: "coarse threads of medium fit; the screw's own thread is stronger",
        not_covered: "first threads loaded more, wear by many tightenings",
        parts: &[PartName::RotorAdapter, PartName::StatorMount],
        run: |made| {
            judge(made, |_| true, |rating| rating.strip, made.actuator.design.limits.service_factor)
                .remedy("Longer screws where the thread takes them.")
        },
    },
    Check {
        id: "boss-wall",
        title: "Least plastic around an insert's hole, of what the rule wants",
        unit: "",
        load: Load::None,
        formula: "wall / max(2 mm, half of the hole)",
        symbols: "wall from the hole to the nearest edge of its part, in the layout, mm",
        clause: "common practice, no source",
        range: "straight part of the hole, without its lead-in; walls between two holes are the layout's (1.6 mm)",
        not_covered: "sinking the insert askew",
        parts: HOUSINGS,
        run: boss_wall,
    },
];

/// [`judge`], for what hangs on the clamp force: not applicable once one of the joints has none.
fn clamped(
    made: &Product,
    of: impl Fn(&JointRating) -> bool,
    value: impl Fn(&JointRating) -> Option<f64>,
    limit: f64,
) -> Outcome {
    match made.joints.all.iter().find(|rating| of(rating) && rating.clamp().is_none()) {
        Some(lost) => {
            let joint = lost.joint;
            Outcome::not_applicable(move || format!("{}: {NO_CLAMP}", place(joint)))
        }
        None => judge(made, of, value, limit),
    }
}

/// The joint that is worst by `value`, against `limit`; not applicable where none has a value.
fn judge(
    made: &Product,
    of: impl Fn(&JointRating) -> bool,
    value: impl Fn(&JointRating) -> Option<f64>,
    limit: f64,
) -> Outcome {
    match worst(made, of, value) {
        Some((value, rating)) => {
            let (name, rating) = (name(made, rating), rating.clone());
            Outcome::at_least(value, limit).remark(move || format!("Weakest: {}{}.", name(), held(&rating)))
        }
        None => Outcome::not_applicable("No joint is loaded so."),
    }
}

fn boss_wall(made: &Product) -> Outcome {
    // To a tenth of a millimetre: finer than a print.
    let tenth = |length: f64| (length * 10.0).round() / 10.0;
    let ratio = |[found, wanted]: [f64; 2]| tenth(found) / tenth(wanted);
    let worst = worst(made, |_| true, |rating| rating.wall.map(ratio));
    match worst.and_then(|(value, rating)| Some((value, rating, rating.wall?))) {
        Some((value, rating, [found, wanted])) => {
            let name = name(made, rating);
            Outcome::at_least(value, 1.0)
                .remark(move || format!("Thinnest: {}, {found:.1} of {wanted:.1} mm.", name()))
                .remedy("A larger bore or bearing, or a smaller thread for this joint.")
        }
        None => Outcome::not_applicable("There are no inserts."),
    }
}

fn worst(
    made: &Product,
    of: impl Fn(&JointRating) -> bool,
    value: impl Fn(&JointRating) -> Option<f64>,
) -> Option<(f64, &JointRating)> {
    let rated = made.joints.all.iter().filter(|rating| of(rating));
    rated.filter_map(|rating| Some((value(rating)?, rating))).min_by(|(a, _), (b, _)| a.total_cmp(b))
}

/// "service joint (6 M3)", when it is asked for.
fn name(made: &Product, rating: &JointRating) -> impl Fn() -> String + use<> {
    let joint = rating.joint;
    let screws = made.actuator.joints.iter().find(|bolting| bolting.joint == joint);
    let size = screws.map(|bolting| (bolting.count, bolting.thread));
    move || {
        let size = size.map_or(String::new(), |(count, thread)| format!(" ({count} {thread})"));
        format!("{}{size}", place(joint))
    }
}

/// How its screws are tightened, what stays, and what pulls.
fn held(rating: &JointRating) -> String {
    let Some((tightening, clamp)) = rating.tightening.zip(rating.clamp()) else { return String::new() };
    let pulls = match rating.outer_force {
        force if force > 0.0 => format!(", {force:.0} N pull"),
        _ => String::new(),
    };
    format!(
        ": {:.2} N m give {:.0} N (by the {}), {clamp:.0} N stay{pulls}",
        tightening.torque * 1e-3,
        tightening.preload,
        tightening.governs.words()
    )
}
