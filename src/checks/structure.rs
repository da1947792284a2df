//! Planet pins and the printed bodies between planets and lever, motor and base.

use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use super::{Check, ESTIMATE};
use crate::assessment::structure::PIN_STRENGTH;
use crate::design::PartName;
use crate::product::Product;

pub static CHECKS: &[Check] = &[
    Check {
        id: "planet-pin",
        title: "Strength of the planet pins, over bending and shear",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "tau_B / s, s = sb/2 + sqrt((sb/2)^2 + tau^2), sb = 32 M / (pi d^3), tau = 4/3 F_e / (pi d^2 / 4)",
        symbols: "tau_B = 1047 MPa, shear strength of hardened dowel pins\nM moment at a bearing, free ends: F (l - s) / 4 along the circle, C (l - s) / (2 l) along \
                  the radius, together as vectors, N mm\nF force on the most loaded pin, N\nC tilting couple of helical teeth, N mm\n\
                  l between the middles of the two holes, s between the bearings, mm\nF_e force at an end, N\nd pin, mm",
        clause: "beam formulas; strength: double shear of ASME B18.8.5M pins; ISO 8734 prints none",
        range: "free ends are the safe side (clamped ones bend half as much); load sharing 1.4, 1.6, 2.0 with 3, 4, more planets",
        not_covered: "fatigue, an end that has worked loose",
        parts: &[PartName::OutputCarrier, PartName::CarrierBackPlate],
        run: |made| {
            let pin = made.structure.pin;
            Outcome::at_least(PIN_STRENGTH / pin.stress, made.actuator.design.limits.joint_factor)
                .remark(move || {
                    format!(
                        "{:.0} N and {:.2} N m bend it by {:.0} MPa (clamped ends {:.0}), shear {:.0} MPa.",
                        pin.force, pin.couple, pin.bending, pin.bending_clamped, pin.shear
                    )
                })
                .remedy("A planet bearing with a larger bore, or one more planet.")
        },
    },
    Check {
        id: "pin-pressure",
        title: "What the pins' printed holes bear, over the pressure on them",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "sigma / p, p = sqrt((F/2)^2 + (C/l)^2) / (d h)",
        symbols: "F force on the most loaded pin, N\nC tilting couple of helical teeth, N mm\nl between the middles of the two holes, mm\n\
                  d pin, h its depth in carrier or back plate, mm\nsigma strength in the layer plane, warm: half at the service temperature, MPa",
        clause: ESTIMATE,
        range: "band 0.6 to 1.4 of the value; mean pressure over the hole; prints up to their service temperature",
        not_covered: "pressure at the hole's edge, wear of a loose pin",
        parts: &[PartName::OutputCarrier, PartName::CarrierBackPlate],
        run: pin_pressure,
    },
    Check {
        id: "member-strength",
        title: "Strength of the printed bodies in the load's way, over their stress",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "sigma / stress: mount, clamped plate; back plate, ring under radial loads; \
                  hub and adapter's boss, torsion and bending across layers; flange, cantilever; lobes, shear",
        symbols: "sigma strength in the layer plane, or across the layers, warm: half at the service temperature, MPa\nplate 6/t^2 P/(4 pi) max(1 - c^2/(2 a^2), (1 + nu)(ln(a/c) + c^2/(4 a^2)))\n\
                  ring W R/2 max(1/theta - cot theta, 1/sin theta - 1/theta) 6 / (t w^2), theta = pi / n\n\
                  hub sqrt(sb^2 + 3 tau^2), its holes taken out\nflange 6 M u / (pi R^2 t^2) R/r, u its width outside the hub",
        clause: "Timoshenko (plate), Roark's form (ring), beam formulas, from memory; strength a stated estimate",
        range: "strength band 0.6 to 1.4 of the value; elastic, small deflections; prints up to their service temperature",
        not_covered: "notches, infill, holes of plates, fatigue, buckling",
        parts: &[
            PartName::StatorMount,
            PartName::CarrierBackPlate,
            PartName::OutputCarrier,
            PartName::OutputClampRing,
            PartName::RotorAdapter,
            PartName::RingInsert,
        ],
        run: member_strength,
    },
];

fn pin_pressure(made: &Product) -> Outcome {
    let pin = made.structure.pin;
    let [Some(carrier), Some(back_plate)] = pin.allowed else {
        return Outcome::not_applicable("Carrier or back plate is hotter than its service temperature.");
    };
    let ratios = [carrier / pin.pressures[0], back_plate / pin.pressures[1]];
    Outcome::at_least(f64::min(ratios[0], ratios[1]), made.actuator.design.limits.joint_factor)
        .remark(move || format!(
            "Carrier {:.1} of {carrier:.1} MPa, back plate {:.1} of {back_plate:.1} MPa.",
            pin.pressures[0], pin.pressures[1]
        ))
        .remedy("A thicker pin (planet bearing with a larger bore), one more planet, or a stronger plastic for carrier and back plate.")
}

fn member_strength(made: &Product) -> Outcome {
    let members = &made.structure.members;
    if let Some(hot) = members.iter().find(|member| member.allowed.is_none()) {
        let hot = hot.name;
        return Outcome::not_applicable(move || {
            format!("The {hot} is hotter than its plastic's service temperature.")
        });
    }
    let worst = members
        .iter()
        .filter_map(|member| Some((member.ratio()?, member)))
        .min_by(|(a, _), (b, _)| a.total_cmp(b));
    match worst {
        Some((ratio, member)) => {
            let (name, stress, load) = (member.name, member.stress, member.load);
            Outcome::at_least(ratio, made.actuator.design.limits.joint_factor)
                .remark(move || format!("Weakest: {name}, {stress:.1} MPa by {load}."))
                .remedy("A stronger plastic for this part, or a lower load.")
        }
        None => Outcome::not_applicable("No body is loaded."),
    }
}
