//! Plates: every piece once, on the bed, apart from all others; the 3MF says the same as the plan and the STL.

use std::collections::BTreeMap;
use std::io::{Cursor, Read};

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::export::threemf;
use hubwright::pipeline::{Made, Solids, make};
use hubwright::plates::{self, Plate};

fn made(name: &str) -> (Made, Solids) {
    let made = make(&demo(name)).unwrap_or_else(|error| panic!("{error:?}"));
    let solids = made.solids().unwrap_or_else(|error| panic!("{error:?}"));
    (made, solids)
}

/// Boxes of the pieces as they lie, from the triangles: an independent way round turn and shift.
fn boxes(plate: &Plate, solids: &Solids) -> Vec<[[f64; 2]; 2]> {
    plate
        .pieces
        .iter()
        .map(|piece| {
            let mut found = [[f64::INFINITY; 2], [f64::NEG_INFINITY; 2]];
            for vertex in &solids.meshes[piece.index].vertices {
                let [x, y] = if piece.turned { [-vertex[1], vertex[0]] } else { [vertex[0], vertex[1]] };
                for (axis, value) in [x + piece.shift[0], y + piece.shift[1]].into_iter().enumerate() {
                    found[0][axis] = found[0][axis].min(value);
                    found[1][axis] = found[1][axis].max(value);
                }
            }
            found
        })
        .collect()
}

#[test]
fn every_piece_lies_once_on_a_bed_apart_from_the_others() {
    for name in [SHOULDER, WRIST, MAST] {
        let (made, solids) = made(name);
        let (plates, too_large) = plates::plates(&made.product);
        assert!(too_large.is_empty(), "{name}");
        let bed = made.product.actuator.design.printer.bed;
        let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
        for plate in &plates {
            let boxes = boxes(plate, &solids);
            for (index, [low, high]) in boxes.iter().enumerate() {
                for axis in 0..2 {
                    assert!(low[axis] > plates::GAP - 0.05 && high[axis] < bed[axis] - plates::GAP + 0.05);
                }
                for [other_low, other_high] in &boxes[..index] {
                    let apart = (0..2).any(|axis| {
                        low[axis] > other_high[axis] + plates::GAP - 0.05
                            || other_low[axis] > high[axis] + plates::GAP - 0.05
                    });
                    assert!(apart, "{name}");
                }
            }
            for piece in &plate.pieces {
                *counts.entry(piece.part.as_str()).or_default() += 1;
                let settings = made.product.actuator.design.settings(piece.part);
                assert_eq!(settings.material.name, plate.material, "one material a plate");
            }
        }
        for part in &made.product.parts {
            assert_eq!(counts.get(part.part.name.as_str()), Some(&part.part.count), "{name}");
        }
    }
}

#[test]
fn a_part_larger_than_the_bed_is_named_and_the_rest_packed() {
    let mut design = demo(SHOULDER);
    design.printer.bed = [100.0, 100.0, 200.0];
    let made = make(&design).expect("makes");
    let (plates, too_large) = plates::plates(&made.product);
    let names: Vec<&str> = too_large.iter().map(|part| part.part.as_str()).collect();
    assert_eq!(names, ["vented-base", "stator-mount", "ring-housing"]);
    assert!(plates.iter().flat_map(|plate| &plate.pieces).all(|piece| !names.contains(&piece.part.as_str())));
    let checked = made.checks.iter().find(|checked| checked.check.id == "bed-fit").expect("the check");
    assert_eq!(checked.outcome.verdict, hubwright::checks::Verdict::Fails);
}

/// The file read back by an XML reader: objects, items and materials, and each object's volume that of the exact shape.
#[test]
fn a_plate_file_holds_what_lies_on_the_plate() {
    let (made, solids) = made(SHOULDER);
    let (plates, _) = plates::plates(&made.product);
    let prints = plates::prints(&made.product);
    for plate in &plates {
        let bytes = threemf::plate("a & b", plate, &prints, &solids.meshes).expect("written");
        assert_eq!(bytes, threemf::plate("a & b", plate, &prints, &solids.meshes).expect("written"));
        let mut text = String::new();
        zip::ZipArchive::new(Cursor::new(bytes))
            .expect("an archive")
            .by_name("3D/3dmodel.model")
            .expect("the model")
            .read_to_string(&mut text)
            .expect("text");
        let tree = roxmltree::Document::parse(&text).expect("XML");
        assert_eq!(tree.root_element().attribute("unit"), Some("millimeter"));
        let tag = |name: &'static str| {
            tree.descendants().filter(move |node| node.tag_name().name() == name).collect::<Vec<_>>()
        };
        assert_eq!(tag("item").len(), plate.pieces.len());
        assert_eq!(tag("base")[0].attribute("name"), Some(plate.material.as_str()));
        for object in tag("object") {
            let name = object.attribute("name").expect("a name");
            let part =
                made.product.parts.iter().find(|part| part.part.name.as_str() == name).expect("a part");
            let number = |node: &roxmltree::Node, key: &str| -> f64 {
                node.attribute(key).expect(key).parse().expect("a number")
            };
            let vertices: Vec<[f64; 3]> = object
                .descendants()
                .filter(|node| node.tag_name().name() == "vertex")
                .map(|node| ["x", "y", "z"].map(|key| number(&node, key)))
                .collect();
            let volume: f64 = object
                .descendants()
                .filter(|node| node.tag_name().name() == "triangle")
                .map(|node| {
                    let [a, b, c] = ["v1", "v2", "v3"].map(|key| vertices[number(&node, key) as usize]);
                    (a[0] * (b[1] * c[2] - b[2] * c[1])
                        + a[1] * (b[2] * c[0] - b[0] * c[2])
                        + a[2] * (b[0] * c[1] - b[1] * c[0]))
                        / 6.0
                })
                .sum();
            assert!((volume / part.volume - 1.0).abs() < 5e-4, "{name}: {volume} against {}", part.volume);
        }
    }
}
