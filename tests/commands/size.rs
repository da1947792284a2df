//! Sizing: what the search finds against brute force, on any number of threads, and what it says to a wrong file.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::atomic::AtomicBool;

use crate::command::hubwright;
use hubwright::checks::Verdict;
use hubwright::design;
use hubwright::pipeline::{self, Made};
use hubwright::search::front::{Objectives, covers};
use hubwright::search::lightest::{Ground, RESOLUTION, Weighed};
use hubwright::search::motors::MotorWindow;
use hubwright::search::near_miss::Stage;
use hubwright::search::text::{self, Choices};
use hubwright::search::{self, Bounds, Found, Space, Watch, candidates, gearsets, rate, requirement, table};

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
         face_least = \"14 mm\"\nface_most = \"16 mm\"\n",
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

/// A robot asks for the lightest of each motor and bearing.
#[test]
fn the_lightest_of_a_pair_is_that_of_brute_force() {
    let space = space(SMALL);
    let good = brute_force(&space);
    let ground = Ground::of(&space);
    let mut found = 0;
    for output in 0..space.outputs.len() {
        let weighed = Weighed::of(&space, &ground, [0, output]);
        let lightest = weighed.lightest(&space, &ground, &AtomicBool::new(false));
        assert!(lightest.is_complete);
        let masses = good.iter().filter(|(choices, _)| choices.output == output);
        let least = masses.map(|(_, objectives)| objectives.mass).fold(f64::INFINITY, f64::min);
        match lightest.choice {
            Some(choice) => {
                let floor = weighed.floor().expect("a choice has a floor");
                assert!(floor <= least && least <= choice.objectives.mass, "{floor} {least}");
                assert!(choice.objectives.mass <= least * RESOLUTION, "{} {least}", choice.objectives.mass);
                found += 1;
            }
            None => assert_eq!(least, f64::INFINITY),
        }
    }
    assert!(found > 0);
}

/// What a search found, without how it went.
fn table_of(found: &Found) -> Vec<(Choices, Objectives)> {
    found.choices.iter().map(|choice| (choice.candidate.choices, choice.objectives)).collect()
}

fn run_with(space: &Space, bounds: &Bounds) -> Found {
    search::run_with(space, &Watch { stop: &AtomicBool::new(false), tell: &|_| {} }, bounds)
}

/// A bound with a space in which it has something to leave out, and how much of what it leaves there is without it.
struct Case {
    name: &'static str,
    changes: &'static [(&'static str, &'static str)],
    without: Bounds,
    /// Falls when the bound works.
    work: fn(&Found) -> usize,
}

const ALL: Bounds = Bounds::ALL;
/// Faces so alike that one covers another.
const FINE: (&str, &str) = ("face_most = \"16 mm\"", "face_most = \"16 mm\"\nface_step = \"0.5 mm\"");

fn cases() -> Vec<Case> {
    vec![
        Case {
            name: "motor",
            changes: &[("ratio_least = 7.2", "ratio_least = 5.8")],
            without: Bounds { motor: false, ..ALL },
            work: |found| found.counts.strong as usize,
        },
        Case {
            name: "neighbours",
            changes: &[("planets_most = 4", "planets_most = 6")],
            without: Bounds { neighbours: false, ..ALL },
            work: |found| found.counts.assembling as usize,
        },
        Case {
            name: "envelope of the ring",
            changes: &[("mass_limit        = \"1100 g\"", "outer_diameter_limit = \"80 mm\"")],
            without: Bounds { envelope: false, ..ALL },
            work: |found| found.counts.in_envelope as usize,
        },
        Case {
            name: "least width and height",
            changes: &[(
                "mass_limit        = \"1100 g\"",
                "outer_diameter_limit = \"105 mm\"\nheight_limit = \"102 mm\"",
            )],
            without: Bounds { envelope: false, ..ALL },
            work: |found| found.candidates - found.tally.bounded,
        },
        Case {
            name: "strength",
            changes: &[("face_least = \"14 mm\"", "face_least = \"8 mm\"")],
            without: Bounds { strength: false, ..ALL },
            work: |found| found.counts.strong as usize,
        },
        Case {
            name: "bearing",
            changes: &[
                ("[\"6810\", \"6811\"]", "[\"6802\", \"6810\", \"6811\"]"),
                ("overhang    = \"20 mm\"", "overhang = \"150 mm\""),
            ],
            without: Bounds { bearing: false, ..ALL },
            work: |found| found.candidates,
        },
        Case {
            name: "mass",
            changes: &[("mass_limit        = \"1100 g\"", "mass_limit = \"500 g\"")],
            without: Bounds { mass: false, ..ALL },
            work: |found| found.candidates - found.tally.bounded,
        },
        Case {
            name: "heat",
            changes: &[("continuous_torque = \"1.5 N m\"", "continuous_torque = \"5.5 N m\"")],
            without: Bounds { heat: false, ..ALL },
            work: |found| found.candidates - found.tally.bounded,
        },
        Case {
            name: "front",
            changes: &[FINE],
            without: Bounds { front: false, ..ALL },
            work: |found| found.tally.made,
        },
    ]
}

