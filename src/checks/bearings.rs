//! Bearings: what hangs on the output, what turns on the pins.

use super::Check;
use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use crate::design::PartName;
use crate::layout::PlanetSeat;
use crate::product::Product;
use crate::ratings::bearing_life::FRETTING_SWING;

pub static CHECKS: &[Check] = &[
    Check {
        id: "output-life",
        title: "Life of the output bearing",
        unit: "h",
        load: Load::Continuous(Growth::Power(-3.0)),
        formula: "the lower of L10h = a1 (C / P)^3 10^6 / (60 n) and a_ISO L10h; over a duty P = (sum n t P^3 / sum n t)^(1/3)",
        symbols: "C dynamic rating, N\nP equivalent load, N\nn turns a minute (oscillation: n phi / 180, phi from one end of the swing to the other, degrees)\na1 reliability factor\na_ISO by film (kappa) and cleanliness",
        clause: "ISO 281:2007, 5.3, table 3, table 12 (closed form), 9.3 (a_ISO from memory)",
        range: "P up to C/2; f0 Fa/C0 up to 6.89; kappa from 0.1; swings of 5 degrees and more. One bearing: moment as 4 M/dm added to the axial load. Over a duty the torque pushes with the lever's end",
        not_covered: "misalignment, shock in the dynamic load, plastic dust in the grease",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: output_life,
    },
    Check {
        id: "output-static",
        title: "Static safety of the output bearing",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "s0 = C0 / P0, P0 = max(Fr, 0.6 Fr + 0.5 Fa)",
        symbols: "C0 static rating, N\nFr, Fa radial and axial load at the worst: shock, or the peak torque on the lever, N",
        clause: "ISO 76:2006, 5.1",
        range: "single-row deep groove; crossed roller: P0 = Fr + 2 M / dp + 0.44 Fa (IKO, page 428)",
        not_covered: "denting by a printed seat that is out of round",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: |made| {
            Outcome::at_least(
                made.output_bearing.static_safety,
                made.actuator.design.limits.output_static_safety,
            )
            .remedy("Take a larger bearing, a pair, or shorten the overhang.")
        },
    },
    Check {
        id: "output-moment",
        title: "Axial load and overturning on the output bearing",
        unit: "",
        load: Load::Peak(Growth::Power(1.0)),
        formula: "Fa + 4 M / dm <= 0.25 C0 (light series) or 0.5 C0; pair: M from the reactions",
        symbols: "Fa axial load, N\nM overturning moment, N mm\ndm mean diameter, mm\nC0 static rating, N",
        clause: "SKF General Catalogue, pages 296-299 (axial limit); moment as a couple: KAYDON, page 94",
        range: "no maker gives a moment capacity for one deep groove bearing; this is the safe reading. Crossed roller: P0 = Fr + 2 M / dp + 0.44 Fa <= 0.5 C0 (IKO, page 428)",
        not_covered: "stiffness; tipping in the clearance: see output-tilt",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: |made| {
            let moment = made.output_bearing.peak_moment;
            Outcome::at_most(made.output_bearing.axial_share, 1.0)
                .remark(move || format!("Moment {moment:.1} N m at the worst."))
                .remedy("Use a pair (count = 2), a larger bearing, or shorten the overhang.")
        },
    },
    Check {
        id: "planet-bearing",
        title: "Static safety of the planet bearings at peak",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "s0 = C0 / hypot(Ft, Fa d / spread)",
        symbols: "Ft tangential force of one mesh, load sharing included, N\nFa = Ft tan(beta), N\nd planet reference diameter, mm\nspread between the two bearings' middles, mm",
        clause: "ISO 76:2006, 5.1; couple by statics",
        range: "two bearings at the planet's ends; load sharing 1.4 / 1.6 / 2.0 for 3 / 4 / 5 planets (from memory)",
        not_covered: "life: see planet-life",
        parts: &[PartName::Planet],
        run: |made| {
            let actuator = &made.actuator;
            let (PlanetSeat::Bearings { bearing, .. }, Some(load)) =
                (&actuator.planet.turns_on, made.planet_load)
            else {
                return Outcome::not_applicable("The planets turn on bushes.");
            };
            Outcome::at_least(bearing.static_rating / load, actuator.design.limits.planet_static_safety)
                .remark(move || format!("{load:.0} N on each."))
                .remedy("Widen the face, lower the helix angle or the peak torque.")
        },
    },
    Check {
        id: "planet-bush",
        title: "Pressure at the edge of the planet bushes at peak",
        unit: "MPa",
        load: Load::Peak(Growth::Power(1.0)),
        formula: "p = 2 Ft / (d F) + 6 Fa dp / (d F^2) <= 0.5 of the bush's limit",
        symbols: "Ft, Fa tangential and axial force of one mesh, load sharing included, N\nd bore, F length of the bush, mm\ndp planet reference diameter, mm",
        clause: "statics, linear pressure along the bush; half of the limit at the edge: common practice, no source",
        range: "full-length bush; limit of the design file (sintered bronze 20 MPa from memory)",
        not_covered: "wear, heat: see planet-bush-work",
        parts: &[PartName::Planet],
        run: |made| {
            let actuator = &made.actuator;
            let PlanetSeat::Bush(bush) = &actuator.planet.turns_on else {
                return Outcome::not_applicable("The planets turn on ball bearings.");
            };
            let forces = &made.gears.forces;
            let (bore, length) = (bush.bore, actuator.stage.face_width);
            let tilting = 6.0 * forces.planet_couple * 1e3 / (bore * length * length);
            Outcome::at_most(forces.pin / (bore * length) + tilting, 0.5 * bush.pressure_limit)
                .remark(move || format!("{tilting:.1} MPa of it by the helix's tilting couple."))
                .remedy("Ball bearings, a wider face, straight or herringbone teeth, or a lower peak torque.")
        },
    },
    Check {
        id: "planet-life",
        title: "Life of the planet bearings at work",
        unit: "h",
        load: Load::Continuous(Growth::Power(-3.0)),
        formula: "as output-life, P = hypot(Ft, Fa d / spread), n = output's turns zr / zp",
        symbols: "Ft, Fa of one mesh at the continuous torque asked for, else at half the peak, load sharing included, N\nzr, zp teeth of ring and planet",
        clause: "ISO 281:2007, as output-life; couple by statics",
        range: "as output-life; over a duty its mean load and speed",
        not_covered: "plastic dust in the grease",
        parts: &[PartName::Planet],
        run: planet_life,
    },
    Check {
        id: "planet-bush-work",
        title: "Pressure times sliding speed of the planet bushes at work",
        unit: "MPa m/s",
        load: Load::Continuous(Growth::Power(1.0)),
        formula: "p v = F / (d L) pi d n",
        symbols: "F on the pin at the continuous torque asked for, else at half the peak, N\nd bore, L length, mm\nn turns a second of the planet on its pin",
        clause: "limit of the design file (sintered bronze 1.8 MPa m/s, from memory)",
        range: "mean pressure; speeds up to a few metres a second",
        not_covered: "heat in a plastic planet, starved oil",
        parts: &[PartName::Planet],
        run: bush_work,
    },
    Check {
        id: "output-fretting",
        title: "Swing of the output against fretting of its bearing",
        unit: "deg",
        load: Load::None,
        formula: "swing from end to end >= 5 deg",
        symbols: "",
        clause: "Harmonic Drive SHG manual (read): below 5 degrees fretting",
        range: "an output that swings to and fro",
        not_covered: "vibration while it stands",
        parts: &[PartName::OutputCarrier],
        run: fretting,
    },
    Check {
        id: "output-tilt",
        title: "Tipping of the output in its bearing's clearance",
        unit: "mrad",
        load: Load::None,
        formula: "single: 2 sqrt(A Gr - Gr^2/4) / (dm/2); pair: 2 Gr / span",
        symbols: "Gr radial internal clearance, mm\nA curvature 0.04 Dw, Dw = 0.3 (D - d), mm (estimates)\nspan between a pair's middles, mm",
        clause: "clearance: SKF General Catalogue, page 297 (read); tipping by geometry (from memory)",
        range: "unmounted clearance; a shimmed pair has none",
        not_covered: "elastic tipping under load",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: tilt,
    },
    Check {
        id: "motor-thrust",
        title: "Thrust of the sun on the motor's bearings at peak",
        unit: "N",
        load: Load::Peak(Growth::Power(1.0)),
        formula: "T / r tan(beta)",
        symbols: "T torque at the sun, N m\nr reference radius of the sun, m\nbeta helix angle",
        clause: "statics; limit of the motor's maker (motor.thrust_limit)",
        range: "helical teeth",
        not_covered: "life of the motor's bearings",
        parts: &[],
        run: motor_thrust,
    },
];

