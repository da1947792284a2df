//! Gear sheets against published values, and the drawing of the mesh: well-formed, to scale, with contact where it says.

use std::collections::BTreeSet;
use std::f64::consts::PI;

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::design::{Bush, Design, GearSource, Hand, Shift, ShiftRule, Spacing, ToothForm};
use hubwright::export::mesh_svg::{MeshPosition, StagePosition, mesh_svg};
use hubwright::export::report;
use hubwright::gear_sheet::{BallMeasure, GearSheet, Row, Section, Value, tooth_sections};
use hubwright::gears::{Gear, GearKind, GearSpec, Rack, Stage, StageInput, ToothSystem};
use hubwright::geometry::{Loop, Point};
use hubwright::layout::{Actuator, lay_out};
use hubwright::pipeline;
use toml::Table;

const DEMOS: [&str; 3] = [SHOULDER, WRIST, MAST];

fn actuator(name: &str) -> Actuator {
    lay_out(&demo(name)).unwrap_or_else(|faults| panic!("{name}: {faults:#?}"))
}

/// Every case of `tests/published/gears-*.toml` of this kind.
fn cases(compute: &str) -> Vec<Table> {
    let mut found = Vec::new();
    for file in ["sdp-si", "recomputed", "textbooks"] {
        let path = format!("{}/tests/published/gears-{file}.toml", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        let table: Table = text.parse().unwrap_or_else(|error| panic!("{path}: {error}"));
        let all = table["case"].as_array().expect("cases").iter().filter_map(|case| case.as_table().cloned());
        found.extend(all.filter(|case| case["compute"].as_str() == Some(compute)));
    }
    assert!(!found.is_empty(), "no case {compute}");
    found
}

fn number(table: &Table, key: &str) -> Option<f64> {
    let value = table.get(key)?;
    value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64))
}

/// The gear of a case, in the normal system, without tip alteration or allowance.
fn gear(case: &Table) -> Gear {
    let given = case["given"].as_table().expect("given");
    let get = |key| number(given, key).unwrap_or(0.0);
    let helix = get("helix_angle_deg").to_radians();
    // "transverse": module, angle and coefficients belong to the transverse section.
    let to_normal = if given.get("system").and_then(|system| system.as_str()) == Some("transverse") {
        helix.cos()
    } else {
        1.0
    };
    let pressure_angle = (get("pressure_angle_deg").to_radians().tan() * to_normal).atan();
    let rack = Rack {
        pressure_angle,
        addendum: 1.0 / to_normal,
        dedendum: 1.25 / to_normal,
        fillet: Rack::ISO_53_A.fillet,
    };
    let system = ToothSystem::new(rack, get("module") * to_normal, helix);
    let internal = given.get("kind").and_then(|kind| kind.as_str()) == Some("internal");
    Gear::new(
        &system,
        GearSpec {
            kind: if internal { GearKind::Internal } else { GearKind::External },
            teeth: get("teeth") as u32,
            shift: get("shift") / to_normal,
            tip_alteration: 0.0,
            thickness_allowance: 0.0,
            left_hand: false,
            working_pitch_diameter: 1.0,
            ring_fillet_radius: 0.0,
        },
    )
}

fn row<'a>(sections: &'a [Section], key: &str) -> &'a Row {
    let mut rows = sections.iter().flat_map(|section| &section.rows);
    rows.find(|row| row.key == key).unwrap_or_else(|| panic!("no row {key}"))
}

fn value(sections: &[Section], key: &str) -> f64 {
    match row(sections, key).value {
        Value::Count(count) => f64::from(count),
        Value::Number(value) | Value::Length(value) => value,
        Value::Angle(angle) => angle.to_degrees(),
        ref other => panic!("{key} is {other:?}"),
    }
}

/// Compares a row with `[value, tolerance]` of the case, if the case has it. True if it has.
fn compare(case: &Table, expected: &str, found: f64) -> bool {
    let Some(pair) = case["expected"].as_table().and_then(|table| table.get(expected)) else { return false };
    let pair: Vec<f64> = pair
        .as_array()
        .expect("value and tolerance")
        .iter()
        .map(|value| {
            value.as_float().or_else(|| value.as_integer().map(|whole| whole as f64)).expect("number")
        })
        .collect();
    assert!((found - pair[0]).abs() <= pair[1] + 1e-9, "{}: {expected} {found}, wanted {pair:?}", case["id"]);
    true
}

