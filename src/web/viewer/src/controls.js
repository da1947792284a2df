// The panel that works a view: plain form controls, so that keys and screen readers reach everything.

const VIEWS = [['iso', 'Oblique'], ['front', 'Front'], ['right', 'Right'], ['top', 'Top'], ['bottom', 'Bottom']];

function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false && value !== null) element.setAttribute(name, value);
  }
  element.append(...children);
  return element;
}

function slider(label, unit, attributes, moved) {
  const value = make('output', {}, '');
  const input = make('input', { type: 'range', ...attributes, oninput: () => moved(Number(input.value)) });
  const show = (number) => {
    if (Number(input.value) !== number) input.value = String(number);
    value.textContent = `${Math.round(number)} ${unit}`;
  };
  return { row: make('label', { class: 'slider' }, make('span', {}, label), input, value), show };
}

function tick(label, changed) {
  const input = make('input', { type: 'checkbox', onchange: () => changed(input.checked) });
  return { row: make('label', { class: 'tick' }, input, make('span', {}, label)), show: (on) => { input.checked = on; } };
}

function mass(part) {
  if (part.massGrams === null) return 'mass not known';
  const grams = part.massGrams >= 10 ? part.massGrams.toFixed(1) : part.massGrams.toFixed(2);
  return part.massOf ? `${grams} g (the whole ${part.massOf})` : `${grams} g${part.count > 1 ? ' each' : ''}`;
}

// One line about a part.
export function facts(part) {
  const copies = part.count > 1 ? ` (${part.count} of them)` : '';
  return `${part.name}${copies}: ${part.kind}, ${part.material}, ${mass(part)}`;
}

// Fills `element` with the controls of `view`. Call `refresh()` of what it returns after a load.
export function controls(element, view) {
  const now = () => view.state();
  const apart = slider('Apart', '%', { min: 0, max: 100, step: 1, name: 'explode' }, (value) => view.explode(value / 100));
  const cut = tick('Cut along the axis', (on) => view.section(on));
  const angle = slider('Angle', 'deg', { min: -180, max: 180, step: 5, name: 'angle' },
    (value) => view.section(now().section, value, now().offset));
  const offset = slider('Beside the axis', 'mm', { min: -80, max: 80, step: 1, name: 'offset' },
    (value) => view.section(now().section, now().angle, value));
  const spin = tick('Turn the stage', (on) => view.spin(on));
  const rpm = slider('Rotor', 'rev/min', { min: 1, max: 60, step: 1, name: 'rpm' },
    (value) => view.spin(now().spin, value));
  const views = make('div', { class: 'buttons', role: 'group', 'aria-label': 'Look from' },
    ...VIEWS.map(([name, label]) => make('button', { type: 'button', 'data-view': name, onclick: () => view.view(name) }, label)));
  const picked = make('p', { class: 'picked', 'aria-live': 'polite' }, '');
  const list = make('ul', { class: 'part-list' });
  const all = make('button', { type: 'button', onclick: () => view.showAll() }, 'Show all');
  const details = make('details', { class: 'parts' }, make('summary', {}, 'Parts: show, hide, pick out'), all, list);
  element.classList.add('view-controls');
  element.replaceChildren(picked, views, apart.row, cut.row, angle.row, offset.row, spin.row, rpm.row, details);

  let rows = new Map();
  const show = (state) => {
    apart.show(state.explode * 100);
    cut.show(state.section);
    angle.show(state.angle);
    offset.show(state.offset);
    spin.show(state.spin);
    rpm.show(state.rpm);
    for (const [name, { box, button }] of rows) {
      box.checked = !state.hidden.includes(name);
      button.setAttribute('aria-pressed', String(name === state.picked));
    }
  };
  const tell = (part) => { picked.textContent = part ? facts(part) : 'Pick a part to see what it is.'; };
  const refresh = () => {
    const had = view.parts();
    rows = new Map(had.map((part) => {
      const box = make('input', { type: 'checkbox', 'aria-label': `Show ${part.name}`, onchange: () => view.hide(part.name, !box.checked) });
      const button = make('button', { type: 'button', class: 'plain', onclick: () => view.pick(view.state().picked === part.name ? null : part.name) },
        part.count > 1 ? `${part.name} (${part.count})` : part.name);
      return [part.name, { box, button, row: make('li', {}, box, button) }];
    }));
    list.replaceChildren(...[...rows.values()].map(({ row }) => row));
    tell(had.find((part) => part.name === view.state().picked));
    show(view.state());
  };
  view.onPick(tell);
  view.onChange(show);
  refresh();
  return { refresh };
}
