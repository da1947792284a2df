//! Two designs side by side, and a design on another motor: what must be alike is, what the layout says must change does; files
//! written, kept and refused.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use crate::command::hubwright;
use crate::support::{MAST, SHOULDER, WRIST, demo};
use assert_cmd::Command;
use hubwright::comparison::bill::BillRow;
use hubwright::comparison::checks::{Change, CheckRow};
use hubwright::comparison::figures::{FigureRow, Reading};
use hubwright::comparison::inputs::InputRow;
use hubwright::comparison::new_motor::new_name;
use hubwright::comparison::parts::State;
use hubwright::comparison::sameness::{Sameness, TOLERANCE, sameness};
use hubwright::comparison::{Comparison, Side};
use hubwright::design::{self, Loaded};
use hubwright::pipeline::{Made, make};
use serde_json::Value;

/// A design that is loaded and made.
struct Joint {
    loaded: Loaded,
    made: Made,
}

fn designs() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("designs")
}

fn text_of(name: &str) -> String {
    fs::read_to_string(designs().join(format!("{name}.toml"))).expect("the demo is there")
}

/// A design of a text, as if it lay beside the demos.
fn joint_of(text: &str) -> Joint {
    let loaded =
        design::load_text(&designs().join("other.toml"), text).unwrap_or_else(|faults| panic!("{faults:#?}"));
    let made = make(&loaded.design).unwrap_or_else(|error| panic!("{error:?}"));
    Joint { loaded, made }
}

fn joint(name: &str) -> Joint {
    joint_of(&text_of(name))
}

/// The shoulder with keys put over its motor's.
fn shoulder_with(motor: &str) -> Joint {
    let from = "from = \"motors/disc-86.toml\"\n";
    let text = text_of(SHOULDER);
    assert!(text.contains(from));
    joint_of(&text.replace(from, &format!("{from}{motor}\n")))
}

fn compared(a: &Joint, b: &Joint) -> Comparison {
    let [a, b] = [a, b].map(|joint| Side { loaded: &joint.loaded, made: &joint.made });
    Comparison::of(a, b).expect("sections of printed parts")
}

/// Parts of which no print of the first serves in the second.
fn reprinted(comparison: &Comparison) -> Vec<&'static str> {
    comparison.parts.iter().filter(|row| !row.is_same()).map(|row| row.name.as_str()).collect()
}

fn bought(comparison: &Comparison) -> Vec<&str> {
    comparison.bill.iter().filter(|row| row.differs()).map(|row| row.designation.as_str()).collect()
}

#[test]
fn a_design_against_itself_differs_in_nothing() {
    for name in [SHOULDER, WRIST, MAST] {
        let one = joint(name);
        let all = compared(&one, &one);
        assert!(!all.inputs.iter().any(InputRow::differs), "{name}");
        assert!(!all.figures.iter().chain(&all.sizes).any(FigureRow::differs), "{name}");
        assert!(!all.checks.iter().any(CheckRow::differs), "{name}");
        assert!(!all.bill.iter().any(BillRow::differs), "{name}");
        assert_eq!(all.parts.len(), one.made.product.parts.len(), "{name}");
        for row in &all.parts {
            assert_eq!(row.state, State::Same { apart: 0.0 }, "{name}: {}", row.name.as_str());
            assert_eq!(row.to_print(), 0);
        }
    }
}

/// Every row turned round.
fn mirrored_state(state: &State) -> State {
    match state {
        State::OnlyFirst => State::OnlySecond,
        State::OnlySecond => State::OnlyFirst,
        State::Changed { shape, settings } => State::Changed {
            shape: *shape,
            settings: settings
                .iter()
                .cloned()
                .map(|mut one| {
                    one.values.reverse();
                    one
                })
                .collect(),
        },
        same => same.clone(),
    }
}

