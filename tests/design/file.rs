//! The design file, start to end: the demos, the defaults, `from`, the schema, the file of `start`.

use std::fs;
use std::path::Path;

use hubwright::design::{self, Hand, Loaded};
use hubwright::diagnostic::{Code, Problems, render};
use hubwright::{pipeline, ratings};

const DEMOS: [&str; 3] = ["weeder-shoulder", "weeder-wrist", "mast-pan"];

/// The least a design file can say.
const LEAST: &str = r#"
[motor]
from = "motors/disc-86.toml"

[gearset]
sun_teeth = 12
planet_teeth = 42
ring_teeth = 96
planets = 3
normal_module = "0.8 mm"
face_width = "15 mm"

[bearings]
output = "6810"
"#;

fn loaded(path: &str, text: &str) -> Loaded {
    design::load_text(Path::new(path), text).unwrap_or_else(|problems| panic!("{}", render(&problems, false)))
}

fn refused(path: &str, text: &str) -> Problems {
    match design::load_text(Path::new(path), text) {
        Ok(_) => panic!("{path} was accepted"),
        Err(problems) => problems,
    }
}

#[test]
fn the_demos_load_without_a_word_and_can_be_built() {
    for name in DEMOS {
        let path = format!("designs/{name}.toml");
        let loaded = match design::load(Path::new(&path)) {
            Ok(loaded) => loaded,
            Err(problems) => panic!("{}", render(&problems, false)),
        };
        assert!(loaded.problems.is_empty(), "{}", render(&loaded.problems, false));
        assert_eq!(loaded.design.name, name);
        pipeline::make(&loaded.design).unwrap_or_else(|error| panic!("{name}: {error:?}"));
    }
}

#[test]
fn motor_gearset_and_output_bearing_are_enough() {
    let loaded = loaded("designs/least.toml", LEAST);
    assert!(loaded.problems.is_empty(), "{}", render(&loaded.problems, false));
    assert_eq!(loaded.design.name, "least", "the file's own name");
    pipeline::make(&loaded.design).expect("it makes");
}

#[test]
fn the_default_peak_torque_is_what_the_current_gives() {
    let design = loaded("designs/least.toml", LEAST).design;
    // 8.27 / 90 rpm/V x 36 A x (1 - 0.15) x 9 x 0.85, by hand: 21.51 N m.
    assert!((design.requirement.peak_torque - 21.51).abs() < 0.01, "{}", design.requirement.peak_torque);
    // And the same as the check of the motor's torque computes.
    let rotor = ratings::motor::rotor_torque(&design.motor, 36.0);
    assert!((design.requirement.peak_torque - rotor * 9.0 * 0.85).abs() < 1e-9);
}

#[test]
fn every_value_of_the_resolved_input_is_given_or_has_its_reason() {
    fn leaves(prefix: &str, value: &serde_json::Value, found: &mut Vec<String>) {
        match value {
            serde_json::Value::Object(map) => {
                for (name, value) in map {
                    let path = if prefix.is_empty() { name.clone() } else { format!("{prefix}.{name}") };
                    leaves(&path, value, found);
                }
            }
            _ => found.push(prefix.to_string()),
        }
    }
    let mut loaded = loaded("designs/least.toml", LEAST);
    let defaults = loaded.input.as_object_mut().and_then(|map| map.remove("defaults")).expect("defaults");
    let mut found = Vec::new();
    leaves("", &loaded.input, &mut found);
    assert!(found.len() > 100, "{}", found.len());
    for path in &found {
        let given = loaded.places.keys().any(|place| path == place || path.starts_with(&format!("{place}.")));
        let reason = defaults.get(path).and_then(|reason| reason.as_str()).unwrap_or_default();
        assert!(given || !reason.is_empty(), "{path} is neither given nor explained");
    }
    assert_eq!(loaded.input["motor"]["kv"], "90 rpm/V");
    assert_eq!(loaded.input["gearset"]["backlash"], "0.136 mm");
}

