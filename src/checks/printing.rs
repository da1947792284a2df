//! What runs free and what prints.

use rayon::prelude::*;

use super::Check;
use super::clearance::clearances;
use super::outcome::Outcome;
use super::ranking::Load;
use crate::parts::form;
use crate::printing::{bed_hold, wall};
use crate::product::Product;

pub static CHECKS: &[Check] = &[
    Check {
        id: "running-clearance",
        title: "Least gap of turning against fixed bodies",
        unit: "mm",
        load: Load::None,
        formula: "least radial gap where heights are shared; least axial gap where radii are",
        symbols: "",
        clause: "common practice, no source: 0.5 radial, 0.8 axial",
        range: "swept sections of all printed parts, motor, screws, board and pins; gears in mesh by their backlash",
        not_covered: "deflection, runout, heat",
        parts: &[],
        run: running_clearance,
    },
    Check {
        id: "print-form",
        title: "Largest unsupported reach, of what the printer may span",
        unit: "",
        load: Load::None,
        formula: "reach / limit over all downward faces",
        symbols: "slope against the overhang limit, bridge against the longest bridge, ledge against one line width",
        clause: "common practice, no source: 45 degrees, 10 mm",
        range: "parts as they lie on the bed",
        not_covered: "sagging, cooling, stringing",
        parts: &[],
        run: print_form,
    },
    Check {
        id: "least-wall",
        title: "Thinnest wall of a print, in lines",
        unit: "lines",
        load: Load::None,
        formula: "t / w, least over all sections and parts",
        symbols: "t distance across material between two edges that face each other, mm\nw line width, mm",
        clause: "common practice, no source: two lines, each narrower by a twentieth at most",
        range: "sections at half height of every slab, walls to 4 mm; teeth by tooth-tips",
        not_covered: "first layers of a countersink near an edge; whether a width between whole lines is filled",
        parts: &[],
        run: least_wall,
    },
    Check {
        id: "bed-hold",
        title: "Slenderest part, height over the narrowest width on the bed",
        unit: "",
        load: Load::None,
        formula: "H / b",
        symbols: "H height as it lies, mm\nb narrowest width of the first layer's box, mm",
        clause: "common practice, no source: 6 stands without a brim",
        range: "parts as they lie on the bed",
        not_covered: "warping, a dirty bed",
        parts: &[],
        run: |made| {
            let slenderest = made
                .parts
                .iter()
                .filter_map(|part| Some((part, bed_hold::bed_hold(&part.printed)?)))
                .max_by(|(_, a), (_, b)| a.slenderness.total_cmp(&b.slenderness));
            match slenderest {
                Some((part, hold)) => Outcome::at_most(hold.slenderness, SLENDEREST)
                    .remark(format!("{}: {:.0} mm2 on the bed.", part.part.name.as_str(), hold.area))
                    .remedy("Print it with a brim."),
                None => Outcome::not_applicable("Nothing is printed."),
            }
        },
    },
    Check {
        id: "bed-fit",
        title: "Largest part against the bed",
        unit: "",
        load: Load::None,
        formula: "size / bed, the worst of length, width, height",
        symbols: "",
        clause: "geometry",
        range: "each part alone, unturned",
        not_covered: "arrangement of several parts",
        parts: &[],
        run: |made| {
            let bed = made.actuator.design.printer.bed;
            let share = |part: &crate::parts::MadePart| {
                (0..3).map(|axis| part.size[axis] / bed[axis]).fold(0.0, f64::max)
            };
            let worst = made.parts.iter().max_by(|a, b| share(a).total_cmp(&share(b)));
            let Some(part) = worst else { return Outcome::not_applicable("Nothing is printed.") };
            let [length, width, height] = part.size;
            Outcome::at_most(share(part), 1.0)
                .remark(format!(
                    "{}: {length:.1} x {width:.1} x {height:.1} mm, bed {} x {} x {} mm.",
                    part.part.name.as_str(),
                    bed[0],
                    bed[1],
                    bed[2]
                ))
                .remedy("A larger printer, or a smaller rotor.")
        },
    },
];

