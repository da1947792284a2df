//! The robot file: what joints share at the top, `[[joint]]` each with what differs.
//!
//! A joint's own keys are read here; everything else in its table is a requirement file's, laid over what the top says,
//! and read by the same declarations for each joint.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::demand::Member;
use crate::design::document::{Table, TableEntry, Value};
use crate::design::file;
use crate::design::key::Section;
use crate::design::keys::LinkKeys;
use crate::design::reader::{Entry, Reader};
use crate::design::{resolve, rules};
use crate::diagnostic::{Code, Diagnostic, Place, Problems, SourceFile};
use crate::search::requirement::{SizeKeys, from_table};

use super::joint::{Joint, Robot, Worth};
use super::keys::{JointKeys, RobotKeys};
use super::kinds::{Kinds, MOST_BEARINGS, MOST_MOTORS};

/// The list of joints.
const JOINT: &str = "joint";
/// Largest robot: its combinations are searched in full.
const MOST_JOINTS: usize = 12;

/// Whether a file is a robot's.
pub(crate) fn is_robot(table: &Table) -> bool {
    table.get(JOINT).is_some()
}

/// Reads a robot's tree of keys.
///
/// # Errors
/// Everything that is wrong with it, in all joints.
pub(crate) fn robot(
    source: &Arc<SourceFile>,
    path: &Path,
    table: Table,
    mut problems: Problems,
) -> Result<Robot, Problems> {
    let mut shared = table;
    let list = shared.remove(JOINT);
    let own = taken(&mut shared, RobotKeys::SECTION);
    let mut reader = Reader::new(RobotKeys::SECTION, problems);
    let keys = RobotKeys::from_table(&own, &mut reader);
    check_shared(&mut shared, &mut reader);
    let tables = joint_tables(list, &mut reader);
    let read: Vec<Read> = tables.into_iter().map(|table| joint(table, &shared, &mut reader)).collect();
    problems = reader.problems;
    for one in &read {
        if let Some(link) = &one.keys.link {
            rules::check_link(&link.value, &format!("joint.{}.link", one.keys.name.value), &mut problems);
        }
    }
    let members = members(&read, &mut problems);
    let robot = Robot {
        name: keys.name.value.clone(),
        about: keys.about.as_ref().map_or(String::new(), |about| about.value.clone()),
        path: path.to_path_buf(),
        source: Arc::clone(source),
        lean: keys.lean.value,
        worth: Worth {
            motor: keys.sharing.value.motor_worth.value,
            bearing: keys.sharing.value.bearing_worth.value,
            kilogram_price: keys.sharing.value.kilogram_price.as_ref().map(|price| price.value),
        },
        mass_step: keys.sharing.value.mass_step.value,
        joints: read.into_iter().map(Read::into_joint).collect(),
        members,
    };
    for joint in 0..robot.joints.len() {
        asked_twice(&robot, joint, &mut problems);
    }
    // A chain that isn't sound can't be reckoned; what each joint says for itself is looked at all the same.
    let is_sound = !problems.has_errors();
    let mut spaces = Vec::new();
    for joint in 0..robot.joints.len() {
        let table = if is_sound { robot.table(joint, &[]) } else { robot.joints[joint].table.clone() };
        match from_table(&table, source, path, Problems::default()) {
            Ok(space) => spaces.push(space),
            Err(found) => {
                let fresh = found.into_iter().filter(|one| is_sound || one.code != Code::MissingKey);
                // What is shared is wrong in every joint: told once.
                let fresh: Vec<Diagnostic> =
                    fresh.filter(|one| !problems.iter().any(|old| old == one)).collect();
                problems.extend(fresh);
            }
        }
    }
    too_many_kinds(&Kinds::of(&spaces), source, &mut problems);
    problems.sort();
    if problems.has_errors() { Err(problems) } else { Ok(robot) }
}