#[test]
fn each_bound_leaves_something_out_and_loses_nothing() {
    for case in cases() {
        let changes = [SMALL, case.changes].concat();
        let space = space(&changes);
        let all = run_with(&space, &ALL);
        let without = run_with(&space, &case.without);
        assert!(all.is_complete() && without.is_complete());
        let (less, more) = ((case.work)(&all), (case.work)(&without));
        assert!(less < more, "{}: nothing to leave out, {less} of {more}", case.name);
        assert_eq!(table_of(&all), table_of(&without), "{}", case.name);
    }
}

#[test]
fn a_search_without_any_bound_gives_the_same_table_in_the_same_order() {
    let space = space(&[SMALL, &[FINE]].concat());
    let (all, none) = (run_with(&space, &ALL), run_with(&space, &Bounds::NONE));
    assert!(all.tally.made < none.tally.made, "{:?} {:?}", all.tally, none.tally);
    assert!(!all.choices.is_empty());
    assert_eq!(table_of(&all), table_of(&none));
}

/// Numbers that look random and are the same on every machine: the 64-bit linear congruential generator of Knuth's MMIX
/// (from memory).
struct Dice(u64);

impl Dice {
    fn pick<'a, T>(&mut self, faces: &'a [T]) -> &'a T {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        &faces[(self.0 >> 33) as usize % faces.len()]
    }
}

#[test]
fn random_small_spaces_lose_nothing_either() {
    let mut dice = Dice(20_261_126);
    let mut with_choices = 0;
    for _ in 0..5 {
        let motors = *dice.pick(&["[{ from = \"../motors/disc-86.toml\" }]", "\"../motors\""]);
        let bearings =
            *dice.pick(&["[\"6810\", \"6811\"]", "[\"6810\", { designation = \"6808\", count = 2 }]"]);
        let limit = *dice.pick(&[
            "mass_limit = \"950 g\"",
            "outer_diameter_limit = \"108 mm\"",
            "height_limit = \"104 mm\"",
        ]);
        let torque = *dice.pick(&["16 N m", "13 N m", "10 N m"]);
        let sun = *dice.pick(&[11, 12, 13]);
        let (least, most) = *dice.pick(&[("6.9", "7.3"), ("7.2", "7.6"), ("8.0", "8.4")]);
        let search = format!(
            "[search]\nratio_least = {least}\nratio_most = {most}\nsun_teeth_least = {sun}\nsun_teeth_most = {sun}\n\
             planets_most = 4\nface_least = \"14 mm\"\nface_most = \"16 mm\"\n"
        );
        let space = space(&[
            ("[{ from = \"../motors/disc-70.toml\" }, { from = \"../motors/disc-86.toml\" }]", motors),
            ("gears            = [\"0.8 mm\", \"1 mm\"]", "gears            = [\"1 mm\"]"),
            ("[\"6808\", \"6809\", \"6810\", \"6811\", \"6812\"]", bearings),
            ("mass_limit        = \"1100 g\"", limit),
            ("\"16 N m\"", &format!("\"{torque}\"")),
            ("[search]\n", &search),
        ]);
        let (all, none) = (run_with(&space, &ALL), run_with(&space, &Bounds::NONE));
        assert!(all.is_complete() && none.is_complete());
        with_choices += usize::from(!all.choices.is_empty());
        assert_eq!(table_of(&all), table_of(&none), "{motors} {bearings} {limit} {torque} {search}");
    }
    assert!(with_choices >= 2, "{with_choices} spaces have a choice: nothing to lose in the others");
}