/// Height over width that stands without a brim (common practice, no source).
const SLENDEREST: f64 = 6.0;
/// Lines that a wall wants at least: 0.8 mm from a nozzle of 0.4 whose lines are 0.42, two of them squeezed by a twentieth (common
/// practice, no source).
const LEAST_LINES: f64 = 1.9;

fn least_wall(made: &Product) -> Outcome {
    let found: Result<Vec<_>, _> = made.parts.par_iter().map(|part| wall::thinnest(&part.printed)).collect();
    let walls = match found {
        Ok(walls) => walls,
        Err(error) => return Outcome::not_applicable(format!("Sections could not be formed: {error}.")),
    };
    let thinnest = made
        .parts
        .iter()
        .zip(walls)
        .filter_map(|(part, wall)| Some((part, wall?)))
        .min_by(|(_, a), (_, b)| a.thickness.total_cmp(&b.thickness));
    let Some((part, wall)) = thinnest else {
        return Outcome::not_applicable(format!("No wall is thinner than {:.0} mm.", wall::REACH));
    };
    // Rounding in the layout's own numbers must not decide.
    Outcome::at_least(wall.thickness / made.actuator.design.printer.line_width * (1.0 + 1e-9), LEAST_LINES)
        .remark(format!(
            "{}: {:.2} mm at z = {:.1} over the bed, {:.1} from the axis.",
            part.part.name.as_str(),
            wall.thickness,
            wall.z,
            wall.place.norm()
        ))
        .remedy("A narrower line, or report this design: the layout should leave more.")
}

/// Worst of all gaps over what is wanted, as millimetres of the worst one.
fn running_clearance(made: &Product) -> Outcome {
    let printer = &made.actuator.design.printer;
    let parts: Vec<_> = made.parts.iter().map(|part| &part.part).collect();
    let found = match clearances(&made.actuator, &parts) {
        Ok(found) => found,
        Err(error) => return Outcome::not_applicable(format!("Sections could not be formed: {error}.")),
    };
    let mut worst: Option<(f64, f64, String)> = None;
    for clearance in &found {
        let gaps = [
            (clearance.radial, printer.running_radial, "radial"),
            (clearance.axial, printer.running_axial, "axial"),
        ];
        for (gap, wanted, way) in gaps {
            let Some(gap) = gap else { continue };
            if worst.as_ref().is_none_or(|(least, limit, _)| gap / wanted < least / limit) {
                let [a, b] = &clearance.bodies;
                worst = Some((gap, wanted, format!("{a} against {b}, {way}, at z = {:.1}.", clearance.z)));
            }
        }
    }
    match worst {
        // Rounding of the layout's own sums must not decide.
        Some((gap, wanted, place)) => Outcome::at_least((gap * 1e5).round() / 1e5, wanted)
            .remark(place)
            .remedy("Report this design: the layout should keep them apart."),
        None => Outcome::not_applicable("No bodies come within reach of each other."),
    }
}

fn print_form(made: &Product) -> Outcome {
    let mut worst = 0.0;
    let mut place = String::new();
    let printer = &made.actuator.design.printer;
    let overhangs: Vec<_> =
        made.parts.par_iter().map(|part| form::overhangs(&part.printed, printer)).collect();
    for (part, overhangs) in made.parts.iter().zip(overhangs) {
        match overhangs {
            Ok(found) => {
                for overhang in found {
                    let share = overhang.reach / overhang.limit;
                    if share > worst {
                        worst = share;
                        place = format!(
                            "{}: {:?} at z = {:.1}, {:.2}.",
                            part.part.name.as_str(),
                            overhang.kind,
                            overhang.z,
                            overhang.reach
                        );
                    }
                }
            }
            Err(error) => return Outcome::not_applicable(format!("Sections could not be formed: {error}.")),
        }
    }
    // A thousandth for rounding: roofs and flares stand at exactly 45 degrees.
    Outcome::at_most(worst / 1.001, 1.0)
        .remark(place)
        .remedy("Print that part with supports, or tell us: the layout should avoid it.")
}
