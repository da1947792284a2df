//! The gears at work: heat, strength when warm, wear, give and play. Plastics are estimates with a band: they warn.

use super::Check;
use super::outcome::Outcome;
use super::ranking::{Growth, Load};
use crate::assessment::gear_ratings::printed_part;
use crate::design::PartName;
use crate::gears::Member;
use crate::product::Product;
use crate::ratings::plastic_gear::{Band, Cases, GearRating, NotApplicable, PlasticMesh};

/// What every plastic rating stands on.
const PLASTIC: &str =
    "VDI 2736-2 in form, constants from memory, not seen on a page; printed strengths: stated estimates";
const BAND: &str = "materials of `tables materials`, up to their service temperature; band in the remark";

pub static CHECKS: &[Check] = &[
    Check {
        id: "tooth-heat",
        title: "Hottest printed tooth, root or flank, against its plastic's long-term limit",
        unit: "degC",
        load: Load::Continuous(Growth::Rise(2.0)),
        formula: "theta = theta_air + P mu HV (k / (b z (v mn)^0.75) + R / A)",
        symbols: "P power of the meshes, W\nmu friction coefficient\nHV loss factor\nk heat coefficient of root or flank, by pairing\nb width, mn module, mm\nv pitch line speed against the carrier, m/s\nR / A of the closed housing, K/W",
        clause: PLASTIC,
        range: "mean speed of the swing; continuous torque; air inside from the heat network",
        not_covered: "heat that flows along the shaft from the motor into the sun",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: tooth_heat,
    },
    Check {
        id: "warm-roots",
        title: "Printed tooth roots at peak, warm: strength over stress, the least",
        unit: "",
        load: Load::Peak(Growth::Power(-1.0)),
        formula: "sigma / sigma_F0, sigma = R (in layers) x share by temperature x root fill",
        symbols: "R tensile strength in the layers, MPa\nsigma_F0 root stress by ISO 6336-3, method B, MPa",
        clause: PLASTIC,
        range: BAND,
        not_covered: "moisture, notches of the seam, how well the layers weld",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: warm_roots,
    },
    Check {
        id: "root-life",
        title: "Printed tooth roots over the life asked for: strength over stress, the least",
        unit: "",
        load: Load::Continuous(Growth::Power(-1.0)),
        formula: "as warm-roots, x share by load cycles, x 0.7 for planets, which bend both ways",
        symbols: "load cycles of one tooth: life x rate x passes in a swing\nshare 10^(-0.2 (log10 N - 3)), band -0.3 to -0.13",
        clause: PLASTIC,
        range: "continuous torque (asked for, or what heat allows); up to 1e9 cycles; band in the remark",
        not_covered: "a duty of many loads",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: root_life,
    },
    Check {
        id: "root-blow",
        title: "Printed tooth roots when the output runs into a stop: strength over stress, the least",
        unit: "",
        load: Load::None,
        formula: "T = w i J wn, wn = sqrt(K / (i^2 J)); as warm-roots x 0.8 for a blow",
        symbols: "w top speed of work at the output, rad/s\nJ inertia at the sun, kg m2\nK stiffness at the output, N m/rad",
        clause: "collision torque: statics of a spring and an inertia; strengths as warm-roots",
        range: "rigid stop, rotor free; top speed from the requirement, else of the swing; band in the remark",
        not_covered: "a dropped arm, the motor's own torque on top, damping",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: root_blow,
    },
    Check {
        id: "plastic-flanks",
        title: "Flanks of printed gears at peak, warm: strength over pressure, the least",
        unit: "",
        load: Load::Peak(Growth::Power(-0.5)),
        formula: "sigma / sigma_H0, sigma_H0 = ZH ZE Zeps Zbeta sqrt(Ft / (d1 b) (u +- 1) / u)",
        symbols: "sigma pressure at first yield when warm, MPa\nZE from the moduli at room temperature, sqrt MPa",
        clause: PLASTIC,
        range: BAND,
        not_covered: "wear, which is rated by itself",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: flanks,
    },
    Check {
        id: "tooth-wear",
        title: "Deepest wear of a printed flank over the life asked for",
        unit: "mm",
        load: Load::Continuous(Growth::Power(1.0)),
        formula: "Wm = T 2 pi N HV kw / (b z lFl) <= 0.2 mn",
        symbols: "T torque of the gear's mesh, N m\nN passes\nkw wear coefficient, mm3/(N m)\nlFl active flank, mm",
        clause: PLASTIC,
        range: "continuous torque; coefficients from papers and estimates, band in the remark",
        not_covered: "grit in the grease",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: wear,
    },
    Check {
        id: "tooth-give",
        title: "How far a tooth pair gives way at the continuous torque, warm",
        unit: "mm",
        load: Load::Continuous(Growth::Power(1.0)),
        formula: "lambda = 7.5 Ft / (b cos beta) (1/E1 + 1/E2) <= 0.07 mn",
        symbols: "Ft tangential force of a mesh, N\nE1, E2 moduli when warm, MPa",
        clause: PLASTIC,
        range: "at least one gear of plastic",
        not_covered: "creep",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: give,
    },
    Check {
        id: "least-play",
        title: "Least play of the tighter mesh, departures by root sum square",
        unit: "mm",
        load: Load::None,
        formula: "exact play at the shifted centre distance, less what teeth print fat and what heat closes",
        symbols: "departures: fat flanks, scale of prints, thickness, runout, registers, pin holes, bearing play, heat",
        clause: "geometry; departures: common practice, no source",
        range: "cold to hot, -30 to +40 K from where it was put together; warns when the least is under 0, fails when the middle is",
        not_covered: "creep, moisture; that loose registers let the gears centre themselves",
        parts: &[PartName::Planet, PartName::RingHousing],
        run: least_play,
    },
];