#[test]
fn the_order_turned_round_mirrors_every_row() {
    // The mast has a ring insert and spacers that the shoulder lacks.
    let (a, b) = (joint(SHOULDER), joint(MAST));
    let (there, back) = (compared(&a, &b), compared(&b, &a));
    assert!(there.parts.iter().any(|row| row.state == State::OnlySecond));

    let inputs: BTreeMap<&str, &InputRow> = back.inputs.iter().map(|row| (row.key.as_str(), row)).collect();
    assert_eq!(there.inputs.len(), inputs.len());
    for row in &there.inputs {
        let other = inputs[row.key.as_str()];
        assert_eq!([&row.values[0], &row.values[1]], [&other.values[1], &other.values[0]], "{}", row.key);
        assert_eq!([row.given[0], row.given[1]], [other.given[1], other.given[0]], "{}", row.key);
    }
    for (row, other) in there.figures.iter().chain(&there.sizes).zip(back.figures.iter().chain(&back.sizes)) {
        assert_eq!(row.id, other.id);
        assert_eq!([&row.values[0], &row.values[1]], [&other.values[1], &other.values[0]], "{}", row.id);
        assert_eq!(row.second_is_better(), other.second_is_better().map(|better| !better), "{}", row.id);
    }
    for (row, other) in there.parts.iter().zip(&back.parts) {
        assert_eq!(row.name, other.name);
        assert_eq!(row.state, mirrored_state(&other.state), "{}", row.name.as_str());
    }
    for row in &there.checks {
        let other = back.checks.iter().find(|other| other.check.id == row.check.id).expect("the check");
        let mirrored = match other.change() {
            Change::Worse => Change::Better,
            Change::Better => Change::Worse,
            same => same,
        };
        assert_eq!(row.change(), mirrored, "{}", row.check.id);
    }
    let bill = |rows: &[BillRow], turned: bool| -> BTreeMap<String, (u32, u32)> {
        let counts = |row: &BillRow| if turned { (row.over(), row.more()) } else { (row.more(), row.over()) };
        rows.iter()
            .map(|row| (format!("{:?} {} {}", row.kind, row.designation, row.material), counts(row)))
            .collect()
    };
    assert_eq!(bill(&there.bill, false), bill(&back.bill, true));
}

#[test]
fn quantities_of_the_bill_are_those_of_both_lists() {
    let (a, b) = (joint(SHOULDER), joint(WRIST));
    let all = compared(&a, &b);
    for (side, joint) in [(0, &a), (1, &b)] {
        let items = joint.made.product.bom.items.iter();
        let listed: u32 =
            items.filter(|item| item.kind.as_str() != "printed").map(|item| item.quantity).sum();
        assert_eq!(all.bill.iter().map(|row| row.quantity[side]).sum::<u32>(), listed);
    }
}

#[test]
fn a_motor_that_differs_in_kv_alone_keeps_every_print() {
    let (old, new) = (joint(SHOULDER), shoulder_with("name = \"disc 86 slow\"\nkv = \"70 rpm/V\""));
    let all = compared(&old, &new);
    assert_eq!(reprinted(&all), Vec::<&str>::new());
    assert_eq!(bought(&all), ["disc 86", "disc 86 slow"]);
    assert!(!all.sizes.iter().any(FigureRow::differs));
    // Torque constant is inverse to Kv; nothing weighs more.
    let figure = |id: &str| all.figures.iter().find(|row| row.id == id).expect("the figure");
    let [Reading::Number(before), Reading::Number(after)] = figure("torque_constant_n_m_per_a").values else {
        panic!("no torque constants")
    };
    assert!((after / before - 90.0 / 70.0).abs() < 1e-9);
    assert!(!figure("mass_total_g").differs());
    assert_eq!(figure("no_load_speed_rpm").second_is_better(), Some(false));
}

#[test]
fn a_larger_rotor_circle_prints_the_adapter_alone_anew() {
    // The rotor's screws go through the adapter's disc and nothing else.
    let all = compared(&joint(SHOULDER), &shoulder_with("rotor_bolts = { circle = \"31 mm\" }"));
    assert_eq!(reprinted(&all), ["rotor-adapter"]);
    assert_eq!(bought(&all), ["disc 86", "disc 86"], "another motor of that name; screws of the same size");
}

