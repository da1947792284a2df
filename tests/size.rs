//! Sizing: what the search finds against brute force, on any number of threads, and what it says to a wrong file.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use assert_cmd::Command;
use hubwright::checks::Verdict;
use hubwright::design;
use hubwright::pipeline::{self, Made};
use hubwright::search::front::{Objectives, covers};
use hubwright::search::motors::MotorWindow;
use hubwright::search::text::{self, Choices};
use hubwright::search::{self, Found, Space, Watch, candidates, gearsets, table};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// The demo's requirement with other lines.
fn requirement(changes: &[(&str, &str)]) -> (PathBuf, String) {
    let path = root().join("designs/requirements/weeder-shoulder.toml");
    let mut text = fs::read_to_string(&path).expect("the demo's requirement");
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replace(old, new);
    }
    (path, text)
}

fn space(changes: &[(&str, &str)]) -> Space {
    let (path, text) = requirement(changes);
    search::load_text(&path, &text).unwrap_or_else(|problems| panic!("{problems:#?}"))
}

fn run(space: &Space) -> Found {
    search::run(space, &Watch { stop: &AtomicBool::new(false), tell: &|_| {} })
}

/// Some twenty gearsets on one motor and two bearings, all to be judged.
const SMALL: &[(&str, &str)] = &[
    ("motors           = [{ from = \"../motors/disc-70.toml\" }, ", "motors           = ["),
    ("gears            = [\"0.8 mm\", \"1 mm\"]", "gears            = [\"1 mm\"]"),
    ("[\"6808\", \"6809\", \"6810\", \"6811\", \"6812\"]", "[\"6810\", \"6811\"]"),
    (
        "[search]\n",
        "[search]\nratio_least = 7.2\nratio_most = 7.6\nsun_teeth_least = 12\nsun_teeth_most = 12\nplanets_most = 4\n\
         face_least = \"14 mm\"\nface_most = \"16 mm\"\nmade = 10000\nlaid_out = 100000\n",
    ),
];

fn objectives(made: &Made) -> Objectives {
    let (product, actuator) = (&made.product, &made.product.actuator);
    Objectives {
        mass: product.bom.total_mass(),
        diameter: actuator.outer_diameter(),
        height: actuator.stations.output_face,
        continuous: product.heat.as_ref().expect("heat").continuous.as_ref().expect("held").torque,
        backdrive: candidates::backdrive(&actuator.stage, &actuator.design).expect("turns"),
        cost: product.bom.total_cost(),
    }
}

/// Every combination, made without any bound: those whose checks hold and that stay within the back-drive limit.
fn brute_force(space: &Space) -> Vec<(Choices, Objectives)> {
    let mut good = Vec::new();
    for sun in space.sun_teeth[0]..=space.sun_teeth[1] {
        for (planet, off) in (8..=120).flat_map(|planet: u32| [-1, 0, 1].map(|off| (planet, off))) {
            let ring = (sun + 2 * planet).saturating_add_signed(off);
            let ratio = 1.0 + f64::from(ring) / f64::from(sun);
            if !(space.ratio[0]..=space.ratio[1]).contains(&ratio) {
                continue;
            }
            for planets in space.planets[0]..=space.planets[1] {
                for &face in &space.faces {
                    for output in 0..space.outputs.len() {
                        let choices = Choices {
                            teeth: [sun, planet, ring],
                            planets,
                            face,
                            output,
                            ..Choices::stand_in(space)
                        };
                        let text = text::design(space, &choices);
                        let Ok(loaded) = design::load_text(&space.path, &text) else { continue };
                        let Ok(made) = pipeline::make(&loaded.design) else { continue };
                        let holds =
                            made.checks.iter().all(|checked| checked.outcome.verdict != Verdict::Fails);
                        let objectives = objectives(&made);
                        if holds && objectives.backdrive <= space.backdrive_limit.unwrap_or(f64::INFINITY) {
                            good.push((choices, objectives));
                        }
                    }
                }
            }
        }
    }
    good
}