/// What the report shows is a design file: nothing is lost, and no unit is wrong, on the way out and in again.
#[test]
fn the_resolved_input_read_again_is_the_same_design() {
    for name in DEMOS {
        let path = format!("designs/{name}.toml");
        let first = design::load(Path::new(&path)).unwrap_or_else(|_| panic!("{name}"));
        let mut input = first.input.clone();
        let map = input.as_object_mut().expect("a table");
        map.remove("defaults");
        // The two resistances say the same thing twice; a file may give one.
        map["motor"].as_object_mut().expect("a table").remove("line_resistance");
        map["bearings"]["output"]
            .as_object_mut()
            .expect("a table")
            .retain(|key, _| key != "spacing" || name == "mast-pan");
        let text = toml::to_string(&input).expect("TOML");
        let second = loaded(&path, &text);
        // Compared as written: a value in another unit may differ in its last bit.
        for section in
            ["requirement", "motor", "controller", "gearset", "bearings", "load", "parts", "printer"]
        {
            assert_eq!(first.input[section], second.input[section], "{name}, {section}");
        }
    }
}

#[test]
fn metric_and_inch_files_mean_the_same() {
    let inch = LEAST.replace("\"15 mm\"", "\"0.590551181102362 in\"");
    let (metric, inch) = (loaded("designs/a.toml", LEAST), loaded("designs/a.toml", &inch));
    assert!((metric.design.gearset.face_width - inch.design.gearset.face_width).abs() < 1e-9);
}

#[test]
fn the_loaded_direction_chooses_the_hand() {
    for (direction, hand) in
        [("both", Hand::Right), ("clockwise", Hand::Right), ("counter-clockwise", Hand::Left)]
    {
        let text = LEAST.replace("planets = 3", &format!("planets = 3\nloaded_direction = \"{direction}\""));
        assert_eq!(loaded("designs/a.toml", &text).design.gearset.sun_hand, hand, "{direction}");
    }
}

#[test]
fn a_value_beside_from_wins() {
    let text = LEAST
        .replace("disc-86.toml\"", "disc-86.toml\"\nkv = \"120 rpm/V\"\nmagnet = { diameter = \"8 mm\" }");
    let motor = loaded("designs/a.toml", &text).design.motor;
    assert_eq!(motor.kv, 120.0);
    assert_eq!(
        (motor.magnet.diameter, motor.magnet.thickness),
        (8.0, 2.5),
        "tables are laid over, not replaced"
    );
    assert_eq!(motor.outer_diameter, 86.0);
}

#[test]
fn a_fault_in_a_file_taken_from_is_shown_there() {
    let folder = tempfile::tempdir().expect("folder");
    fs::write(folder.path().join("motor.toml"), "kv = \"90 rpm\"\ncolour = 1\n").expect("write");
    let path = folder.path().join("joint.toml");
    let text = LEAST.replace("motors/disc-86.toml", "motor.toml");
    let problems = refused(&path.to_string_lossy(), &text);
    let wrong_unit = problems.iter().find(|problem| problem.code == Code::WrongUnit).expect("the unit");
    let place = wrong_unit.place.as_ref().expect("a place");
    assert!(place.file.name.ends_with("motor.toml"), "{}", place.file.name);
    assert_eq!(place.line_and_column(), (1, 6));
    assert!(problems.iter().any(|problem| problem.code == Code::UnknownKey && problem.key == "motor.colour"));
}

#[test]
fn from_stays_inside_the_design_folder() {
    let folder = tempfile::tempdir().expect("folder");
    let inside = folder.path().join("arm");
    fs::create_dir(&inside).expect("folder");
    fs::write(folder.path().join("motor.toml"), "kv = \"90 rpm/V\"").expect("write");
    let path = inside.join("joint.toml");
    for (from, code) in [
        ("../motor.toml", Code::FromRefused),
        ("/etc/hostname", Code::FromRefused),
        ("https://example.org/motor.toml", Code::FromRefused),
        ("missing.toml", Code::FileMissing),
        (".", Code::FileUnreadable),
    ] {
        let text = LEAST.replace("motors/disc-86.toml", from);
        let problems = refused(&path.to_string_lossy(), &text);
        let problem = problems.iter().find(|problem| problem.code == code);
        let problem = problem.unwrap_or_else(|| panic!("{from}: {}", render(&problems, false)));
        assert!(problem.place.is_some(), "{from} shows no line");
        assert_eq!(problem.key, "motor.from");
        // Keys that may be in the file nobody could read are not called missing.
        assert_eq!(problems.iter().count(), 1, "{from}: {}", render(&problems, false));
    }
}