#[test]
fn a_candidate_s_design_is_that_of_its_text() {
    let mut small = SMALL.to_vec();
    small.push(("planet_materials = [\"PA12\"]", "planet_materials = [\"PA12\", \"PC\"]"));
    small.push((
        "[\"6810\", \"6811\"]",
        "[\"6810\", { designation = \"6811\", count = 2, spacing = \"7 mm\" }]",
    ));
    let space = space(&small);
    for (face, output, planet_material) in [(14.0, 0, 0), (16.0, 1, 1)] {
        let choices = Choices { face, output, planet_material, ..Choices::stand_in(&space) };
        let read = design::load_text(&space.path, &text::design(&space, &choices)).expect("it loads").design;
        assert_eq!(rate::design(&space, &choices), Some(read));
    }
}

#[test]
fn bounds_flatter_what_is_made() {
    let space = space(SMALL);
    let window = MotorWindow::of(&space.bases[0][0]);
    let (integers, _) = gearsets::integers(&space, [window.least_ratio, window.most_ratio], &ALL);
    for (choices, _) in brute_force(&space) {
        let set = integers.iter().find(|set| set.teeth == choices.teeth && set.planets == choices.planets);
        let set = set.expect("kept by the bounds on integers");
        assert!(window.allows(set.ratio()));
    }
    // Whatever is made, its group's bound is no worse in anything.
    let found = run_with(&space, &Bounds { front: false, ..ALL });
    assert!(!found.choices.is_empty());
    for choice in &found.choices {
        let (bound, made) = (choice.candidate.bound.scaled(), choice.objectives.scaled());
        for (bound, made) in bound.iter().zip(made) {
            // Rounding, in steps of 3 %.
            assert!(*bound <= made + 1e-6, "{choice:?}");
        }
    }
}

#[test]
fn any_number_of_threads_gives_the_same_answer() {
    let answer = |threads, changes: &[(&str, &str)]| {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("threads");
        pool.install(|| {
            let space = space(changes);
            let found = run(&space);
            assert!(!found.choices.is_empty());
            table::tree(&space, &found).to_string() + &table::text(&space, &found)
        })
    };
    let one = answer(1, SMALL);
    assert_eq!(one, answer(2, SMALL));
    assert_eq!(one, answer(5, SMALL));
    // Cut short, so that the order of the search counts too.
    let mut short = SMALL.to_vec();
    short.push(("[search]\nratio", "[search]\nmade = 3\nratio"));
    assert_eq!(answer(1, &short), answer(3, &short));
}

#[test]
fn motors_come_from_a_folder_by_name_and_bearings_from_rows_of_one_s_own() {
    let listed = space(&[]);
    let folder = space(&[(
        "[{ from = \"../motors/disc-70.toml\" }, { from = \"../motors/disc-86.toml\" }]",
        "\"../motors/\"",
    )]);
    // disc-50 lies there too, and comes first.
    assert_eq!(folder.motors.len(), 3);
    assert_eq!(folder.motors[1..], listed.motors[..]);

    let own = space(&[
        ("[\"6808\", \"6809\", \"6810\", \"6811\", \"6812\"]", "[\"my-50x65\"]"),
        (
            "[gearset]",
            "[[bearings.custom]]\ndesignation = \"my-50x65\"\nbore = \"50 mm\"\nouter = \"65 mm\"\nwidth = \"7 mm\"\n\
             dynamic_rating = \"6.6 kN\"\nstatic_rating = \"6.1 kN\"\n\n[gearset]",
        ),
    ]);
    assert_eq!(own.outputs[0].row.outer, 65.0);
    let choices = Choices::stand_in(&own);
    let read = design::load_text(&own.path, &text::design(&own, &choices)).expect("it loads").design;
    assert_eq!(read.bearings.output.designation, "my-50x65");
    assert_eq!(rate::design(&own, &choices), Some(read));
}

