//! STEP files as text: well-formed, closed, of the right surfaces, the same bytes every time. What an independent kernel
//! makes of them is `kernels/step.py`.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::export::step::{self, Label, Placed, Placement};
use hubwright::export::step_files;
use hubwright::geometry::{Body, Brep, Point, Region, ShapeErrorKind};
use hubwright::pipeline::make;

/// Entities of a file by their number; every one stands on its own line.
struct Data(BTreeMap<usize, String>);

impl Data {
    fn of(text: &str) -> Data {
        let (head, rest) = text.split_once("DATA;\n").expect("a data section");
        assert!(head.starts_with("ISO-10303-21;\nHEADER;\n") && head.ends_with("ENDSEC;\n"));
        let data = rest.strip_suffix("ENDSEC;\nEND-ISO-10303-21;\n").expect("the end");
        let mut entities = BTreeMap::new();
        for line in data.lines() {
            let (id, entity) = line.split_once(" = ").expect("an entity");
            let id = id.strip_prefix('#').and_then(|id| id.parse().ok()).expect("a number");
            let entity = entity.strip_suffix(';').expect("the end of the entity");
            assert!(entities.insert(id, entity.to_owned()).is_none(), "#{id} is there twice");
        }
        Data(entities)
    }

    /// Arguments of all entities of a type.
    fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a str> {
        self.0.values().filter_map(move |entity| entity.strip_prefix(name)?.strip_prefix('('))
    }

    fn count(&self, name: &str) -> usize {
        self.all(name).count()
    }

    /// Rational splines are written as a combination of types.
    fn combined(&self, name: &str) -> usize {
        self.0.values().filter(|entity| entity.starts_with('(') && entity.contains(name)).count()
    }

    /// Every reference resolves, to an entity before it; parentheses and quotes pair.
    fn check(&self) {
        for (id, entity) in &self.0 {
            for other in references(entity) {
                assert!(self.0.contains_key(&other) && other < *id, "#{id} refers to #{other}: {entity}");
            }
            assert_eq!(entity.matches('(').count(), entity.matches(')').count(), "#{id}: {entity}");
            assert!(entity.matches('\'').count() % 2 == 0, "#{id}: {entity}");
            assert!(
                entity.is_ascii() && !entity.contains("NaN") && !entity.contains("inf"),
                "#{id}: {entity}"
            );
        }
    }

    /// Every edge is walked once in each direction, and the faces close to a surface with so many handles.
    fn check_closed(&self, handles: usize) {
        let mut uses: BTreeMap<usize, [usize; 2]> = BTreeMap::new();
        for edge in self.all("ORIENTED_EDGE") {
            let id = references(edge).next().expect("its edge");
            uses.entry(id).or_default()[usize::from(edge.ends_with(".T.)"))] += 1;
        }
        assert_eq!(uses.len(), self.count("EDGE_CURVE"), "every edge bounds a face");
        assert!(uses.values().all(|count| *count == [1, 1]), "an edge isn't used once in each direction");
        // Euler and Poincare: V - E + F - (rings within faces) = 2 - 2 handles.
        let [vertices, edges, faces, rings] =
            ["VERTEX_POINT", "EDGE_CURVE", "ADVANCED_FACE", "FACE_BOUND"].map(|name| self.count(name));
        assert_eq!(vertices + faces + 2 * handles, 2 + edges + rings, "V {vertices} E {edges} F {faces}");
    }
}

fn references(entity: &str) -> impl Iterator<Item = usize> + '_ {
    entity.split('#').skip(1).map(|rest| {
        let digits = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
        rest[..digits].parse().expect("digits")
    })
}

const COLOUR: [f64; 3] = [0.25, 0.5, 0.75];

fn label(name: &str) -> Label {
    Label { name: name.to_owned(), description: "a test".to_owned() }
}

