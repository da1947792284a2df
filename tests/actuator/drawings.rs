//! Drawings: what is cut is what the body has there, numbers are the actuator's and the bill's, and the sheets can be read.

use std::collections::BTreeSet;

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::bought;
use hubwright::drawing::{assembly::section_svg, bodies, features, part};
use hubwright::geometry::{Mesh, Stack};
use hubwright::layout::Actuator;
use hubwright::parts::{self, Part};
use hubwright::pipeline::{Made, make};

const DEMOS: [&str; 3] = [SHOULDER, WRIST, MAST];

fn made(name: &str) -> Made {
    make(&demo(name)).unwrap_or_else(|error| panic!("{name}: {error:?}"))
}

fn nominal(actuator: &Actuator) -> Vec<Part> {
    parts::all(&actuator.nominal()).expect("parts")
}

fn section(made: &Made) -> String {
    let actuator = &made.product.actuator;
    let bought = bought::all(actuator).expect("bodies");
    section_svg(actuator, &made.product.bom, &nominal(actuator), &bought).expect("section")
}

/// Area that the half plane through the axis at `angle` cuts of a closed mesh, by Green's theorem over the triangles it crosses.
fn mesh_section(mesh: &Mesh, angle: f64) -> f64 {
    let (sine, cosine) = angle.sin_cos();
    let off = |v: [f64; 3]| v[1] * cosine - v[0] * sine;
    let along = |v: [f64; 3]| [v[0] * cosine + v[1] * sine, v[2]];
    let mut sum = 0.0;
    for triangle in &mesh.triangles {
        let corners = triangle.map(|index| mesh.vertices[index as usize]);
        let mut into = None;
        let mut out = None;
        for k in 0..3 {
            let (a, b) = (corners[k], corners[(k + 1) % 3]);
            let (da, db) = (off(a), off(b));
            if (da < 0.0) != (db < 0.0) {
                let t = da / (da - db);
                let point = along(std::array::from_fn(|i| a[i] + (b[i] - a[i]) * t));
                if da < 0.0 { into = Some(point) } else { out = Some(point) }
            }
        }
        let (Some(mut a), Some(mut b)) = (into, out) else { continue };
        // The half with positive distances alone: a line that leaves it runs on along the axis, where r = 0.
        if a[0] <= 0.0 && b[0] <= 0.0 {
            continue;
        }
        if a[0] < 0.0 || b[0] < 0.0 {
            let t = a[0] / (a[0] - b[0]);
            let middle = [0.0, a[1] + (b[1] - a[1]) * t];
            if a[0] < 0.0 { a = middle } else { b = middle }
        }
        // Integral of r dz.
        sum += (a[0] + b[0]) / 2.0 * (b[1] - a[1]);
    }
    sum.abs()
}

fn mesh(stack: &Stack) -> Mesh {
    stack.brep().expect("boundary").mesh(0.002).expect("mesh")
}

/// Drawn sections against slices of the triangles. Parts with teeth are drawn to the root circle by convention, so their slice
/// lies between the drawn area and that with whole teeth.
#[test]
fn sections_have_the_area_of_sliced_meshes() {
    for name in DEMOS {
        let actuator = made(name).product.actuator;
        for part in nominal(&actuator) {
            let mesh = mesh(&part.stack);
            let planes = features::planes(&actuator, part.name);
            let cuts = part::cuts(&actuator, &part).expect("cut");
            for ((_, cut), angle) in cuts.iter().zip(planes) {
                // Off planes of symmetry, along which triangles' edges lie.
                let sliced = (mesh_section(&mesh, angle + 1e-5) + mesh_section(&mesh, angle - 1e-5)) / 2.0;
                let what = format!("{name}, {}: drawn {}, sliced {sliced}", part.name.as_str(), cut.area());
                match bodies::part_toothing(&actuator, part.name) {
                    None => assert!((cut.area() / sliced - 1.0).abs() < 2e-3, "{what}"),
                    Some(teeth) => {
                        let [low, high] = part.stack.z_range();
                        let whole = (teeth.tip_diameter - teeth.root_diameter).abs() / 2.0 * (high - low);
                        assert!((cut.area() - sliced).abs() < whole + 2e-3 * sliced, "{what}");
                    }
                }
            }
        }
    }
}

fn group<'a>(document: &'a roxmltree::Document, id: &str) -> roxmltree::Node<'a, 'a> {
    document.descendants().find(|node| node.attribute("id") == Some(id)).unwrap_or_else(|| panic!("no {id}"))
}

fn texts(node: roxmltree::Node) -> Vec<String> {
    node.descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| node.text().map(str::to_owned))
        .collect()
}

/// Balloons: each item that is cut has exactly one, each is a line of the bill, and all but the link's screws are there.
#[test]
fn balloons_are_items_of_the_bill() {
    for name in DEMOS {
        let made = made(name);
        let (actuator, bom) = (&made.product.actuator, &made.product.bom);
        let bought = bought::all(actuator).expect("bodies");
        let shown = bodies::shown(actuator, bom, &nominal(actuator), &bought).expect("bodies");
        let cut: BTreeSet<usize> = shown.iter().filter_map(|body| body.item).collect();
        assert!(shown.iter().all(|body| body.item.is_some()), "{name}: a body without an item");
        let text = section(&made);
        let document = roxmltree::Document::parse(&text).expect("well-formed");
        let numbers: Vec<usize> =
            texts(group(&document, "balloons")).iter().map(|text| text.parse().expect("a number")).collect();
        let unique: BTreeSet<usize> = numbers.iter().copied().collect();
        assert_eq!(unique.len(), numbers.len(), "{name}: an item twice");
        assert_eq!(unique, cut, "{name}");
        let missing: Vec<&str> = (1..=bom.items.len())
            .filter(|item| !unique.contains(item))
            .map(|item| bom.items[item - 1].name.as_str())
            .collect();
        assert_eq!(missing, ["output screw"], "{name}");
    }
}

