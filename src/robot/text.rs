//! The answer for people.

use std::fmt::Write;

use comfy_table::{CellAlignment, ContentArrangement, Table, presets::NOTHING};

use super::combine::Combination;
use super::joint::Robot;
use super::market::Good;
use super::size::Sized;
use crate::search::table;

/// Robots shown; the tree has all.
const SHOWN: usize = 12;

/// For people.
pub fn text(robot: &Robot, sized: &Sized) -> String {
    let mut text = head(robot, sized);
    // Writing to a String cannot fail, here and below.
    if sized.choices.is_empty() {
        for (joint, space, found) in &sized.stuck {
            let name = robot.joints.get(*joint).map_or("", |joint| joint.name.as_str());
            let _ =
                write!(text, "\n{name}, the lightest things hanging on it:\n{}", table::text(space, found));
        }
        if sized.stuck.is_empty() && !sized.cancelled {
            text.push_str("\nEach joint can be made, but not with the others' actuators hanging on it.\n");
        }
        return text;
    }
    let _ = write!(text, "\n{}", robots(robot, sized));
    if sized.choices.len() > SHOWN {
        let _ = writeln!(text, "{} more: --json lists them.", sized.choices.len() - SHOWN);
    }
    if let Some(best) = sized.choices.first() {
        let _ = write!(text, "\nThe first, joint by joint:\n{}", joints(robot, sized, best));
    }
    text
}

/// Whether anything better may be left, in a sentence.
pub fn ending(sized: &Sized) -> String {
    if sized.cancelled {
        "Stopped before its end: what follows is what was found until then.".to_string()
    } else if sized.is_complete() {
        "Complete: no actuator of a motor and a bearing at its joint and load is lighter by more than 1 %."
            .to_string()
    } else {
        format!(
            "Not complete: counts under [search] ended {} of the searches (search.laid_out, search.made); something lighter may be left.",
            sized.cut
        )
    }
}

fn head(robot: &Robot, sized: &Sized) -> String {
    let actuators: u32 = robot.joints.iter().map(|joint| joint.count).sum();
    let mut text = format!(
        "{}: {} joints, {actuators} actuators; {} motors and {} output bearings on hand.\n\
         {} searches of a motor and a bearing at a joint and load; {} sets of kinds, {} filled joint by joint, the others can't be better.\n",
        robot.name,
        robot.joints.len(),
        sized.kinds.motors.len(),
        sized.kinds.bearings.len(),
        sized.searched,
        sized.sets,
        sized.filled,
    );
    let _ = writeln!(text, "{}", ending(sized));
    if !sized.is_priced {
        text.push_str("Cost isn't weighed: not every motor has its price.\n");
    }
    text
}

/// "3 of disc 50, 1 of disc 86".
pub fn motors(robot: &Robot, one: &Combination<Good>) -> String {
    listed(robot, one, |good| good.choice.design.motor.name.clone())
}

/// The same of output bearings.
pub fn bearings(robot: &Robot, sized: &Sized, one: &Combination<Good>) -> String {
    let words = |index: usize| sized.kinds.bearings.get(index).map_or(String::new(), |kind| kind.words());
    let mut counts: Vec<(usize, u32)> = Vec::new();
    for (pick, joint) in one.picks.iter().zip(&robot.joints) {
        match counts.iter_mut().find(|(kind, _)| *kind == pick.pair.1) {
            Some((_, count)) => *count += joint.count,
            None => counts.push((pick.pair.1, joint.count)),
        }
    }
    counts.sort_unstable();
    let parts: Vec<String> = counts.into_iter().map(|(kind, count)| counted(count, &words(kind))).collect();
    parts.join(", ")
}

fn listed(robot: &Robot, one: &Combination<Good>, name: impl Fn(&Good) -> String) -> String {
    let mut counts = std::collections::BTreeMap::<(usize, String), u32>::new();
    for (pick, joint) in one.picks.iter().zip(&robot.joints) {
        *counts.entry((pick.pair.0, name(&pick.offer.good))).or_default() += joint.count;
    }
    let parts: Vec<String> = counts.into_iter().map(|((_, name), count)| counted(count, &name)).collect();
    parts.join(", ")
}

fn counted(count: u32, name: &str) -> String {
    if count == 1 { name.to_string() } else { format!("{count} x {name}") }
}

/// Kinds of gearset, motor and bearing around it alike.
pub fn gearsets(one: &Combination<Good>) -> usize {
    let mut seen = Vec::new();
    for pick in &one.picks {
        let choice = &pick.offer.good.choice;
        let (gearset, picked) = (&choice.design.gearset, &choice.candidate.choices);
        let kind = (
            pick.pair,
            picked.teeth,
            picked.planets,
            gearset.normal_module,
            gearset.helix_angle,
            picked.face,
        );
        if !seen.contains(&kind) {
            seen.push(kind);
        }
    }
    seen.len()
}