#[test]
fn a_taller_motor_prints_the_base_alone_anew() {
    // Everything before the service joint moves as one; teeth keep their place in their parts. Only the base's wall grows.
    let all = compared(&joint(SHOULDER), &shoulder_with("height = \"29.3 mm\""));
    assert_eq!(reprinted(&all), ["vented-base"]);
    let moved =
        all.sizes.iter().find(|row| row.id == "service_mm").and_then(FigureRow::change).expect("heights");
    assert!((moved - 2.3).abs() < 1e-9, "{moved}");
    // The same for helical teeth in a ring of their own, and a sun printed with the adapter.
    for (name, motor) in [(MAST, "disc-70"), (WRIST, "disc-50")] {
        let from = format!("from = \"motors/{motor}.toml\"\n");
        let height = if name == MAST { "26.7 mm" } else { "23.7 mm" };
        let taller = text_of(name).replace(&from, &format!("{from}height = \"{height}\"\n"));
        assert_eq!(reprinted(&compared(&joint(name), &joint_of(&taller))), ["vented-base"], "{name}");
    }
}

#[test]
fn a_wider_rotor_prints_what_stands_around_it_anew() {
    // Base bore and stator mount follow the rotor, the service joint stands outside of the bore, the housing ends on the base.
    let all = compared(&joint(SHOULDER), &shoulder_with("outer_diameter = \"88 mm\""));
    assert_eq!(reprinted(&all), ["vented-base", "stator-mount", "ring-housing"]);
}

#[test]
fn a_material_or_a_wall_more_is_another_print_of_the_same_shape() {
    let text = text_of(SHOULDER);
    let other = joint_of(&text.replace("[fasteners]", "[parts.bearing-keeper]\nwalls = 6\n\n[fasteners]"));
    let all = compared(&joint(SHOULDER), &other);
    assert_eq!(reprinted(&all), ["bearing-keeper"]);
    let row = all.parts.iter().find(|row| !row.is_same()).expect("the keeper");
    let State::Changed { shape: None, settings } = &row.state else { panic!("{:?}", row.state) };
    assert_eq!(settings.len(), 1);
    assert_eq!((settings[0].name, &settings[0].values), ("walls", &["5".to_string(), "6".to_string()]));
}

#[test]
fn real_parts_moved_within_the_tolerance_and_beyond_it() {
    for made in &joint(SHOULDER).made.product.parts {
        let (shape, name) = (&made.printed, made.part.name.as_str());
        let compared = |other| sameness(shape, &other, TOLERANCE).expect("sections");
        assert_eq!(compared(shape.clone()), Sameness::Within(0.0), "{name}");
        for (by, same) in [(0.6 * TOLERANCE, true), (1.4 * TOLERANCE, false)] {
            assert_eq!(compared(shape.translated_z(by)).is_same(), same, "{name} lifted by {by}");
        }
        // Farthest from the axis a turned part moves most; a round one doesn't.
        let radius = f64::max(made.size[0], made.size[1]) / 2.0;
        assert!(compared(shape.rotated(0.3 * TOLERANCE / radius)).is_same(), "{name} hardly turned");
        let is_round = ["planet-washer", "planet-sleeve", "magnet-cup"].contains(&name);
        assert_eq!(compared(shape.rotated(20.0 * TOLERANCE / radius)).is_same(), is_round, "{name} turned");
    }
}

#[test]
fn values_that_both_have_by_default_say_so() {
    // Nobody writes the line's resistance: it follows from the phase's.
    let all = compared(&joint(SHOULDER), &joint(WRIST));
    let row = |key: &str| all.inputs.iter().find(|row| row.key == key).expect("the key");
    assert!(row("motor.line_resistance").follows());
    assert!(!row("motor.phase_resistance").follows() && row("motor.phase_resistance").differs());
    // One by default, one given.
    assert_eq!(row("gearset.ring.material").given, [true, false]);
    assert!(!row("gearset.normal_module").differs());
}