fn output_life(made: &Product) -> Outcome {
    let wanted = made.actuator.design.requirement.life;
    match (made.bearings.output, made.output_bearing.no_life) {
        (Some(life), _) => Outcome::at_least(life.judged(), wanted)
            .remark(move || life.words())
            .remedy("Take a larger bearing or a pair."),
        (None, reason) => Outcome::not_applicable(move || {
            format!("No life: {}.", reason.unwrap_or("out of the standard's range"))
        }),
    }
}

fn planet_life(made: &Product) -> Outcome {
    match (&made.actuator.planet.turns_on, made.bearings.planet) {
        (PlanetSeat::Bush(_), _) => Outcome::not_applicable("The planets turn on bushes."),
        (_, Some(life)) => {
            let torque = made.bearings.work_torque;
            Outcome::at_least(life.judged(), made.actuator.design.requirement.life)
                .remark(move || format!("At {torque:.1} N m. {}", life.words()))
                .remedy("Wider planets, a larger bearing, less helix, or less torque for hours.")
        }
        (_, None) => Outcome::not_applicable("No life: swings under 5 degrees, or a load over half of C."),
    }
}

fn bush_work(made: &Product) -> Outcome {
    let (PlanetSeat::Bush(bush), Some(work)) = (&made.actuator.planet.turns_on, made.bearings.bush) else {
        return Outcome::not_applicable("No bush turns at work.");
    };
    Outcome::at_most(work.pressure * work.speed, bush.pv_limit)
        .remark(move || format!("{:.2} MPa at {:.3} m/s.", work.pressure, work.speed))
        .remedy("A wider face, ball bearings, or less torque or speed for hours.")
}

