//! Coupons: their shapes and steps, what findings turn into, and what is refused.

use std::fs;
use std::path::Path;

use crate::support::{MAST, SHOULDER, WRIST, demo};
use assert_cmd::Command;
use hubwright::coupons::{self, Coupon, GearPair, Kind};
use hubwright::design::Printer;
use hubwright::geometry::{Point, Region, Stack};
use hubwright::layout::{self, Actuator};
use hubwright::parts::form;
use serde_json::Value;

fn actuator(name: &str) -> Actuator {
    layout::lay_out(&demo(name)).unwrap_or_else(|faults| panic!("{name}: {faults:?}"))
}

fn all(name: &str) -> (Actuator, Vec<Coupon>) {
    let actuator = actuator(name);
    let coupons = coupons::all(&actuator).unwrap_or_else(|errors| panic!("{name}: {errors:?}"));
    (actuator, coupons)
}

fn coupon(coupons: &[Coupon], kind: Kind) -> &Coupon {
    coupons.iter().find(|coupon| coupon.kind == kind).unwrap_or_else(|| panic!("no {kind:?}"))
}

#[test]
fn a_design_gets_the_coupons_of_what_it_uses() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        let names: Vec<&str> = coupons.iter().map(|coupon| coupon.name.as_str()).collect();
        for always in ["gear-pair", "bridge", "overhang", "gauge"] {
            assert!(names.contains(&always), "{name}: {names:?}");
        }
        let mut sorted = names.clone();
        sorted.sort_unstable();
        sorted.dedup();
        assert_eq!(sorted.len(), names.len(), "{name}: a name twice in {names:?}");
        assert_eq!(names.contains(&"ring-bore"), actuator.ring_insert.is_some(), "{name}");
        let seats = coupons.iter().filter(|coupon| coupon.kind == Kind::Seat);
        let sizes: Vec<f64> = seats.map(|coupon| coupon.size).collect();
        assert!(sizes.contains(&actuator.design.bearings.output.outer), "{name}: {sizes:?}");
        assert!(sizes.contains(&actuator.planet.turns_on.outer()), "{name}: {sizes:?}");
    }
}

#[test]
fn every_piece_is_one_closed_body_on_the_bed() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        for coupon in &coupons {
            let label = format!("{name}/{}", coupon.name);
            for piece in &coupon.pieces {
                let shells = piece.stack.brep().expect("boundary").shells().len();
                assert_eq!(shells, 1, "{label}, {} is one body", piece.name);
                assert!(piece.stack.z_range()[0].abs() < 1e-12, "{label}, {}", piece.name);
            }
            let bed = actuator.design.printer.bed;
            let plates = coupon.plates(bed).unwrap_or_else(|| panic!("{label} is larger than the bed"));
            let placed: usize = plates.iter().map(Vec::len).sum();
            assert_eq!(placed, coupon.pieces.len(), "{label}");
            let mut volume = 0.0;
            for plate in &plates {
                let mesh = coupon.mesh(plate).unwrap_or_else(|error| panic!("{label}: {error}"));
                assert!(mesh.is_closed(), "{label}");
                // Places are rounded up to a sixty-fourth.
                let size = mesh.size();
                assert!((0..3).all(|axis| size[axis] <= bed[axis] + 0.02), "{label}: {size:?}");
                volume += mesh.volume();
            }
            let off = volume / coupon.volume().expect("volume") - 1.0;
            assert!(off.abs() < 5e-4, "{label}: volume off by {off:.1e}");
        }
    }
}

#[test]
fn coupons_print_without_supports() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        for coupon in &coupons {
            for piece in &coupon.pieces {
                for overhang in form::overhangs(&piece.stack, &actuator.design.printer).expect("sections") {
                    assert!(overhang.holds(), "{name}/{}, {}: {overhang:?}", coupon.name, piece.name);
                }
            }
        }
    }
}

/// Radii of the full circles round `centre` in the section at `z`: holes negative.
fn circles(stack: &Stack, z: f64, centre: Point) -> Vec<f64> {
    let section: Region = stack.region_at(z).expect("section").simplified();
    section
        .loops
        .iter()
        .filter_map(|outline| outline.as_circle())
        .filter(|(at, ..)| at.distance(centre) < 1e-6)
        .map(|(_, radius, ccw)| if ccw { radius } else { -radius })
        .collect()
}