/// Why a robot is on the table: what it is best in, or what it gains over the lightest.
pub fn why(sized: &Sized, place: usize) -> String {
    let Some(one) = sized.choices.get(place) else { return String::new() };
    let least =
        |of: fn(&Combination<Good>) -> f64| sized.choices.iter().map(of).fold(f64::INFINITY, f64::min);
    let mut said = Vec::new();
    if place == 0 {
        said.push("best by the worth of fewer kinds".to_string());
    }
    if one.mass == least(|one| one.mass) {
        said.push("lightest".to_string());
    }
    if sized.is_priced && one.cost == least(|one| one.cost) {
        said.push("cheapest".to_string());
    }
    if one.motors as f64 == least(|one| one.motors as f64)
        && sized.choices.iter().any(|other| other.motors > one.motors)
    {
        said.push(if one.motors == 1 { "one motor everywhere" } else { "fewest kinds of motor" }.to_string());
    }
    if one.bearings as f64 == least(|one| one.bearings as f64)
        && sized.choices.iter().any(|other| other.bearings > one.bearings)
    {
        said.push(
            if one.bearings == 1 {
                "one output bearing everywhere"
            } else {
                "fewest kinds of output bearing"
            }
            .to_string(),
        );
    }
    if said.is_empty() {
        said.push(format!("{} kinds of motor with {} of output bearing", one.motors, one.bearings));
    }
    let over = one.mass - least(|one| one.mass);
    if over > 0.0 {
        said.push(format!("{:.0} g over the lightest", over * 1e3));
    }
    said.join("; ")
}

fn robots(robot: &Robot, sized: &Sized) -> String {
    let mut grid = Table::new();
    grid.load_preset(NOTHING)
        .set_content_arrangement(ContentArrangement::Disabled)
        .set_header(["", "mass g", "cost", "motors", "", "bearings", "", "gearsets", "why"]);
    for (place, one) in sized.choices.iter().enumerate().take(SHOWN) {
        grid.add_row([
            (place + 1).to_string(),
            format!("{:.0}", one.mass * 1e3),
            if sized.is_priced { format!("{:.2}", one.cost) } else { "-".to_string() },
            one.motors.to_string(),
            motors(robot, one),
            one.bearings.to_string(),
            bearings(robot, sized, one),
            gearsets(one).to_string(),
            why(sized, place),
        ]);
    }
    trimmed(&mut grid, &[1, 2, 3, 5, 7])
}

/// A joint in words.
pub struct Row {
    pub name: String,
    pub count: u32,
    pub motor: String,
    pub gears: String,
    pub ratio: f64,
    pub bearing: String,
    /// What hangs on it \[kg\].
    pub hangs: f64,
    /// Asked at peak \[N m\].
    pub peak: f64,
    /// \[N m\]
    pub asked_for_hours: Option<f64>,
    /// Held for hours \[N m\].
    pub continuous: f64,
    /// \[kg\]
    pub mass: f64,
    /// The check with the least in hand, and how much.
    pub limited_by: Option<(String, f64)>,
}

/// The joints of a robot, in the order of the file.
pub fn rows(robot: &Robot, sized: &Sized, one: &Combination<Good>) -> Vec<Row> {
    let row = |(index, (joint, pick)): (usize, (&super::joint::Joint, &super::combine::Pick<Good>))| {
        let choice = &pick.offer.good.choice;
        let design = &choice.design;
        let [sun, planet, ring] = choice.candidate.choices.teeth;
        let gearset = &design.gearset;
        Row {
            name: joint.name.clone(),
            count: joint.count,
            motor: design.motor.name.clone(),
            gears: format!(
                "{sun}/{planet}/{ring} x{} m{} b{}",
                gearset.planets, gearset.normal_module, gearset.face_width
            ),
            ratio: choice.ratio,
            bearing: sized.kinds.bearings.get(pick.pair.1).map_or(String::new(), |kind| kind.words()),
            hangs: robot.hanging(index, &pick.offer.good.hung).map_or(0.0, |hanging| hanging.moved.mass),
            peak: design.requirement.peak_torque,
            asked_for_hours: design.requirement.continuous_torque,
            continuous: choice.objectives.continuous,
            mass: choice.objectives.mass,
            limited_by: choice.limited_by.clone(),
        }
    };
    robot.joints.iter().zip(&one.picks).enumerate().map(row).collect()
}

fn joints(robot: &Robot, sized: &Sized, one: &Combination<Good>) -> String {
    let mut grid = Table::new();
    grid.load_preset(NOTHING).set_content_arrangement(ContentArrangement::Disabled).set_header([
        "joint",
        "pcs",
        "hangs g",
        "peak N m",
        "hours N m",
        "motor",
        "gears",
        "ratio",
        "bearing",
        "mass g",
        "limited by",
    ]);
    for row in rows(robot, sized, one) {
        grid.add_row([
            row.name,
            row.count.to_string(),
            format!("{:.0}", row.hangs * 1e3),
            format!("{:.2}", row.peak),
            match row.asked_for_hours {
                Some(asked) => format!("{asked:.2} of {:.2}", row.continuous),
                None => format!("- of {:.2}", row.continuous),
            },
            row.motor,
            row.gears,
            format!("{:.2}", row.ratio),
            row.bearing,
            format!("{:.0}", row.mass * 1e3),
            row.limited_by.map_or("-".to_string(), |(id, margin)| format!("{id} ({:+.0} %)", margin * 100.0)),
        ]);
    }
    trimmed(&mut grid, &[1, 2, 3, 7, 9])
}

fn trimmed(grid: &mut Table, right: &[usize]) -> String {
    for column in right {
        if let Some(column) = grid.column_mut(*column) {
            column.set_cell_alignment(CellAlignment::Right);
        }
    }
    grid.to_string().lines().map(|line| format!("{}\n", line.trim_end())).collect()
}
