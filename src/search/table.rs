//! The answer as text and as a tree.

use std::fmt::Write;

use comfy_table::{CellAlignment, ContentArrangement, Table, presets::NOTHING};
use serde_json::{Value, json};

use super::front::ranks;
use super::rate::Choice;
use super::reducers::{self, Reducer};
use super::requirement::Space;
use super::run::Found;

/// Choices shown; the tree has all.
const SHOWN: usize = 12;

/// Why a choice is on the table.
fn why(best: &[&str], place: usize) -> String {
    match (best, place) {
        ([], 0) => "best all round".to_string(),
        ([], _) => "between the others".to_string(),
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
    let mut text = stages(found);
    // Writing to a String cannot fail, here and below.
    if found.choices.is_empty() {
        let _ = write!(text, "\nNothing on hand meets the requirement.\n{}", nearest(found));
        return text;
    }
    let _ = write!(text, "\n{}", grid(space, found));
    if found.choices.len() > SHOWN {
        let _ = writeln!(text, "{} more: --json lists them.", found.choices.len() - SHOWN);
    }
    if let Some(best) = found.choices.first() {
        let _ = write!(text, "\n{}", reducer_text(&reducers::compare(best)));
    }
    text
}

fn stages(found: &Found) -> String {
    let (counts, tally) = (&found.counts, &found.tally);
    let mut text = format!(
        "{} gearsets considered: {} within the ratios, {} assemble, {} may fit, {} bear the peak torque, {} take planet bearings.\n\
         {} candidates with motor, bearings and materials: {} miss the requirement by a bound, {} can't be laid out, \
         {} are covered by a better one; {} laid out and rated, {} drawn, {} made and judged by every check.\n",
        counts.considered,
        counts.in_ratio,
        counts.assembling,
        counts.in_envelope,
        counts.strong,
        found.seated,
        found.candidates,
        tally.bounded,
        tally.refused,
        tally.covered,
        tally.rated,
        tally.drawn,
        tally.made
    );
    if found.cancelled {
        text.push_str("Stopped before its end: what follows is what was found until then.\n");
    } else if found.is_complete() {
        text.push_str("Complete: nothing on hand is better than these in anything by more than 3 %.\n");
    } else {
        let _ = writeln!(
            text,
            "Not complete: {} candidates not looked at and {} rated but not made (search.laid_out, search.made).",
            found.left, found.unmade
        );
    }
    text
}

fn grid(space: &Space, found: &Found) -> String {
    let objectives: Vec<_> = found.choices.iter().map(|choice| choice.objectives).collect();
    let ranks = ranks(&objectives);
    let mut grid = Table::new();
    grid.load_preset(NOTHING).set_content_arrangement(ContentArrangement::Disabled).set_header([
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
    ]);
    for (place, (choice, (_, best))) in found.choices.iter().zip(&ranks).take(SHOWN).enumerate() {
        let one = &choice.objectives;
        grid.add_row([
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
            why(best, place),
            limited(choice),
        ]);
    }
    for column in [3, 6, 7, 8, 9, 10, 11] {
        if let Some(column) = grid.column_mut(column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    grid.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect()
}

fn nearest(found: &Found) -> String {
    /// So many are worth reading.
    const MOST: usize = 6;
    let mut text = String::new();
    for (key, miss) in found.misses.sorted().into_iter().take(MOST) {
        let _ = writeln!(
            text,
            "  {key}: asked {:.4} {unit}, nearest {:.4} {unit}: relax it by {:.1} %.",
            miss.limit,
            miss.value,
            miss.off() * 100.0,
            unit = miss.unit
        );
    }
    let mut refused: Vec<_> = found.misses.refused.iter().collect();
    refused.sort_by(|a, b| b.1.0.cmp(&a.1.0).then(a.0.cmp(b.0)));
    for (id, (count, message)) in refused.into_iter().take(MOST) {
        let _ = writeln!(text, "  {id}: {count} candidates can't be laid out, such as: {message}");
    }
    text
}

fn reducer_text(reducers: &[Reducer]) -> String {
    let mut grid = Table::new();
    grid.load_preset(NOTHING).set_content_arrangement(ContentArrangement::Disabled).set_header([
        "reducer",
        "ratio",
        "efficiency",
        "backwards",
        "back-drive N m",
        "inertia g m2",
        "highest load",
        "what decides",
    ]);
    for one in reducers {
        let maybe = |value: Option<f64>, digits: usize| {
            value.map_or("-".to_string(), |value| format!("{value:.digits$}"))
        };
        grid.add_row([
            one.name.to_string(),
            format!("{:.1}", one.ratio),
            format!("{:.2}", one.efficiency),
            maybe(one.efficiency_back, 2),
            maybe(one.backdrive, 2),
            maybe(one.inertia.map(|inertia| inertia * 1e3), 2),
            one.load.clone(),
            one.verdict.clone(),
        ]);
    }
    let lines: String = grid.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect();
    format!("The first beside other reducers with its motor and envelope (comparison only):\n{lines}")
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
                "why": why(best, place),
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
