//! The build book: whole, self-contained, escaped, the same every time; the compact bodies it carries.

use crate::support::demo;
use hubwright::book::{Drawing, book};
use hubwright::design::Measured;
use hubwright::export::glb;
use hubwright::pipeline::{Made, Solids, make};
use serde_json::Value;

const SHOULDER: &str = "weeder-shoulder";

fn made(name: &str) -> (Made, Solids) {
    let made = make(&demo(name)).expect("makes");
    let solids = made.solids().expect("solids");
    (made, solids)
}

/// Under the 6 MB that are promised, complete, and nothing in it loads anything.
#[test]
fn the_book_is_whole_and_loads_nothing() {
    let (made, solids) = made(SHOULDER);
    let svg = "<svg xmlns=\"http://www.w3.org/2000/svg\"/>";
    let page = book(&made, &solids, &[Drawing::mesh(svg)], None);
    assert_eq!(page, book(&made, &solids, &[Drawing::mesh(svg)], None));
    assert!(page.len() < 6_000_000, "{} bytes", page.len());
    for checked in &made.checks {
        assert!(page.contains(&format!("id=\"check-{}\"", checked.check.id)), "{}", checked.check.id);
    }
    for part in &made.product.parts {
        assert!(page.contains(&format!("alt=\"{} as it lies on the bed\"", part.part.name.as_str())));
    }
    for item in &made.product.bom.items {
        assert!(page.contains(&item.designation), "{}", item.designation);
    }
    let fit = made.product.fit.as_ref().expect("fits");
    let steps: usize = fit.assembly.benches.iter().map(|bench| bench.steps.len()).sum();
    assert_eq!(page.matches("alt=\"Step ").count(), steps, "a picture a step");
    assert!(page.contains("default-src 'none'"));
    // Addresses in attributes: within the page, or the data themselves.
    for attribute in ["src=\"", "href=\""] {
        for piece in page.split(attribute).skip(1) {
            assert!(
                piece.starts_with("data:") || piece.starts_with('#'),
                "{}",
                &piece[..piece.len().min(40)]
            );
        }
    }
    assert!(!page.contains("@import") && !page.contains("url("));
}

/// What comes from the design file is text, whatever it looks like.
#[test]
fn words_of_the_design_are_escaped() {
    let mut design = demo("mast-pan");
    design.about = "<script>alert(1)</script> & \"more\"".to_string();
    design.motor.name = "<img src=x>".to_string();
    design.measured.push(Measured {
        key: "motor.kv".into(),
        value: "<b>88 rpm/V</b>".into(),
        how: "measured (spin test): 87 rpm/V to 89 rpm/V with 95 % confidence".into(),
    });
    let made = make(&design).expect("makes");
    let page = book(&made, &made.solids().expect("solids"), &[], None);
    assert!(page.contains("&lt;script&gt;alert(1)&lt;/script&gt; &amp; "));
    assert!(!page.contains("<script>alert") && !page.contains("<img src=x>"));
    assert!(!page.contains("id=\"drawings\""), "no empty chapter");
    // The test plan's chapter says which inputs are measured, and how well.
    assert!(page.contains("Measured so far") && page.contains("87 rpm/V to 89 rpm/V"));
    assert!(page.contains("&lt;b&gt;88 rpm/V&lt;/b&gt;"));
}