#[test]
fn spans_are_the_published_ones() {
    let mut compared = 0;
    for case in cases("span") {
        let sections = tooth_sections(&gear(&case));
        let teeth = value(&sections, "span_teeth");
        compare(&case, "span_teeth", teeth);
        // A case over another number of teeth than the sheet's choice says nothing about the sheet.
        let over = case["given"].as_table().and_then(|given| number(given, "over")).unwrap_or(teeth);
        let key = if case["expected"].as_table().expect("expected").contains_key("span") {
            "span"
        } else {
            "span_over"
        };
        if over == teeth && compare(&case, key, value(&sections, "span")) {
            compared += 1;
        }
    }
    assert!(compared >= 18, "{compared} spans compared");
}

#[test]
fn chords_are_the_handbook_s() {
    for case in cases("chord") {
        let sections = tooth_sections(&gear(&case));
        assert!(compare(&case, "thickness", value(&sections, "normal_tooth_thickness")));
        let chord = compare(&case, "chord", value(&sections, "chordal_thickness"));
        let height = compare(&case, "chord_height", value(&sections, "chordal_height"));
        assert_eq!(chord, height, "{}", case["id"]);
    }
}

#[test]
fn measures_over_pins_are_the_published_ones() {
    let mut compared = 0;
    for case in cases("pins") {
        let pin = case["given"].as_table().and_then(|given| number(given, "pin")).expect("pin");
        let gear = gear(&case);
        let Some(found) = BallMeasure::over(&gear, pin) else {
            // Only small pins in rings lie so deep that the tips are in the way of the anvils.
            assert!(gear.kind == GearKind::Internal, "{}", case["id"]);
            continue;
        };
        assert!(compare(&case, "measure", found.measure));
        compared += 1;
    }
    assert!(compared >= 15, "{compared} measures compared");
}

/// The pin's circle, placed by the measure, touches the real outline of a spur gear at the stated diameter.
#[test]
fn pins_touch_the_outline_where_the_sheet_says() {
    for case in cases("pins") {
        let gear = gear(&case);
        let pin = case["given"].as_table().and_then(|given| number(given, "pin")).expect("pin");
        let Some(found) = BallMeasure::over(&gear, pin) else { continue };
        if gear.helix_angle != 0.0 || gear.kind != GearKind::External || gear.teeth % 2 == 1 {
            continue;
        }
        let outline = gear.profile(2e-5).expect("outline");
        // A tooth is centred on +x, so a space is half a pitch from it.
        let centre = Point::polar(0.5 * (found.measure - pin), 0.5 * gear.pitch_angle());
        let nearest = nearest(&outline, centre);
        assert!((nearest.distance(centre) - 0.5 * pin).abs() < 1e-4, "{}: gap at the pin", case["id"]);
        let touched = 2.0 * nearest.norm();
        assert!((touched - found.contact_diameter).abs() < 2e-2, "{}: {touched} {found:?}", case["id"]);
    }
}

fn nearest(outline: &Loop, point: Point) -> Point {
    let places = outline.0.iter().map(|segment| segment.nearest(point));
    places.min_by(|a, b| a.distance(point).total_cmp(&b.distance(point))).expect("segments")
}

#[test]
fn sheets_of_the_demos() {
    for name in DEMOS {
        let actuator = actuator(name);
        let stage = &actuator.stage;
        for sheet in GearSheet::all(&actuator) {
            let sections = &sheet.sections;
            // pz = z pi mn / sin b, another form of the lead.
            let lead = value(sections, "teeth") * PI * value(sections, "normal_module")
                / value(sections, "helix_angle").to_radians().sin();
            assert!((value(sections, "lead") - lead).abs() < 1e-9, "{name}: lead");
            // Made with the backlash asked for, in every mesh.
            for section in sections.iter().filter(|section| section.key.is_some()) {
                let play = value(std::slice::from_ref(section), "backlash");
                assert!((play - stage.backlash).abs() < 1e-9, "{name}: backlash {play}");
            }
            // A demo's gears can all be measured over balls that touch above the fillet.
            assert!(matches!(row(sections, "over_pins").value, Value::Length(_)), "{name} {}", sheet.member);
            assert!(sheet.notes.iter().any(|note| note.contains("ISO 1328-1")));
            let mut keys = BTreeSet::new();
            for section in sections {
                for row in &section.rows {
                    assert!(keys.insert((section.key, row.json_key())), "{} twice", row.key);
                }
            }
        }
    }
}

