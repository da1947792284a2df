//! The answer as text and as a tree.

use std::fmt::Write;

use comfy_table::{CellAlignment, ContentArrangement, Table, presets::NOTHING};
use serde_json::{Value, json};

use super::front::{Objectives, ranks};
use super::near_miss::Stage;
use super::rate::Choice;
use super::reducers::{self, Reducer};
use super::requirement::Space;
use super::run::Found;
use super::trade::against_neighbour;

/// Choices shown; the tree has all.
const SHOWN: usize = 12;

/// Why a choice is on the table.
fn why(front: &[Objectives], best: &[&str], place: usize) -> String {
    match (best, place) {
        ([], 0) => "best all round".to_string(),
        ([], _) => against_neighbour(front, place).unwrap_or_else(|| "between the others".to_string()),
        (best, 0) => format!("best all round; best {}", best.join(", ")),
        (best, _) => format!("best {}", best.join(", ")),
    }
}

fn limited(choice: &Choice) -> String {
    choice
        .limited_by
        .as_ref()
        .map_or("-".to_string(), |(id, margin)| format!("{id} ({:+.0} %)", margin * 100.0))
}

fn gears(space: &Space, choice: &Choice) -> String {
    let picked = &choice.candidate.choices;
    let [sun, planet, ring] = picked.teeth;
    let module = space.gears.get(picked.gears).map_or(0.0, |row| row.module);
    format!("{sun}/{planet}/{ring} x{} m{module} b{}", picked.planets, picked.face)
}

fn bearing(space: &Space, choice: &Choice) -> String {
    space.outputs.get(choice.candidate.choices.output).map_or(String::new(), |output| match output.count {
        1 => output.designation.clone(),
        count => format!("{count} x {}", output.designation),
    })
}

fn materials(space: &Space, choice: &Choice) -> String {
    let picked = &choice.candidate.choices;
    let name = |list: &[String], index: usize| list.get(index).cloned().unwrap_or_default();
    format!(
        "{}/{}",
        name(&space.planet_materials, picked.planet_material),
        name(&space.ring_materials, picked.ring_material)
    )
}

/// For people.
pub fn text(space: &Space, found: &Found) -> String {
    let mut text: String = stages(found).iter().map(|line| format!("{line}\n")).collect();
    // Writing to a String cannot fail, here and below.
    if found.choices.is_empty() {
        let _ = write!(text, "\nNothing on hand meets the requirement.\n{}", nearest(found));
        return text;
    }
    let _ = write!(text, "\n{}", lined_up(&HEADS, rows(space, found).into_iter().take(SHOWN), &NUMBERS));
    if found.choices.len() > SHOWN {
        let _ = writeln!(text, "{} more: --json lists them.", found.choices.len() - SHOWN);
    }
    if let Some(best) = found.choices.first() {
        let rows = reducer_rows(&reducers::compare(best)).into_iter();
        let _ = write!(text, "\n{REDUCERS}\n{}", lined_up(&REDUCER_HEADS, rows, &[]));
    }
    text
}

/// How the search went, a line a stage.
pub fn stages(found: &Found) -> Vec<String> {
    let (counts, tally) = (&found.counts, &found.tally);
    let mut lines = vec![
        format!(
            "{} gearsets considered: {} within the ratios, {} assemble, {} may fit, {} bear the peak torque, {} take planet bearings.",
            counts.considered,
            counts.in_ratio,
            counts.assembling,
            counts.in_envelope,
            counts.strong,
            found.seated
        ),
        format!(
            "{} candidates with motor, bearings and materials: {} miss the requirement by a bound, {} can't be laid out, {} fail, \
             {} are covered by a better one; {} were laid out and rated, {} drawn, {} made and judged by every check.",
            found.candidates,
            tally.bounded,
            tally.refused,
            tally.failing,
            tally.covered,
            tally.rated,
            tally.drawn,
            tally.made
        ),
    ];
    lines.push(if found.cancelled {
        "Stopped before its end: what follows is what was found until then.".to_string()
    } else if !found.is_complete() {
        format!(
            "Not complete: {} candidates not looked at and {} rated but not made (search.laid_out, search.made).",
            found.left, found.unmade
        )
    } else if found.choices.is_empty() {
        "Complete: every candidate was judged.".to_string()
    } else {
        "Complete: nothing on hand beats all of these by more than 3 % in anything.".to_string()
    });
    lines
}