/// The compact bodies lie where the full ones do: within half a unit a coordinate, their normals within a degree.
#[test]
fn compact_bodies_are_the_full_ones_rounded() {
    let (made, solids) = made(SHOULDER);
    let actuator = &made.product.actuator;
    let bytes = glb::compact(actuator, &solids.scene);
    let full = glb::glb(actuator, &solids.scene);
    assert!(bytes.len() * 5 < full.len() * 3, "{} of {}", bytes.len(), full.len());
    let length = u32::from_le_bytes(bytes[12..16].try_into().expect("four")) as usize;
    let tree: Value = serde_json::from_slice(&bytes[20..20 + length]).expect("JSON");
    let data = &bytes[28 + length..];
    assert_eq!(tree["extensionsRequired"][0], "KHR_mesh_quantization");
    let unit = tree["nodes"][0]["extras"]["unit_mm"].as_f64().expect("a unit");
    assert!(unit < 0.005, "{unit} mm");
    let start = |index: &Value| {
        let accessor = &tree["accessors"][index.as_u64().expect("index") as usize];
        let view = &tree["bufferViews"][accessor["bufferView"].as_u64().expect("view") as usize];
        (
            view["byteOffset"].as_u64().expect("offset") as usize,
            view["byteStride"].as_u64().expect("stride") as usize,
        )
    };
    for (mesh, thing) in tree["meshes"].as_array().expect("meshes").iter().zip(&solids.scene) {
        let attributes = &mesh["primitives"][0]["attributes"];
        let (from, stride) = start(&attributes["POSITION"]);
        let (normals_from, normals_stride) = start(&attributes["NORMAL"]);
        for (index, (position, normal)) in
            thing.surface.positions.iter().zip(&thing.surface.normals).enumerate()
        {
            for (axis, coordinate) in position.iter().enumerate() {
                let at = from + index * stride + 2 * axis;
                let whole = i16::from_le_bytes(data[at..at + 2].try_into().expect("two"));
                let off = (f64::from(whole) * unit - f64::from(*coordinate)).abs();
                assert!(off <= 0.5001 * unit, "{}: {off} mm", thing.name);
            }
            let rounded: [f64; 3] = std::array::from_fn(|axis| {
                f64::from(data[normals_from + index * normals_stride + axis] as i8)
            });
            let length = rounded.iter().map(|x| x * x).sum::<f64>().sqrt();
            let along: f64 = (0..3).map(|axis| rounded[axis] * f64::from(normal[axis])).sum::<f64>() / length;
            assert!(along > 0.99985, "{}: {along}", thing.name);
        }
    }
}

/// Carrier and planets turn as the teeth say: after one turn of the rotor, with the ring held, the sun's teeth passed in the carrier's
/// frame are the planet's, and the planet's are the ring's (Willis' equation).
#[test]
fn groups_turn_at_the_true_ratio() {
    let (made, solids) = made(SHOULDER);
    let bytes = glb::glb(&made.product.actuator, &solids.scene);
    let length = u32::from_le_bytes(bytes[12..16].try_into().expect("four")) as usize;
    let tree: Value = serde_json::from_slice(&bytes[20..20 + length]).expect("JSON");
    let of = |name: &str, key: &str| {
        let nodes = tree["nodes"].as_array().expect("nodes");
        let node = nodes.iter().find(|node| node["name"] == name).expect("a group");
        node["extras"][key].as_f64().expect("turns")
    };
    let stage = &made.product.actuator.stage;
    let [sun, planet, ring] = [&stage.sun, &stage.planet, &stage.ring].map(|gear| f64::from(gear.teeth));
    let carrier = of("carrier", "turns");
    let own = of("planets", "own_turns");
    assert_eq!(of("rotor", "turns"), 1.0);
    assert_eq!(of("housing", "turns"), 0.0);
    assert!(((1.0 - carrier) * sun + own * planet).abs() < 1e-12, "outside teeth roll against each other");
    assert!((-carrier * ring - own * planet).abs() < 1e-12, "inside teeth roll along");
}

/// Masses in the view add up to the bill of materials', but for what isn't drawn or is told for a whole unit.
#[test]
fn bodies_weigh_what_the_bill_says() {
    let (made, solids) = made(SHOULDER);
    let drawn: f64 = solids
        .scene
        .iter()
        .filter_map(|thing| {
            Some(thing.places.len() as f64 * thing.mass.as_ref().filter(|mass| mass.whole.is_none())?.value)
        })
        .sum();
    let units: f64 = ["motor", "output bearing", "planet bearing", "output screw"]
        .iter()
        .map(|name| {
            made.product.bom.items.iter().find(|item| item.name == *name).expect("a line").total_mass()
        })
        .sum();
    assert!((drawn + units - made.product.bom.total_mass()).abs() < 1e-9);
}
