//! What the tool says about bad input: the whole text, as a user sees it.

use std::fs;
use std::path::Path;

use hubwright::design;
use hubwright::diagnostic::{Problems, Severity, render, to_json};

/// A small design that is right; the tests break it line by line.
const GOOD: &str = r#"name = "elbow"

[motor]
kv = "90 rpm/V"
phase_resistance = "0.13 ohm"
pole_pairs = 14
mass = "360 g"
outer_diameter = "86 mm"
height = "27 mm"
shaft_diameter = "8 mm"
shaft_extension = "6 mm"
stator_bolts = { count = 4, thread = "M3", circle = "37 mm" }
rotor_bolts = { count = 4, thread = "M3", circle = "30 mm" }
current_limit = "36 A"

[gearset]
sun_teeth = 12
planet_teeth = 42
ring_teeth = 96
planets = 3
normal_module = "0.8 mm"
face_width = "14 mm"

[bearings]
output = { designation = "6810" }
"#;

fn problems(text: &str) -> Problems {
    match design::load_text(Path::new("elbow.toml"), text) {
        Ok(loaded) => loaded.problems,
        Err(problems) => problems,
    }
}

fn said(text: &str) -> String {
    render(&problems(text), false)
}

/// The message for the good design with one stretch of it replaced.
fn with(from: &str, to: &str) -> String {
    assert!(GOOD.contains(from), "{from}");
    said(&GOOD.replace(from, to))
}

/// The message for a file, with its folder's name taken out.
fn file(name: &str, bytes: &[u8]) -> String {
    let folder = tempfile::tempdir().expect("folder");
    let path = folder.path().join(name);
    fs::write(&path, bytes).expect("write");
    load_said(&path, folder.path())
}

fn load_said(path: &Path, folder: &Path) -> String {
    let problems = design::load(path).expect_err("bad input");
    render(&problems, false).replace(&folder.display().to_string(), "FOLDER")
}

#[test]
fn the_good_design_is_good() {
    assert_eq!(said(GOOD), "");
}

#[test]
fn empty_file() {
    insta::assert_snapshot!(file("elbow.toml", b""));
    insta::assert_snapshot!(file("elbow.toml", b"# only a remark\n\n"));
}

#[test]
fn binary_file() {
    insta::assert_snapshot!(file("elbow.toml", b"\x7fELF\x02\x01\x00\x00\x00"));
    insta::assert_snapshot!(file("elbow.toml", b"name = \"\xff\xfe\""));
}

#[test]
fn huge_file() {
    insta::assert_snapshot!(file("elbow.toml", &vec![b'#'; 2 << 20]));
}

#[test]
fn missing_file() {
    let folder = tempfile::tempdir().expect("folder");
    insta::assert_snapshot!(load_said(&folder.path().join("elbow.toml"), folder.path()));
    fs::write(folder.path().join("elbow.toml"), GOOD).expect("write");
    insta::assert_snapshot!(load_said(&folder.path().join("elbov.toml"), folder.path()));
}

#[test]
fn directory() {
    let folder = tempfile::tempdir().expect("folder");
    insta::assert_snapshot!(load_said(folder.path(), folder.path()));
}

#[test]
fn wrong_toml() {
    insta::assert_snapshot!(with("kv = \"90 rpm/V\"", "kv : 90 rpm/V"));
    insta::assert_snapshot!(with("[gearset]", "[gearset"));
    insta::assert_snapshot!(with("planets = 3", "planets = 3\nplanets = 4"));
    insta::assert_snapshot!(said("{ \"name\": \"elbow\" }"));
}

#[test]
fn wrong_unit() {
    insta::assert_snapshot!(with("\"86 mm\"", "\"86 N m\""));
}

#[test]
fn unknown_unit() {
    insta::assert_snapshot!(with("\"86 mm\"", "\"3.4 inch\""));
    insta::assert_snapshot!(with("\"86 mm\"", "\"86 furlong\""));
}