#[test]
fn names_of_new_designs_are_plain_and_their_own() {
    let mut old = demo(SHOULDER);
    assert_eq!(new_name(&old, "disc 70"), "weeder-shoulder-on-disc-70");
    assert_eq!(new_name(&old, "Größe 5 / \"x\""), "weeder-shoulder-on-gr-e-5-x");
    assert_eq!(new_name(&old, "***"), "weeder-shoulder-on-motor");
    // Swapped once more, the first swap's motor goes.
    old.name = "weeder-shoulder-on-disc-86".into();
    assert_eq!(new_name(&old, "disc 70"), "weeder-shoulder-on-disc-70");
    old.name = "a".repeat(60);
    let long = new_name(&old, &"m".repeat(60));
    assert!(long.len() <= 60 && long.ends_with(&format!("-on-{}", "m".repeat(20))), "{long}");
}

/// A folder with the demos in `designs`, and the program run in it.
struct Bench {
    folder: tempfile::TempDir,
}

struct Said {
    code: i32,
    out: String,
    err: String,
}

impl Bench {
    fn new() -> Bench {
        let bench = Bench { folder: tempfile::tempdir().expect("a folder") };
        for below in ["", "motors", "printers"] {
            let target = bench.path("designs").join(below);
            fs::create_dir_all(&target).expect("a folder");
            for entry in fs::read_dir(designs().join(below)).expect("designs") {
                let path = entry.expect("an entry").path();
                if path.is_file() {
                    fs::copy(&path, target.join(path.file_name().expect("a name"))).expect("copied");
                }
            }
        }
        bench
    }

    fn path(&self, below: &str) -> PathBuf {
        self.folder.path().join(below)
    }

    fn read(&self, below: &str) -> String {
        fs::read_to_string(self.path(below)).unwrap_or_else(|error| panic!("{below}: {error}"))
    }

    fn put(&self, below: &str, text: &str) {
        fs::write(self.path(below), text).expect("written");
    }

    fn run(&self, arguments: &[&str]) -> Said {
        self.run_with(arguments, "")
    }

    fn run_with(&self, arguments: &[&str], input: &str) -> Said {
        let output = Command::new(assert_cmd::cargo::cargo_bin!("hubwright"))
            .args(arguments)
            .current_dir(self.folder.path())
            .write_stdin(input)
            .output()
            .expect("run");
        Said {
            code: output.status.code().expect("an exit code"),
            out: String::from_utf8(output.stdout).expect("text"),
            err: String::from_utf8(output.stderr).expect("text"),
        }
    }

    /// Runs with `--json` and reads the answer.
    fn tree(&self, arguments: &[&str]) -> (i32, Value) {
        let said = self.run(&[arguments, &["--json"]].concat());
        let tree = serde_json::from_str(&said.out).unwrap_or_else(|error| panic!("{error}: {}", said.out));
        (said.code, tree)
    }
}

const S: &str = "designs/weeder-shoulder.toml";
const W: &str = "designs/weeder-wrist.toml";
const DISC_70: &str = "designs/motors/disc-70.toml";

fn words(value: &Value) -> Vec<&str> {
    value.as_array().expect("a list").iter().map(|one| one.as_str().expect("a text")).collect()
}

/// A design's text without its name and its motor.
fn without_motor(text: &str) -> String {
    let mut kept = String::new();
    let mut inside = false;
    for line in text.split_inclusive('\n') {
        if line.starts_with('[') {
            inside = line.starts_with("[motor");
        }
        // The blank line that ends the section belongs to the next one.
        if line.starts_with("name ") || (inside && !line.trim().is_empty()) {
            continue;
        }
        kept.push_str(line);
    }
    kept
}

