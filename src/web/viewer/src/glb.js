// Reads the binary glTF that hubwright writes (see src/export/glb.rs): a root, groups by what they turn with, bodies in them.
// Numbers stay where they are in the buffer: nothing is copied but what goes to the graphics card.
import { BufferAttribute, BufferGeometry, Box3, InterleavedBuffer, InterleavedBufferAttribute, Sphere, Vector3 } from 'three';

const MAGIC = 0x46546c67;
const JSON_CHUNK = 0x4e4f534a;
const BINARY_CHUNK = 0x004e4942;
const ARRAYS = {
  5120: Int8Array, 5121: Uint8Array, 5122: Int16Array, 5123: Uint16Array, 5125: Uint32Array, 5126: Float32Array,
};
const ITEMS = { SCALAR: 1, VEC3: 3 };

// The tree and the binary chunk.
function chunks(buffer) {
  const words = new DataView(buffer);
  if (buffer.byteLength < 20 || words.getUint32(0, true) !== MAGIC || words.getUint32(4, true) !== 2) {
    throw new Error('not a binary glTF 2.0 file');
  }
  if (words.getUint32(8, true) > buffer.byteLength) throw new Error('the glTF file is cut short');
  const found = {};
  for (let at = 12; at + 8 <= buffer.byteLength;) {
    const length = words.getUint32(at, true);
    found[words.getUint32(at + 4, true)] = new Uint8Array(buffer, at + 8, length);
    at += 8 + length;
  }
  if (!found[JSON_CHUNK] || !found[BINARY_CHUNK]) throw new Error('the glTF file lacks a chunk');
  return [JSON.parse(new TextDecoder().decode(found[JSON_CHUNK])), found[BINARY_CHUNK]];
}

function attribute(tree, data, index) {
  const accessor = tree.accessors[index];
  const view = tree.bufferViews[accessor.bufferView];
  const numbers = ARRAYS[accessor.componentType];
  const items = ITEMS[accessor.type];
  const from = data.byteOffset + (view.byteOffset ?? 0) + (accessor.byteOffset ?? 0);
  const stride = (view.byteStride ?? 0) / numbers.BYTES_PER_ELEMENT;
  if (stride > items) {
    const all = new InterleavedBuffer(new numbers(data.buffer, from, accessor.count * stride), stride);
    return new InterleavedBufferAttribute(all, items, 0, accessor.normalized === true);
  }
  const array = new numbers(data.buffer, from, accessor.count * items);
  return new BufferAttribute(array, items, accessor.normalized === true);
}

function geometry(tree, data, mesh) {
  const [primitive] = mesh.primitives;
  const shape = new BufferGeometry();
  shape.setAttribute('position', attribute(tree, data, primitive.attributes.POSITION));
  shape.setAttribute('normal', attribute(tree, data, primitive.attributes.NORMAL));
  shape.setIndex(attribute(tree, data, primitive.indices));
  const { min, max } = tree.accessors[primitive.attributes.POSITION];
  shape.boundingBox = new Box3(new Vector3(...min), new Vector3(...max));
  shape.boundingSphere = shape.boundingBox.getBoundingSphere(new Sphere());
  return shape;
}

// { name, unit (mm), groups: [{ name, turns, ownTurns, bodies: [{ name, part, place, turn, apart (mm), facts, mesh }] }],
//   meshes: [{ name, geometry, look }] }; lengths in the file's unit where not said.
export function read(buffer) {
  const [tree, data] = chunks(buffer);
  const root = tree.nodes[tree.scenes[tree.scene ?? 0].nodes[0]];
  const meshes = tree.meshes.map((mesh) => {
    const material = tree.materials[mesh.primitives[0].material];
    const { baseColorFactor, metallicFactor } = material.pbrMetallicRoughness;
    return {
      name: mesh.name,
      geometry: geometry(tree, data, mesh),
      look: { name: material.name, colour: baseColorFactor.slice(0, 3), metal: metallicFactor },
    };
  });
  const groups = root.children.map((index) => {
    const group = tree.nodes[index];
    return {
      name: group.name,
      turns: group.extras?.turns ?? 0,
      ownTurns: group.extras?.own_turns ?? 0,
      bodies: (group.children ?? []).map((child) => {
        const node = tree.nodes[child];
        const [, , z, w] = node.rotation ?? [0, 0, 0, 1];
        return {
          name: node.name,
          part: meshes[node.mesh].name,
          mesh: meshes[node.mesh],
          place: node.translation ?? [0, 0, 0],
          turn: 2 * Math.atan2(z, w),
          apart: node.extras?.apart_mm ?? 0,
          facts: node.extras ?? {},
        };
      }),
    };
  });
  return { name: root.name, unit: root.extras?.unit_mm ?? 1, groups, meshes };
}