/// Seats and posts have the size of what goes in plus the step, measured at half the height of the land.
#[test]
fn steps_are_as_large_as_they_say() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        for coupon in &coupons {
            let label = format!("{name}/{}", coupon.name);
            let printed = |index: usize| coupon.size + coupon.steps[index];
            match coupon.kind {
                Kind::Seat | Kind::RingInsert => {
                    for (index, piece) in coupon.pieces.iter().enumerate() {
                        let found = circles(&piece.stack, 2.0, Point::ORIGIN);
                        let bore = -printed(index) / 2.0;
                        assert!(
                            found.iter().any(|radius| (radius - bore).abs() < 1e-9),
                            "{label}: {found:?}"
                        );
                    }
                }
                Kind::Post => {
                    for (index, piece) in coupon.pieces.iter().enumerate() {
                        let found = circles(&piece.stack, 3.0, Point::ORIGIN);
                        let post = printed(index) / 2.0;
                        assert!(
                            found.iter().any(|radius| (radius - post).abs() < 1e-9),
                            "{label}: {found:?}"
                        );
                    }
                }
                Kind::Pin | Kind::Clearance | Kind::Insert | Kind::Pilot => {
                    let section = coupon.pieces[0].stack.region_at(2.0).expect("section").simplified();
                    let mut found: Vec<(f64, f64)> = section
                        .loops
                        .iter()
                        .filter_map(|outline| outline.as_circle())
                        .map(|(at, radius, _)| (at.x, 2.0 * radius))
                        .collect();
                    found.sort_by(|one, other| one.0.total_cmp(&other.0));
                    assert_eq!(found.len(), coupon.steps.len(), "{label}: {found:?}");
                    for (index, (_, diameter)) in found.iter().enumerate() {
                        assert!((diameter - printed(index)).abs() < 1e-9, "{label}: {found:?}");
                    }
                }
                _ => {}
            }
        }
        // The profile's own value is one of the steps, so that a profile that is right stays.
        let seat = coupon(&coupons, Kind::Seat);
        let present = actuator.design.printer.seat_fit(seat.size);
        assert!(seat.steps.iter().any(|step| (step - present).abs() < 1e-6), "{name}: {:?}", seat.steps);
    }
}

/// Every step has its number, and the number is cut: the face that carries it has a pocket of the strokes' area.
#[test]
fn every_step_carries_its_number() {
    for name in [SHOULDER, WRIST, MAST] {
        for coupon in &all(name).1 {
            let marks: Vec<u32> = coupon.pieces.iter().flat_map(|piece| piece.marks.clone()).collect();
            let wanted: Vec<u32> = match coupon.kind {
                // The gear that all mates run with carries a 0.
                Kind::GearPair => (0..=coupon.steps.len() as u32).collect(),
                _ => (1..=coupon.steps.len() as u32).collect(),
            };
            assert_eq!(marks, wanted, "{name}/{}", coupon.name);
        }
    }
}

#[test]
fn numbers_differ_where_the_steps_do() {
    // Two rings of one ladder differ in bore and number; the areas cut by their numbers are those of the strokes.
    let (actuator, coupons) = all(SHOULDER);
    let printer = &actuator.design.printer;
    let stroke = 2.0 * printer.line_width;
    let cut = |coupon: &Coupon, index: usize| {
        let stack = &coupon.pieces[index].stack;
        let top = 8.0 * printer.layer_height;
        let depth = 3.0 * printer.layer_height;
        let below = stack.region_at(top - depth - 0.01).expect("section").area();
        below - stack.region_at(top - 0.01).expect("section").area()
    };
    let seat = coupon(&coupons, Kind::Seat);
    // In strokes: the room inside a digit is 1.6 of them, so one is 6.2 tall and 3.6 wide. 1: one bar. 4: one long bar,
    // a half bar and the middle stroke. 2 and 3: see the display.
    let one = 6.2;
    let four = 6.2 + (1.6 + 1.0 + 0.5 + 0.5) + (3.6 - 2.0);
    for (number, area) in [(1, one), (4, four)] {
        let found = cut(seat, number - 1) / (stroke * stroke);
        assert!((found - area).abs() < 1e-6, "{number}: {found} strokes, not {area}");
    }
}

