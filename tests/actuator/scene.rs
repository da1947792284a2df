//! The assembly to look at: bought parts where the bill of materials says, and a binary glTF that keeps its own promises.

use crate::support::{MAST, SHOULDER, WRIST, demo};
use hubwright::bom::Kind;
use hubwright::bought;
use hubwright::export::glb;
use hubwright::parts::Motion;
use hubwright::pipeline::make;
use serde_json::Value;

/// As many bodies as the bill of materials counts, but for what the machine and the link bring.
#[test]
fn every_bought_item_has_its_bodies() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = make(&demo(name)).expect("makes");
        let bodies = bought::all(&made.product.actuator).expect("bodies");
        let drawn = |kind: Kind| -> usize {
            bodies.iter().filter(|body| body.kind == kind).map(|body| body.places.len()).sum()
        };
        let listed = |kind: Kind| -> usize {
            let items = made.product.bom.items.iter().filter(|item| item.kind == kind);
            items.map(|item| item.quantity as usize).sum()
        };
        assert_eq!(drawn(Kind::Insert), listed(Kind::Insert), "{name}: inserts");
        assert_eq!(drawn(Kind::Pin), listed(Kind::Pin), "{name}: pins");
        // The link's bolts are on the list, but what they clamp isn't known.
        let of_link = made.product.actuator.joints.output.count as usize;
        assert_eq!(drawn(Kind::Fastener) + of_link, listed(Kind::Fastener), "{name}: screws");
        // Two rings a bearing.
        assert_eq!(drawn(Kind::Bearing), 2 * listed(Kind::Bearing), "{name}: bearings");
        assert_eq!(drawn(Kind::Gear), listed(Kind::Gear), "{name}: gears");
        assert_eq!(drawn(Kind::Magnet), listed(Kind::Magnet), "{name}: magnets");
    }
}

/// Each screw ends in its insert, as far in as the joint says: the overlap of shank and insert along the axis.
#[test]
fn screws_reach_their_inserts() {
    for name in [SHOULDER, WRIST, MAST] {
        let made = make(&demo(name)).expect("makes");
        let actuator = &made.product.actuator;
        let bodies = bought::all(actuator).expect("bodies");
        for joint in actuator.joints.iter() {
            let place = hubwright::bom::place(joint.joint);
            let of = |kind: Kind| {
                bodies
                    .iter()
                    .find(|body| body.kind == kind && body.name.ends_with(place))
                    .map(|body| body.stack.z_range())
            };
            let (Some(screw), Some(insert)) = (of(Kind::Fastener), of(Kind::Insert)) else { continue };
            let shared = f64::min(screw[1], insert[1]) - f64::max(screw[0], insert[0]);
            assert!(
                (shared - joint.engagement()).abs() < 1e-6,
                "{name}, {place}: {shared} against {}",
                joint.engagement()
            );
        }
    }
}

/// The tree of a file, and its binary chunk.
fn read(bytes: &[u8]) -> (Value, &[u8]) {
    let word = |at: usize| u32::from_le_bytes(bytes[at..at + 4].try_into().expect("four bytes")) as usize;
    assert_eq!(&bytes[..4], b"glTF");
    assert_eq!((word(4), word(8)), (2, bytes.len()));
    let text = word(12);
    assert_eq!(&bytes[16..20], b"JSON");
    let data = 20 + text;
    assert_eq!(&bytes[data + 4..data + 8], b"BIN\0");
    assert_eq!(data + 8 + word(data), bytes.len());
    (serde_json::from_slice(&bytes[20..data]).expect("JSON"), &bytes[data + 8..])
}

