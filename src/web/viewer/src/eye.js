// Where one looks from: turned, moved and zoomed by pointer, touch and keys; named views.
import { MOUSE, OrthographicCamera, Sphere, Spherical, Vector3 } from 'three';
import { OrbitControls } from 'three/examples/jsm/controls/OrbitControls.js';

// From where each view looks, the actuator's axis being z.
const VIEWS = {
  iso: [1, -1.25, 0.85], front: [0, -1, 0], back: [0, 1, 0], left: [-1, 0, 0], right: [1, 0, 0],
  top: [0, -1e-4, 1], bottom: [0, -1e-4, -1],
};
const STEP = Math.PI / 24;

export class Eye {
  constructor(canvas, changed) {
    this.camera = new OrthographicCamera(-1, 1, 1, -1, -2000, 4000);
    this.camera.up.set(0, 0, 1);
    this.sphere = new Sphere(new Vector3(), 100);
    this.aspect = 1;
    this.controls = new OrbitControls(this.camera, canvas);
    this.controls.mouseButtons = { LEFT: MOUSE.ROTATE, MIDDLE: MOUSE.PAN, RIGHT: MOUSE.PAN };
    this.controls.minZoom = 0.2;
    this.controls.maxZoom = 40;
    this.controls.addEventListener('change', changed);
    this.changed = changed;
    this.view('iso');
  }

  static names() { return Object.keys(VIEWS); }

  resize(width, height) {
    this.aspect = width / Math.max(height, 1);
    this.#frustum();
  }

  // The whole sphere in sight at zoom 1.
  around(sphere) {
    this.sphere = sphere.clone();
    this.#frustum();
  }

  #frustum() {
    const half = this.sphere.radius / Math.min(1, this.aspect);
    Object.assign(this.camera, { left: -half * this.aspect, right: half * this.aspect, top: half, bottom: -half });
    // In front of everything and behind it, wherever the eye is moved.
    this.camera.near = -20 * this.sphere.radius;
    this.camera.far = 40 * this.sphere.radius;
    this.camera.updateProjectionMatrix();
    this.changed();
  }

  view(name) {
    const from = VIEWS[name];
    if (!from) throw new Error(`no view "${name}"; there are ${Object.keys(VIEWS).join(', ')}`);
    this.controls.target.copy(this.sphere.center);
    const away = new Vector3(...from).setLength(4 * this.sphere.radius);
    this.camera.position.copy(this.sphere.center).add(away);
    this.camera.zoom = 1;
    this.camera.updateProjectionMatrix();
    this.controls.update();
    this.changed();
  }

  // Keeps direction and zoom, moves with the middle of what is shown.
  follow(centre) {
    const shift = centre.clone().sub(this.sphere.center);
    this.controls.target.add(shift);
    this.camera.position.add(shift);
    this.controls.update();
  }

  turn(around, upwards) {
    const offset = this.camera.position.clone().sub(this.controls.target);
    // Spherical has y up.
    const place = new Spherical().setFromVector3(new Vector3(offset.x, offset.z, -offset.y));
    place.theta += around * STEP;
    place.phi = Math.min(Math.PI - 1e-3, Math.max(1e-3, place.phi - upwards * STEP));
    const turned = new Vector3().setFromSpherical(place);
    this.camera.position.copy(this.controls.target).add(new Vector3(turned.x, -turned.z, turned.y));
    this.controls.update();
    this.changed();
  }

  zoom(factor) {
    this.camera.zoom = Math.min(40, Math.max(0.2, this.camera.zoom * factor));
    this.camera.updateProjectionMatrix();
    this.changed();
  }

  dispose() { this.controls.dispose(); }
}