#[test]
fn the_report_keeps_its_keys_and_has_the_sheet() {
    let made = pipeline::make(&demo(SHOULDER)).expect("makes");
    let report = report::report(&made, &made.solids().expect("closed"), serde_json::Value::Null);
    let gears = &report["gears"];
    for member in ["sun", "planet", "ring"] {
        for key in [
            "teeth",
            "shift",
            "reference_diameter_mm",
            "base_diameter_mm",
            "tip_diameter_mm",
            "root_diameter_mm",
            "span_teeth",
            "span_mm",
            "lead_mm",
            "helix_angle_deg",
            "over_pins_mm",
        ] {
            assert!(gears[member][key].is_number(), "{member} {key}");
        }
    }
    assert_eq!(gears["sun"]["hand"], "right");
    assert_eq!(gears["planet"]["hand"], "left");
    assert_eq!(gears["ring"]["part"], "ring-housing");
    assert_eq!(gears["planet"]["mesh_with_sun"]["mate_teeth"], 12);
    assert_eq!(gears["planet"]["mesh_with_ring"]["mate_teeth"], 96);
}

/// Demos and variants of them, those that lay out: straight teeth, the other hand, given shifts, another module.
fn variants() -> Vec<(String, Actuator)> {
    type Change = fn(&mut Design);
    let changes: [(&str, Change); 9] = [
        ("as it is", |_| {}),
        ("straight", |design| design.gearset.helix_angle = 0.0),
        ("left sun", |design| design.gearset.sun_hand = Hand::Left),
        ("shifted", |design| {
            design.gearset.sun_shift = Shift::Fixed(0.35);
            design.gearset.planet_shift = Shift::Fixed(0.0);
        }),
        ("small backlash", |design| design.gearset.backlash = 0.02),
        ("herringbone", |design| design.gearset.tooth_form = ToothForm::Herringbone),
        ("bush", |design| {
            design.gearset.planet_bush =
                Some(Bush { bore: 8.0, outer: 10.0, pressure_limit: 10.0, pv_limit: 1.8 });
        }),
        ("all bought", |design| {
            design.gearset.sun_made = GearSource::Buy;
            design.gearset.planet_made = GearSource::Buy;
        }),
        ("module 1", |design| design.gearset.normal_module = 1.0),
    ];
    let mut found = Vec::new();
    for name in DEMOS {
        for (what, change) in changes {
            let mut design = demo(name);
            change(&mut design);
            if let Ok(actuator) = lay_out(&design) {
                found.push((format!("{name}, {what}"), actuator));
            }
        }
    }
    let names: Vec<&String> = found.iter().map(|(name, _)| name).collect();
    for (what, _) in changes {
        assert!(
            what == "straight" || names.iter().any(|name| name.ends_with(what)),
            "{what} among {names:?}"
        );
    }
    found
}

/// Stages of the variants, and others that need no actuator: straight teeth, planets with odd teeth, many planets.
fn stages() -> Vec<(String, Stage)> {
    let mut found: Vec<(String, Stage)> =
        variants().into_iter().map(|(name, actuator)| (name, actuator.stage)).collect();
    for (teeth, planets, module, helix_deg) in [
        ([16, 28, 72], 4, 0.8, 0.0),
        ([15, 24, 63], 3, 1.0, 0.0),
        ([18, 21, 60], 3, 1.5, 0.0),
        ([18, 21, 60], 3, 1.5, 15.0),
        ([24, 18, 60], 6, 2.0, -25.0),
    ] {
        let [sun_teeth, planet_teeth, ring_teeth] = teeth;
        let input = StageInput {
            sun_teeth,
            planet_teeth,
            ring_teeth,
            planets,
            rack: Rack::ISO_53_A,
            normal_module: module,
            helix_angle: f64::to_radians(helix_deg),
            face_width: 12.0,
            backlash: 0.08,
            sun_shift: Shift::Auto,
            planet_shift: Shift::Auto,
            ring_shift: Shift::Auto,
            shift_rule: ShiftRule::UndercutFree,
            spacing: Spacing::Equal,
            tooth_form: if helix_deg == 0.0 { ToothForm::Straight } else { ToothForm::Helical },
        };
        let name = format!("{teeth:?}, {helix_deg} deg");
        let stage = Stage::solve(&input).unwrap_or_else(|faults| panic!("{name}: {faults:#?}"));
        found.push((name, stage));
    }
    found
}