#[test]
fn bare_number() {
    insta::assert_snapshot!(with("\"86 mm\"", "86"));
    insta::assert_snapshot!(with("\"86 mm\"", "\"86\""));
}

#[test]
fn no_number() {
    insta::assert_snapshot!(with("\"86 mm\"", "\"large\""));
    insta::assert_snapshot!(with("\"86 mm\"", "\"86,5 mm\""));
}

#[test]
fn not_finite() {
    insta::assert_snapshot!(with("\"86 mm\"", "nan"));
    insta::assert_snapshot!(with("\"86 mm\"", "\"nan mm\""));
    insta::assert_snapshot!(with("\"86 mm\"", "\"1e999 mm\""));
    insta::assert_snapshot!(with("planets = 3", "planets = inf"));
}

#[test]
fn negative_and_huge() {
    insta::assert_snapshot!(with("\"86 mm\"", "\"-86 mm\""));
    insta::assert_snapshot!(with("\"86 mm\"", "\"5 km\""));
    insta::assert_snapshot!(with("\"86 mm\"", "\"5000 m\""));
    insta::assert_snapshot!(with("planets = 3", "planets = 99999999999999999999"));
}

#[test]
fn zero_teeth() {
    insta::assert_snapshot!(with("sun_teeth = 12", "sun_teeth = 0"));
    insta::assert_snapshot!(with("sun_teeth = 12", "sun_teeth = 12.5"));
    insta::assert_snapshot!(with("sun_teeth = 12", "sun_teeth = \"12\""));
}

#[test]
fn ring_too_small() {
    insta::assert_snapshot!(with("ring_teeth = 96", "ring_teeth = 50"));
}

#[test]
fn unknown_bearing() {
    insta::assert_snapshot!(with("6810", "6819"));
    insta::assert_snapshot!(with("{ designation = \"6810\" }", "\"big one\""));
}

#[test]
fn unknown_key() {
    insta::assert_snapshot!(with("outer_diameter", "outer_diametre"));
    insta::assert_snapshot!(with("planets = 3", "planets = 3\nkv = \"90 rpm/V\""));
    insta::assert_snapshot!(with("[bearings]", "[bearing]"));
}

#[test]
fn missing_key() {
    insta::assert_snapshot!(with("planets = 3\n", ""));
    insta::assert_snapshot!(with("thread = \"M3\", circle = \"37 mm\"", "circle = \"37 mm\""));
    insta::assert_snapshot!(with("phase_resistance = \"0.13 ohm\"\n", ""));
}

#[test]
fn no_such_choice() {
    insta::assert_snapshot!(with("pole_pairs", "kv_is = \"line_rms\"\npole_pairs"));
    insta::assert_snapshot!(with(
        "thread = \"M3\", circle = \"37 mm\"",
        "thread = \"M7\", circle = \"37 mm\""
    ));
    insta::assert_snapshot!(said(&format!("{GOOD}[parts.planet]\nmaterial = \"PTEG\"\n")));
    insta::assert_snapshot!(said(&format!("{GOOD}[parts.plannet]\nwalls = 4\n")));
}

#[test]
fn contradictions() {
    insta::assert_snapshot!(with("circle = \"37 mm\"", "circle = \"3.7 in\""));
    insta::assert_snapshot!(with("phase_resistance", "line_resistance = \"0.26 ohm\"\nphase_resistance"));
    insta::assert_snapshot!(said(&format!("{GOOD}planet = \"688\"\n[gearset.planet]\nbearing = \"686\"\n")));
    insta::assert_snapshot!(said(&format!(
        "{GOOD}[requirement]\npeak_torque = \"5 N m\"\ncontinuous_torque = \"60 lbf in\"\n"
    )));
    insta::assert_snapshot!(said(&format!(
        "{GOOD}[controller.board]\nholes = {{ pattern = [\"40 mm\", \"20 mm\"] }}\n"
    )));
}