/// Printed gears with the mesh they are in, and what a refusal is called.
fn printed(made: &Product) -> Vec<(Member, Member, &GearRating)> {
    [
        (Member::Sun, Member::Planet),
        (Member::Planet, Member::Sun),
        (Member::Planet, Member::Ring),
        (Member::Ring, Member::Planet),
    ]
    .into_iter()
    .filter(|(member, _)| printed_part(&made.actuator, *member).is_some())
    .map(|(member, mate)| (member, mate, made.gears.rating(member, mate)))
    .collect()
}

fn meshes(made: &Product) -> [&PlasticMesh; 2] {
    [&made.gears.sun_mesh, &made.gears.ring_mesh]
}

fn refused(member: Member, why: NotApplicable) -> Outcome {
    Outcome::not_applicable(move || format!("The {member}: {why}."))
}

fn tooth_heat(made: &Product) -> Outcome {
    let mut worst: Option<(f64, f64, Member, &str)> = None;
    for (member, _, rating) in printed(made) {
        let rise = match rating.rise {
            Ok(rise) => rise,
            Err(why) => return refused(member, why),
        };
        let Some(part) = printed_part(&made.actuator, member) else { continue };
        let limit = made.actuator.design.settings(part).material.service_temperature;
        for (place, rise) in [("root", rise.root), ("flank", rise.flank)] {
            let found = made.gears.work.ambient + rise;
            if worst.is_none_or(|(value, most, ..)| limit - found < most - value) {
                worst = Some((found, limit, member, place));
            }
        }
    }
    match worst {
        None => Outcome::not_applicable("No gear is printed."),
        Some((value, limit, member, place)) => {
            let ambient = made.gears.work.ambient;
            Outcome::at_most(value, limit)
                .only_warns()
                .remark(move || format!("The {member}'s {place}, in air of {ambient:.0} degC."))
                .remedy("A plastic that stands more heat, vents, grease, or less continuous torque.")
        }
    }
}

/// A load and what bears it, of one gear.
struct Borne {
    member: Member,
    mate: Member,
    load: f64,
    strength: Band,
}

impl Borne {
    fn safety(&self) -> f64 {
        self.strength.value / self.load
    }

    fn figures(&self) -> String {
        let Band { value, low, high } = self.strength;
        format!("{:.1} MPa against {value:.1} (band {low:.1} to {high:.1})", self.load)
    }
}

/// The printed gear with the least strength over load; why there is none.
fn weakest(
    made: &Product,
    of: impl Fn(Member, Member, &GearRating) -> Result<(f64, Band), NotApplicable>,
) -> Result<Borne, Outcome> {
    let mut found: Option<Borne> = None;
    for (member, mate, rating) in printed(made) {
        let (load, strength) = of(member, mate, rating).map_err(|why| refused(member, why))?;
        let borne = Borne { member, mate, load, strength };
        if found.as_ref().is_none_or(|other| borne.safety() < other.safety()) {
            found = Some(borne);
        }
    }
    found.ok_or_else(|| Outcome::not_applicable("No gear is printed."))
}

/// The least strength over stress of all printed gears' roots in one case; `at` words its load.
fn roots(
    made: &Product,
    at: impl Fn() -> String + Send + Sync + 'static,
    stress_in: fn(Cases<f64>) -> f64,
    strength_in: fn(Cases<Band>) -> Band,
) -> Outcome {
    let found = weakest(made, |_, _, rating| {
        Ok((stress_in(rating.root_stress?), strength_in(rating.root_strength?)))
    });
    match found {
        Err(refusal) => refusal,
        Ok(borne) => Outcome::at_least(borne.safety(), 1.0)
            .only_warns()
            .remark(move || {
                format!("The {} with the {} at {}: {}.", borne.member, borne.mate, at(), borne.figures())
            })
            .remedy("A wider face, a stronger or cooler plastic, bought gears, or less torque."),
    }
}

