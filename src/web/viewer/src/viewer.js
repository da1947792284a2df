// The 3D view of an actuator. `Hubwright.viewer(element, options)` fills the element with a canvas and gives what the page needs to
// work it; a page's own controls call the same functions as the keys do.
import { AmbientLight, Box3, Color, DirectionalLight, HemisphereLight, Raycaster, Scene, Sphere, Vector2, Vector3, WebGLRenderer } from 'three';
import { read } from './glb.js';
import { Model, describe } from './model.js';
import { Section } from './section.js';
import { Eye } from './eye.js';

const HELP = 'arrow keys turn, plus and minus zoom, 1 to 7 views, E pulls apart, C cuts, Space spins, N next part, H hides it, A shows all';
const VIEW_KEYS = ['iso', 'front', 'back', 'left', 'right', 'top', 'bottom'];

export { controls, facts } from './controls.js';

// options: label (what it shows, for screen readers), background (CSS colour, none: transparent), rpm (of the rotor).
// Throws where the browser has no WebGL: the page then shows its picture.
export function viewer(element, options = {}) {
  return new Viewer(element, options);
}

class Viewer {
  #pickers = [];
  #changers = [];
  #model = null;
  #hidden = new Set();
  #state = { explode: 0, section: false, angle: 0, offset: 0, spin: false, rpm: 6, turns: 0, picked: null };
  #waiting = 0;
  #last = 0;