fn part(body: &Body) -> (String, Data) {
    let text = step::part(&label("plate"), COLOUR, &boundary(body)).expect("a file");
    let data = Data::of(&text);
    data.check();
    (text, data)
}

fn boundary(body: &Body) -> Brep {
    body.stack().expect("stack").brep().expect("boundary")
}

fn plate() -> Body {
    let mut body = Body::new();
    body.add("plate", [0.0, 5.0], Region::rectangle(Point::new(-20.0, -10.0), Point::new(20.0, 10.0)));
    for x in [-12.0, 12.0] {
        let hole = |radius: f64| Region::disc(Point::new(x, 0.0), radius);
        body.cut("hole", [0.0, 5.0], hole(2.0));
        body.cut_taper("countersink", [3.0, 5.0], hole(2.0), hole(4.0));
    }
    body
}

/// Top, bottom, and four walls in each of two slabs; a hole's cylinder and its countersink's cone are two halves each;
/// two holes, two handles.
#[test]
fn a_plate_with_two_countersunk_holes() {
    let (text, data) = part(&plate());
    let counts = ["PLANE", "CYLINDRICAL_SURFACE", "CONICAL_SURFACE"].map(|name| data.count(name));
    assert_eq!(counts, [10, 4, 4]);
    data.check_closed(2);
    // From radius 2 to 4 over a height of 2: half an angle of 45 degrees, placed at the narrow end.
    for cone in data.all("CONICAL_SURFACE") {
        assert!(cone.ends_with(",2.0,0.7853981633974)"), "{cone}");
    }
    // Cones and cylinders look inwards here, so all eight faces turn their surface's normal round.
    assert_eq!(data.all("ADVANCED_FACE").filter(|face| face.ends_with(".F.)")).count(), 8);
    assert_eq!(data.count("CLOSED_SHELL"), 1);
    assert!(data.all("COLOUR_RGB").eq(["'',0.25,0.5,0.75)"]));
    let names: Vec<_> = data.all("PRODUCT").collect();
    assert!(names.len() == 1 && names[0].starts_with("'plate','plate','a test',"), "{names:?}");
    let header = format!(
        "FILE_NAME('plate.step','',(''),(''),'hubwright {0}','hubwright {0}','');",
        env!("CARGO_PKG_VERSION")
    );
    assert!(text.contains(&header), "no time, no path: {}", &text[..400]);
}

/// Two cones of equal slope that run into each other meet in hyperbolas, a cone and a leaning plane in conics too.
#[test]
fn tapers_that_meet_have_conic_edges() {
    let mut body = plate();
    for x in [-4.0, 0.0] {
        let dimple = |radius: f64| Region::disc(Point::new(x, 5.0), radius);
        body.cut_taper("dimple", [3.0, 5.0], dimple(3.0), dimple(4.0));
    }
    let (_, data) = part(&body);
    data.check_closed(2);
    assert_eq!(data.combined("RATIONAL_B_SPLINE_CURVE"), 2);
    assert_eq!(data.combined("RATIONAL_B_SPLINE_SURFACE"), 0);
}

/// Only what twists is a spline: a straight gear is planes and cylinders.
#[test]
fn only_helical_flanks_are_splines() {
    let gear = |twist: f64| {
        let made = hubwright::layout::lay_out(&demo(SHOULDER)).expect("demo");
        let outline = made.stage.planet.profile(5e-4).expect("teeth");
        let mut body = Body::new();
        let segments = outline.0.len();
        body.add_twisted("teeth", [0.0, 6.0], outline, twist);
        (part(&body).1, segments)
    };
    let (straight, segments) = gear(0.0);
    assert_eq!(straight.count("CYLINDRICAL_SURFACE") + straight.count("PLANE"), segments + 2);
    assert_eq!(straight.combined("SPLINE") + straight.count("B_SPLINE_CURVE_WITH_KNOTS"), 0);
    let (helical, segments) = gear(0.015);
    let splines =
        helical.combined("RATIONAL_B_SPLINE_SURFACE") + helical.count("B_SPLINE_SURFACE_WITH_KNOTS");
    assert_eq!(splines, segments);
    assert_eq!(helical.count("B_SPLINE_CURVE_WITH_KNOTS"), segments);
    for data in [straight, helical] {
        data.check_closed(0);
    }
}

