//! The joint as a spring: does it stay stable, where does it stand, what does a fall do.

use super::Check;
use super::outcome::{Outcome, Verdict};
use super::ranking::Load;
use crate::assessment::control_inputs::blow_capacity;
use crate::design::PartName;
use crate::product::Product;
use crate::ratings::spring::Rating;
use crate::ratings::spring::rating::GEAR_DAMPING_RATIO;
use crate::ratings::spring::stability::Rule;

pub static CHECKS: &[Check] = &[
    Check {
        id: "spring-stable",
        title: "Virtual spring, as asked or medium, against the stiffest that stays stable",
        unit: "N m/rad",
        load: Load::None,
        formula: "K <= min(K of |eigenvalues| < 1 / 2, J wn^2 with wn = 1 / (10 (T + tf)), fc / delta)",
        symbols: "K virtual spring at the output, i^2 times that at the rotor, N m/rad\n2 gain margin\nJ inertia of the bare joint, kg m2\nT period of the position loop, tf time constant of the speed's filter, s\nfc friction, N m, delta a count of the encoder, rad, both at the output",
        clause: "eigenvalues of the sampled loop (exact discretisation); 2 fc / delta: Abbott and Okamura, IEEE T-RO 21(5), 2005 (from memory); wn and margin: common practice, no source",
        range: "output free, loaded and blocked; gears in contact; delay up to 20 periods; damping 2 zeta sqrt(K J) with the load",
        not_covered: "flexible links, integral action, a machine that moves along; friction mostly estimated",
        parts: &[],
        run: stable,
    },
    Check {
        id: "gear-stiffness-share",
        title: "Stiffness asked for, against the gears' own",
        unit: "N m/rad",
        load: Load::None,
        formula: "1 / K = 1 / (i^2 Km) + 1 / Kg",
        symbols: "Km virtual spring at the rotor, Kg gears at the output, N m/rad",
        clause: "springs in a row; Kg: stage stiffness with its band",
        range: "one-sided load, peak torque on the teeth",
        not_covered: "links and their screws, hysteresis by tooth friction",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: gear_share,
    },
    Check {
        id: "static-error",
        title: "Where the output may stand beside its place, as asked or with the medium spring",
        unit: "deg",
        load: Load::None,
        formula: "(f + c) / K + delta / (2 i) + play / 2 + encoder error / i",
        symbols: "f friction, c cogging at the output, N m\nK virtual spring, N m/rad\ndelta a count at the rotor, i ratio",
        clause: "balance of torques; friction: stated estimates",
        range: "no integral action; everything in its worst place at once; sag under the load is beside it",
        not_covered: "friction that rises at rest, creep, play that wears larger",
        parts: &[],
        run: static_error,
    },
    Check {
        id: "encoder-torque-loss",
        title: "Torque lost at the sensor's greatest angle error",
        unit: "%",
        load: Load::None,
        formula: "1 - cos(p e), tan e = 1.5 s^2 / (1 - 0.5 s^2), s = eccentricity / (gap + half the magnet)",
        symbols: "p pole pairs\ne error of the rotor's angle, rad",
        clause: "field of a dipole (derived), an upper estimate: band 0.4 to 1 on the angle; limit 10 %: common practice, no source",
        range: "magnet magnetized across, sensor on the axis; eccentricity up to half the distance to the magnet's middle",
        not_covered: "the sensor's own nonlinearity, stray fields, a magnet glued on askew; corrected by a table in the drive",
        parts: &[PartName::MagnetCup],
        run: encoder_loss,
    },
    Check {
        id: "drop-impact",
        title: "Printed teeth when the weight falls onto the joint: torque borne over peak torque",
        unit: "",
        load: Load::None,
        formula: "Jm wm' = u - Tg, Jl wl' = Tg + W r; Tg = K p + c p' beyond the play; w0 = sqrt(2 W h / J)",
        symbols: "u motor's torque by the judged spring, within the current limit, N m\np give of the gears beyond half the play, rad\nW weight, N, r arm, h height, m\nJ what hangs on the output, kg m2",
        clause: "Dormand-Prince, relative 1e-6; teeth: as root-blow",
        range: "teeth in the middle of their play; 5 % of damping in the gears; no friction: an upper end",
        not_covered: "give of links and ground, which softens the blow, bought gears, pins and bearings",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: drop_impact,
    },
];

/// The rating, or the outcome that says why not.
fn rating(made: &Product) -> Result<&Rating, Outcome> {
    made.control.as_ref().map_err(|why| Outcome::not_applicable(format!("No answer: {why}.")))
}