#[test]
fn a_swap_keeps_prints_buys_and_writes() {
    let bench = Bench::new();
    let target = "designs/shoulder-70.toml";
    let (code, tree) = bench.tree(&["swap", S, "--motor", DISC_70, "--write", target]);
    assert_eq!(code, 0, "{tree:#}");
    assert_eq!(tree["design"], "weeder-shoulder-on-disc-70");
    assert_eq!(tree["folder"], "output/weeder-shoulder-on-disc-70");
    // The smaller rotor: what stands around it, and the adapter on its smaller circle. The gears and all in front of them stay.
    assert_eq!(words(&tree["print"]), ["vented-base", "stator-mount", "rotor-adapter", "ring-housing"]);
    assert_eq!(tree["keep"].as_array().map(Vec::len), Some(8));
    assert_eq!(tree["written"], target);

    // The written file: comments, order and all else byte for byte.
    let (old, new) = (bench.read(S), bench.read(target));
    assert_eq!(without_motor(&old), without_motor(&new));
    assert!(new.contains("[motor]\nfrom = \"motors/disc-70.toml\"\n\n[controller]"), "{new}");
    assert!(new.contains("name  = \"weeder-shoulder-on-disc-70\"\n"), "{new}");

    // It makes what the swap made, but for what only a swap says.
    assert_eq!(bench.run(&["make", target, "--out", "again"]).code, 0);
    let made = files(&bench.path("output/weeder-shoulder-on-disc-70"));
    let again = files(&bench.path("again"));
    for (name, bytes) in &again {
        if name != "book.html" {
            assert!(made.get(name) == Some(bytes), "{name} differs");
        }
    }
    let only: Vec<&String> = made.keys().filter(|name| !again.contains_key(*name)).collect();
    assert_eq!(only, ["swap.json"]);
    let book = bench.read("output/weeder-shoulder-on-disc-70/book.html");
    assert!(book.contains("What changed") && !bench.read("again/book.html").contains("What changed"));

    // Once more the same bytes; and the file stays.
    let (code, once_more) = bench.tree(&["swap", S, "--motor", DISC_70]);
    assert_eq!(code, 0);
    assert_eq!(tree["comparison"], once_more["comparison"]);
    assert_eq!(files(&bench.path("output/weeder-shoulder-on-disc-70")), made);
    assert_eq!(bench.read(target), new);
}

/// Every file below a folder.
fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut folders = vec![folder.to_path_buf()];
    while let Some(next) = folders.pop() {
        for entry in fs::read_dir(&next).expect("a folder") {
            let path = entry.expect("an entry").path();
            if path.is_dir() {
                folders.push(path);
            } else {
                let name = path.strip_prefix(folder).expect("below").to_string_lossy().into_owned();
                found.insert(name, fs::read(&path).expect("read"));
            }
        }
    }
    found
}

#[test]
fn a_motor_too_small_is_made_and_its_checks_fail() {
    let bench = Bench::new();
    let (code, tree) = bench.tree(&["swap", S, "--motor", "designs/motors/disc-50.toml", "--out", "here"]);
    assert_eq!(code, 1, "{tree:#}");
    let worse: Vec<&str> = tree["comparison"]["checks"]
        .as_array()
        .expect("checks")
        .iter()
        .filter(|row| row["change"] == "worse")
        .map(|row| row["id"].as_str().expect("a name"))
        .collect();
    assert!(worse.contains(&"motor-torque"), "{worse:?}");
    // The board is larger than this motor: bodies must keep apart all the same.
    assert!(!worse.contains(&"interference") && !worse.contains(&"assembly-order"), "{worse:?}");
    // 40 A of the drive over the motor's 28.
    let notes = tree["carried_over"].to_string();
    assert!(notes.contains("28 A") && notes.contains("controller.current_limit"), "{notes}");
    assert!(bench.path("here/report.json").is_file());
}