#[test]
fn pruning_loses_nothing_that_brute_force_finds() {
    let space = space(SMALL);
    let found = run(&space);
    assert!(found.is_complete());
    let good = brute_force(&space);
    assert!(good.len() >= 4, "only {} designs hold: nothing to lose", good.len());
    assert!(found.candidates < 200, "{}", found.candidates);
    // What is on the table is among them, to the last digit.
    for choice in &found.choices {
        let same = good.iter().find(|(choices, _)| *choices == choice.candidate.choices);
        assert_eq!(same.map(|(_, objectives)| *objectives), Some(choice.objectives));
    }
    // Nothing good is better than the table in anything by more than the resolution.
    for (choices, objectives) in &good {
        assert!(
            found.choices.iter().any(|choice| covers(&choice.objectives, objectives)),
            "lost: {choices:?}"
        );
    }
}

#[test]
fn bounds_flatter_what_is_made() {
    let space = space(SMALL);
    let window = MotorWindow::of(&space.bases[0][0]);
    let (integers, _) = gearsets::integers(&space, [window.least_ratio, window.most_ratio]);
    for (choices, objectives) in brute_force(&space) {
        let base = &space.bases[0][0];
        let output = &space.outputs[choices.output];
        let set = integers.iter().find(|set| set.teeth == choices.teeth && set.planets == choices.planets);
        let set = set.expect("kept by the bounds on integers");
        assert!(window.allows(set.ratio()));
        assert!(objectives.mass > base.motor.mass + base.controller.mass + output.row.mass);
        assert!(objectives.height > base.motor.height + choices.face + output.row.width);
        assert!(objectives.diameter > base.motor.outer_diameter);
        assert!(objectives.diameter > f64::from(choices.teeth[2]) / space.gears[0].helix.cos());
    }
}

#[test]
fn any_number_of_threads_gives_the_same_answer() {
    let mut small = SMALL.to_vec();
    // Cut short, so that the order of the search counts too.
    small.push(("made = 10000", "made = 6"));
    let answer = |threads| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| {
            let space = space(&small);
            let found = run(&space);
            assert!(!found.choices.is_empty());
            table::tree(&space, &found).to_string() + &table::text(&space, &found)
        })
    };
    assert_eq!(answer(1), answer(3));
}

#[test]
fn nothing_found_says_what_to_relax_and_by_how_much() {
    // No motor here gives 400 N m at a ratio of 7.6; the most it gives is its own torque times that.
    let mut strong = SMALL.to_vec();
    strong.push(("peak_torque       = \"16 N m\"", "peak_torque = \"400 N m\""));
    let strong = space(&strong);
    let found = run(&strong);
    assert!(found.choices.is_empty());
    let miss = &found.misses.nearest["requirement.peak_torque"];
    let design = &strong.bases[0][0];
    let current = design.motor.current_limit.min(design.controller.current_limit);
    let torque =
        hubwright::ratings::motor::rotor_torque(&design.motor, current) * 7.6 * design.gearset.efficiency;
    assert!((miss.value - torque).abs() < 1e-9, "{miss:?}");
    assert!((miss.off() - (1.0 - torque / 400.0)).abs() < 1e-12);

    // Too heavy by some grams: relaxing by what it says finds one.
    let mut light = SMALL.to_vec();
    light.push(("mass_limit        = \"1100 g\"", "mass_limit = \"600 g\""));
    let found = run(&space(&light));
    assert!(found.choices.is_empty());
    let enough =
        format!("mass_limit = \"{} g\"", found.misses.nearest["requirement.mass_limit"].value.ceil());
    light.push(("mass_limit = \"600 g\"", &enough));
    assert!(!run(&space(&light)).choices.is_empty(), "{enough}");
}

#[test]
fn an_interrupted_search_says_so() {
    let space = space(SMALL);
    let found = search::run(&space, &Watch { stop: &AtomicBool::new(true), tell: &|_| {} });
    assert!(found.cancelled && !found.is_complete() && found.made == 0);
    assert!(table::text(&space, &found).contains("Stopped before its end"));
}

struct Said {
    code: i32,
    out: String,
    err: String,
}