#[cfg(unix)]
#[test]
fn from_does_not_follow_a_link_out_of_the_folder() {
    let folder = tempfile::tempdir().expect("folder");
    let inside = folder.path().join("arm");
    fs::create_dir(&inside).expect("folder");
    fs::write(folder.path().join("motor.toml"), "kv = \"90 rpm/V\"").expect("write");
    std::os::unix::fs::symlink(folder.path().join("motor.toml"), inside.join("link.toml")).expect("link");
    let text = LEAST.replace("motors/disc-86.toml", "link.toml");
    let problems = refused(&inside.join("joint.toml").to_string_lossy(), &text);
    assert!(problems.iter().any(|problem| problem.code == Code::FromRefused), "{}", render(&problems, false));
}

#[test]
fn files_that_take_from_each_other_are_a_circle() {
    let folder = tempfile::tempdir().expect("folder");
    fs::write(folder.path().join("a.toml"), "from = \"b.toml\"\nkv = \"90 rpm/V\"").expect("write");
    fs::write(folder.path().join("b.toml"), "from = \"a.toml\"\n").expect("write");
    let text = LEAST.replace("motors/disc-86.toml", "a.toml");
    let problems = refused(&folder.path().join("joint.toml").to_string_lossy(), &text);
    let circle = problems.iter().find(|problem| problem.code == Code::FromCycle);
    let place = circle.and_then(|problem| problem.place.clone()).expect("a place");
    assert!(place.file.name.ends_with("b.toml"), "where the circle closes, not {}", place.file.name);
}

#[test]
fn the_committed_schema_is_the_declared_one() {
    const PATH: &str = "designs/design.schema.json";
    let schema = design::schema();
    if std::env::var_os("HUBWRIGHT_WRITE_SCHEMA").is_some() {
        fs::write(PATH, &schema).expect("write");
    }
    let committed = fs::read_to_string(PATH).unwrap_or_default();
    assert!(
        committed == schema,
        "{PATH} is out of date: HUBWRIGHT_WRITE_SCHEMA=1 cargo test --test design writes it anew"
    );
}

#[test]
fn the_starting_file_loads_makes_and_holds_all_checks() {
    let text = design::starting_file("weeder-elbow").expect("a plain name");
    let loaded = loaded("weeder-elbow.toml", &text);
    assert!(loaded.problems.is_empty(), "{}", render(&loaded.problems, false));
    let made = pipeline::make(&loaded.design).unwrap_or_else(|error| panic!("{error:?}"));
    for checked in &made.checks {
        let verdict = checked.outcome.verdict;
        assert_ne!(verdict, hubwright::checks::Verdict::Fails, "{}", checked.check.id);
    }
}

#[test]
fn what_the_starting_file_comments_out_may_be_commented_in() {
    let text = design::starting_file("weeder-elbow").expect("a plain name");
    let commented = text.lines().filter(|line| line.starts_with("# ") && line.contains(" = ")).count();
    assert!(commented > 60, "{commented}");
    // Each line on its own, so that alternatives don't meet.
    for (number, line) in text.lines().enumerate() {
        let Some(assignment) = line.strip_prefix("# ").filter(|rest| rest.contains(" = ")) else { continue };
        let section =
            text.lines().take(number).filter(|line| line.contains('[') && !line.contains(" = ")).last();
        // Keys of a section that is itself commented out come in with all of it.
        if section.is_some_and(|heading| heading.starts_with('#'))
            || assignment.starts_with("line_resistance")
            // Names a file that only its owner has.
            || assignment.starts_with("duty")
        {
            continue;
        }
        let lines: Vec<&str> =
            text.lines().enumerate().map(|(at, line)| if at == number { assignment } else { line }).collect();
        if let Err(problems) = design::load_text(Path::new("weeder-elbow.toml"), &lines.join("\n")) {
            panic!("line {}: {}", number + 1, render(&problems, false));
        }
    }
}

#[test]
fn names_that_are_no_folder_are_refused() {
    for name in ["", "..", "../x", "a/b", "a\\b", "-x", "C:x", "weeder shoulder", "a\0b", &"x".repeat(61)] {
        assert_eq!(design::starting_file(name), None, "{name:?}");
    }
}
