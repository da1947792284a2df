//! The robot's page: joints, what is shared, shopping list, plates, margins. One file that loads nothing.

use maud::{DOCTYPE, Markup, html};

use super::joint::Robot;
use super::made::MadeJoint;
use super::picture::picture;
use super::plates::{Shop, numbered};
use super::shopping::sharing;
use super::size::Sized;
use super::text::{bearings, ending, gearsets, motors, rows, why};
use crate::bom::BillOfMaterials;
use crate::book::base64::data_address;
use crate::book::cautions::cautions;
use crate::book::parts_list::parts_list;
use crate::book::text::table;
use crate::checks::{Checked, Load, Verdict};
use crate::export::print_sheet::hours;
use crate::web::frame;

/// Nothing from anywhere, and nothing that runs.
const ROBOT_STYLE: &str = include_str!("page.css");
/// Checks a joint, those with the least in hand.
const CHECKS: usize = 6;

/// What the page shows.
pub struct Sheet<'a> {
    pub robot: &'a Robot,
    pub sized: &'a Sized,
    pub joints: &'a [MadeJoint],
    pub list: &'a BillOfMaterials,
    pub shops: &'a [Shop<'a>],
    /// A plan a printer.
    pub plans: &'a [String],
}

/// The page; none if no robot was found.
pub fn page(sheet: &Sheet) -> String {
    let robot = sheet.robot;
    let chapters: [(&str, &str, Markup); 7] = [
        ("glance", "At a glance", glance(sheet)),
        ("joints", "Joints", joints(sheet)),
        ("others", "Other ways to build it", others(sheet)),
        ("shopping", "Shopping list", shopping(sheet)),
        ("plates", "Plates", plates(sheet)),
        ("margins", "Margins", margins(sheet)),
        ("cautions", "Cautions", cautions()),
    ];
    html! {
        (DOCTYPE)
        html lang="en" {
            (frame::head(&format!("Robot: {}", robot.name), frame::STILL, &[ROBOT_STYLE]))
            body {
                a.skip href="#contents" { "To the contents" }
                header {
                    p.kind { "Robot" }
                    h1 { (robot.name) }
                    p { (robot.about) }
                }
                (frame::chapters(&chapters))
                (frame::foot())
            }
        }
    }
    .into_string()
}

fn glance(sheet: &Sheet) -> Markup {
    let Some(best) = sheet.sized.choices.first() else { return html! {} };
    let plates: Vec<_> = numbered(sheet.shops).map(|(_, (shop, plate))| shop.totals(plate)).collect();
    let filament: f64 = plates.iter().map(|plate| plate.mass).sum();
    let time: f64 = plates.iter().map(|plate| plate.time).sum();
    let actuators: u32 = sheet.joints.iter().map(|joint| joint.count).sum();
    let mut figures = vec![
        ("Actuators", format!("{actuators}, of {} designs", sheet.joints.len())),
        ("Mass of all actuators", format!("{:.0} g", best.mass * 1e3)),
        ("Motors", motors(sheet.robot, best)),
        ("Output bearings", bearings(sheet.robot, sheet.sized, best)),
        ("Printing", format!("{} plates, {:.0} g, {} (estimate)", plates.len(), filament * 1e3, hours(time))),
    ];
    if let Some(cost) = sheet.list.total_cost() {
        figures.push(("Cost of what has a price", format!("{cost:.2}")));
    }
    html! {
        dl.figures { @for (name, value) in figures { div { dt { (name) } dd { (value) } } } }
        p { "Next: " code { "hubwright make joints/<design>.toml" } " makes a joint's parts, drawings and build book." }
    }
}

fn joints(sheet: &Sheet) -> Markup {
    let Some(best) = sheet.sized.choices.first() else { return html! {} };
    let head = [
        "joint",
        "motor",
        "output bearing",
        "gears",
        "limited by",
        "pieces",
        "hangs on it, g",
        "asked, N m",
        "held for hours, N m",
        "ratio",
        "across x high, mm",
        "g each",
    ];
    let body: Vec<Vec<String>> = rows(sheet.robot, sheet.sized, best)
        .into_iter()
        .zip(&best.picks)
        .map(|(row, pick)| {
            let objectives = &pick.offer.good.choice.objectives;
            vec![
                row.name,
                row.motor,
                row.bearing,
                row.gears,
                row.limited_by
                    .map_or("-".to_string(), |(id, margin)| format!("`{id}` ({:+.0} %)", margin * 100.0)),
                row.count.to_string(),
                format!("{:.0}", row.hangs * 1e3),
                format!("{:.2}", row.peak),
                format!("{:.2}", row.continuous),
                format!("{:.2}", row.ratio),
                format!("{:.0} x {:.0}", objectives.diameter, objectives.height),
                format!("{:.0}", row.mass * 1e3),
            ]
        })
        .collect();
    let masses: Vec<f64> = best.picks.iter().map(|pick| pick.offer.mass).collect();
    html! {
        (picture(sheet.robot, &masses))
        p {
            "A joint carries the actuators beyond it: what hangs on it counts them with their masses, rounded up to "
            (format!("{:.0} g", sheet.robot.mass_step * 1e3)) ", and its design asks for the torque that follows. Gears: sun/planet/ring teeth, planets, module, face width in mm."
        }
        (table(&head, &body, 5))
    }
}