#[test]
fn contact_points_lie_on_both_outlines() {
    // The arcs keep within half a micrometre of each flank.
    const TOLERANCE: f64 = 5e-4;
    for (name, stage) in stages() {
        let position = StagePosition::of(&stage);
        let outline = |gear: &Gear, turn: f64| gear.profile(TOLERANCE).expect("outline").rotated(turn);
        let sun = outline(&stage.sun, position.sun_turn);
        let ring = outline(&stage.ring, position.ring_turn);
        let planet = outline(&stage.planet, position.planets[0].turn).translated(position.planets[0].centre);
        for (mesh, pair, ratio) in [
            (&position.sun_mesh, [&sun, &planet], stage.contact_ratio_sun),
            (&position.ring_mesh, [&planet, &ring], stage.contact_ratio_ring),
        ] {
            let count = mesh.contacts.len() as f64;
            assert!(
                count == ratio.floor() || count == ratio.ceil(),
                "{name}: {count} contacts at ratio {ratio}"
            );
            for contact in &mesh.contacts {
                for outline in pair {
                    let off = nearest(outline, *contact).distance(*contact);
                    assert!(off < 2e-3, "{name}: contact {off} mm off an outline");
                }
            }
        }
        line_of_action(&name, &position.sun_mesh, [&stage.sun, &stage.planet], [0.0, stage.centre_distance]);
        line_of_action(
            &name,
            &position.ring_mesh,
            [&stage.planet, &stage.ring],
            [stage.centre_distance, 0.0],
        );
    }
}

/// The line touches both base circles and passes the pitch point; the path lies within both working flanks.
fn line_of_action(name: &str, mesh: &MeshPosition, gears: [&Gear; 2], centres: [f64; 2]) {
    let [start, end] = mesh.tangent_points;
    let along = (end - start).unit();
    assert!((mesh.pitch_point - start).cross(along).abs() < 1e-9, "{name}: pitch point off the line");
    for ((gear, x), foot) in gears.into_iter().zip(centres).zip(mesh.tangent_points) {
        let arm = foot - Point::new(x, 0.0);
        assert!(
            (arm.norm() - 0.5 * gear.base_diameter).abs() < 1e-9,
            "{name}: tangent point off the base circle"
        );
        assert!(arm.dot(along).abs() < 1e-9, "{name}: no tangent");
        for point in mesh.path {
            let radius = point.distance(Point::new(x, 0.0));
            let [low, high] = match gear.kind {
                GearKind::External => [gear.form_diameter, gear.tip_diameter],
                GearKind::Internal => [gear.tip_diameter, gear.form_diameter],
            };
            assert!((low - 1e-9..=high + 1e-9).contains(&(2.0 * radius)), "{name}: path off the flank");
        }
    }
}

/// Vertices of the last closed outline of a path: where each command ends.
fn vertices(path: &str) -> Vec<Point> {
    let last = path.rsplit('M').next().expect("an outline");
    let commands = last.trim_end_matches('Z').split(['A', 'L']);
    commands
        .map(|command| {
            let numbers: Vec<f64> =
                command.split_whitespace().map(|word| word.parse().expect("a number")).collect();
            Point::new(numbers[numbers.len() - 2], numbers[numbers.len() - 1])
        })
        .collect()
}

/// Least and greatest distance of an outline's vertices from their middle, the gear's axis.
fn radii(document: &roxmltree::Document, id: &str) -> [f64; 2] {
    let path = document.descendants().find(|node| node.attribute("id") == Some(id)).expect("the path");
    // The first vertex comes again at the end.
    let mut vertices = vertices(path.attribute("d").expect("d"));
    vertices.pop();
    let sum = vertices.iter().fold(Point::ORIGIN, |sum, point| sum + *point);
    let middle = sum * (1.0 / vertices.len() as f64);
    let radii = vertices.iter().map(|point| point.distance(middle));
    radii.fold([f64::INFINITY, 0.0], |[low, high], radius| [low.min(radius), high.max(radius)])
}

/// "Detail A, 10:1: sun and planet" says 10.
fn stated_scale(document: &roxmltree::Document, letter: &str) -> f64 {
    let start = format!("Detail {letter}, ");
    let heading =
        document.descendants().filter_map(|node| node.text()).find_map(|text| text.strip_prefix(&start));
    heading.and_then(|rest| rest.split(':').next()).and_then(|scale| scale.parse().ok()).expect("a scale")
}