/// Crossed rollers stand alone at the output; a planet turns on one kind of thing.
#[test]
fn bearings_that_do_not_go_together() {
    let pair = "output = { designation = \"RA 5008\", count = 2 }";
    let text = GOOD.replace("output = { designation = \"6810\" }", pair);
    insta::assert_snapshot!(said(&format!("{text}planet = \"RB2008\"\n")));
    insta::assert_snapshot!(said(&format!(
        "{GOOD}planet = \"688\"\n[gearset.planet]\nbush = {{ bore = \"6 mm\", outer = \"8 mm\" }}\n"
    )));
    assert_eq!(said(&GOOD.replace("6810", "RB 5013")), "");
}

/// Figures of one motor that can't belong together: a unit that slipped.
#[test]
fn a_motor_that_contradicts_itself() {
    insta::assert_snapshot!(with("kv = \"90 rpm/V\"", "kv = \"900 rpm/V\"\nno_load_current = \"40 A\""));
    insta::assert_snapshot!(with("\"0.13 ohm\"", "\"0.00013 ohm\""));
}

#[test]
fn what_a_robot_or_a_rig_asks() {
    let rig = "[requirement.lever]\nweight = \"10 ft\"\nlength = \"14.5 in\"\n\
               [requirement.link]\nmass = \"1 kg\"\nlength = \"400 mm\"\ncentre = \"500 mm\"\nswing = \"90 deg\"\n\
               [requirement.leg]\nmass = \"12 kg\"\nthigh = \"200 mm\"\nshank = \"200 mm\"\nknee_angle = \"170 deg\"\n";
    insta::assert_snapshot!(said(&format!("{GOOD}{rig}")));
}

#[test]
fn a_name_that_leads_out_of_the_folder() {
    insta::assert_snapshot!(with("\"elbow\"", "\"../../elbow\""));
}

#[test]
fn printer_ranges_that_overlap() {
    insta::assert_snapshot!(said(&format!(
        "{GOOD}[printer]
hole_growth_by_size = [
  {{ over = \"2 mm\", up_to = \"5 mm\", allowance = \"0.25 mm\" }},
  \
         {{ over = \"4 mm\", up_to = \"9 mm\", allowance = \"0.2 mm\" }},
]
shrinkage = 3
"
    )));
}

#[test]
fn several_at_once() {
    let text = GOOD
        .replace("\"90 rpm/V\"", "90")
        .replace("\"86 mm\"", "\"86 mn\"")
        .replace("height", "hight")
        .replace("planets = 3", "planets = 12")
        .replace("6810", "6819");
    insta::assert_snapshot!(said(&text));
    insta::assert_snapshot!(serde_json::to_string_pretty(&to_json(&problems(&text))).expect("JSON"));
}

/// The promise of the messages: a place, what was found, what was expected, an example.
#[test]
fn every_fault_of_a_value_says_where_what_and_what_else() {
    for (from, to) in [
        ("\"86 mm\"", "86"),
        ("\"86 mm\"", "\"86 mn\""),
        ("\"86 mm\"", "\"86 kg\""),
        ("\"86 mm\"", "\"9 m\""),
        ("\"86 mm\"", "\"nan mm\""),
        ("\"86 mm\"", "[1]"),
        ("\"86 mm\"", "true"),
        ("\"86 mm\"", "1979-05-27"),
        ("planets = 3", "planets = 0"),
        ("planets = 3", "planets = {}"),
        (
            "count = 4, thread = \"M3\", circle = \"37 mm\"",
            "count = \"4\", thread = \"M3\", circle = \"37 mm\"",
        ),
    ] {
        let problems = problems(&GOOD.replace(from, to));
        let errors: Vec<_> = problems.iter().filter(|problem| problem.severity == Severity::Error).collect();
        assert_eq!(errors.len(), 1, "{to}: {}", render(&problems, false));
        for problem in errors {
            let complete = problem.place.is_some()
                && [&problem.key, &problem.found, &problem.expected, &problem.example]
                    .iter()
                    .all(|text| !text.is_empty());
            assert!(complete, "{problem:?}");
        }
    }
}
