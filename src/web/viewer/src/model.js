// The actuator in the scene: meshes at their places, pulled apart, turned and hidden as the viewer's state says.
import { Color, DoubleSide, Group, Mesh, MeshPhongMaterial, Vector3 } from 'three';

const UP = new Vector3(0, 0, 1);
const PICKED = new Color(0x1450a0);

export class Model {
  constructor(file) {
    this.file = file;
    this.root = new Group();
    // Millimetres, whatever the file's unit.
    this.root.scale.setScalar(file.unit);
    this.materials = new Map();
    this.bodies = [];
    this.groups = file.groups.map((group) => this.#group(group));
    this.picked = null;
    this.root.updateMatrixWorld(true);
  }

  #group(group) {
    const holder = new Group();
    holder.name = group.name;
    for (const body of group.bodies) {
      const mesh = new Mesh(body.mesh.geometry, this.#material(body.mesh.look));
      mesh.name = body.name;
      mesh.userData = body;
      mesh.position.set(...body.place);
      mesh.rotation.z = body.turn;
      holder.add(mesh);
      this.bodies.push(mesh);
    }
    this.root.add(holder);
    return { holder, turns: group.turns, ownTurns: group.ownTurns };
  }

  #material(look) {
    if (!this.materials.has(look.name)) {
      const shine = look.metal > 0.5;
      this.materials.set(look.name, new MeshPhongMaterial({
        color: new Color().setRGB(...look.colour),
        specular: shine ? 0x9a9a9a : 0x1c1c1c,
        shininess: shine ? 70 : 16,
        // Slivers of cut bodies show their inside.
        side: DoubleSide,
      }));
    }
    return this.materials.get(look.name);
  }

  // Parts in the file's order, copies together.
  parts() {
    const found = new Map();
    for (const { userData: { part, facts } } of this.bodies) {
      const known = found.get(part);
      if (known) known.count += 1;
      else found.set(part, { ...describe(part, facts), count: 1 });
    }
    return [...found.values()];
  }

  explode(share) {
    for (const mesh of this.bodies) {
      mesh.position.z = mesh.userData.place[2] + share * mesh.userData.apart / this.file.unit;
    }
    this.root.updateMatrixWorld(true);
  }

  // `turns` of the rotor since it stood.
  turn(turns) {
    const circle = 2 * Math.PI;
    for (const { holder, turns: rate, ownTurns } of this.groups) {
      holder.quaternion.setFromAxisAngle(UP, circle * ((turns * rate) % 1));
      if (ownTurns === 0) continue;
      for (const mesh of holder.children) mesh.rotation.z = mesh.userData.turn + circle * ((turns * ownTurns) % 1);
    }
    this.root.updateMatrixWorld(true);
  }

  show(hidden) {
    for (const mesh of this.bodies) mesh.visible = !hidden.has(mesh.userData.part);
  }

  // Marks all copies of a part, or none.
  pick(part) {
    this.picked = part;
    for (const mesh of this.bodies) {
      const plain = this.#material(mesh.userData.mesh.look);
      if (mesh.userData.part !== part) { mesh.material = plain; continue; }
      this.mark ??= new MeshPhongMaterial({ side: DoubleSide });
      this.mark.copy(plain);
      this.mark.emissive = PICKED;
      mesh.material = this.mark;
    }
  }

  dispose() {
    for (const { geometry } of this.file.meshes) geometry.dispose();
    for (const material of this.materials.values()) material.dispose();
    this.mark?.dispose();
  }
}

export function describe(part, facts) {
  return {
    name: part,
    kind: facts.kind ?? '',
    material: facts.material ?? '',
    massGrams: facts.mass_g ?? null,
    massOf: facts.mass_of ?? null,
  };
}