/// Sections of two gears at half their width, the mate at the plate's distance and turned by `by` from the middle of its
/// play: the area in which they lie over each other.
fn overlap(coupon: &Coupon, pair: &GearPair, number: usize, by: f64) -> f64 {
    // Plate, gear, then the mates.
    let section = |index: usize| coupon.pieces[index].stack.region_at(2.0).expect("section");
    let (gear, mate) = (section(1), section(1 + number));
    // Both have a tooth on +x at z = 0; the helices turn them alike against each other.
    let half_pitch = if pair.gear.teeth.is_multiple_of(2) { 0.5 } else { 0.0 };
    let turn = std::f64::consts::TAU * half_pitch / f64::from(pair.gear.teeth);
    let placed = mate.rotated(turn + by).translated(Point::new(pair.centre_distance, 0.0));
    gear.intersection(&placed).expect("intersection").area()
}

/// The mates' play is what their step takes off four flanks: turned by less than half of it the gears stay clear of each
/// other, by more they don't. Play along the line of action turns a gear by itself over its base radius.
#[test]
fn mates_have_the_play_their_step_takes_off() {
    for name in [SHOULDER, WRIST, MAST] {
        let (actuator, coupons) = all(name);
        let pair = GearPair::of(&actuator).expect("a pair");
        let drawn = hubwright::gears::play_at([&pair.gear, &pair.mate], pair.centre_distance);
        assert!(drawn.expect("a mesh").abs() < 1e-9, "{name}: drawn play {drawn:?}");
        let coupon = coupon(&coupons, Kind::GearPair);
        for (number, growth) in (1..).zip(&coupon.steps) {
            if *growth < 0.0 {
                assert!(overlap(coupon, &pair, number, 0.0) > 0.01, "{name}: mate {number} goes in");
            } else if *growth > 0.0 {
                let half = 2.0 * growth / (pair.gear.base_diameter / 2.0);
                for side in [-1.0, 1.0] {
                    let clear = overlap(coupon, &pair, number, 0.9 * side * half);
                    let meets = overlap(coupon, &pair, number, 1.15 * side * half);
                    assert!(clear < 1e-6, "{name}: mate {number} touches: {clear}");
                    assert!(meets > 1e-5, "{name}: mate {number} has more play: {meets}");
                }
            }
        }
    }
}

/// Coupons for printers far from the bench's: other nozzles, limits and profiles.
#[test]
fn coupons_suit_other_printers() {
    type Change = fn(&mut Printer);
    let printers: [(&str, Change); 9] = [
        ("0.8 mm nozzle", |p| (p.line_width, p.layer_height) = (0.9, 0.4)),
        ("0.25 mm nozzle", |p| (p.line_width, p.layer_height) = (0.25, 0.08)),
        ("steep walls only", |p| p.overhang = 25_f64.to_radians()),
        ("no bridges", |p| p.bridge = 0.0),
        ("long bridges", |p| p.bridge = 100.0),
        ("a large foot", |p| (p.elephant_foot, p.bed_chamfer) = (0.6, 2.0)),
        ("no chamfer", |p| (p.elephant_foot, p.bed_chamfer) = (0.0, 0.0)),
        ("fat teeth", |p| p.tooth_growth = 0.08),
        ("shrinking", |p| p.shrinkage = 0.01),
    ];
    for (label, change) in printers {
        let mut design = demo(SHOULDER);
        change(&mut design.printer);
        let actuator = layout::lay_out(&design).unwrap_or_else(|faults| panic!("{label}: {faults:?}"));
        let coupons = coupons::all(&actuator).unwrap_or_else(|errors| panic!("{label}: {errors:?}"));
        for coupon in &coupons {
            assert!(coupon.plates(design.printer.bed).is_some(), "{label}: {}", coupon.name);
            for piece in &coupon.pieces {
                let shells = piece.stack.brep().expect("boundary").shells().len();
                assert_eq!(shells, 1, "{label}: {}, {}", coupon.name, piece.name);
                for overhang in form::overhangs(&piece.stack, &design.printer).expect("sections") {
                    assert!(overhang.holds(), "{label}: {}, {}: {overhang:?}", coupon.name, piece.name);
                }
            }
        }
        assert_eq!(coupons.iter().any(|coupon| coupon.kind == Kind::Bridge), design.printer.bridge > 0.0);
    }
}

/// The program in a folder of its own, with the demo designs.
struct Bench {
    folder: tempfile::TempDir,
}

impl Bench {
    fn new() -> Bench {
        let folder = tempfile::tempdir().expect("folder");
        for from in ["", "motors", "printers"] {
            let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("designs").join(from);
            let target = folder.path().join("designs").join(from);
            fs::create_dir_all(&target).expect("folder");
            for entry in source.read_dir().expect("designs") {
                let path = entry.expect("entry").path();
                if path.is_file() {
                    fs::copy(&path, target.join(path.file_name().expect("name"))).expect("copy");
                }
            }
        }
        Bench { folder }
    }