#[test]
fn drawings_are_well_formed_and_to_scale() {
    for (name, actuator) in variants() {
        let stage = &actuator.stage;
        let text = mesh_svg(&actuator).expect("a drawing");
        assert_eq!(text, mesh_svg(&actuator).expect("a drawing"), "the same bytes again");
        assert!(!text.contains("NaN") && !text.contains("inf"), "{name}");
        assert!(!text.contains("<script") && !text.contains("http://www.w3.org/1999"), "{name}");
        let document = roxmltree::Document::parse(&text).unwrap_or_else(|error| panic!("{name}: {error}"));
        let root = document.root_element();
        let size: Vec<&str> = root.attribute("viewBox").expect("viewBox").split(' ').skip(2).collect();
        assert_eq!(root.attribute("width"), Some(format!("{}mm", size[0]).as_str()));
        assert_eq!(root.attribute("height"), Some(format!("{}mm", size[1]).as_str()));
        // Vertices are written to the micrometre.
        let same = |found: f64, wanted: f64, what: &str| {
            assert!((found - wanted).abs() < 2e-3, "{name}: {what} {found}, wanted {wanted}");
        };
        let [tip, root] = radii(&document, "stage-ring");
        same(tip, 0.5 * stage.ring.tip_diameter, "ring tip");
        same(root, 0.5 * stage.ring.root_diameter, "ring root");
        for (id, gear) in [("stage-sun", &stage.sun), ("stage-planet-0", &stage.planet)] {
            let [root, tip] = radii(&document, id);
            same(tip, 0.5 * gear.tip_diameter, id);
            same(root, 0.5 * gear.root_diameter, id);
        }
        for (letter, id, gear) in [("A", "detail-A-sun", &stage.sun), ("B", "detail-B-planet", &stage.planet)]
        {
            let [_, tip] = radii(&document, id);
            same(tip, stated_scale(&document, letter) * 0.5 * gear.tip_diameter, id);
        }
    }
}

/// A text's box on the sheet, by the width of a plain sans-serif letter.
struct TextBox {
    words: String,
    low: Point,
    high: Point,
}

fn text_boxes(document: &roxmltree::Document) -> Vec<TextBox> {
    let texts = document.descendants().filter(|node| node.has_tag_name("text"));
    texts
        .map(|node| {
            let class = node.attribute("class").unwrap_or_default();
            let has = |name: &str| class.split(' ').any(|word| word == name);
            let size = if has("head") { 3.5 } else { 2.5 };
            let words = node.text().unwrap_or_default().to_owned();
            // Mean advance of Liberation Sans over such text, regular and bold.
            let width = size * words.chars().count() as f64 * if has("head") { 0.55 } else { 0.5 };
            let get = |name| node.attribute(name).and_then(|text| text.parse::<f64>().ok()).expect("a place");
            let left = get("x")
                - if has("mid") {
                    0.5 * width
                } else if has("end") {
                    width
                } else {
                    0.0
                };
            let baseline = get("y");
            TextBox {
                words,
                low: Point::new(left, baseline - 0.72 * size),
                high: Point::new(left + width, baseline),
            }
        })
        .collect()
}

#[test]
fn no_text_lies_on_another_or_outside_the_sheet() {
    for (name, actuator) in variants() {
        let text = mesh_svg(&actuator).expect("a drawing");
        let document = roxmltree::Document::parse(&text).expect("well-formed");
        let size: Vec<f64> = document
            .root_element()
            .attribute("viewBox")
            .expect("viewBox")
            .split(' ')
            .skip(2)
            .map(|text| text.parse().expect("a size"))
            .collect();
        let boxes = text_boxes(&document);
        assert!(boxes.len() > 40, "{name}: {} texts", boxes.len());
        for (index, one) in boxes.iter().enumerate() {
            // The frame: 20 mm at the left, 10 elsewhere.
            let inside = one.low.x > 20.0
                && one.low.y > 10.0
                && one.high.x < size[0] - 10.0
                && one.high.y < size[1] - 10.0;
            assert!(inside, "{name}: \"{}\" outside the frame", one.words);
            for other in &boxes[index + 1..] {
                let apart = one.high.x <= other.low.x
                    || other.high.x <= one.low.x
                    || one.high.y <= other.low.y
                    || other.high.y <= one.low.y;
                assert!(apart, "{name}: \"{}\" lies on \"{}\"", one.words, other.words);
            }
        }
    }
}