/// Bounds as declared, indices in range, normals of length one, triangles that face the way their normals do.
#[test]
fn the_glb_keeps_its_promises() {
    let made = make(&demo(MAST)).expect("makes");
    let solids = made.solids().expect("solids");
    let bytes = glb::glb(&made.product.actuator, &solids.scene);
    assert_eq!(bytes, glb::glb(&made.product.actuator, &solids.scene));
    let (tree, data) = read(&bytes);
    let array = |value: &Value| value.as_array().expect("an array").clone();
    let accessor = |index: &Value| tree["accessors"][index.as_u64().expect("an index") as usize].clone();
    let words = |accessor: &Value| -> Vec<[u8; 4]> {
        let view = &tree["bufferViews"][accessor["bufferView"].as_u64().expect("a view") as usize];
        let from = view["byteOffset"].as_u64().expect("offset") as usize;
        let length = view["byteLength"].as_u64().expect("length") as usize;
        data[from..from + length].chunks_exact(4).map(|word| word.try_into().expect("four")).collect()
    };
    let floats = |index: &Value| -> Vec<[f64; 3]> {
        let accessor = accessor(index);
        let values: Vec<f64> =
            words(&accessor).into_iter().map(|word| f64::from(f32::from_le_bytes(word))).collect();
        assert_eq!(values.len(), 3 * accessor["count"].as_u64().expect("count") as usize);
        values.chunks_exact(3).map(|three| [three[0], three[1], three[2]]).collect()
    };
    for mesh in array(&tree["meshes"]) {
        let primitive = &mesh["primitives"][0];
        let position = &primitive["attributes"]["POSITION"];
        let (positions, normals) = (floats(position), floats(&primitive["attributes"]["NORMAL"]));
        assert_eq!(positions.len(), normals.len());
        let declared = accessor(position);
        for axis in 0..3 {
            let least = positions.iter().map(|point| point[axis]).fold(f64::INFINITY, f64::min);
            let most = positions.iter().map(|point| point[axis]).fold(f64::NEG_INFINITY, f64::max);
            let said = |key: &str| declared[key][axis].as_f64().expect("a bound") as f32;
            assert_eq!((said("min"), said("max")), (least as f32, most as f32), "{}", mesh["name"]);
        }
        for normal in &normals {
            let length = normal.iter().map(|x| x * x).sum::<f64>().sqrt();
            assert!((length - 1.0).abs() < 1e-6);
        }
        let indices: Vec<usize> = words(&accessor(&primitive["indices"]))
            .into_iter()
            .map(|word| u32::from_le_bytes(word) as usize)
            .collect();
        let mut against = 0;
        for triangle in indices.chunks_exact(3) {
            let [a, b, c] = [0, 1, 2].map(|k| positions[triangle[k]]);
            let u: [f64; 3] = std::array::from_fn(|k| b[k] - a[k]);
            let v: [f64; 3] = std::array::from_fn(|k| c[k] - a[k]);
            let across = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
            let along: f64 = (0..3).map(|k| across[k] * normals[triangle[0]][k]).sum();
            against += usize::from(along < -1e-9);
        }
        // Slivers of the triangulation may lie any way; a body turned inside out would be all against.
        assert!(against * 200 < indices.len(), "{}: {against} triangles face inwards", mesh["name"]);
    }
    // Every part and every group is a node with a name.
    let names: Vec<String> =
        array(&tree["nodes"]).iter().map(|node| node["name"].as_str().expect("a name").to_string()).collect();
    for part in &made.product.parts {
        let name = part.part.name.as_str();
        let wanted: Vec<String> = match part.part.count {
            1 => vec![name.to_string()],
            count => (1..=count).map(|copy| format!("{name} {copy}")).collect(),
        };
        let copies = names.iter().filter(|node| wanted.contains(node)).count();
        assert_eq!(copies, part.part.count as usize, "{name}");
    }
    for group in ["housing", "rotor", "carrier", "planets"] {
        assert!(names.contains(&group.to_string()));
    }
    let turning = solids.scene.iter().filter(|thing| thing.motion == Motion::Rotor).count();
    assert!(turning >= 4, "cup, adapter, rotor, magnet at least");
}