    fn run(&self, arguments: &[&str]) -> (i32, String, String) {
        let output = Command::new(assert_cmd::cargo::cargo_bin!("hubwright"))
            .current_dir(self.folder.path())
            .args(arguments)
            .output()
            .expect("it runs");
        let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
        (output.status.code().expect("an exit code"), text(output.stdout), text(output.stderr))
    }

    fn read(&self, path: &str) -> String {
        fs::read_to_string(self.folder.path().join(path)).unwrap_or_else(|error| panic!("{path}: {error}"))
    }

    fn write(&self, path: &str, text: &str) {
        fs::write(self.folder.path().join(path), text).expect("write");
    }

    /// What is said to findings for the shoulder, of which the profile must stay as it is.
    fn refused(&self, found: &str) -> String {
        let before = self.read(PROFILE);
        self.write("found.toml", found);
        let (code, out, err) = self.run(&["coupons", DESIGN, "--found", "found.toml"]);
        assert_eq!((code, out.as_str()), (2, ""), "{err}");
        assert_eq!(self.read(PROFILE), before, "a refused file changes nothing");
        err
    }
}

const DESIGN: &str = "designs/weeder-shoulder.toml";
const PROFILE: &str = "designs/printers/bench.toml";

/// Lines of a template filled in: `[[section]] (nth, from 0)`, note.
fn noted(template: &str, notes: &[(&str, usize, &str)]) -> String {
    let mut text = template.to_string();
    for (section, nth, note) in notes {
        let header = format!("[[{section}]]");
        let at = text.match_indices(&header).nth(*nth).unwrap_or_else(|| panic!("{header} {nth}")).0;
        let line_end = at + text[at..].find('\n').expect("a line");
        text.insert_str(line_end + 1, &format!("{note}\n"));
    }
    text
}

#[test]
fn the_demos_get_their_coupons_and_the_same_bytes_twice() {
    for name in [SHOULDER, WRIST, MAST] {
        let bench = Bench::new();
        let design = format!("designs/{name}.toml");
        let (code, out, err) = bench.run(&["coupons", &design]);
        assert_eq!((code, err.as_str()), (0, ""), "{name}");
        assert!(out.contains("gear-pair"), "{out}");
        let folder = format!("output/{name}-coupons");
        let tree: Value = serde_json::from_str(&bench.read(&format!("{folder}/coupons.json"))).expect("JSON");
        let mut files = vec!["coupons.json".to_string(), "coupons.md".into(), "found.toml".into()];
        for coupon in tree["coupons"].as_array().expect("coupons") {
            files.extend(
                coupon["files"]
                    .as_array()
                    .expect("files")
                    .iter()
                    .map(|file| file["file"].as_str().expect("a name").to_string()),
            );
        }
        let (code, answer, _) = bench.run(&["coupons", &design, "--out", "again", "--json"]);
        assert_eq!(code, 0);
        let answer: Value = serde_json::from_str(&answer).expect("JSON");
        assert_eq!(answer["coupons"], tree["coupons"]);
        for file in files {
            let bytes = |folder: &str| fs::read(bench.folder.path().join(folder).join(&file));
            let first = bytes(&folder).unwrap_or_else(|error| panic!("{file}: {error}"));
            assert!(first == bytes("again").expect("again"), "{name}: {file} differs");
        }
    }
}

#[test]
fn an_empty_template_changes_nothing() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let before = bench.read(PROFILE);
    let (code, out, err) = bench.run(&["coupons", DESIGN, "--found", "c/found.toml"]);
    assert_eq!((code, err.as_str()), (0, ""));
    assert!(out.contains("Nothing changes"), "{out}");
    assert_eq!(bench.read(PROFILE), before);
}