#[test]
fn a_motor_of_a_design_with_values_of_its_own_and_one_out_of_reach() {
    let bench = Bench::new();
    // Values beside `from` come along, and go when the motor goes.
    let measured = bench.read(W).replace(
        "from = \"motors/disc-50.toml\"",
        "from = \"motors/disc-70.toml\"\nkv = \"96 rpm/V\" # measured",
    );
    bench.put("designs/mine.toml", &measured);
    let target = "designs/a.toml";
    let said = bench.run(&["swap", S, "--motor", "designs/mine.toml", "--write", target]);
    assert_eq!(said.code, 0, "{}{}", said.out, said.err);
    let text = bench.read(target);
    assert!(text.contains("[motor]\nfrom = \"motors/disc-70.toml\"\nkv = \"96 rpm/V\"\n"), "{text}");
    let (code, tree) = bench.tree(&["swap", target, "--motor", "designs/motors/disc-86.toml"]);
    assert_eq!(code, 0);
    assert_eq!(words(&tree["dropped"]), ["motor.kv"]);
    assert_eq!(tree["design"], "weeder-shoulder-on-disc-86");
    // Elsewhere, and on standard input: the values are copied.
    fs::create_dir(bench.path("far")).expect("a folder");
    fs::copy(bench.path(DISC_70), bench.path("far/motor.toml")).expect("copied");
    let (code, tree) = bench.tree(&["swap", S, "--motor", "far/motor.toml", "--write", "designs/b.toml"]);
    assert_eq!((code, &tree["motor_is_copied"]), (0, &Value::Bool(true)));
    assert!(bench.read("designs/b.toml").contains("outer_diameter = \"70 mm\""));
    let said = bench.run_with(&["swap", S, "--motor", "-", "--out", "c"], &bench.read(DISC_70));
    assert_eq!(said.code, 0, "{}", said.err);
    assert_eq!(
        fs::read(bench.path("c/bom.csv")).ok(),
        fs::read(bench.path("output/weeder-shoulder-on-disc-70/bom.csv")).ok()
    );
}

#[test]
fn a_design_written_elsewhere_still_finds_its_files() {
    let bench = Bench::new();
    fs::create_dir(bench.path("designs/next")).expect("a folder");
    let target = "designs/next/arm.toml";
    let said = bench.run(&["swap", S, "--motor", DISC_70, "--write", target]);
    assert_eq!(said.code, 0, "{}", said.err);
    let text = bench.read(target);
    assert!(
        text.contains("from = \"../printers/bench.toml\"")
            && text.contains("from = \"../motors/disc-70.toml\""),
        "{text}"
    );
    assert_eq!(bench.run(&["check", target]).code, 0);
    // Out of the reach of `from`: refused before anything is made.
    let said = bench.run(&["swap", S, "--motor", DISC_70, "--write", "arm.toml", "--out", "none"]);
    let reachable = bench.path("designs").is_dir() && said.code == 0;
    // A `designs` folder beside the file is within reach.
    assert!(reachable, "{}", said.err);
    assert!(bench.read("arm.toml").contains("from = \"designs/printers/bench.toml\""));
    let outside = tempfile::tempdir().expect("a folder");
    let path = outside.path().join("arm.toml");
    let path = path.to_str().expect("a name");
    let said = bench.run(&["swap", S, "--motor", DISC_70, "--write", path, "--out", "never"]);
    assert_eq!(said.code, 2, "{}", said.out);
    assert!(said.err.contains("printer.from"), "{}", said.err);
    assert!(!bench.path("never").exists() && !Path::new(path).exists());
    // A name alone lies in the folder one is in.
    let [design, motor] = [S, DISC_70].map(|file| bench.path(file).display().to_string());
    let said = hubwright(outside.path(), &["swap", &design, "--motor", &motor, "--write", "arm.toml"]);
    assert!(said.err.contains("A design in this folder can't name"), "{}", said.err);
}

