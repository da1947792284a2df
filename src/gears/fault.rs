//! What can be wrong with a stage, with the numbers that clash and those that would do.

use std::fmt;

use super::assembly::PlanetSpacing;
use crate::design::Spacing;

/// The gears of a stage.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Member {
    Sun,
    Planet,
    Ring,
}

impl fmt::Display for Member {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Member::Sun => "sun",
            Member::Planet => "planet",
            Member::Ring => "ring",
        })
    }
}

/// One reason why a stage cannot be built. Lengths mm, angles rad; the text shows degrees.
#[derive(Clone, Debug, PartialEq)]
pub enum StageFault {
    TeethOutOfRange {
        member: Member,
        teeth: u32,
        least: u32,
        most: u32,
    },
    PlanetsOutOfRange {
        planets: u32,
        least: u32,
        most: u32,
    },
    /// A length, or a multiple of the module where the unit is empty.
    QuantityOutOfRange {
        name: &'static str,
        unit: &'static str,
        found: f64,
        least: f64,
        most: f64,
    },
    AngleOutOfRange {
        name: &'static str,
        found: f64,
        least: f64,
        most: f64,
    },
    /// The rounded corner is wider than the rack's tooth tip.
    FilletTooLarge {
        fillet: f64,
        most: f64,
    },
    /// The rounded corner reaches above the depth at which the mating tips work.
    FilletInFlank {
        form_dedendum: f64,
        addendum: f64,
    },
    NotAssemblable {
        teeth: [u32; 3],
        planets: u32,
        nearest: Vec<[u32; 3]>,
        other_planets: Option<u32>,
    },
    PlanetsTouch {
        gap: f64,
        least: f64,
        planets: u32,
        fewer: Option<u32>,
        highest_ratio: f64,
    },
    /// The ring's teeth are too far from `zs + 2 zp` for any profile shift.
    NoCommonCentreDistance {
        teeth: [u32; 3],
        sun_mesh: f64,
        ring_mesh: f64,
    },
    /// All three shifts are given and do not agree.
    ShiftsDisagree {
        sun_mesh: f64,
        ring_mesh: f64,
        ring_shift: f64,
    },
    PointedTooth {
        member: Member,
        shift: f64,
        tip_thickness: f64,
        least: f64,
        most_shift: Option<f64>,
    },
    Undercut {
        member: Member,
        shift: f64,
        least_shift: f64,
        auto_shift: f64,
    },
    /// The tip lies at or below the fillet.
    NoFlank {
        member: Member,
        shift: f64,
        tip_diameter: f64,
        form_diameter: f64,
    },
    /// The ring's tooth spaces leave no room for a root fillet.
    RingRootClosed {
        ring_shift: f64,
        fillet_radius: f64,
        least: f64,
    },
    /// Mesh with the sun or with the ring.
    ContactBroken {
        with: Member,
        transverse: f64,
        overlap: f64,
    },
}

