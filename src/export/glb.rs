//! `assembly.glb`: the whole actuator as binary glTF 2.0 (ISO/IEC 12113:2022): a node a body, copies as nodes that share a
//! mesh, grouped by what they turn with. Metres and +y up, as the standard asks; the root node turns and scales the
//! actuator's millimetres. `extras` of a node hold its kind, its group and how far it moves in the exploded view.

use serde_json::{Value, json};

use crate::bom::Kind;
use crate::export::colour::{colour, substance_colour};
use crate::parts::{Motion, Place};
use crate::scene::{Surface, Thing};

const MAGIC: &[u8; 4] = b"glTF";
const VERSION: u32 = 2;
const FLOAT: u32 = 5126;
const UNSIGNED: u32 = 5125;
const VERTICES: u32 = 34_962;
const INDICES: u32 = 34_963;

/// The groups, in the order of their nodes.
const GROUPS: [(Motion, &str); 4] = [
    (Motion::Fixed, "housing"),
    (Motion::Rotor, "rotor"),
    (Motion::Carrier, "carrier"),
    (Motion::Planet, "planets"),
];

/// A look: base colour (linear), metallic, roughness.
type Look = ([f64; 3], f64, f64);

/// The file's bytes.
pub fn glb(name: &str, things: &[Thing]) -> Vec<u8> {
    let mut file = File::default();
    let tree = file.tree(name, things);
    let mut text = tree.to_string().into_bytes();
    // Chunks end on multiples of four: spaces for text, zeros for data.
    text.resize(text.len().next_multiple_of(4), b' ');
    let mut data = file.data;
    data.resize(data.len().next_multiple_of(4), 0);
    let length = 12 + 8 + text.len() + 8 + data.len();
    let mut bytes = Vec::with_capacity(length);
    bytes.extend_from_slice(MAGIC);
    bytes.extend(VERSION.to_le_bytes());
    bytes.extend((length as u32).to_le_bytes());
    for (kind, chunk) in [(b"JSON", text), (b"BIN\0", data)] {
        bytes.extend((chunk.len() as u32).to_le_bytes());
        bytes.extend_from_slice(kind);
        bytes.extend(chunk);
    }
    bytes
}

/// The file as it grows.
#[derive(Default)]
struct File {
    data: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
    looks: Vec<(String, Look)>,
}

impl File {
    fn tree(&mut self, name: &str, things: &[Thing]) -> Value {
        let meshes: Vec<Value> = things.iter().map(|thing| self.mesh(thing)).collect();
        let materials: Vec<Value> = self.looks.iter().map(|(name, look)| material(name, *look)).collect();
        // Nodes: the root, the groups, then the copies.
        let mut nodes = vec![Value::Null; 1 + GROUPS.len()];
        let mut children: [Vec<usize>; GROUPS.len()] = Default::default();
        for (index, thing) in things.iter().enumerate() {
            let group = GROUPS.iter().position(|(motion, _)| *motion == thing.motion).unwrap_or(0);
            for (copy, place) in thing.places.iter().enumerate() {
                children[group].push(nodes.len());
                nodes.push(node(thing, index, copy, place));
            }
        }
        // A group without a child may not have an empty list of them.
        let groups: Vec<usize> = (0..GROUPS.len()).filter(|&group| !children[group].is_empty()).collect();
        for (group, (_, group_name)) in GROUPS.iter().enumerate() {
            nodes[1 + group] = json!({ "name": group_name });
            if !children[group].is_empty() {
                nodes[1 + group]["children"] = json!(children[group]);
            }
        }
        let half = std::f64::consts::FRAC_1_SQRT_2;
        nodes[0] = json!({
            "name": name,
            // A quarter turn about x: the actuator's axis z points up.
            "rotation": [-half, 0.0, 0.0, half],
            "scale": [1e-3, 1e-3, 1e-3],
            "children": groups.iter().map(|group| 1 + group).collect::<Vec<_>>(),
        });
        json!({
            "asset": { "version": "2.0", "generator": concat!("hubwright ", env!("CARGO_PKG_VERSION")) },
            "scene": 0,
            "scenes": [{ "name": name, "nodes": [0] }],
            "nodes": nodes,
            "meshes": meshes,
            "materials": materials,
            "accessors": self.accessors,
            "bufferViews": self.views,
            "buffers": [{ "byteLength": self.data.len() }],
        })
    }

