//! Bearings: what hangs on the output, what turns on the pins.

use super::Check;
use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use crate::design::PartName;
use crate::layout::PlanetSeat;
use crate::product::Product;
use crate::ratings::gear_forces::GearForces;

pub static CHECKS: &[Check] = &[
    Check {
        id: "output-life",
        title: "Life of the output bearing",
        unit: "h",
        load: Load::Continuous(Growth::Power(-3.0)),
        formula: "L10h = a1 (C / P)^3 10^6 / (60 n)",
        symbols: "C dynamic rating, N\nP equivalent load, N\nn turns a minute (oscillation: n phi / 180, phi from one end of the swing to the other, degrees)\na1 reliability factor",
        clause: "ISO 281:2007, 5.3, table 3 and table 12",
        range: "P up to C/2; f0 Fa/C0 up to 6.89; swings of 5 degrees and more. One bearing: moment as 4 M/dm added to the axial load.",
        not_covered: "lubricant and contamination (a_ISO), misalignment, shock in the dynamic load",
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
        range: "single-row deep groove",
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
        range: "no maker gives a moment capacity for one deep groove bearing; this is the safe reading",
        not_covered: "tilt play and stiffness",
        parts: &[PartName::RingHousing, PartName::OutputCarrier],
        run: |made| {
            Outcome::at_most(made.output_bearing.axial_share, 1.0)
                .remark(format!("Moment {:.1} N m at the worst.", made.output_bearing.peak_moment))
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
        not_covered: "life of the planet bearings over a duty",
        parts: &[PartName::Planet],
        run: |made| {
            let actuator = &made.actuator;
            let (PlanetSeat::Bearings { bearing, .. }, Some(load)) =
                (&actuator.planet.turns_on, made.planet_load)
            else {
                return Outcome::not_applicable("The planets turn on bushes.");
            };
            Outcome::at_least(bearing.static_rating / load, actuator.design.limits.planet_static_safety)
                .remark(format!("{load:.0} N on each."))
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
        not_covered: "pressure times speed, wear, heat",
        parts: &[PartName::Planet],
        run: |made| {
            let actuator = &made.actuator;
            let PlanetSeat::Bush(bush) = &actuator.planet.turns_on else {
                return Outcome::not_applicable("The planets turn on ball bearings.");
            };
            let forces = GearForces::of(&actuator.stage, actuator.torques.sun);
            let (bore, length) = (bush.bore, actuator.stage.face_width);
            let tilting = 6.0 * forces.planet_couple * 1e3 / (bore * length * length);
            Outcome::at_most(forces.pin / (bore * length) + tilting, 0.5 * bush.pressure_limit)
                .remark(format!("{tilting:.1} MPa of it by the helix's tilting couple."))
                .remedy("Ball bearings, a wider face, straight or herringbone teeth, or a lower peak torque.")
        },
    },
];

fn output_life(made: &Product) -> Outcome {
    let wanted = made.actuator.design.requirement.life;
    match (made.output_bearing.life_hours, made.output_bearing.no_life) {
        (Some(hours), _) => Outcome::at_least(hours, wanted).remedy("Take a larger bearing or a pair."),
        (None, reason) => {
            Outcome::not_applicable(format!("No life: {}.", reason.unwrap_or("out of the standard's range")))
        }
    }
}