/// All sets of kinds are looked at: that takes a short list.
fn too_many_kinds(kinds: &Kinds, source: &Arc<SourceFile>, problems: &mut Problems) {
    for (key, count, most, example) in [
        ("motors", kinds.motors.len(), MOST_MOTORS, "motors = [{ from = \"../motors/disc-86.toml\" }]"),
        ("output_bearings", kinds.bearings.len(), MOST_BEARINGS, "output_bearings = [\"6808\", \"6810\"]"),
    ] {
        if count > most {
            problems.push(
                Diagnostic::error(
                    Code::OutOfRange,
                    format!("{count} kinds are more than are combined for a robot"),
                )
                .at(Place::start_of(source))
                .key(key)
                .expected(format!("a list of at most {most}, those you would share among joints"))
                .example(example),
            );
        }
    }
}

/// A lever, link or leg of the requirement beside the chain's own.
fn asked_twice(robot: &Robot, joint: usize, problems: &mut Problems) {
    let Some(Value::Table(requirement)) =
        robot.joints[joint].table.get("requirement").map(|entry| &entry.node.value)
    else {
        return;
    };
    let of_its_own = ["lever", "link", "leg"].iter().find_map(|key| requirement.get(key));
    if let (Some(entry), Some(_)) = (of_its_own, robot.hanging(joint, &vec![1.0; robot.joints.len()])) {
        let message = format!("The joint {} is told what hangs on it twice", robot.joints[joint].name);
        problems.push(
            Diagnostic::error(Code::Conflict, message)
                .at(entry.name_place.clone())
                .key(format!("requirement.{}", entry.name))
                .expected("the joint's own `link` and what is `on` it, or a lever, link or leg alone"),
        );
    }
}

/// A joint as the file has it.
struct Read {
    keys: JointKeys,
    /// Its header.
    place: Place,
    /// A requirement file's keys, over the shared ones.
    table: Table,
}

impl Read {
    fn into_joint(self) -> Joint {
        Joint {
            name: self.keys.name.value,
            count: self.keys.count.value,
            place: self.place,
            table: self.table,
        }
    }
}

/// Takes a section's keys out of a table.
fn taken(table: &mut Table, section: &Section) -> Table {
    let mut own = Table::empty(table.place.clone());
    own.is_complete = table.is_complete;
    own.entries = section.keys.iter().filter_map(|key| table.remove(key.name)).collect();
    own
}