/// A known diameter in user units: the dimension's arrows stand as far apart as the scale says, and its words are the size.
#[test]
fn dimensions_are_the_actuators_and_true_to_scale() {
    for name in DEMOS {
        let made = made(name);
        let actuator = &made.product.actuator;
        let text = section(&made);
        let document = roxmltree::Document::parse(&text).expect("well-formed");
        let root = document.root_element();
        assert_eq!(root.attribute("width"), Some("420mm"));
        assert_eq!(root.attribute("viewBox"), Some("0 0 420 297"));
        let words = texts(group(&document, "dimensions"));
        let bearing = &actuator.design.bearings.output;
        for wanted in [
            format!("\u{d8}{} H7", bearing.outer),
            format!("\u{d8}{}", (actuator.clamp_ring.flange_diameter * 100.0).round() / 100.0),
            format!("{}", (actuator.stations.output_face * 100.0).round() / 100.0),
        ] {
            assert!(words.contains(&wanted), "{name}: {wanted} not in {words:?}");
        }
        let scale = texts(root).iter().find_map(|text| match text.as_str() {
            "2:1" => Some(2.0),
            "1:1" => Some(1.0),
            _ => None,
        });
        let scale: f64 = scale.expect("a scale");
        // The bodies' outlines reach to the clamp ring's flange on both sides.
        let lines: Vec<f64> = group(&document, "dimensions")
            .descendants()
            .filter_map(|node| node.attribute("d"))
            .filter_map(|d| {
                let ends: Vec<f64> = d
                    .split(['M', 'L', ' '])
                    .filter(|part| !part.is_empty())
                    .map(|part| part.parse().expect("a number"))
                    .collect();
                match ends[..] {
                    [x0, y0, x1, y1] => Some((x1 - x0).hypot(y1 - y0)),
                    _ => None,
                }
            })
            .collect();
        for size in [actuator.clamp_ring.flange_diameter, bearing.outer, actuator.stations.output_face] {
            assert!(
                lines.iter().any(|length| (length - size * scale).abs() < 2e-3),
                "{name}: no dimension line {} long",
                size * scale
            );
        }
    }
}

/// Boxes of a drawing's words: letters' mean breadth 0.5 of the font's size, heights of capitals 0.72.
fn boxes(document: &roxmltree::Document) -> Vec<([f64; 4], String)> {
    let number = |node: roxmltree::Node, key: &str| node.attribute(key).and_then(|x| x.parse::<f64>().ok());
    document
        .descendants()
        .filter(|node| node.has_tag_name("text"))
        .filter_map(|node| {
            let words = node.text()?.to_owned();
            let class = node.attribute("class")?;
            let size = if class.contains("tall") {
                4.8
            } else if class.contains("small") {
                2.6
            } else {
                3.4
            };
            let (x, y) = (number(node, "x")?, number(node, "y")?);
            let breadth = 0.5 * size * words.chars().count() as f64;
            let start = if class.contains("mid") { -breadth / 2.0 } else { 0.0 };
            let rise = 0.72 * size;
            let place = if node.attribute("transform").is_some() {
                [x - rise, y - start - breadth, x, y - start]
            } else {
                [x + start, y - rise, x + start + breadth, y]
            };
            Some((place, words))
        })
        .collect()
}

/// On all sheets: well-formed, inside the frame, no words over others, the same every time.
#[test]
fn sheets_can_be_read() {
    for name in DEMOS {
        let made = made(name);
        let actuator = &made.product.actuator;
        let mut sheets = vec![("section".to_owned(), section(&made))];
        assert_eq!(sheets[0].1, section(&made), "{name}");
        for part in nominal(actuator) {
            let sheet = part::part_svg(actuator, &part).expect("sheet");
            assert_eq!(sheet, part::part_svg(actuator, &part).expect("sheet"));
            sheets.push((part.name.as_str().to_owned(), sheet));
        }
        for (what, sheet) in sheets {
            let document = roxmltree::Document::parse(&sheet).expect("well-formed");
            let boxes = boxes(&document);
            for (index, (a, words)) in boxes.iter().enumerate() {
                assert!(
                    a[0] > 20.0 && a[2] < 410.0 && a[1] > 10.0 && a[3] < 287.0,
                    "{name}, {what}: {words} at {a:?} leaves the frame"
                );
                for (b, other) in &boxes[index + 1..] {
                    let apart = a[2] <= b[0] || b[2] <= a[0] || a[3] <= b[1] || b[3] <= a[1];
                    assert!(apart, "{name}, {what}: {words} over {other}, {a:?} {b:?}");
                }
            }
        }
    }
}

/// Each part's sheet has its sizes: all that are listed stand in the table, seats with their class.
#[test]
fn part_sheets_list_what_to_inspect() {
    let made = made(SHOULDER);
    let actuator = &made.product.actuator;
    for part in nominal(actuator) {
        let sheet = part::part_svg(actuator, &part).expect("sheet");
        let document = roxmltree::Document::parse(&sheet).expect("well-formed");
        let words = texts(group(&document, "inspection"));
        let sizes = features::of(actuator, part.name);
        assert!(sizes.len() >= 3, "{}", part.name.as_str());
        assert_eq!(words.len(), 4 * (sizes.len() + 1), "{}", part.name.as_str());
        if part.name.as_str() == "ring-housing" {
            assert!(words.contains(&format!("{} H7", actuator.design.bearings.output.outer)));
            let printed = (actuator.housing.seat * 100.0).round() / 100.0;
            assert!(words.contains(&printed.to_string()), "{words:?}");
        }
    }
}