fn hubwright(folder: &Path, arguments: &[&str]) -> Said {
    let output = Command::new(assert_cmd::cargo::cargo_bin!("hubwright"))
        .current_dir(folder)
        .args(arguments)
        .output()
        .expect("it runs");
    Said {
        code: output.status.code().expect("an exit code"),
        out: String::from_utf8(output.stdout).expect("UTF-8"),
        err: String::from_utf8(output.stderr).expect("UTF-8"),
    }
}

/// A folder with the motors, printers and this requirement in it.
fn bench(text: &str) -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("folder");
    for name in ["motors", "printers", "requirements"] {
        let target = folder.path().join("designs").join(name);
        fs::create_dir_all(&target).expect("folder");
        for entry in root().join("designs").join(name).read_dir().expect("designs") {
            let path = entry.expect("entry").path();
            fs::copy(&path, target.join(path.file_name().expect("name"))).expect("copy");
        }
    }
    fs::write(folder.path().join("designs/requirements/joint.toml"), text).expect("written");
    folder
}

#[test]
fn the_file_that_is_written_makes_and_is_never_overwritten() {
    let mut small = SMALL.to_vec();
    small.push(("made = 10000", "made = 4"));
    let folder = bench(&requirement(&small).1);
    let arguments = ["size", "designs/requirements/joint.toml", "--write", "joint.toml", "--json"];
    let said = hubwright(folder.path(), &arguments);
    assert_eq!(said.code, 0, "{}{}", said.out, said.err);
    let tree: serde_json::Value = serde_json::from_str(&said.out).expect("JSON");
    let written = fs::read_to_string(folder.path().join("joint.toml")).expect("written");
    assert_eq!(tree["choices"][0]["design"].as_str(), Some(written.as_str()));
    let page = fs::read_to_string(folder.path().join("joint-choices.html")).expect("the page");
    assert_eq!(page.matches("<svg").count(), 4);
    assert!(!page.contains("src="), "it needs nothing from elsewhere");

    let checked = hubwright(folder.path(), &["check", "joint.toml"]);
    assert_eq!(checked.code, 0, "{}{}", checked.out, checked.err);

    let again = hubwright(folder.path(), &arguments);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("joint.toml is there already"), "{}", again.err);
    assert_eq!(fs::read_to_string(folder.path().join("joint.toml")).expect("still there"), written);
}

#[test]
fn all_that_is_wrong_is_said_at_once() {
    let (_, text) = requirement(&[
        (
            "motors           = [{ from = \"../motors/disc-70.toml\" }, { from = \"../motors/disc-86.toml\" }]",
            "motors = []",
        ),
        ("\"6808\", ", "\"6899\", "),
        ("continuous_torque = \"1.5 N m\"", "continuous_torque = \"20 N m\""),
        ("[search]\n", "[search]\nratio_least = 9\nratio_most = 4\nplanet_least = 3\n"),
    ]);
    let folder = bench(&text);
    let said = hubwright(folder.path(), &["size", "designs/requirements/joint.toml"]);
    assert_eq!(said.code, 2);
    assert!(said.out.is_empty());
    for wanted in [
        "No motor is on hand",
        "No bearing is called \"6899\"",
        "More torque is asked for hours",
        "The least is more",
        "planets_least",
    ] {
        assert!(said.err.contains(wanted), "{wanted}: {}", said.err);
    }
    let missing = requirement(&[("../motors/disc-86.toml", "../motors/disc-87.toml")]).1;
    fs::write(folder.path().join("designs/requirements/joint.toml"), missing).expect("written");
    let said = hubwright(folder.path(), &["size", "designs/requirements/joint.toml"]);
    assert_eq!(said.code, 2);
    assert!(said.err.contains("disc-87.toml"), "{}", said.err);
}

#[test]
fn nothing_found_exits_with_one() {
    let mut small = SMALL.to_vec();
    small.push(("\"1 N m\"", "\"0.1 N m\""));
    let folder = bench(&requirement(&small).1);
    let said =
        hubwright(folder.path(), &["size", "designs/requirements/joint.toml", "--write", "joint.toml"]);
    assert_eq!(said.code, 1, "{}", said.err);
    assert!(said.out.contains("search.backdrive_torque_limit: asked 0.1"), "{}", said.out);
    assert!(!folder.path().join("joint.toml").exists());
}