  constructor(element, options) {
    this.element = element;
    const canvas = document.createElement('canvas');
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true, stencil: true, preserveDrawingBuffer: false });
    this.#renderer.localClippingEnabled = true;
    this.#renderer.setPixelRatio(Math.min(window.devicePixelRatio || 1, 2));
    this.#state.rpm = options.rpm ?? 6;
    this.canvas = canvas;
    canvas.tabIndex = 0;
    canvas.setAttribute('role', 'application');
    canvas.setAttribute('aria-label', `${options.label ?? '3D view'}: ${HELP}`);
    canvas.style.cssText = 'display:block;width:100%;height:100%;touch-action:none';
    element.append(canvas);
    this.#scene = new Scene();
    if (options.background) this.#scene.background = new Color(options.background);
    this.#eye = new Eye(canvas, () => this.#ask());
    this.#light();
    this.#section = new Section(this.#scene);
    this.#listen();
    this.#resize();
  }

  #renderer; #scene; #eye; #section; #watch; #lamp;

  #light() {
    this.#lamp = new DirectionalLight(0xffffff, 1.9);
    const fill = new DirectionalLight(0xffffff, 0.6);
    fill.position.set(-3, 2, 1);
    this.#scene.add(new AmbientLight(0xffffff, 0.55), new HemisphereLight(0xffffff, 0x8a8f96, 0.9), fill, this.#lamp);
  }

  // ArrayBuffer of a GLB. What one looks at, how far it is apart, what is cut, hidden and picked stays when another is loaded.
  load(buffer) {
    const model = new Model(read(buffer));
    const first = this.#model === null;
    if (!first) {
      this.#section.clear();
      this.#scene.remove(this.#model.root);
      this.#model.dispose();
    }
    this.#model = model;
    this.#scene.add(model.root);
    const parts = new Set(model.parts().map((part) => part.name));
    this.#hidden = new Set([...this.#hidden].filter((name) => parts.has(name)));
    if (!parts.has(this.#state.picked)) this.#state.picked = null;
    model.explode(this.#state.explode);
    model.turn(this.#state.turns);
    model.show(this.#hidden);
    model.pick(this.#state.picked);
    this.#cut();
    this.#frame();
    if (first) this.#eye.view('iso');
    this.#tell();
    return this;
  }

  // [{ name, kind, material, massGrams, massOf, count, hidden }]; massOf names the bought unit whose mass is told.
  parts() {
    return (this.#model?.parts() ?? []).map((part) => ({ ...part, hidden: this.#hidden.has(part.name) }));
  }

  // What the page's controls should show.
  state() {
    return { ...this.#state, hidden: [...this.#hidden] };
  }

  // 0 together, 1 apart.
  explode(share) {
    this.#state.explode = Math.min(1, Math.max(0, Number(share) || 0));
    this.#model?.explode(this.#state.explode);
    this.#frame();
    this.#tell();
  }

  // A plane along the axis at an angle [degrees], beside it by an offset [mm].
  section(on, angle = this.#state.angle, offset = this.#state.offset) {
    const rebuilt = this.#state.section !== Boolean(on);
    Object.assign(this.#state, { section: Boolean(on), angle: Number(angle) || 0, offset: Number(offset) || 0 });
    this.#section.place(this.#state.angle * Math.PI / 180, this.#state.offset);
    if (rebuilt) this.#cut();
    this.#tell();
  }

  // The rotor at so many turns a minute, the rest at the stage's ratio.
  spin(on, rpm = this.#state.rpm) {
    Object.assign(this.#state, { spin: Boolean(on), rpm: Number(rpm) || 0 });
    this.#last = performance.now();
    this.#tell();
  }

  hide(name, hidden = true) {
    if (hidden) this.#hidden.add(name); else this.#hidden.delete(name);
    this.#model?.show(this.#hidden);
    this.#tell();
  }

  showAll() {
    this.#hidden.clear();
    this.#model?.show(this.#hidden);
    this.#tell();
  }

  // Marks a part; null marks none. Callbacks get its facts, or null.
  pick(name) {
    const part = this.parts().find((one) => one.name === name) ?? null;
    this.#state.picked = part?.name ?? null;
    this.#model?.pick(this.#state.picked);
    // The mark is a material of its own, that has to be cut too.
    if (this.#state.section) this.#cut();
    for (const callback of this.#pickers) callback(part);
    this.#tell();
  }

  onPick(callback) { this.#pickers.push(callback); }

  // After every change of state, by whatever way it came.
  onChange(callback) { this.#changers.push(callback); }

  view(name) { this.#eye.view(name); }

  // Facts of the topmost body under a point of the window, or null.
  at(x, y) {
    if (!this.#model) return null;
    const frame = this.canvas.getBoundingClientRect();
    const point = new Vector2(2 * (x - frame.left) / frame.width - 1, 1 - 2 * (y - frame.top) / frame.height);
    const ray = new Raycaster();
    ray.setFromCamera(point, this.#eye.camera);
    // An orthographic eye looks from before everything.
    ray.ray.origin.addScaledVector(ray.ray.direction, -20 * this.#eye.sphere.radius);
    const seen = this.#model.bodies.filter((body) => body.visible);
    const hit = ray.intersectObjects(seen, false).find((found) => !this.#section.cuts(found.point));
    return hit ? describe(hit.object.userData.part, hit.object.userData.facts) : null;
  }

  // The picture as it stands, as a PNG data address.
  picture() {
    this.#draw(performance.now());
    return this.canvas.toDataURL('image/png');
  }

  dispose() {
    cancelAnimationFrame(this.#waiting);
    this.#watch?.disconnect();
    this.#section.clear();
    this.#model?.dispose();
    this.#eye.dispose();
    this.#renderer.dispose();
    this.canvas.remove();
  }

  #cut() {
    const size = this.#eye.sphere.radius;
    const reach = this.#model ? Math.max(size, this.#extent(1).radius) : size;
    this.#section.apply(this.#model, this.#state.section, reach, this.#renderer.getPixelRatio());
    this.#ask();
  }

  #extent(share) {
    const box = new Box3();
    for (const body of this.#model.bodies) {
      const reach = body.geometry.boundingBox.clone();
      const lift = body.userData.place[2] + share * body.userData.apart / this.#model.file.unit;
      reach.translate(new Vector3(body.userData.place[0], body.userData.place[1], lift));
      box.union(reach);
    }
    box.min.multiplyScalar(this.#model.file.unit);
    box.max.multiplyScalar(this.#model.file.unit);
    return box.getBoundingSphere(new Sphere());
  }

  #frame() {
    if (!this.#model) return;
    const sphere = this.#extent(this.#state.explode);
    this.#eye.follow(sphere.center);
    this.#eye.around(sphere);
  }

  #listen() {
    let down = null;
    this.canvas.addEventListener('pointerdown', (event) => { down = [event.clientX, event.clientY]; });
    this.canvas.addEventListener('pointerup', (event) => {
      const still = down && Math.hypot(event.clientX - down[0], event.clientY - down[1]) < 4;
      if (still && event.button === 0) this.pick(this.at(event.clientX, event.clientY)?.name ?? null);
      down = null;
    });
    this.canvas.addEventListener('keydown', (event) => this.#key(event));
    this.canvas.addEventListener('webglcontextlost', (event) => event.preventDefault());
    this.canvas.addEventListener('webglcontextrestored', () => this.#ask());
    this.#watch = new ResizeObserver(() => this.#resize());
    this.#watch.observe(this.element);
  }

  #key(event) {
    if (event.ctrlKey || event.metaKey || event.altKey) return;
    const actions = {
      ArrowLeft: () => this.#eye.turn(-1, 0),
      ArrowRight: () => this.#eye.turn(1, 0),
      ArrowUp: () => this.#eye.turn(0, 1),
      ArrowDown: () => this.#eye.turn(0, -1),
      '+': () => this.#eye.zoom(1.15),
      '=': () => this.#eye.zoom(1.15),
      '-': () => this.#eye.zoom(1 / 1.15),
      e: () => this.explode(this.#state.explode >= 1 ? 0 : this.#state.explode + 0.25),
      c: () => this.section(!this.#state.section),
      ' ': () => this.spin(!this.#state.spin),
      n: () => this.#step(event.shiftKey ? -1 : 1),
      h: () => this.#state.picked && this.hide(this.#state.picked, !this.#hidden.has(this.#state.picked)),
      a: () => this.showAll(),
      Escape: () => this.pick(null),
    };
    VIEW_KEYS.forEach((name, index) => { actions[String(index + 1)] = () => this.view(name); });
    const action = actions[event.key.length === 1 ? event.key.toLowerCase() : event.key];
    if (!action) return;
    event.preventDefault();
    action();
  }

  #step(by) {
    const names = this.parts().map((part) => part.name);
    if (names.length === 0) return;
    const at = names.indexOf(this.#state.picked);
    this.pick(names[at < 0 ? (by > 0 ? 0 : names.length - 1) : (at + by + names.length) % names.length]);
  }

  #resize() {
    const { clientWidth: width, clientHeight: height } = this.element;
    if (width === 0 || height === 0) return;
    this.#renderer.setSize(width, height, false);
    this.#eye.resize(width, height);
    this.#ask();
  }

  #tell() {
    this.#ask();
    for (const callback of this.#changers) callback(this.state());
  }

  // One frame for however many changes.
  #ask() {
    if (this.#waiting || !this.#renderer) return;
    this.#waiting = requestAnimationFrame((now) => {
      this.#waiting = 0;
      this.#draw(now);
    });
  }

  #draw(now) {
    if (this.#state.spin && this.#model) {
      const seconds = Math.min(0.1, Math.max(0, (now - this.#last) / 1000));
      this.#last = now;
      this.#state.turns += seconds * this.#state.rpm / 60;
      this.#model.turn(this.#state.turns);
    }
    // Light comes over one's left shoulder.
    const { camera, controls } = this.#eye;
    const aside = new Vector3(-0.5, 0.6, 0).applyQuaternion(camera.quaternion);
    this.#lamp.position.copy(camera.position).sub(controls.target).normalize().add(aside);
    this.#renderer.render(this.#scene, camera);
    if (this.#state.spin) this.#ask();
  }
}