    fn mesh(&mut self, thing: &Thing) -> Value {
        let (name, wanted) = match thing.part {
            Some(part) => (format!("{} {}", thing.material, part.as_str()), (linear(colour(part)), 0.0, 0.7)),
            None => (thing.material.clone(), look(&thing.material)),
        };
        let look = self.looks.iter().position(|(known, _)| *known == name).unwrap_or_else(|| {
            self.looks.push((name, wanted));
            self.looks.len() - 1
        });
        let Surface { positions, normals, triangles } = &thing.surface;
        let (low, high) = bounds(positions);
        let position = self.floats(positions, json!({ "min": low, "max": high }));
        let normal = self.floats(normals, json!({}));
        let indices = self.indices(triangles);
        json!({
            "name": thing.name,
            "primitives": [{
                "attributes": { "POSITION": position, "NORMAL": normal },
                "indices": indices,
                "material": look,
            }],
        })
    }

    fn floats(&mut self, values: &[[f32; 3]], bounds: Value) -> usize {
        let bytes = values.iter().flatten().flat_map(|value| value.to_le_bytes()).collect();
        let view = self.view(bytes, VERTICES);
        let mut accessor = json!({
            "bufferView": view, "componentType": FLOAT, "count": values.len(), "type": "VEC3",
        });
        if let (Value::Object(accessor), Value::Object(bounds)) = (&mut accessor, bounds) {
            accessor.extend(bounds);
        }
        self.accessors.push(accessor);
        self.accessors.len() - 1
    }

    fn indices(&mut self, triangles: &[[u32; 3]]) -> usize {
        let bytes = triangles.iter().flatten().flat_map(|index| index.to_le_bytes()).collect();
        let view = self.view(bytes, INDICES);
        self.accessors.push(json!({
            "bufferView": view, "componentType": UNSIGNED, "count": 3 * triangles.len(), "type": "SCALAR",
        }));
        self.accessors.len() - 1
    }

    /// All are of four-byte numbers, so that every view begins on a multiple of four.
    fn view(&mut self, bytes: Vec<u8>, target: u32) -> usize {
        self.views.push(json!({
            "buffer": 0, "byteOffset": self.data.len(), "byteLength": bytes.len(), "target": target,
        }));
        self.data.extend(bytes);
        self.views.len() - 1
    }
}

fn node(thing: &Thing, mesh: usize, copy: usize, place: &Place) -> Value {
    let name = match thing.places.len() {
        1 => thing.name.clone(),
        _ => format!("{} {}", thing.name, copy + 1),
    };
    let mut node = json!({
        "name": name,
        "mesh": mesh,
        "extras": {
            "kind": thing.kind.as_str(),
            "material": thing.material,
            "printed": thing.kind == Kind::Printed,
            "apart_mm": rounded(thing.apart),
        },
    });
    let (sine, cosine) = (libm::sin(place.angle), libm::cos(place.angle));
    if place.distance != 0.0 {
        node["translation"] = json!([rounded(place.distance * cosine), rounded(place.distance * sine), 0.0]);
    }
    // A body out on a circle is turned about its own axis alone.
    if place.turn != 0.0 {
        let half = place.turn / 2.0;
        node["rotation"] = json!([0.0, 0.0, libm::sin(half), libm::cos(half)]);
    }
    node
}

/// Nanometres: finer than any screen.
fn rounded(value: f64) -> f64 {
    (value * 1e6).round() / 1e6 + 0.0
}

fn bounds(positions: &[[f32; 3]]) -> ([f32; 3], [f32; 3]) {
    let empty = ([f32::INFINITY; 3], [f32::NEG_INFINITY; 3]);
    positions.iter().fold(empty, |(low, high), position| {
        (
            std::array::from_fn(|axis| low[axis].min(position[axis])),
            std::array::from_fn(|axis| high[axis].max(position[axis])),
        )
    })
}

/// A colour on a screen turned into the linear one that the standard asks.
fn linear(colour: [f64; 3]) -> [f64; 3] {
    // IEC 61966-2-1, without its short straight piece: nothing here is that dark.
    colour.map(|value| libm::pow((value + 0.055) / 1.055, 2.4))
}

/// A bought body: metals shine, boards and paint don't.
fn look(name: &str) -> Look {
    let (metallic, roughness) = match name {
        "painted steel" => (0.3, 0.5),
        "circuit board" => (0.0, 0.6),
        _ => (0.9, 0.35),
    };
    (linear(substance_colour(name)), metallic, roughness)
}

fn material(name: &str, (colour, metallic, roughness): Look) -> Value {
    json!({
        "name": name,
        "pbrMetallicRoughness": {
            "baseColorFactor": [colour[0], colour[1], colour[2], 1.0],
            "metallicFactor": metallic,
            "roughnessFactor": roughness,
        },
    })
}