#[test]
fn findings_go_into_the_profile_and_nothing_else_changes() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let notes = noted(
        &bench.read("c/found.toml"),
        &[
            ("seat", 0, "by_hand = 3"),
            ("seat", 1, "by_hand = 4\nloose = 6"),
            ("post", 0, "by_hand = 5"),
            ("pin", 0, "press = 4\nslip = 7"),
            ("clearance", 0, "free = 4"),
            ("clearance", 1, "free = 2"),
            ("insert", 0, "measured = \"3.45 mm\""),
            ("insert", 1, "holds = 3"),
            ("gear_pair", 0, "runs = 3"),
            ("bridge", 0, "clean = \"8 mm\""),
            ("gauge", 0, "at_top = \"20.12 mm\"\nat_bed = \"20.52 mm\""),
        ],
    );
    bench.write("c/found.toml", &notes);
    let before = bench.read(PROFILE);
    let (code, out, err) = bench.run(&["coupons", DESIGN, "--found", "c/found.toml"]);
    assert_eq!((code, err.as_str()), (0, ""), "{out}");
    insta::assert_snapshot!("told", out);
    let after = bench.read(PROFILE);
    insta::assert_snapshot!("profile", after);
    // Comments stay, in their order.
    let comments = |text: &str| -> Vec<String> {
        text.lines().filter_map(|line| line.split_once('#')).map(|(_, comment)| comment.to_string()).collect()
    };
    assert_eq!(comments(&after), comments(&before));

    let printer =
        hubwright::design::load(&bench.folder.path().join(DESIGN)).expect("a design").design.printer;
    let near = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9, "{found}, not {wanted}");
    near(printer.seat_fit(65.0), 0.15);
    near(printer.seat_fit(16.0), 0.18);
    near(printer.bearing_post, -0.15);
    near(printer.pin_press, 0.10);
    near(printer.pin_slip, 0.25);
    // M2.5 asks for more than M3, and one allowance serves both.
    near(printer.clearance_hole, 0.3);
    // Pocket 1 was drawn at 3.7 and measured 3.45; the other's third step.
    near(printer.hole(3.6) - 3.6, 0.25);
    near(printer.hole(4.0) - 4.0, 0.3);
    near(printer.tooth_growth, 0.025);
    near(printer.bridge, 8.0);
    near(printer.post_growth, 0.12);
    near(printer.elephant_foot, 0.2);

    // The notes carry their own steps: taken over again they say the same.
    let (code, out, _) = bench.run(&["coupons", DESIGN, "--found", "c/found.toml"]);
    assert_eq!(code, 0);
    assert!(out.contains("Nothing changes"), "{out}");
    assert_eq!(bench.read(PROFILE), after);
    // Notes are not written over.
    let (code, _, err) = bench.run(&["coupons", DESIGN, "--out", "c"]);
    assert_eq!(code, 3, "{err}");
    assert_eq!(bench.read("c/found.toml"), notes);
}

/// Only parts with something of what changed are printed again.
#[test]
fn what_has_to_be_printed_again_is_what_changes_its_shape() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let template = bench.read("c/found.toml");
    for (section, nth, note, parts) in [
        // The keeper's screws stand off the seat.
        ("seat", 1, "by_hand = 4", &["ring-housing", "bearing-keeper"][..]),
        ("seat", 0, "by_hand = 4", &["planet"]),
        // The hub's bolt circles go with its diameter, and the clamp ring with them.
        ("post", 0, "by_hand = 4", &["output-carrier", "output-clamp-ring"]),
        ("bridge", 0, "clean = \"8 mm\"", &[]),
    ] {
        let bench = Bench::new();
        bench.write("found.toml", &noted(&template, &[(section, nth, note)]));
        let (code, out, err) = bench.run(&["coupons", DESIGN, "--found", "found.toml", "--json"]);
        assert_eq!(code, 0, "{err}");
        let tree: Value = serde_json::from_str(&out).expect("JSON");
        assert_eq!(tree["reprint"], serde_json::json!(parts), "{section} {nth}: {tree}");
        assert_eq!(tree["profile"], PROFILE);
        assert_eq!(tree["changes"].as_array().map(Vec::len), Some(1));
    }
}

#[test]
fn a_design_without_a_profile_is_told_what_to_write() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let notes = noted(&bench.read("c/found.toml"), &[("post", 0, "by_hand = 4"), ("seat", 1, "by_hand = 4")]);
    bench.write("c/found.toml", &notes);
    let design = bench.read(DESIGN);
    bench.write(DESIGN, &design.replace("from = \"printers/bench.toml\"", "name = \"mine\""));
    let before = bench.read(DESIGN);
    let (code, out, err) = bench.run(&["coupons", DESIGN, "--found", "c/found.toml"]);
    assert_eq!((code, err.as_str()), (0, ""));
    insta::assert_snapshot!("without_profile", out);
    assert_eq!(bench.read(DESIGN), before);
    // What the design says beside its profile wins: it is told, and the profile gets the rest.
    bench.write(DESIGN, &design.replace("bench.toml\"", "bench.toml\"\nbearing_post = \"-0.02 mm\""));
    let (code, out, err) = bench.run(&["coupons", DESIGN, "--found", "c/found.toml"]);
    assert_eq!((code, err.as_str()), (0, ""));
    insta::assert_snapshot!("overridden", out);
    assert!(bench.read(PROFILE).contains("bearing_post   = \"-0.05 mm\""), "the profile's own stays");
}