#[test]
fn two_bodies_are_no_part() {
    let mut body = plate();
    body.add("stray", [0.0, 5.0], Region::disc(Point::new(40.0, 0.0), 3.0));
    let refused = step::part(&label("two"), COLOUR, &boundary(&body)).expect_err("two shells");
    assert_eq!(refused.kind, ShapeErrorKind::ManyShells);
}

#[test]
fn an_assembly_holds_each_shape_once() {
    let placement =
        |name: &str, x: f64, turn: f64| Placement { name: name.to_owned(), axis: Point::new(x, 0.0), turn };
    let placed = Placed {
        label: label("plate"),
        colour: COLOUR,
        boundary: boundary(&plate()),
        placements: vec![placement("plate-1", 0.0, 0.0), placement("plate-2", 50.0, std::f64::consts::PI)],
    };
    let data = Data::of(&step::assembly(&label("two-plates"), &[&placed]).expect("a file"));
    data.check();
    data.check_closed(2);
    assert_eq!(data.count("MANIFOLD_SOLID_BREP"), 1);
    let uses: Vec<_> = data.all("NEXT_ASSEMBLY_USAGE_OCCURRENCE").collect();
    assert!(uses.len() == 2 && uses[0].starts_with("'plate-1',") && uses[1].starts_with("'plate-2',"));
    assert_eq!(data.count("ITEM_DEFINED_TRANSFORMATION"), 2);
    assert_eq!(data.count("PRODUCT"), 2);
}

/// Names and texts of all STEP files of a demo, written on so many threads.
fn files(name: &str, threads: usize) -> BTreeMap<String, String> {
    let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("pool");
    let made = pool.install(|| make(&demo(name))).expect("demo");
    let folder = tempfile::tempdir().expect("folder");
    fs::create_dir(folder.path().join("parts")).expect("folder");
    let write = || {
        let solids = made.solids().expect("solids");
        step_files::write(folder.path(), &made.product.actuator, &solids.nominal, &solids.bought)
            .expect("written");
    };
    pool.install(write);
    let parts =
        fs::read_dir(folder.path().join("parts")).expect("parts").map(|entry| entry.expect("entry").path());
    let read = |path: &Path| {
        let name = path.file_name().expect("name").to_string_lossy().into_owned();
        (name, fs::read_to_string(path).expect("text"))
    };
    let mut files: BTreeMap<String, String> = parts.map(|path| read(&path)).collect();
    files.extend([read(&folder.path().join("assembly.step"))]);
    files
}

#[test]
fn the_demos_files_are_well_formed_and_the_same_every_time() {
    for name in [SHOULDER, WRIST, MAST] {
        let once = files(name, 1);
        assert!(once == files(name, 2), "{name}: one and two threads differ");
        let made = make(&demo(name)).expect("demo");
        let printed: u32 = made.product.parts.iter().map(|part| part.part.count).sum();
        let bought = hubwright::bought::all(&made.product.actuator).expect("bodies");
        let count = printed as usize + bought.iter().map(|body| body.places.len()).sum::<usize>();
        assert_eq!(once.len(), made.product.parts.len() + 1);
        for (file, text) in &once {
            let data = Data::of(text);
            data.check();
            if file == "assembly.step" {
                assert_eq!(data.count("NEXT_ASSEMBLY_USAGE_OCCURRENCE"), count, "{name}");
                assert_eq!(data.count("STYLED_ITEM"), made.product.parts.len() + bought.len(), "{name}");
            } else {
                assert_eq!(data.count("MANIFOLD_SOLID_BREP"), 1, "{name}/{file}");
            }
        }
    }
}