#[test]
fn the_committed_schema_is_the_declared_one() {
    const PATH: &str = "designs/requirement.schema.json";
    let schema = requirement::schema();
    if std::env::var_os("HUBWRIGHT_WRITE_SCHEMA").is_some() {
        fs::write(PATH, &schema).expect("write");
    }
    let committed = fs::read_to_string(PATH).unwrap_or_default();
    assert!(
        committed == schema,
        "{PATH} is out of date: HUBWRIGHT_WRITE_SCHEMA=1 cargo test --test commands writes it anew"
    );
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

    // A bearing too weak for the arm: its safety is said.
    let mut weak = SMALL.to_vec();
    weak.push(("[\"6810\", \"6811\"]", "[\"6802\"]"));
    weak.push(("overhang    = \"20 mm\"", "overhang = \"150 mm\""));
    let found = run(&space(&weak));
    assert!(found.choices.is_empty());
    let miss = &found.misses.nearest["check output-moment"];
    assert!(miss.value > miss.limit, "{miss:?}");

    // Too heavy: what it says is a bound, and says so; nothing is lighter.
    let mut light = SMALL.to_vec();
    light.push(("mass_limit        = \"1100 g\"", "mass_limit = \"600 g\""));
    let light = space(&light);
    let found = run(&light);
    assert!(found.choices.is_empty());
    let miss = &found.misses.nearest["requirement.mass_limit"];
    assert_eq!(miss.stage, Stage::Bound);
    assert!(table::text(&light, &found).contains("relax it by at least"));
    let enough = run(&space(SMALL));
    assert!(enough.choices.iter().all(|choice| choice.objectives.mass * 1e3 >= miss.value));
}

#[test]
fn an_interrupted_search_says_so() {
    let space = space(SMALL);
    let found = search::run(&space, &Watch { stop: &AtomicBool::new(true), tell: &|_| {} });
    assert!(found.cancelled && !found.is_complete() && found.tally.made == 0);
    assert!(table::text(&space, &found).contains("Stopped before its end"));
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
    small.push(("[search]\nratio", "[search]\nmade = 4\nratio"));
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
fn contradictions_of_the_designs_are_told_once_where_the_requirement_has_them() {
    let (path, text) = requirement(&[
        ("pattern = [\"48 mm\"", "pattern = [\"58 mm\""),
        (
            "{ from = \"../motors/disc-86.toml\" }",
            "{ from = \"../motors/disc-86.toml\",\n  stator_bolts = { count = 4, thread = \"M3\", circle = \"100 mm\" } }",
        ),
    ]);
    let problems = search::load_text(&path, &text).expect_err("contradictions");
    let line_of = |needle: &str| text.lines().position(|line| line.contains(needle)).expect("the line") + 1;
    let told: Vec<(usize, &str)> = problems
        .iter()
        .map(|problem| {
            (problem.place.as_ref().expect("a place").line_and_column().0, problem.message.as_str())
        })
        .collect();
    let of_board: Vec<usize> =
        told.iter().filter(|(_, what)| what.contains("outside the board")).map(|(line, _)| *line).collect();
    assert_eq!(of_board, [line_of("pattern =")], "{told:?}");
    let of_motor: Vec<usize> =
        told.iter().filter(|(_, what)| !what.contains("outside the board")).map(|(line, _)| *line).collect();
    assert_eq!(of_motor, [line_of("stator_bolts")], "{told:?}");
}

#[test]
fn what_is_written_has_no_word_too_many() {
    let found = run(&space(SMALL));
    let first = found.choices.first().expect("a choice");
    let loaded = hubwright::design::load_text(&requirement(&[]).0, &first.text).expect("a design");
    assert!(loaded.problems.is_empty(), "{:#?}", loaded.problems);
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
