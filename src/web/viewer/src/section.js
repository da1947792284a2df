// A plane through the axis (or beside it) cuts everything away on its near side. Cut faces are closed by counting walls behind the
// plane in the stencil buffer, material by material, and are hatched: each material in its own direction.
import {
  AlwaysStencilFunc, BackSide, Color, DecrementWrapStencilOp, DoubleSide, FrontSide, IncrementWrapStencilOp, Mesh, MeshBasicMaterial,
  NotEqualStencilFunc, Plane, PlaneGeometry, ShaderMaterial, Vector3, ZeroStencilOp,
} from 'three';

const VERTEX = 'void main() { gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0); }';
const FRAGMENT = `
uniform vec3 colour;
uniform vec2 lean;
uniform float spacing;
void main() {
  float across = mod(dot(gl_FragCoord.xy, lean), spacing);
  float ink = smoothstep(1.0, 1.8, abs(across - 0.5 * spacing));
  gl_FragColor = vec4(mix(colour * 0.42, colour, ink), 1.0);
  #include <colorspace_fragment>
}`;

export class Section {
  constructor(scene) {
    this.scene = scene;
    this.plane = new Plane(new Vector3(0, 1, 0), 0);
    this.on = false;
    this.helpers = [];
    this.shared = [];
  }

  // `angle` about the axis in radians, `offset` from it in millimetres.
  place(angle, offset) {
    this.plane.normal.set(Math.sin(angle), Math.cos(angle), 0);
    this.plane.constant = offset;
    this.#align();
  }

  // Builds the counting meshes and caps for a model, or takes them away.
  apply(model, on, size, pixels) {
    this.clear();
    this.on = on && model !== null;
    if (!model) return;
    const planes = this.on ? [this.plane] : null;
    for (const material of [...model.materials.values(), ...(model.mark ? [model.mark] : [])]) {
      material.clippingPlanes = planes;
      material.needsUpdate = true;
    }
    if (!this.on) return;
    const square = new PlaneGeometry(4 * size, 4 * size);
    this.shared.push(square);
    [...model.materials.keys()].forEach((name, index) => {
      const order = 10 + index;
      for (const body of model.bodies) {
        if (body.userData.mesh.look.name === name) this.#count(body, order);
      }
      this.#cap(square, model.materials.get(name).color, index, order, pixels);
    });
    this.#align();
  }

  #count(body, order) {
    for (const [side, step] of [[BackSide, IncrementWrapStencilOp], [FrontSide, DecrementWrapStencilOp]]) {
      const material = new MeshBasicMaterial({
        side, clippingPlanes: [this.plane], colorWrite: false, depthWrite: false, depthTest: false,
        stencilWrite: true, stencilFunc: AlwaysStencilFunc, stencilFail: step, stencilZFail: step, stencilZPass: step,
      });
      const counter = new Mesh(body.geometry, material);
      counter.renderOrder = order;
      counter.raycast = () => {};
      // Goes wherever the body goes, hidden with it.
      body.add(counter);
      this.helpers.push(counter);
    }
  }

  #cap(square, colour, index, order, pixels) {
    const turn = [0.785, -0.785, 0.45, -0.45, 1.1, -1.1][index % 6];
    const material = new ShaderMaterial({
      vertexShader: VERTEX, fragmentShader: FRAGMENT, side: DoubleSide,
      uniforms: {
        colour: { value: new Color(colour) },
        lean: { value: [Math.cos(turn), Math.sin(turn)] },
        spacing: { value: (7 + 2 * (index % 3)) * pixels },
      },
      stencilWrite: true, stencilRef: 0, stencilFunc: NotEqualStencilFunc,
      stencilFail: ZeroStencilOp, stencilZFail: ZeroStencilOp, stencilZPass: ZeroStencilOp,
    });
    const cap = new Mesh(square, material);
    cap.renderOrder = order + 0.5;
    cap.frustumCulled = false;
    cap.raycast = () => {};
    cap.userData.cap = true;
    this.scene.add(cap);
    this.helpers.push(cap);
  }

  #align() {
    const middle = this.plane.coplanarPoint(new Vector3());
    for (const helper of this.helpers) {
      if (!helper.userData.cap) continue;
      helper.position.copy(middle);
      helper.lookAt(middle.clone().sub(this.plane.normal));
      helper.updateMatrixWorld(true);
    }
  }

  cuts(point) {
    return this.on && this.plane.distanceToPoint(point) < 0;
  }

  clear() {
    for (const helper of this.helpers) {
      helper.removeFromParent();
      helper.material.dispose();
    }
    for (const shape of this.shared) shape.dispose();
    this.helpers = [];
    this.shared = [];
  }
}