/// Heads of [`rows`].
pub const HEADS: [&str; 14] = [
    "",
    "motor",
    "gears",
    "ratio",
    "bearing",
    "planet/ring",
    "mass g",
    "dia mm",
    "height mm",
    "cont N m",
    "back N m",
    "cost",
    "why",
    "limited by",
];
/// Columns of numbers among them.
pub const NUMBERS: [usize; 7] = [3, 6, 7, 8, 9, 10, 11];

/// The choices, best first.
pub fn rows(space: &Space, found: &Found) -> Vec<Vec<String>> {
    let objectives: Vec<_> = found.choices.iter().map(|choice| choice.objectives).collect();
    let row = |(place, (choice, (_, best))): (usize, (&Choice, (f64, Vec<&'static str>)))| {
        let one = &choice.objectives;
        vec![
            (place + 1).to_string(),
            choice.design.motor.name.clone(),
            gears(space, choice),
            format!("{:.2}", choice.ratio),
            bearing(space, choice),
            materials(space, choice),
            format!("{:.0}", one.mass * 1e3),
            format!("{:.1}", one.diameter),
            format!("{:.1}", one.height),
            format!("{:.2}", one.continuous),
            format!("{:.2}", one.backdrive),
            one.cost.map_or("-".to_string(), |cost| format!("{cost:.2}")),
            why(&objectives, &best, place),
            limited(choice),
        ]
    };
    found.choices.iter().zip(ranks(&objectives)).enumerate().map(row).collect()
}

/// A table in columns of text.
fn lined_up(heads: &[&str], rows: impl Iterator<Item = Vec<String>>, numbers: &[usize]) -> String {
    let mut grid = Table::new();
    grid.load_preset(NOTHING).set_content_arrangement(ContentArrangement::Disabled).set_header(heads);
    for row in rows {
        grid.add_row(row);
    }
    for column in numbers {
        if let Some(column) = grid.column_mut(*column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    grid.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

/// Near misses, furthest first: what is asked, what came nearest, by how much to relax it.
pub fn near_misses(found: &Found) -> Vec<String> {
    /// So many are worth reading.
    const MOST: usize = 6;
    let miss = |(key, miss): (&str, &super::near_miss::Miss)| {
        format!(
            "{key}: asked {:.4} {unit}, nearest {:.4} {unit}: relax it by {least}{:.1} %.",
            miss.limit,
            miss.value,
            miss.off() * 100.0,
            unit = miss.unit,
            // A bound flatters: the real one may be further off.
            least = if miss.stage == Stage::Bound { "at least " } else { "" }
        )
        .replace("  ", " ")
    };
    let mut lines: Vec<String> = found.misses.sorted().into_iter().take(MOST).map(miss).collect();
    let mut refused: Vec<_> = found.misses.refused.iter().collect();
    refused.sort_by(|a, b| b.1.0.cmp(&a.1.0).then(a.0.cmp(b.0)));
    lines.extend(refused.into_iter().take(MOST).map(|(id, (count, message))| {
        format!("{id}: {count} can't be laid out ({}), such as: {message}", key_of(id))
    }));
    lines
}

fn nearest(found: &Found) -> String {
    near_misses(found).iter().map(|line| format!("  {line}\n")).collect()
}

/// Key of the requirement file that gives way to a condition of the layout.
fn key_of(id: &str) -> &'static str {
    match id {
        "bearing-passes" | "keeper-screws" | "output-bolts" | "carrier-holes" => "output_bearings, gears",
        "planet-rim" | "planet-washer" | "planet-sleeve" | "planet-pin" => {
            "planet_bearings, search.face_most"
        }
        "sun-boss" | "rotor-screws" => "search.sun_teeth_least, gears, motors",
        "rotor-screw-length" | "stator-screws" | "stator-screw-length" | "shaft-extension" => "motors",
        "sun-screw" => "search.face_least, requirement.peak_torque",
        "pillar-room" => "search.planets_least, fasteners.pillars",
        "plate-in-ring" => "planet_bearings, gears",
        "plate-in-base" => "motors, output_bearings, gears",
        "service-screws" => "search.face_least, output_bearings",
        "service-columns" => "fasteners.service",
        "board-passes" | "encoder-gap" => "controller",
        _ => "search, gears",
    }
}

/// What the reducers' table is.
pub const REDUCERS: &str = "The first beside other reducers with its motor and envelope (comparison only):";
/// Heads of [`reducer_rows`].
pub const REDUCER_HEADS: [&str; 8] = [
    "reducer",
    "ratio",
    "efficiency",
    "backwards",
    "back-drive N m",
    "inertia g m2",
    "highest load",
    "what decides",
];

/// Reducers side by side.
pub fn reducer_rows(reducers: &[Reducer]) -> Vec<Vec<String>> {
    let maybe = |value: Option<f64>, digits: usize| {
        value.map_or("-".to_string(), |value| format!("{value:.digits$}"))
    };
    let row = |one: &Reducer| {
        vec![
            one.name.to_string(),
            format!("{:.1}", one.ratio),
            format!("{:.2}", one.efficiency),
            maybe(one.efficiency_back, 2),
            maybe(one.backdrive, 2),
            maybe(one.inertia.map(|inertia| inertia * 1e3), 2),
            one.load.clone(),
            one.verdict.clone(),
        ]
    };
    reducers.iter().map(row).collect()
}

/// For machines.
pub fn tree(space: &Space, found: &Found) -> Value {
    let objectives: Vec<_> = found.choices.iter().map(|choice| choice.objectives).collect();
    let ranks = ranks(&objectives);
    let choices: Vec<Value> = found
        .choices
        .iter()
        .zip(&ranks)
        .enumerate()
        .map(|(place, (choice, (rank, best)))| {
            let (one, picked) = (&choice.objectives, &choice.candidate.choices);
            json!({
                "place": place + 1,
                "rank": rank,
                "motor": choice.design.motor.name,
                "teeth": picked.teeth,
                "planets": picked.planets,
                "normal_module_mm": choice.design.gearset.normal_module,
                "helix_angle_deg": choice.design.gearset.helix_angle.to_degrees(),
                "face_width_mm": picked.face,
                "ratio": choice.ratio,
                "output_bearing": bearing(space, choice),
                "planet_ring_material": materials(space, choice),
                "mass_g": one.mass * 1e3,
                "outer_diameter_mm": one.diameter,
                "height_mm": one.height,
                "continuous_torque_n_m": one.continuous,
                "backdrive_torque_n_m": one.backdrive,
                "cost": one.cost,
                "why": why(&objectives, best, place),
                "limited_by": choice.limited_by.as_ref().map(|(id, margin)| json!({ "check": id, "margin": margin })),
                "warnings": choice.warnings,
                "design": choice.text.as_ref(),
            })
        })
        .collect();
    let counts = &found.counts;
    json!({
        "name": space.name,
        "complete": found.is_complete(),
        "cancelled": found.cancelled,
        "stages": {
            "considered": counts.considered,
            "in_ratio": counts.in_ratio,
            "assembling": counts.assembling,
            "in_envelope": counts.in_envelope,
            "strong": counts.strong,
            "candidates": found.candidates,
            "seated": found.seated,
            "bounded": found.tally.bounded,
            "refused": found.tally.refused,
            "covered": found.tally.covered,
            "rated": found.tally.rated,
            "failing": found.tally.failing,
            "drawn": found.tally.drawn,
            "made": found.tally.made,
            "not_looked_at": found.left,
            "not_made": found.unmade,
        },
        "choices": choices,
        "reducers": found.choices.first().map(|best| reducers::compare(best).iter().map(Reducer::tree).collect::<Vec<_>>()),
        "nearest": found.misses.tree(),
    })
}