#[test]
fn contradictions_are_refused_all_at_once() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let template = bench.read("c/found.toml");
    let notes = [
        ("seat", 0, "by_hand = 5\nloose = 3"),
        ("pin", 0, "press = 6\nslip = 6"),
        ("insert", 0, "measured = \"4.5 mm\""),
        ("insert", 1, "holds = 2\nmeasured = \"4 mm\""),
        ("bridge", 0, "clean = \"25 mm\""),
        ("overhang", 0, "clean = \"60 deg\""),
        ("gauge", 0, "at_top = \"20.4 mm\"\nat_bed = \"20.1 mm\""),
    ];
    insta::assert_snapshot!("contradictions", bench.refused(&noted(&template, &notes)));
}

#[test]
fn what_is_no_coupon_of_the_design_is_refused() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let template = bench.read("c/found.toml");
    insta::assert_snapshot!(
        "unknown",
        bench.refused(
            &(template.replace("outside = \"65 mm\"", "outside = \"66 mm\"").replace("\"M4\"", "\"M5\"")
                + "\n[[bearing]]\noutside = \"65 mm\"\n")
        )
    );
    insta::assert_snapshot!(
        "steps",
        bench.refused(
            "[[seat]]\noutside = \"65 mm\"\nallowances = [\"0 mm\", \"0.1 mm\", \"0.05 mm\", \"0.15 mm\", \"0.2 mm\", \"0.25 mm\"]\nby_hand = 7\n\n\
             [[pin]]\ndiameter = \"8 mm\"\nallowances = [\"0 mm\"]\npress = 1\n\n[[post]]\nbore = 50\n"
        )
    );
    for (name, found) in [("not TOML", "[[seat]\n"), ("a list", "seat = 3\n")] {
        let err = bench.refused(found);
        assert!(err.starts_with("error["), "{name}: {err}");
    }
    let (code, _, err) = bench.run(&["coupons", DESIGN, "--found", "nowhere.toml"]);
    assert_eq!(code, 2);
    assert!(err.starts_with("error[file-missing]"), "{err}");
}

#[test]
fn a_press_fit_looser_than_the_profiles_sliding_one_is_refused() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let template = bench.read("c/found.toml");
    // Step 6 is 0.2 mm; the profile's pins slide at 0.15 mm.
    let err = bench.refused(&noted(&template, &[("pin", 0, "press = 6")]));
    assert!(err.contains("must be smaller than a sliding pin's"), "{err}");
}

#[test]
fn a_profile_outside_the_designs_folders_is_not_touched() {
    let bench = Bench::new();
    bench.run(&["coupons", DESIGN, "--out", "c"]);
    let notes = noted(&bench.read("c/found.toml"), &[("post", 0, "by_hand = 4")]);
    bench.write("found.toml", &notes);
    fs::create_dir(bench.folder.path().join("elsewhere")).expect("folder");
    let profile = bench.read(PROFILE);
    bench.write("elsewhere/bench.toml", &profile);
    let design = bench.read(DESIGN).replace("printers/bench.toml", "../elsewhere/bench.toml");
    bench.write(DESIGN, &design);
    let (code, _, err) = bench.run(&["coupons", DESIGN, "--found", "found.toml"]);
    assert_eq!(code, 2, "{err}");
    assert!(err.contains("from-refused"), "{err}");
    assert_eq!(bench.read("elsewhere/bench.toml"), profile);
}

#[test]
fn wrong_places_to_write_exit_3() {
    let bench = Bench::new();
    bench.write("file", "mine");
    let (code, _, err) = bench.run(&["coupons", DESIGN, "--out", "file"]);
    assert_eq!(code, 3, "{err}");
    assert_eq!(bench.read("file"), "mine");
    // An output of `make` is not one of `coupons`.
    assert_eq!(bench.run(&["make", DESIGN, "--out", "made"]).0, 0);
    assert_eq!(bench.run(&["coupons", DESIGN, "--out", "made"]).0, 3);
    assert!(bench.folder.path().join("made/report.json").is_file());
}