fn others(sheet: &Sheet) -> Markup {
    let sized = sheet.sized;
    let mut head =
        vec!["", "why", "motors", "output bearings", "kinds of motor", "kinds of bearing", "gearsets", "g"];
    if sized.is_priced {
        head.push("cost");
    }
    let body: Vec<Vec<String>> = sized
        .choices
        .iter()
        .enumerate()
        .map(|(place, one)| {
            let mut cells = vec![
                (place + 1).to_string(),
                why(sized, place),
                motors(sheet.robot, one),
                bearings(sheet.robot, sized, one),
                one.motors.to_string(),
                one.bearings.to_string(),
                gearsets(one).to_string(),
                format!("{:.0}", one.mass * 1e3),
            ];
            if sized.is_priced {
                cells.push(format!("{:.2}", one.cost));
            }
            cells
        })
        .collect();
    html! {
        p {
            "The first is the one made here. Each is better than every other in something: mass, kinds of motor, kinds of bearing"
            @if sized.is_priced { ", cost" } "."
            " " (ending(sized))
        }
        (table(&head, &body, 4))
    }
}

fn shopping(sheet: &Sheet) -> Markup {
    let body: Vec<Vec<String>> = sharing(sheet.joints, sheet.list)
        .into_iter()
        .map(|one| vec![one.kind.as_str().to_string(), one.lines.to_string(), one.apart.to_string()])
        .collect();
    let bought = BillOfMaterials {
        items: sheet
            .list
            .items
            .iter()
            .filter(|item| item.kind != crate::bom::Kind::Printed)
            .cloned()
            .collect(),
    };
    html! {
        p { "For all joints together; " code { "shopping.csv" } " is the same with the printed parts." }
        (parts_list(&bought))
        h3 { "What sharing saves" }
        (table(&["", "lines to order", "lines joint by joint"], &body, 1))
    }
}

fn plates(sheet: &Sheet) -> Markup {
    let body: Vec<Vec<String>> = numbered(sheet.shops)
        .map(|(number, (shop, plate))| {
            let totals = shop.totals(plate);
            vec![
                number.to_string(),
                plate.material.clone(),
                shop.words(plate),
                plate.layer_height.to_string(),
                format!("{:.0}", totals.mass * 1e3),
                hours(totals.time),
            ]
        })
        .collect();
    let too_large: Vec<String> =
        sheet.shops.iter().flat_map(|shop| shop.too_large.iter().map(|part| part.to_string())).collect();
    html! {
        p { "Ready to load: " code { "plate-1.3mf" } " and on. Times are estimates. " code { "plates.csv" } " lists every print." }
        (table(&["plate", "material", "prints", "layers, mm", "g", "time"], &body, 3))
        @if !too_large.is_empty() {
            p { "On no plate:" }
            ul { @for line in &too_large { li { (line) } } }
        }
        @for plan in sheet.plans {
            figure.drawing { img src=(data_address("image/svg+xml", plan.as_bytes())) alt="Plan of the plates, parts named by joint"; }
        }
    }
}

/// The checks under load with the least in hand, and all that warn.
fn margins(sheet: &Sheet) -> Markup {
    html! {
        p { "Every check of every joint holds or warns. Under load, these have the least in hand; the joint's build book has all." }
        @for joint in sheet.joints {
            h3 { (joint.name) }
            (table(&["check", "what it is about", "in hand"], &tightest(&joint.made.checks), 2))
            @let warns = warnings(&joint.made.checks);
            @if !warns.is_empty() { p { "Warns: " (warns.join(", ")) "." } }
        }
    }
}

fn tightest(checks: &[Checked]) -> Vec<Vec<String>> {
    let mut held: Vec<(&Checked, f64)> = checks
        .iter()
        .filter(|one| one.outcome.verdict == Verdict::Holds && !matches!(one.check.load, Load::None))
        .filter_map(|one| Some((one, one.outcome.margin()?)))
        .collect();
    held.sort_by(|a, b| a.1.total_cmp(&b.1));
    held.into_iter()
        .take(CHECKS)
        .map(|(one, margin)| {
            vec![
                format!("`{}`", one.check.id),
                one.check.title.to_string(),
                format!("{:+.0} %", margin * 100.0),
            ]
        })
        .collect()
}

fn warnings(checks: &[Checked]) -> Vec<&'static str> {
    checks.iter().filter(|one| one.outcome.verdict == Verdict::Warns).map(|one| one.check.id).collect()
}
