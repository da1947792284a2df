//! `assembly.glb`: the whole actuator as binary glTF 2.0 (ISO/IEC 12113:2022): a node a body, copies as nodes that share a
//! mesh, grouped by what they turn with. Metres and +y up, as the standard asks; the root node turns and scales the
//! actuator's millimetres. `extras` of a node hold its kind, material and mass and how far it moves in the exploded view, those
//! of a group how it turns with the rotor.
//!
//! The compact form (extension KHR_mesh_quantization) has whole numbers in the place of most floats, for pages that carry the
//! actuator with them: half the bytes.

use serde_json::{Value, json};

use crate::bom::Kind;
use crate::export::colour::{colour, substance_colour};
use crate::gears::Stage;
use crate::layout::Actuator;
use crate::parts::{Motion, Place};
use crate::scene::{Surface, Thing};

const MAGIC: &[u8; 4] = b"glTF";
const VERSION: u32 = 2;
const BYTE: u32 = 5120;
const SHORT: u32 = 5122;
const UNSIGNED_SHORT: u32 = 5123;
const UNSIGNED: u32 = 5125;
const FLOAT: u32 = 5126;
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

/// How numbers are written.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Numbers {
    /// 32 bits, in millimetres.
    Floats,
    /// 16 bits a coordinate, in units of so many millimetres; 8 bits for normals.
    Whole { unit: f64 },
}

/// The file's bytes.
pub fn glb(actuator: &Actuator, things: &[Thing]) -> Vec<u8> {
    written(actuator, things, Numbers::Floats)
}

/// The same, compact. Coordinates are rounded to one 32 767th of the largest: 3 micrometres at 100 mm.
pub fn compact(actuator: &Actuator, things: &[Thing]) -> Vec<u8> {
    let coordinates = things.iter().flat_map(|thing| thing.surface.positions.iter().flatten());
    let largest = coordinates.fold(1.0_f64, |largest, value| largest.max(f64::from(value.abs())));
    written(actuator, things, Numbers::Whole { unit: largest / f64::from(i16::MAX) })
}