fn stable(made: &Product) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let Some(setting) = rating.judged() else {
        return Outcome::not_applicable("No spring is reckoned.");
    };
    let loop_is = match rating.limits.sampled_loop {
        Some(limit) => format!("the loop itself is stable up to {limit:.0}"),
        None => "the loop itself is out of range (delay over 20 periods, or unstable at once)".into(),
    };
    let remedy = match rating.governed_by {
        Rule::CountsAndFriction => "An encoder of more bits.",
        Rule::Bandwidth | Rule::SampledLoop => {
            "A faster position loop, a faster filter on the speed, or a softer spring."
        }
    };
    Outcome::at_most(setting.gains.stiffness, rating.stiffest)
        .only_warns()
        .remark(format!("The {} spring; governed by {}, {loop_is}.", setting.name, rating.governed_by.name()))
        .remedy(remedy)
}

fn gear_share(made: &Product) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let gears = rating.inputs.gear_stiffness;
    match rating.inputs.wanted_stiffness {
        None => {
            let share = rating.judged().map_or(0.0, |setting| 1.0 - setting.felt / setting.gains.stiffness);
            Outcome::not_applicable(format!(
                "No stiffness is asked (requirement.stiffness); the gears' {gears:.0} N m/rad take {:.1} % of the medium spring's.",
                100.0 * share
            ))
        }
        Some(wanted) => Outcome::at_most(wanted, gears)
            .remark(
                "Nearer than a tenth below, the virtual spring must be ten times as stiff as what is felt.",
            )
            .remedy("Ask for less, or take a wider face, steel gears, thicker pins."),
    }
}

fn static_error(made: &Product) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let Some(setting) = rating.judged() else {
        return Outcome::not_applicable("No spring is reckoned.");
    };
    let error = setting.error;
    let degrees = error.total().to_degrees();
    let told = format!(
        "The {} spring, {:.2} deg: friction {:.2}, play {:.2}, cogging {:.2}, counts {:.3}, sensor {:.2}; {:.1} mm at the arm.",
        setting.name,
        degrees,
        error.friction.to_degrees(),
        error.play.to_degrees(),
        error.cogging.to_degrees(),
        error.quantisation.to_degrees(),
        error.encoder.to_degrees(),
        error.total() * rating.inputs.arm
    );
    match made.actuator.design.requirement.hold_accuracy {
        None => Outcome::not_applicable(format!("No accuracy is asked (requirement.hold_accuracy). {told}")),
        Some(wanted) => Outcome::at_most(degrees, wanted.to_degrees())
            .remark(told)
            .remedy("A stiffer spring, less friction, less backlash."),
    }
}

fn encoder_loss(made: &Product) -> Outcome {
    /// \[%\]
    const MOST: f64 = 10.0;
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let Some(error) = rating.encoder else {
        return Outcome::not_applicable("The sensor is farther beside the axis than half its distance.");
    };
    Outcome::at_most(100.0 * error.torque_lost, MOST)
        .only_warns()
        .remark(format!(
            "{:.2} deg of the rotor, {:.1} deg electrical.",
            error.mechanical.to_degrees(),
            error.electrical.to_degrees()
        ))
        .remedy("Centre the sensor, widen the gap within the sensor's range, or load a table of corrections.")
}

fn drop_impact(made: &Product) -> Outcome {
    let rating = match rating(made) {
        Ok(rating) => rating,
        Err(outcome) => return outcome,
    };
    let fall = match (&rating.drop, rating.inputs.drop) {
        (None, None) => return Outcome::not_applicable("Nothing falls (load.drop)."),
        (None, Some(_)) => {
            return Outcome::not_applicable("No weight at an arm that could fall (load.weight, load.arm).");
        }
        (Some(Err(why)), _) => return Outcome::not_applicable(format!("No answer: {why}.")),
        (Some(Ok(fall)), _) => fall,
    };
    let caught = match fall.peak_deflection {
        Some(angle) => format!("the spring gives way {:.0} deg", angle.to_degrees()),
        None => "the spring doesn't catch it".to_string(),
    };
    let told = format!("{:.1} N m in the gears, {caught}", fall.peak_gear_torque);
    let Some((capacity, member)) = blow_capacity(&made.actuator, &made.gears) else {
        return Outcome::not_applicable(format!("No printed teeth to judge by; {told}."));
    };
    let remedy = "A softer spring lets the rotor give way; a stop or a pad takes the fall; a wider face.";
    let outcome = Outcome::at_least(capacity.value / fall.peak_gear_torque, 1.0)
        .only_warns()
        .remark(format!(
            "{told}; the {member} bears {:.0} N m (band {:.0} to {:.0}); gears' damping {GEAR_DAMPING_RATIO}.",
            capacity.value, capacity.low, capacity.high
        ))
        .remedy(remedy);
    match fall.peak_deflection {
        Some(_) => outcome,
        // Borne by the teeth, but not stopped.
        None if outcome.verdict == Verdict::Holds => Outcome { verdict: Verdict::Warns, ..outcome }
            .remedy("More torque, a shorter fall or less weight: the current limit ends the spring."),
        None => outcome,
    }
}