#[test]
fn what_was_chosen_for_the_old_motor_is_told() {
    let bench = Bench::new();
    let chosen = bench
        .read(S)
        .replace("[fasteners]", "[fasteners]\nmotor-to-mount = { length = \"8 mm\" }")
        .replace(
            "from = \"motors/disc-86.toml\"",
            "from = \"motors/disc-86.toml\"\ncogging_torque = \"20 mN m\"\nno_load_current = \"0.9 A\"",
        )
        .replace("peak_torque  = \"16 N m\"     # tearing a root out with the arm stretched\n", "");
    bench.put("designs/chosen.toml", &chosen);
    let stator = |depth: &str| {
        bench
            .read(DISC_70)
            .replace(
                "circle = \"30 mm\", depth = \"5 mm\"",
                &format!("circle = \"30 mm\", depth = \"{depth}\""),
            )
            .replace("current_limit     = \"40 A\"", "current_limit     = \"30 A\"")
            .replace("winding_limit     = \"120 degC\"\n", "")
    };
    // Threads so deep that a longer screw than the forced one would be taken.
    bench.put("designs/motors/deep.toml", &stator("9 mm"));
    let said = bench.run(&["swap", "designs/chosen.toml", "--motor", "designs/motors/deep.toml"]);
    assert!(said.code < 2, "{}", said.err);
    for told in [
        "put over: motor.cogging_torque, motor.no_load_current",
        "defaults or estimates stand in: motor.winding_limit",
        "it follows from the motor, 21.5 N m before, 16.1 N m now",
        "40 A, is over the motor's 30 A",
        "fasteners.motor-to-mount was forced where the old motor would take 4 M3 x 8; this one would take 4 M3 x 12",
    ] {
        assert!(said.err.contains(told), "wanted {told:?} in {}", said.err);
    }
    // And so shallow that the forced one would meet the winding: it can't be laid out, and why is told with the rest.
    bench.put("designs/motors/shallow.toml", &stator("3 mm"));
    let said = bench.run(&[
        "swap",
        "designs/chosen.toml",
        "--motor",
        "designs/motors/shallow.toml",
        "--out",
        "none",
    ]);
    assert_eq!(said.code, 2, "{}{}", said.out, said.err);
    for told in [
        "the stator's thread takes 3.0",
        "Without the forced screws of fasteners.motor-to-mount the design can be laid out on this motor, with 4 M3 x 6",
        "put over: motor.cogging_torque",
    ] {
        assert!(said.err.contains(told), "wanted {told:?} in {}", said.err);
    }
    assert!(!bench.path("none").exists());
}

#[test]
fn bad_inputs_of_swap_are_told_and_nothing_is_written() {
    let bench = Bench::new();
    bench.put("designs/there.toml", "mine\n");
    bench.put(
        "designs/motors/tight.toml",
        &bench
            .read(DISC_70)
            .replace("circle = \"28 mm\"", "circle = \"12 mm\"")
            .replace("shaft_extension   = \"6 mm\"", "shaft_extension = \"1 mm\""),
    );
    bench.put("designs/motors/not-toml.toml", "kv = = 3\n");
    bench.put("designs/motors/no-unit.toml", &bench.read(DISC_70).replace("\"100 rpm/V\"", "100"));
    let cases: [(&[&str], &[&str]); 10] = [
        (
            &[S, "--motor", "designs/motors/disc-71.toml"],
            &["There is no file", "did you mean designs/motors/disc-7"],
        ),
        (&[S, "--motor", "designs/printers/bench.toml"], &["neither a motor nor a design"]),
        (&[S, "--motor", "designs/motors/disc-86.toml"], &["on this motor already"]),
        (&[S, "--motor", S], &["on this motor already"]),
        (&["-", "--motor", "-"], &["both to come from standard input"]),
        (&[S, "--motor", DISC_70, "--write", "designs/there.toml"], &["is there already and stays as it is"]),
        (&[S, "--motor", DISC_70, "--write", "nowhere/x.toml"], &["There is no folder nowhere"]),
        // Everything at once: a missing design, a motor that isn't TOML, a target that is there.
        (
            &[
                "designs/none.toml",
                "--motor",
                "designs/motors/not-toml.toml",
                "--write",
                "designs/there.toml",
            ],
            &["There is no file designs/none.toml", "This is not TOML", "is there already"],
        ),
        (&[S, "--motor", "designs/motors/no-unit.toml"], &["designs/motors/no-unit.toml:6", "motor.kv"]),
        (
            &[S, "--motor", "designs/motors/tight.toml"],
            &["Rotor screws lie under the sun boss", "cannot-build"],
        ),
    ];
    for (arguments, wanted) in cases {
        let said = bench.run(&[&["swap"], arguments].concat());
        assert_eq!(said.code, 2, "{arguments:?}: {}{}", said.out, said.err);
        for text in wanted {
            assert!(said.err.contains(text), "{arguments:?}: wanted {text:?} in {}", said.err);
        }
        assert!(said.out.is_empty(), "{arguments:?}");
    }
    assert_eq!(bench.read("designs/there.toml"), "mine\n");
    assert!(!bench.path("output").exists());
    // A folder that isn't ours: 3, and it stays.
    fs::create_dir(bench.path("mine")).expect("a folder");
    bench.put("mine/thesis.txt", "years");
    let said = bench.run(&["swap", S, "--motor", DISC_70, "--out", "mine", "--write", "designs/new.toml"]);
    assert_eq!(said.code, 3, "{}", said.err);
    assert_eq!(bench.read("mine/thesis.txt"), "years");
    assert!(!bench.path("designs/new.toml").exists());
}