impl fmt::Display for StageFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StageFault::TeethOutOfRange { member, teeth, least, most } => {
                write!(f, "The {member} cannot have {teeth} teeth: {least} to {most} are possible.")
            }
            StageFault::PlanetsOutOfRange { planets, least, most } => {
                write!(f, "{planets} planets: {least} to {most} are possible.")
            }
            StageFault::QuantityOutOfRange { name, unit, found, least, most } => {
                let space = if unit.is_empty() { "" } else { " " };
                write!(f, "{name} is {found}{space}{unit}: {least} to {most}{space}{unit} is possible.")
            }
            StageFault::AngleOutOfRange { name, found, least, most } => {
                let [found, least, most] = [found, least, most].map(|angle| angle.to_degrees());
                write!(f, "{name} is {found:.2} deg: {least:.1} to {most:.1} deg is possible.")
            }
            StageFault::FilletTooLarge { fillet, most } => write!(
                f,
                "Rack fillet {fillet} does not fit on the rack's tooth: at most {most:.3} with this dedendum and \
                 pressure angle."
            ),
            StageFault::FilletInFlank { form_dedendum, addendum } => write!(
                f,
                "The rack's fillet leaves a straight flank only {form_dedendum:.3} deep while mating tips work to \
                 {addendum:.3}: smaller fillet or larger dedendum."
            ),
            StageFault::NotAssemblable { teeth, planets, nearest, other_planets } => {
                write_not_assemblable(f, *teeth, *planets, nearest, *other_planets)
            }
            StageFault::PlanetsTouch { gap, least, planets, fewer, highest_ratio } => {
                write!(f, "Planets would touch: gap {gap:.2} mm, at least {least:.1} wanted. ")?;
                match fewer {
                    Some(count) => write!(f, "{count} planets fit; or a lower ratio ")?,
                    None => write!(f, "A lower ratio ")?,
                }
                write!(f, "({planets} planets: about {highest_ratio:.2}), or more teeth.")
            }
            StageFault::NoCommonCentreDistance { teeth: [sun, planet, ring], sun_mesh, ring_mesh } => write!(
                f,
                "{sun}/{planet}/{ring}: sun and planet want a centre distance of {sun_mesh:.3} mm, planet and ring \
                 {ring_mesh:.3}; profile shift cannot bridge that. Ring of {} (sun + 2 x planet), or one tooth off.",
                u64::from(*sun) + 2 * u64::from(*planet)
            ),
            StageFault::ShiftsDisagree { sun_mesh, ring_mesh, ring_shift } => write!(
                f,
                "The given shifts put the planets at {sun_mesh:.4} mm from the sun's side and {ring_mesh:.4} from the \
                 ring's: ring shift {ring_shift:.4} agrees, or leave one of the three \"auto\"."
            ),
            StageFault::PointedTooth { member, shift, tip_thickness, least, most_shift } => {
                write!(
                    f,
                    "The {member}'s teeth are pointed with shift {shift:.3}: tip {tip_thickness:.3} mm thick, at least \
                     {least:.3} wanted. "
                )?;
                match most_shift {
                    Some(most) => write!(f, "Shift {most:.2} or less, less backlash, or more teeth."),
                    None => write!(f, "Less backlash or more teeth."),
                }
            }
            StageFault::Undercut { member, shift, least_shift, auto_shift } => write!(
                f,
                "The {member}'s teeth are undercut with shift {shift:.3}: {least_shift:.3} is the limit, {auto_shift:.2} \
                 would do."
            ),
            StageFault::NoFlank { member, shift, tip_diameter, form_diameter } => write!(
                f,
                "The {member}'s teeth have no flank with shift {shift:.3}: tip {tip_diameter:.3} mm, fillet ends at \
                 {form_diameter:.3} mm. Shifts nearer to zero, or more teeth."
            ),
            StageFault::RingRootClosed { ring_shift, fillet_radius, least } => write!(
                f,
                "The ring's tooth spaces close at the root with ring shift {ring_shift:.3}: room for a fillet of \
                 {fillet_radius:.3} mm, at least {least:.3} wanted. Smaller shifts of sun and planet, or a ring of sun + \
                 2 x planet teeth."
            ),
            StageFault::ContactBroken { with, transverse, overlap } => write!(
                f,
                "Planet and {with} lose contact between teeth: contact ratio {transverse:.3} plus overlap {overlap:.3} is \
                 below 1. More teeth, a larger addendum, or a wider face with helical teeth."
            ),
        }
    }
}

impl std::error::Error for StageFault {}

fn write_not_assemblable(
    f: &mut fmt::Formatter<'_>,
    [sun, planet, ring]: [u32; 3],
    planets: u32,
    nearest: &[[u32; 3]],
    other_planets: Option<u32>,
) -> fmt::Result {
    let sum = u64::from(sun) + u64::from(ring);
    write!(
        f,
        "{sun}/{planet}/{ring} cannot take {planets} equally spaced planets ({sum}/{planets} is not whole)."
    )?;
    let sets = nearest.iter().map(|[sun, planet, ring]| format!("{sun}/{planet}/{ring}"));
    let ways: Vec<String> = sets.chain(other_planets.map(|count| format!("{count} planets"))).collect();
    match ways.split_last() {
        None => Ok(()),
        Some((only, [])) => write!(f, " Nearest: {only}."),
        Some((last, [one])) => write!(f, " Nearest: {one} or {last}."),
        Some((last, others)) => write!(f, " Nearest: {}, or {last}.", others.join(", ")),
    }?;
    let nearest = PlanetSpacing::of([sun, ring], planets, Spacing::Nearest);
    let places = (0..planets).map(|index| format!("{:.2}", nearest.position(index).to_degrees()));
    write!(f, " Or spacing = \"nearest\": planets at {} deg.", places.collect::<Vec<_>>().join(", "))
}