fn warm_roots(made: &Product) -> Outcome {
    let peak = made.gears.work.torque.peak;
    roots(made, move || format!("{peak:.1} N m"), |cases| cases.peak, |cases| cases.peak)
}

fn root_life(made: &Product) -> Outcome {
    let work = &made.gears.work;
    let (torque, why) = (work.torque.continuous, work.continuous_is);
    roots(
        made,
        move || format!("{torque:.2} N m ({why})"),
        |cases| cases.continuous,
        |cases| cases.continuous,
    )
}

fn root_blow(made: &Product) -> Outcome {
    let Some(blow) = made.gears.work.blow else {
        return Outcome::not_applicable("Stiffness or inertia is out of range.");
    };
    roots(made, move || format!("a blow of {blow:.1} N m"), |cases| cases.impact, |cases| cases.impact)
}

fn flanks(made: &Product) -> Outcome {
    let [at_sun, at_ring] = meshes(made).map(|mesh| mesh.flank_pressure);
    let found = weakest(made, |member, mate, rating| {
        let with_ring = member == Member::Ring || mate == Member::Ring;
        let pressure = if with_ring { at_ring } else { at_sun };
        Ok((pressure?.peak, rating.flank_strength?.peak))
    });
    match found {
        Err(refusal) => refusal,
        Ok(borne) => Outcome::at_least(borne.safety(), 1.0)
            .only_warns()
            .remark(move || format!("The {}: {}.", borne.member, borne.figures()))
            .remedy("A wider face, a stronger plastic, or less torque."),
    }
}

fn wear(made: &Product) -> Outcome {
    /// Most wear of a flank in modules: handbook practice for plastic gears (from memory).
    const MOST: f64 = 0.2;
    let mut deepest: Option<(Member, Band)> = None;
    for (member, _, rating) in printed(made) {
        match rating.wear {
            Ok(depth) if deepest.is_none_or(|(_, other)| depth.value > other.value) => {
                deepest = Some((member, depth));
            }
            Ok(_) => {}
            Err(why) => return refused(member, why),
        }
    }
    let Some((member, depth)) = deepest else { return Outcome::not_applicable("No gear is printed.") };
    let growth = made.gears.growth.as_ref().ok().map(|growth| growth.output.value.to_degrees());
    Outcome::at_most(depth.value, MOST * made.actuator.design.gearset.normal_module)
        .only_warns()
        .remark(move || {
            let growth = growth.map_or(String::new(), |degrees| {
                format!(" Backlash at the output grows by {degrees:.3} deg in 100,000 swings.")
            });
            format!("The {member} (band {:.3} to {:.3} mm).{growth}", depth.low, depth.high)
        })
        .remedy("Grease, a tougher plastic, a wider face, or exchange the gear in time.")
}

fn give(made: &Product) -> Outcome {
    let mut worst: Option<(f64, f64)> = None;
    for mesh in meshes(made) {
        match mesh.deformation {
            Ok(give) if worst.is_none_or(|(value, _)| give.value > value) => {
                worst = Some((give.value, give.limit));
            }
            Ok(_) => {}
            Err(NotApplicable::Metal) => {}
            Err(why) => return Outcome::not_applicable(move || format!("{why}.")),
        }
    }
    let Some((at_peak, limit)) = worst else { return Outcome::not_applicable("No mesh has a plastic gear.") };
    let relief = made.actuator.design.gearset.tip_relief;
    // It goes with the load; the guideline's limit is one of running.
    let torque = made.gears.work.torque;
    Outcome::at_most(at_peak * torque.continuous / torque.peak, limit)
        .only_warns()
        .remark(move || format!(
            "{at_peak:.3} mm at peak. Tip relief of that much keeps bent teeth from knocking; there is {relief:.3} mm."
        ))
        .remedy("A stiffer plastic, a wider face, or less torque.")
}

fn least_play(made: &Product) -> Outcome {
    let Some(play) = &made.feel.play else {
        return Outcome::not_applicable("The departures leave no mesh.");
    };
    let (name, tighter) = if play.sun_mesh.statistical[0] <= play.ring_mesh.statistical[0] {
        ("Sun and planet", play.sun_mesh)
    } else {
        ("Planet and ring", play.ring_mesh)
    };
    let wanted = play.backlash_wanted;
    let [least, most] = tighter.statistical;
    let outcome = Outcome::at_least(least, 0.0)
        .remark(move || {
            let wanted = wanted.map_or(String::new(), |backlash| {
                format!(" gearset.backlash of {backlash:.2} mm would do at the worst.")
            });
            format!(
                "{name}: {least:.3} to {most:.3} mm; {:.3} to {:.3} if all comes together; most by {}.{wanted}",
                tighter.least,
                tighter.most,
                tighter.largest.name()
            )
        })
        .remedy("More backlash, or a printer whose teeth are measured (printer.tooth_growth).");
    if least + most >= 0.0 { outcome.only_warns() } else { outcome }
}