fn fretting(made: &Product) -> Outcome {
    match made.actuator.design.load.oscillation {
        None => Outcome::not_applicable("The output turns through."),
        Some(half) => Outcome::at_least(2.0 * half.to_degrees(), FRETTING_SWING.to_degrees())
            .only_warns()
            .remedy("Let it make a full swing now and then, so that the grease gets under the balls."),
    }
}

fn tilt(made: &Product) -> Outcome {
    let Some([least, most]) = made.bearings.tilt else {
        return Outcome::not_applicable(
            "A crossed roller bearing is set without play; of other groups and bores no clearance was read.",
        );
    };
    let arm = made.actuator.design.load.arm;
    let words = move || {
        let [lowest, highest] = [least, most].map(|angle| angle * 1e3);
        format!("{lowest:.1} to {highest:.1} mrad; at the arm's end {:.2} mm at most.", most * arm)
    };
    match made.actuator.design.limits.output_tilt {
        Some(limit) => Outcome::at_most(most * 1e3, limit * 1e3)
            .remark(words)
            .remedy("A pair of bearings with a shim, or a wider spacing."),
        None => Outcome::not_applicable(move || format!("No limit is set. {}", words())),
    }
}

fn motor_thrust(made: &Product) -> Outcome {
    let thrust = made.gears.forces.sun_thrust;
    let way = move || {
        if thrust == 0.0 {
            return "No thrust: straight or herringbone teeth.".to_string();
        }
        // Along +z, to the output, off the stator, when the output turns counter-clockwise.
        let (first, second) = if thrust > 0.0 { ("off", "onto") } else { ("onto", "off") };
        format!(
            "{:.0} N, {first} the stator when it drives counter-clockwise as seen from the output, {second} it the other way.",
            thrust.abs()
        )
    };
    match made.actuator.design.motor.thrust_limit {
        Some(limit) => Outcome::at_most(thrust.abs(), limit)
            .remark(way)
            .remedy("The other hand of helix if one way is loaded more, less helix, or herringbone teeth."),
        None => Outcome::not_applicable(move || format!("No limit is given (motor.thrust_limit). {}", way())),
    }
}
