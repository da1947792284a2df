// The live page: fields to the file, and the file to picture, figures and checks. What is told comes as events; this page asks
// for what is new.
'use strict';
(() => {
  const $ = (id) => document.getElementById(id);
  const rows = new Map();
  const wrong = new Map();
  let state = null, figures = null, view = null, kept = null, panel = null;
  let shown = 0, shownKept = null, dragging = null, draftWaiting = null, draftBusy = false, told = '';

  const make = (tag, attributes = {}, ...children) => {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes)) {
      if (value === true) element.setAttribute(name, '');
      else if (value !== false && value != null) element.setAttribute(name, value);
    }
    element.append(...children);
    return element;
  };

  const post = async (path, body) => {
    const answer = await fetch(path, { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(body) });
    const text = await answer.text();
    let tree = {};
    try { tree = text ? JSON.parse(text) : {}; } catch { tree = { error: text }; }
    return { ok: answer.ok, status: answer.status, tree };
  };

  const status = (text) => { $('status').textContent = text; };

  function number(value, unit) {
    if (value == null) return 'not applicable';
    if (unit === 'h' && value > 1e6) return 'over 1 000 000 h';
    const digits = Math.abs(value) >= 100 ? 0 : Math.abs(value) >= 10 ? 1 : 2;
    return `${value.toFixed(digits)}${unit ? ` ${unit}` : ''}`;
  }

  // One fault in a sentence, with where it stands and what would be right.
  function sentence(problem) {
    const where = problem.line ? ` (${problem.file}, line ${problem.line})` : '';
    const parts = [`${problem.message}${where}.`];
    if (problem.found) parts.push(`Found ${problem.found}.`);
    if (problem.expected) parts.push(`Expected ${problem.expected}.`);
    if (problem.example) parts.push(`For example ${problem.example}.`);
    if (problem.hint) parts.push(problem.hint);
    return parts.join(' ');
  }

  function row(field) {
    const id = `field-${field.key.replaceAll('.', '-')}`;
    const input = make('input', { type: 'text', id, name: field.key, 'aria-describedby': `${id}-where ${id}-wrong`, spellcheck: 'false' });
    const label = make('label', { for: id }, field.label);
    const where = make('p', { class: 'where', id: `${id}-where` });
    const said = make('p', { class: 'wrong', id: `${id}-wrong`, 'aria-live': 'polite' });
    const element = make('div', { class: 'field' }, label, input);
    const entry = { element, input, where, said, slider: null, typing: false };
    input.addEventListener('input', () => { entry.typing = true; });
    input.addEventListener('change', () => save(field.key, input.value));
    input.addEventListener('keydown', (event) => {
      if (event.key === 'Enter') { event.preventDefault(); if (entry.typing) save(field.key, input.value); }
      if (event.key === 'Escape') { entry.typing = false; wrong.delete(field.key); draw(); }
    });
    if (field.slider) {
      entry.slider = make('input', { type: 'range', 'aria-label': `${field.label}, slider`, 'data-key': field.key });
      entry.slider.addEventListener('input', () => drag(field.key));
      entry.slider.addEventListener('change', () => release(field.key));
      element.append(entry.slider);
    }
    element.append(where, said);
    rows.set(field.key, entry);
    $('fields').append(element);
    return entry;
  }

  const fieldOf = (key) => state.fields.find((field) => field.key === key);
  const sliderText = (key) => {
    const { slider } = fieldOf(key);
    return slider ? `${Number(rows.get(key).slider.value)} ${slider.unit}` : '';
  };

  // While a slider moves the newest value alone is asked for.
  function drag(key) {
    dragging = key;
    rows.get(key).input.value = sliderText(key);
    draftWaiting = { key, value: sliderText(key) };
    sendDraft();
  }
  async function sendDraft() {
    if (draftBusy || !draftWaiting) return;
    draftBusy = true;
    const draft = draftWaiting;
    draftWaiting = null;
    try { await post('/draft', draft); } catch { status('The program does not answer: is it still running?'); }
    draftBusy = false;
    sendDraft();
  }
  async function release(key) {
    draftWaiting = null;
    const value = sliderText(key);
    dragging = null;
    await save(key, value);
  }

  async function save(key, value) {
    const entry = rows.get(key);
    entry.typing = false;
    let answer;
    try { answer = await post('/edit', { version: state.version, key, value }); } catch {
      status('The program does not answer: nothing was written.');
      return;
    }
    if (answer.ok) {
      wrong.delete(key);
      state.version = answer.tree.version;
      status(`${fieldOf(key).label}: ${value || 'as by default'}, written to the file.`);
    } else if (answer.status === 422) {
      const problems = answer.tree.problems ?? [];
      wrong.set(key, { value, problems });
      await post('/draft', { key: null });
      status('Not written: the value is wrong.');
    } else {
      await post('/draft', { key: null });
      status(`Not written. ${answer.tree.error ?? ''}`);
    }
    await refresh();
  }

  async function step(path, word) {
    const answer = await post(path, {});
    status(answer.ok ? `${word}, in the file too.` : `${answer.tree.error ?? answer.tree.problems?.map(sentence).join(' ') ?? ''}`);
    wrong.clear();
    await refresh();
  }

  function drawFields() {
    for (const field of state.fields) {
      const entry = rows.get(field.key) ?? row(field);
      const refused = wrong.get(field.key);
      if (dragging !== field.key) {
        if (!entry.typing) entry.input.value = refused ? refused.value : field.value;
        if (entry.slider && field.slider) {
          Object.assign(entry.slider, { min: field.slider.least, max: field.slider.most, step: field.slider.step });
          entry.slider.value = field.slider.value;
          entry.slider.setAttribute('aria-valuetext', field.value);
        }
      }
      entry.where.textContent = field.line ? `line ${field.line} of ${field.file.split(/[\\/]/).pop()}` : 'not in the file: by default';
      entry.input.title = `${field.about} ${field.expected}`;
      const about = (problem) => problem.severity === 'error' && problem.key && (problem.key === field.key || field.key.startsWith(`${problem.key}.`));
      const against = refused ? refused.problems : state.problems.filter(about);
      entry.said.textContent = against.map(sentence).join(' ');
      entry.input.setAttribute('aria-invalid', String(against.length > 0));
    }
    $('undo').disabled = !state.undo;
    $('redo').disabled = !state.redo;
    $('keep').textContent = state.pinned ? 'Stop comparing' : 'Keep to compare';
  }

  function drawFaults() {
    const problems = state.problems;
    $('faults').hidden = problems.length === 0;
    $('fault-list').replaceChildren(...problems.map((problem) =>
      make('li', {}, make('span', { class: problem.severity }, problem.severity), ` ${problem.key ? `${problem.key}: ` : ''}${sentence(problem)}`)));
    const broken = problems.some((problem) => problem.severity === 'error');
    const fine = state.picture?.fine ? '' : ', coarse while it changes';
    const draft = state.draft ? ', a value not yet written' : '';
    $('now-says').textContent = !state.picture ? 'No picture yet' : broken ? 'The last version that was sound' : `Version ${state.version}${draft}${fine}`;
    $('now').dataset.fine = String(Boolean(state.picture?.fine));
    $('now').dataset.broken = String(broken);
  }

  function drawFigures() {
    const tree = figures?.figures;
    if (!tree) { $('figures-say').textContent = 'Being worked out'; return; }
    const { hold, warn, fail } = tree.counts;
    $('figures-say').textContent = `${hold} checks hold, ${warn} warn, ${fail} fail.${figures.current ? '' : ' These are of an earlier state; new ones are being worked out.'}`;
    const before = new Map((state.pinned?.glance ?? []).map((one) => [one.id, one.value]));
    const comparing = Boolean(state.pinned);
    const head = ['What', 'Now', ...(comparing ? [`Kept (version ${state.pinned.version})`, 'Difference'] : [])];
    const line = (label, now, then, difference) => make('tr', {}, make('th', { scope: 'row' }, label), make('td', { class: 'number' }, now),
      ...(comparing ? [make('td', { class: 'number' }, then), make('td', { class: 'number' }, difference)] : []));
    const lines = tree.glance.map((one) => {
      const then = before.get(one.id);
      const both = one.value != null && then != null;
      const change = both ? one.value - then : null;
      return line(one.label, number(one.value, one.unit), number(then, one.unit), both ? `${change > 0 ? '+' : ''}${number(change, one.unit)}` : '-');
    });
    const changed = comparing ? state.fields.filter((field) => state.pinned.fields.some((old) => old.key === field.key && old.value !== field.value)) : [];
    lines.push(...changed.map((field) => line(field.label, field.value, state.pinned.fields.find((old) => old.key === field.key).value, 'changed')));
    $('glance').replaceChildren(make('thead', {}, make('tr', {}, ...head.map((text, at) => make('th', { scope: 'col', class: at ? 'number' : null }, text)))),
      make('tbody', {}, ...lines));

    const places = [['Peak torque', tree.ranking.peak], ['Continuous torque', tree.ranking.continuous]];
    const cells = (load, place) => make('tr', {}, make('th', { scope: 'row' }, place.title),
      make('td', {}, make('span', { class: `verdict ${place.verdict.replace(' ', '-')}` }, place.verdict)),
      make('td', {}, load),
      make('td', { class: 'number' }, place.gives_way_at_n_m == null ? 'by no law' : `${number(place.gives_way_at_n_m, 'N m')}`),
      make('td', { class: 'number' }, place.margin == null ? '-' : place.margin > 10 ? 'over 1000 %' : `${(100 * place.margin).toFixed(0)} %`));
    $('checks').replaceChildren(
      make('thead', {}, make('tr', {}, ...['Check', 'Verdict', 'As this grows', 'Gives way at', 'In hand'].map((text, at) => make('th', { scope: 'col', class: at > 2 ? 'number' : null }, text)))),
      make('tbody', {}, ...places.flatMap(([load, list]) => list.map((place) => cells(load, place)))));
  }

  function draw() { drawFields(); drawFaults(); drawFigures(); }

  async function picture() {
    const answer = await fetch('/geometry/now');
    if (!answer.ok) return;
    const revision = Number(answer.headers.get('x-revision'));
    if (revision === shown) return;
    const bytes = await answer.arrayBuffer();
    if (revision < shown) return;
    shown = revision;
    if (!view) {
      view = Hubwright.viewer($('now'), { label: 'The actuator as it is now' });
      view.load(bytes);
      panel = Hubwright.controls($('controls'), view);
      view.onChange((now) => { if (kept) { kept.explode(now.explode); kept.section(now.section, now.angle, now.offset); } });
    } else {
      view.load(bytes);
      panel.refresh();
    }
    // For benchmarks: when this picture was drawn.
    requestAnimationFrame(() => requestAnimationFrame(() => {
      $('now').dataset.revision = String(revision);
      $('now').dataset.drawn = String(performance.timeOrigin + performance.now());
    }));
  }

  async function pictureKept() {
    const wanted = state.pinned?.revision ?? null;
    $('kept-figure').hidden = wanted === null;
    if (wanted === shownKept) return;
    shownKept = wanted;
    if (wanted === null) { kept?.dispose(); kept = null; return; }
    $('kept-says').textContent = `Kept: version ${state.pinned.version}`;
    const bytes = await (await fetch('/geometry/pinned')).arrayBuffer();
    kept ??= Hubwright.viewer($('kept'), { label: 'The version kept to compare' });
    kept.load(bytes);
  }

  async function refresh() {
    state = await (await fetch('/state')).json();
    $('name').textContent = state.name ?? state.file;
    $('about').textContent = state.about ?? '';
    draw();
    await pictureKept();
  }

  async function news(tick) {
    const before = told ? JSON.parse(told) : {};
    told = tick;
    const now = JSON.parse(tick || '{}');
    // The picture first: it is what one waits for.
    if (now.picture && now.picture !== shown) {
      try { await picture(); } catch (error) { $('now-says').textContent = `No 3D view: ${error.message}`; }
    }
    await refresh();
    if (now.figures !== before.figures || now.picture !== before.picture) {
      figures = await (await fetch('/figures')).json();
      draw();
    }
  }

  // Events that come while one is worked on are joined into the last.
  let waiting = null, working = false;
  async function work() {
    if (working) return;
    working = true;
    while (waiting !== null) {
      const tick = waiting;
      waiting = null;
      try { await news(tick); } catch (error) { status(`Not up to date: ${error.message}`); }
    }
    working = false;
  }

  $('sizes').addEventListener('submit', (event) => event.preventDefault());
  $('undo').addEventListener('click', () => step('/undo', 'Undone'));
  $('redo').addEventListener('click', () => step('/redo', 'Done again'));
  $('keep').addEventListener('click', async () => {
    const answer = await post('/pin', { on: !state.pinned });
    status(answer.ok ? '' : answer.tree.error);
    await refresh();
  });
  document.addEventListener('keydown', (event) => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z' || event.target.type === 'text') return;
    event.preventDefault();
    if (event.shiftKey) step('/redo', 'Done again'); else step('/undo', 'Undone');
  });

  const events = new EventSource('/events');
  events.onmessage = (event) => { waiting = event.data; work(); };
  events.onopen = () => { if ($('status').textContent.startsWith('The program')) status(''); };
  events.onerror = () => status('The program does not answer: is it still running?');
})();