#[test]
fn compare_says_what_differs_first_and_counts_the_rest() {
    let bench = Bench::new();
    // Standard input has the folder one is in: its files lie from there.
    let other = bench
        .read(S)
        .replace("face_width    = \"16 mm\"", "face_width    = \"17 mm\"")
        .replace("from = \"", "from = \"designs/");
    let said = bench.run_with(&["compare", S, "-"], &other);
    assert_eq!(said.code, 0, "{}", said.err);
    assert!(said.out.contains("1 of "), "{}", said.out);
    assert!(said.out.contains("gearset.face_width"), "{}", said.out);
    assert!(!said.out.contains("gearset.normal_module"), "{}", said.out);
    let all = bench.run_with(&["compare", S, "-", "--all"], &other);
    assert!(all.out.contains("gearset.normal_module"));
    let (code, tree) = bench.tree(&["compare", S, W]);
    assert_eq!(code, 0);
    let differing =
        tree["inputs"].as_array().expect("rows").iter().filter(|row| row["differs"] == true).count();
    assert_eq!(tree["differing"]["inputs"], differing);
}

#[test]
fn compare_writes_a_page_that_loads_nothing_and_overwrites_nothing() {
    let bench = Bench::new();
    let said = bench.run(&["compare", S, W, "--page", "both.html"]);
    assert_eq!(said.code, 0, "{}", said.err);
    let page = bench.read("both.html");
    assert!(page.starts_with("<!DOCTYPE html>") && page.contains("default-src 'none'"));
    for outside in ["http:", "https:", "<script", "@import", "src="] {
        assert!(!page.contains(outside), "{outside}");
    }
    assert!(page.contains("weeder-wrist") && page.contains("planet-washer"));
    let again = bench.run(&["compare", S, W, "--page", "both.html"]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("is there already"), "{}", again.err);
    assert_eq!(bench.read("both.html"), page);
}

#[test]
fn bad_inputs_of_compare_are_told_at_once() {
    let bench = Bench::new();
    let said = bench.run(&["compare", "-", "-"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("Both designs are to come from standard input"), "{}", said.err);
    bench.put("designs/wrong.toml", &bench.read(S).replace("\"16 mm\"", "16"));
    bench.put("designs/tight.toml", &bench.read(W).replace("ring_teeth    = 63", "ring_teeth    = 64"));
    let said = bench.run(&["compare", "designs/none.toml", "designs/wrong.toml"]);
    assert_eq!(said.code, 2);
    assert!(
        said.err.contains("There is no file") && said.err.contains("designs/wrong.toml:"),
        "{}",
        said.err
    );
    let said = bench.run(&["compare", S, "designs/tight.toml"]);
    assert_eq!(said.code, 2, "{}", said.out);
    assert!(said.err.contains("designs/tight.toml"), "{}", said.err);
}