fn written(actuator: &Actuator, things: &[Thing], numbers: Numbers) -> Vec<u8> {
    let mut file =
        File { numbers, data: Vec::new(), views: Vec::new(), accessors: Vec::new(), looks: Vec::new() };
    let tree = file.tree(actuator, things);
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
struct File {
    numbers: Numbers,
    data: Vec<u8>,
    views: Vec<Value>,
    accessors: Vec<Value>,
    looks: Vec<(String, Look)>,
}

impl File {
    fn tree(&mut self, actuator: &Actuator, things: &[Thing]) -> Value {
        let name = &actuator.design.name;
        let unit = self.unit();
        let meshes: Vec<Value> = things.iter().map(|thing| self.mesh(thing)).collect();
        let materials: Vec<Value> = self.looks.iter().map(|(name, look)| material(name, *look)).collect();
        // Nodes: the root, the groups, then the copies.
        let mut nodes = vec![Value::Null; 1 + GROUPS.len()];
        let mut children: [Vec<usize>; GROUPS.len()] = Default::default();
        for (index, thing) in things.iter().enumerate() {
            let group = GROUPS.iter().position(|(motion, _)| *motion == thing.motion).unwrap_or(0);
            for (copy, place) in thing.places.iter().enumerate() {
                children[group].push(nodes.len());
                nodes.push(node(thing, index, copy, place, unit));
            }
        }
        // A group without a child may not have an empty list of them.
        let groups: Vec<usize> = (0..GROUPS.len()).filter(|&group| !children[group].is_empty()).collect();
        for (group, (motion, group_name)) in GROUPS.iter().enumerate() {
            nodes[1 + group] = json!({ "name": group_name, "extras": turning(*motion, &actuator.stage) });
            if !children[group].is_empty() {
                nodes[1 + group]["children"] = json!(children[group]);
            }
        }
        let half = std::f64::consts::FRAC_1_SQRT_2;
        let scale = [1e-3 * unit; 3];
        nodes[0] = json!({
            "name": name,
            // A quarter turn about x: the actuator's axis z points up.
            "rotation": [-half, 0.0, 0.0, half],
            "scale": scale,
            "extras": { "unit_mm": unit },
            "children": groups.iter().map(|group| 1 + group).collect::<Vec<_>>(),
        });
        let mut tree = json!({
            "asset": { "version": "2.0", "generator": concat!("hubwright ", env!("CARGO_PKG_VERSION")) },
            "scene": 0,
            "scenes": [{ "name": name, "nodes": [0] }],
            "nodes": nodes,
            "meshes": meshes,
            "materials": materials,
            "accessors": self.accessors,
            "bufferViews": self.views,
            "buffers": [{ "byteLength": self.data.len() }],
        });
        if self.numbers != Numbers::Floats {
            for key in ["extensionsUsed", "extensionsRequired"] {
                tree[key] = json!(["KHR_mesh_quantization"]);
            }
        }
        tree
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
        let (position, normal) = match self.numbers {
            Numbers::Floats => {
                let (low, high) = bounds(positions);
                let position = self.floats(positions, json!({ "min": low, "max": high }));
                (position, self.floats(normals, json!({})))
            }
            Numbers::Whole { unit } => (self.shorts(positions, unit), self.bytes(normals)),
        };
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

    /// Coordinates in units of `unit` mm. A vertex takes eight bytes, since each must begin on a multiple of four.
    fn shorts(&mut self, positions: &[[f32; 3]], unit: f64) -> usize {
        let whole = |value: f32| (f64::from(value) / unit).round() as i16;
        let rounded: Vec<[i16; 3]> = positions.iter().map(|position| position.map(whole)).collect();
        let bounds = |pick: fn(i16, i16) -> i16, start: i16| -> [i16; 3] {
            std::array::from_fn(|axis| {
                rounded.iter().fold(start, |so_far, position| pick(so_far, position[axis]))
            })
        };
        let (low, high) = (bounds(i16::min, i16::MAX), bounds(i16::max, i16::MIN));
        let padded = rounded.iter().flat_map(|[x, y, z]| [*x, *y, *z, 0]);
        let view = self.strided(padded.flat_map(i16::to_le_bytes).collect(), 8);
        self.accessors.push(json!({
            "bufferView": view, "componentType": SHORT, "count": positions.len(), "type": "VEC3",
            "min": low, "max": high,
        }));
        self.accessors.len() - 1
    }

    /// Directions in 127ths; four bytes a vertex.
    fn bytes(&mut self, normals: &[[f32; 3]]) -> usize {
        let whole = |value: f32| (value * f32::from(i8::MAX)).round() as i8;
        let padded = normals.iter().flat_map(|normal| {
            let [x, y, z] = normal.map(whole);
            [x, y, z, 0]
        });
        let view = self.strided(padded.flat_map(i8::to_le_bytes).collect(), 4);
        self.accessors.push(json!({
            "bufferView": view, "componentType": BYTE, "normalized": true, "count": normals.len(), "type": "VEC3",
        }));
        self.accessors.len() - 1
    }

    fn indices(&mut self, triangles: &[[u32; 3]]) -> usize {
        let indices = || triangles.iter().flatten().copied();
        // The largest 16-bit index is kept for drawing strips.
        let short = self.numbers != Numbers::Floats && indices().all(|index| index < u32::from(u16::MAX));
        let (kind, bytes) = match short {
            true => (UNSIGNED_SHORT, indices().flat_map(|index| (index as u16).to_le_bytes()).collect()),
            false => (UNSIGNED, indices().flat_map(u32::to_le_bytes).collect::<Vec<u8>>()),
        };
        let view = self.view(bytes, INDICES);
        self.accessors.push(json!({
            "bufferView": view, "componentType": kind, "count": 3 * triangles.len(), "type": "SCALAR",
        }));
        self.accessors.len() - 1
    }

    fn strided(&mut self, bytes: Vec<u8>, stride: usize) -> usize {
        let view = self.view(bytes, VERTICES);
        self.views[view]["byteStride"] = json!(stride);
        view
    }

    /// Every view begins on a multiple of four, as its numbers ask.
    fn view(&mut self, bytes: Vec<u8>, target: u32) -> usize {
        self.views.push(json!({
            "buffer": 0, "byteOffset": self.data.len(), "byteLength": bytes.len(), "target": target,
        }));
        self.data.extend(bytes);
        self.data.resize(self.data.len().next_multiple_of(4), 0);
        self.views.len() - 1
    }

    /// Millimetres in one unit of the file's coordinates.
    fn unit(&self) -> f64 {
        match self.numbers {
            Numbers::Floats => 1.0,
            Numbers::Whole { unit } => unit,
        }
    }
}

/// Turns of a group for one of the rotor's; of what sits on the pins also turns about its own pin, against the carrier: with the
/// ring held, the planets roll back in it.
fn turning(motion: Motion, stage: &Stage) -> Value {
    let carrier = 1.0 / stage.ratio;
    match motion {
        Motion::Fixed => json!({ "turns": 0.0 }),
        Motion::Rotor => json!({ "turns": 1.0 }),
        Motion::Carrier => json!({ "turns": carrier }),
        Motion::Planet => {
            let teeth = f64::from(stage.ring.teeth) / f64::from(stage.planet.teeth);
            json!({ "turns": carrier, "own_turns": -carrier * teeth })
        }
    }
}

fn node(thing: &Thing, mesh: usize, copy: usize, place: &Place, unit: f64) -> Value {
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
    if let Some(mass) = &thing.mass {
        node["extras"]["mass_g"] = json!(rounded(mass.value * 1e3));
        if let Some(whole) = &mass.whole {
            node["extras"]["mass_of"] = json!(whole);
        }
    }
    let (sine, cosine) = (libm::sin(place.angle), libm::cos(place.angle));
    if place.distance != 0.0 {
        let out = place.distance / unit;
        node["translation"] = json!([rounded(out * cosine), rounded(out * sine), 0.0]);
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