fn names(sections: [&Section; 2], more: &[&'static str]) -> Vec<&'static str> {
    let mut names: Vec<&str> =
        sections.iter().flat_map(|section| section.keys.iter().map(|key| key.name)).collect();
    names.extend(more);
    names
}

/// Records unknown keys once, with all that may stand there, and drops them.
fn check_names(table: &mut Table, known: &[&str], reader: &mut Reader) {
    reader.check_names(table, known);
    table.entries.retain(|entry| known.contains(&entry.name.as_str()));
}

fn check_shared(shared: &mut Table, reader: &mut Reader) {
    check_names(shared, &names([RobotKeys::SECTION, SizeKeys::SECTION], &[JOINT]), reader);
}

fn joint_tables(list: Option<TableEntry>, reader: &mut Reader) -> Vec<Table> {
    let Some(entry) = list else { return Vec::new() };
    let wrong = |message: &str| {
        Diagnostic::error(Code::WrongType, message)
            .at(entry.name_place.clone())
            .key(JOINT)
            .expected("[[joint]], once for each")
            .example("[[joint]]")
    };
    let Value::List(list) = &entry.node.value else {
        reader
            .problems
            .push(wrong(&format!("`joint` takes a list of tables, not {}", entry.node.value.type_name())));
        return Vec::new();
    };
    if list.is_empty() || list.len() > MOST_JOINTS {
        let message = match list.len() {
            0 => "No joint is in this robot".to_string(),
            many => format!("{many} kinds of joint are more than are searched together, {MOST_JOINTS}"),
        };
        let diagnostic = Diagnostic::error(Code::MissingKey, message).at(entry.name_place.clone()).key(JOINT);
        reader
            .problems
            .push(diagnostic.expected("joints that are alike as one, with their count").example("count = 4"));
    }
    let mut tables = Vec::new();
    for node in list {
        match &node.value {
            Value::Table(table) => tables.push(table.clone()),
            other => reader.problems.push(
                wrong(&format!("A joint is a table, not {}", other.type_name())).at(node.place.clone()),
            ),
        }
    }
    tables
}

fn joint(mut table: Table, shared: &Table, reader: &mut Reader) -> Read {
    let place = table.place.clone();
    let known = names([JointKeys::SECTION, SizeKeys::SECTION], &[]);
    let called = match table.get("name").map(|entry| &entry.node.value) {
        Some(Value::Text(name)) => name.clone(),
        _ => "?".to_string(),
    };
    let keys = reader.within(JOINT, |reader| {
        reader.within(called, |reader| {
            check_names(&mut table, &known, reader);
            let own = taken(&mut table, JointKeys::SECTION);
            JointKeys::from_table(&own, reader)
        })
    });
    let table = table.over(shared.clone());
    Read { keys, place, table }
}

/// The chain of all joints; records same names, unknown carriers, circles and counts that don't divide.
fn members(read: &[Read], problems: &mut Problems) -> Vec<Member> {
    let name = |one: &Read| one.keys.name.value.clone();
    for (index, one) in read.iter().enumerate() {
        let is_first = read.iter().position(|other| name(other) == name(one)) == Some(index);
        if one.keys.name.is_sound() && !is_first {
            problems.push(
                Diagnostic::error(Code::Conflict, format!("Two joints are called \"{}\"", name(one)))
                    .at_maybe(one.keys.name.place().cloned())
                    .key("joint.name")
                    .expected("a name of its own, or one joint with a count"),
            );
        }
    }
    let mut carriers: Vec<Option<usize>> = read.iter().map(|one| carrier(one, read, problems)).collect();
    for joint in circles(read, &carriers, problems) {
        // What is reckoned along the chain must end.
        carriers[joint] = None;
    }
    for (one, on) in read.iter().zip(&carriers) {
        if let Some(carrier) = on.and_then(|on| read.get(on)) {
            carried(one, carrier, problems);
        }
    }
    read.iter().zip(&carriers).map(|(one, on)| member(&one.keys, *on)).collect()
}

fn member(keys: &JointKeys, on: Option<usize>) -> Member {
    Member {
        on,
        at: keys.at.as_ref().map(|at| at.value),
        count: keys.count.value,
        axis: keys.axis.value,
        link: keys.link.as_ref().map(|link: &Entry<LinkKeys>| resolve::link(&link.value)),
        force: keys.force.value,
    }
}

fn carrier(one: &Read, read: &[Read], problems: &mut Problems) -> Option<usize> {
    let Some(on) = &one.keys.on else {
        if let Some(at) = &one.keys.at {
            problems.push(
                Diagnostic::error(Code::Conflict, "A joint that no other carries is at no distance on it")
                    .at_maybe(at.place().cloned())
                    .key("joint.at")
                    .expected("`on` beside `at`")
                    .example("on = \"shoulder\""),
            );
        }
        return None;
    };
    let found = read.iter().position(|other| other.keys.name.value == on.value);
    if found.is_none() {
        let known: Vec<&str> = read.iter().map(|other| other.keys.name.value.as_str()).collect();
        let diagnostic = Diagnostic::error(Code::Conflict, format!("No joint is called \"{}\"", on.value))
            .at_maybe(on.place().cloned())
            .key("joint.on")
            .expected(format!("one of {}", known.join(", ")));
        problems.push(match crate::design::suggest::near(&on.value, &known) {
            Some(near) => diagnostic.hint(format!("did you mean \"{near}\"?")),
            None => diagnostic,
        });
    }
    found
}

/// Each circle is told once, at its first joint; which those are.
fn circles(read: &[Read], carriers: &[Option<usize>], problems: &mut Problems) -> Vec<usize> {
    let mut firsts = Vec::new();
    let next = |joint: usize| carriers.get(joint).copied().flatten();
    for start in 0..read.len() {
        let mut circle = vec![start];
        let mut at = next(start);
        while let Some(joint) = at
            && joint != start
            && circle.len() <= read.len()
        {
            circle.push(joint);
            at = next(joint);
        }
        if at != Some(start) || circle.iter().any(|joint| *joint < start) {
            continue;
        }
        let names: Vec<&str> =
            circle.iter().chain([&start]).map(|joint| read[*joint].keys.name.value.as_str()).collect();
        problems.push(
            Diagnostic::error(Code::Conflict, "These joints carry each other in a circle")
                .at_maybe(read[start].keys.on.as_ref().and_then(|on| on.place().cloned()))
                .key("joint.on")
                .found(names.join(" on "))
                .expected("a chain that begins at a joint without `on`, which the body carries"),
        );
        firsts.push(start);
    }
    firsts
}

/// Counts that divide, and a place on the carrier's link.
fn carried(one: &Read, carrier: &Read, problems: &mut Problems) {
    let (count, carrying) = (&one.keys.count, &carrier.keys.count);
    if !count.value.is_multiple_of(carrying.value.max(1)) {
        problems.push(
            Diagnostic::error(Code::Conflict, "Joints are carried in equal shares, and these don't divide")
                .at_maybe(count.place().or(carrying.place()).cloned())
                .key("joint.count")
                .found(format!(
                    "{} x {} on {} x {}",
                    count.value, one.keys.name.value, carrying.value, carrier.keys.name.value
                ))
                .expected("a multiple of the carrying joint's count"),
        );
    }
    let length = carrier.keys.link.as_ref().map_or(0.0, |link| link.value.length.value);
    if let Some(at) = &one.keys.at
        && at.is_sound()
        && at.value > length
    {
        problems.push(
            Diagnostic::error(Code::Conflict, "The joint sits beyond the link that carries it")
                .at_maybe(at.place().cloned())
                .key("joint.at")
                .found(format!("{} mm on a link of {length} mm", at.value))
                .expected("at most the link's length"),
        );
    }
}

/// What a file asks to be sized.
pub enum Asked {
    Joint(Box<crate::search::Space>),
    Robot(Box<Robot>),
}

/// Loads a requirement or a robot; "-" is standard input.
///
/// # Errors
/// Everything that is wrong with it.
pub fn load(argument: &Path) -> Result<Asked, Problems> {
    let mut problems = Problems::default();
    match file::read(argument, &mut problems) {
        Some(source) => asked(&source, argument, problems),
        None => Err(problems),
    }
}

/// The same of a text; `path` is where it lies, or would.
///
/// # Errors
/// Everything that is wrong with it.
pub fn load_text(path: &Path, text: &str) -> Result<Asked, Problems> {
    let source = SourceFile { name: path.to_string_lossy().into_owned(), text: text.to_string() };
    asked(&Arc::new(source), path, Problems::default())
}

fn asked(source: &Arc<SourceFile>, path: &Path, mut problems: Problems) -> Result<Asked, Problems> {
    let folder: PathBuf = path.parent().unwrap_or(Path::new("")).to_path_buf();
    let Some(table) = file::tree(source, &folder, &mut problems) else {
        problems.sort();
        return Err(problems);
    };
    if is_robot(&table) {
        robot(source, path, table, problems).map(|robot| Asked::Robot(Box::new(robot)))
    } else {
        from_table(&table, source, path, problems).map(|space| Asked::Joint(Box::new(space)))
    }
}
