// The bed from above, to scale.

import { $, put, svg, el, say, capital } from './dom.js';
import { post, latest } from './api.js';
import { store, on, tell, act } from './store.js';
import { figure, badge } from './words.js';
import { legend } from './legend.js';
import { lookOf, bloom } from './views.js';
import { handles, holding, focused, draw as drawHandles, button } from './handles.js';
import { arrows } from './arrows.js';
import { hold, zoom, zoomed, pan, follow, controls } from './zoom.js';

const cm = 100; // drawing units in a metre
const view = { root: null, box: null, layers: {}, cross: null, held: null, perPixel: 1, letter: 12 };

const X = (x) => (x - view.box[0]) * cm;
const Y = (y) => (view.box[3] - y) * cm;
const path = (points) => `M${points.map(([x, y]) => `${X(x).toFixed(1)} ${Y(y).toFixed(1)}`).join('L')}Z`;
export const rings = (list) => list.map(path).join('');

export function start() {
  let late = false; // the ground waits while something is held
  const renew = (before) => {
    const s = store.state;
    if (!s.plan) return;
    late ||= !before || JSON.stringify(before.plan) !== JSON.stringify(s.plan);
    if (holding() || view.held) return;
    if (late) ground();
    late = false;
    plants();
    legend(view.grid);
  };
  on('state', renew);
  on('dropped', () => renew(store.state));
  on('picked', picked);
  on('moves', () => { if (view.layers.moves) arrows(view.layers.moves, { X, Y, unit: view.unit, letter: view.letter }); });
  for (const what of ['flags', 'view']) on(what, () => { if (store.state) { plants(); legend(view.grid); } });
  on('water', under);
  new ResizeObserver(measure).observe($('plan'));
}

// ground draws all that does not move.
function ground() {
  const p = store.state.plan, focus = focused();
  view.box = frame(p);
  const [x0, y0, x1, y1] = view.box, w = (x1 - x0) * cm, h = (y1 - y0) * cm;
  const layer = (cls) => svg('g', { class: cls });
  view.layers = { bed: layer('bed'), under: layer('waters'), grid: layer('grid'), drifts: layer('drifts'), plants: layer('plants'), edges: layer('edges'), labels: layer('labels'), things: layer('things'), words: layer('words'), flags: layer('flags'), moves: layer('moves'), cross: layer('crosses'), handles: layer('handles') };
  view.root = svg('svg', {
    viewBox: `0 0 ${w.toFixed(1)} ${h.toFixed(1)}`, tabindex: '0', role: 'application', 'aria-roledescription': 'plan of the bed',
    'aria-label': `Plan of the bed. ${store.state.short ? store.state.short[0].value : ''}`, 'aria-describedby': 'plan-keys', focusable: 'true',
  }, Object.values(view.layers));
  const L = view.layers;
  for (const [i, b] of p.bands.entries()) {
    L.bed.append(svg('path', { class: b.zone, d: rings(b.rings), 'fill-rule': 'evenodd' }));
    L.bed.append(svg('path', { class: 'dry', d: rings(b.rings), 'fill-rule': 'evenodd', 'data-band': i, 'fill-opacity': 0 }));
    if (i > 0) L.bed.append(svg('path', { class: 'level', d: rings(b.rings) }));
  }
  L.edges.append(svg('path', { class: 'edge', d: path(p.outline) })); // over plants that reach past it
  grid(w, h);
  view.unit = Math.max(w, h) / 60; // about the size of a letter
  for (const o of [...p.keep_free, ...p.obstacles]) thing(o, 'free');
  flow(p.inlet, 'in');
  flow(p.overflow, 'out');
  for (const f of p.fixed) {
    const x = X(f.x_m), y = Y(f.y_m), u = view.unit * 0.7;
    L.things.append(svg('path', { class: 'mark', d: `M${x} ${y - u}L${x + u} ${y}L${x} ${y + u}L${x - u} ${y}Z` }, svg('title', { text: f.name })));
    word(ends(x) === 'start' ? x - u : ends(x) === 'end' ? x + u : x, y + u * 2.6, f.name, 'name');
  }
  north(p, w);
  rod(p);
  hold(view.root, w, h, measure);
  put($('plan'), view.root, view.tip = el('div', { class: 'tip', hidden: true }), button(), controls(largest));
  handles(L.handles, { X, Y, path, ground: ground_at, pixel: () => view.perPixel }, focus);
  pointers();
  keys();
  measure();
}

// grid draws lines of 1 ft or 25 cm, fewer on a large bed.
function grid(w, h) {
  const [unit, name, steps] = store.state.units === 'metric' ? [1, 'm', [0.25, 1, 5, 10, 50]] : [0.3048, 'ft', [1, 5, 10, 50, 100]];
  const n = steps.find((k) => w / (k * unit * cm) <= 60) || steps.at(-1), step = n * unit * cm;
  let d = '';
  for (let x = ((X(0) % step) + step) % step; x < w; x += step) d += `M${x.toFixed(1)} 0V${h.toFixed(1)}`;
  for (let y = ((Y(0) % step) + step) % step; y < h; y += step) d += `M0 ${y.toFixed(1)}H${w.toFixed(1)}`;
  view.layers.grid.append(svg('path', { d }));
  view.grid = n < 1 ? `${100 * n} cm` : `${n} ${name}`;
}

// frame is the ground that is shown: the bed with room for what comes and
// goes, and the points measured from if they are near.
function frame(p) {
  const [x0, y0, x1, y1] = p.box, size = Math.max(x1 - x0, y1 - y0), room = size * 0.13;
  const near = p.fixed.filter((f) => f.x_m > x0 - size * 0.4 && f.x_m < x1 + size * 0.4 && f.y_m > y0 - size * 0.4 && f.y_m < y1 + size * 0.4);
  return [Math.min(x0 - room, ...near.map((f) => f.x_m - room * 0.7)), Math.min(y0 - room, ...near.map((f) => f.y_m - room * 0.9)),
    Math.max(x1 + room, ...near.map((f) => f.x_m + room * 0.7)), Math.max(y1 + room * 0.7, ...near.map((f) => f.y_m + room * 0.7))];
}

function thing(o, cls) {
  const node = o.points ? svg('path', { class: cls, d: path(o.points) }) : svg('circle', { class: cls, cx: X(o.x_m), cy: Y(o.y_m), r: o.radius_m * cm });
  node.append(svg('title', { text: o.name }));
  view.layers.things.append(node);
  const at = o.points ? centre(o.points) : [o.x_m, o.y_m];
  word(X(at[0]), Y(at[1]), o.name, 'name');
}

const centre = (points) => [0, 1].map((k) => points.reduce((sum, p) => sum + p[k], 0) / points.length);

// ends keeps words at the edge of the plan inside it.
function ends(x) {
  const far = (view.box[2] - view.box[0]) * cm;
  return x < far * 0.12 ? 'start' : x > far * 0.88 ? 'end' : 'middle';
}

function word(x, y, text, cls = '') {
  view.layers.words.append(svg('text', { class: `word ${cls}`, x, y, 'text-anchor': ends(x), 'dominant-baseline': 'central', text }));
}

// flow is an arrow of water through the edge, into the bed or out of it.
function flow(o, way) {
  const [ux, uy, u] = [o.out[0], -o.out[1], view.unit];
  const x = X(o.x_m), y = Y(o.y_m);
  if (o.radius_m) view.layers.things.append(svg('circle', { class: 'free', cx: x, cy: y, r: o.radius_m * cm }, svg('title', { text: o.name })));
  const [a, b] = way === 'in' ? [4.2, 0.4] : [0.4, 4.2];
  const [x1, y1, x2, y2] = [x + ux * u * a, y + uy * u * a, x + ux * u * b, y + uy * u * b];
  const dir = way === 'in' ? -1 : 1, hx = ux * dir * u, hy = uy * dir * u;
  view.layers.things.append(svg('path', { class: 'flow', d: `M${x1} ${y1}L${x2} ${y2}M${x2 - hx - hy * 0.7} ${y2 - hy + hx * 0.7}L${x2} ${y2}L${x2 - hx + hy * 0.7} ${y2 - hy - hx * 0.7}` }));
  word(x + ux * u * 2.4, y + uy * u * 2.4 - u * 1.6, way === 'in' ? 'water in' : 'spill', 'name');
}

function north(p, w) {
  if (p.north_deg === null || p.north_deg === undefined) return;
  const u = view.unit, x = w - u * 2.6, y = u * 3.4;
  view.layers.things.append(svg('g', { transform: `translate(${x} ${y}) rotate(${p.north_deg})` },
    svg('path', { class: 'mark', d: `M0 ${-u * 1.6}L${u * 0.7} ${u}L0 ${u * 0.45}L${-u * 0.7} ${u}Z` }),
    svg('text', { class: 'word', x: 0, y: -u * 2.3, 'text-anchor': 'middle', 'dominant-baseline': 'central', text: 'N' })));
}

// rod is the measure: a round length, half of it filled.
function rod(p) {
  const u = view.unit, y = u * 3.2, x = u * 1.2, fits = p.scale.filter((s) => s.m <= (view.box[2] - view.box[0]) / 3);
  const one = fits[fits.length - 1] || p.scale[0];
  if (!one) return;
  const long = one.m * cm;
  view.layers.things.append(svg('path', { class: 'scale', d: `M${x} ${y - u * 0.6}V${y}H${x + long}V${y - u * 0.6}M${x + long / 2} ${y}V${y - u * 0.35}` }),
    svg('text', { class: 'word', x: x + long + u * 0.8, y: y - u * 0.3, 'text-anchor': 'start', 'dominant-baseline': 'central', text: one.words }));
}

// largest is how far to zoom: until the least plant is 24 pixels wide, for a finger.
const largest = () => {
  const least = Math.min(...store.state.plants.map((p) => p.radius_m * cm));
  return Math.max(4, (12.5 * view.perPixel * zoomed()) / least) || 4;
};

// measure finds how large a pixel is, so that letters that could not be read
// are left out.
function measure() {
  if (!view.root) return;
  const wide = view.root.getBoundingClientRect().width;
  const m = view.root.getScreenCTM();
  view.perPixel = m && m.a ? 1 / m.a : 1;
  const letter = view.letter = parseFloat(getComputedStyle(document.documentElement).fontSize) * 0.82 * view.perPixel;
  for (const node of view.root.querySelectorAll('.word')) node.setAttribute('font-size', letter.toFixed(2));
  view.root.classList.toggle('narrow', wide < 460); // no room for names of things
  if (wide) plants();
  if (wide) drawHandles();
}

function plants() {
  const s = store.state, layer = view.layers.plants;
  if (!layer) return;
  const kinds = new Map(s.kinds && s.kinds.map((k) => [k.id, k]));
  layer.setAttribute('class', s.places_of === s.figures_of ? 'plants' : 'plants stale'); // places of another bed
  for (const l of [layer, view.layers.flags, view.layers.drifts, view.layers.labels]) l.replaceChildren();
  for (const d of s.drifts || []) if (d.members.length > 1) around(d, s);
  const order = [...s.plants].sort((a, b) => b.radius_m - a.radius_m || (a.stake === store.stake) - (b.stake === store.stake)); // the picked one over its like
  for (const p of order) layer.append(plant(p, kinds.get(p.id)));
  for (const p of s.plants) if (store.struggles.has(p.stake)) view.layers.flags.append(flag(X(p.x_m), Y(p.y_m)));
  const line = view.letter * 1.25, taken = view.root.classList.contains('narrow') ? [] : [...view.layers.words.children].map((t) => {
    const w = t.textContent.length * view.letter * 0.6, to = { start: 0.5, middle: 0, end: -0.5 }[t.getAttribute('text-anchor')];
    return [Number(t.getAttribute('x')) + to * w, Number(t.getAttribute('y')), w, line];
  });
  for (const d of [...(s.drifts || [])].sort((a, b) => b.members.length - a.members.length)) label(d, s, taken);
}

// picked marks the plant that is looked at, over its like.
function picked() {
  const layer = view.layers.plants;
  if (!layer) return;
  for (const g of layer.querySelectorAll('.on')) g.classList.remove('on');
  const g = store.stake && layer.querySelector(`[data-stake="${CSS.escape(store.stake)}"]`);
  if (!g) return;
  const r = (e) => Number(e.querySelector('circle').getAttribute('r'));
  g.classList.add('on');
  layer.insertBefore(g, [...layer.children].find((e) => r(e) < r(g)) || null);
}

// roomy says whether a circle has room for letters below its figure.
const roomy = (r) => r / view.perPixel >= 21;

function plant(p, kind) {
  const r = p.radius_m * cm, x = X(p.x_m), y = Y(p.y_m), px = r / view.perPixel, on = store.stake === p.stake, far = px < 8.5, look = kind && lookOf(kind);
  const g = svg('g', { class: `plant${far ? ' far' : ''}${on ? ' on' : ''}${look ? ` ${look.look}` : ''}`, 'data-stake': p.stake }, svg('title', { text: `${p.name}, ${p.stake}, ${p.drift ? `drift ${p.drift}, ` : ''}${look ? `${look.words}, ` : ''}risk ${p.risk}` }),
    svg('circle', { cx: x, cy: y, r, fill: look ? look.tone : kind ? kind.tint : '#ffffff' }), look && (roomy(r) ? bloom(look, x, y - r * 0.3, r * 0.8) : bloom(look, x, y, r)));
  if (kind && !look && !far) g.append(roomy(r) ? figure(kind, x, y - r * 0.05, r * 0.7) : figure(kind, x, y + r * 0.55, r * 1.1));
  if (roomy(r)) g.append(svg('text', { x, y: y + r * 0.42, 'font-size': Math.min(r * 0.52, view.letter), text: px >= 34 ? p.stake : p.key }));
  if (!look && (p.level === 'high' || p.level === 'unknown')) g.append(badge(p.level, x + r * 0.62, y - r * 0.62, Math.max(view.perPixel * 5.5, r * 0.2)));
  if (p.moved) g.append(svg('circle', { class: 'ghost', cx: x, cy: y, r: r * 0.86, 'fill-opacity': 0 }));
  return g;
}

// around outlines a drift: a dark shape of its plants and the bands between, and the
// bands again in its tint.
function around(d, s) {
  const at = d.members.map((m) => s.plants[m]), r = at[0].radius_m * cm, edge = Math.min(view.perPixel * 1.6, r * 0.15);
  const bands = d.links.map(([a, b]) => `M${X(s.plants[a].x_m)} ${Y(s.plants[a].y_m)}L${X(s.plants[b].x_m)} ${Y(s.plants[b].y_m)}`).join('');
  const line = (width, stroke) => svg('path', { class: 'band', d: bands, 'stroke-width': width, stroke: stroke || null });
  view.layers.drifts.append(svg('g', { class: 'drift' }, at.map((p) => svg('circle', { cx: X(p.x_m), cy: Y(p.y_m), r: p.radius_m * cm + edge })), line(r * 0.8 + 2 * edge)), line(r * 0.8, (lookOf(s.kinds[d.kind]) || { tone: s.kinds[d.kind].tint }).tone));
}

// label names a drift on its own plants where that fits: in full, or by its key.
function label(d, s, taken) {
  const at = d.members.map((m) => s.plants[m]), size = view.letter * 0.92;
  if (roomy(at[0].radius_m * cm)) return;
  const xs = at.map((p) => X(p.x_m)), ys = at.map((p) => Y(p.y_m)), r = at[0].radius_m * cm, mid = [centreOf(xs), centreOf(ys)];
  const [left, right] = [Math.min(...xs) - r, Math.max(...xs) + r];
  const near = at.map((p) => [X(p.x_m), Y(p.y_m)]).sort((a, b) => Math.hypot(a[0] - mid[0], a[1] - mid[1]) - Math.hypot(b[0] - mid[0], b[1] - mid[1]));
  for (const text of [d.words, (d.letter && `${d.letter}: `) + s.kinds[d.kind].key, d.letter].filter(Boolean)) {
    const w = text.length * size * 0.6 + size * 0.4, h = size * 1.25;
    const spot = near.find(([x, y]) => x - w / 2 >= left && x + w / 2 <= right && taken.every((o) => Math.abs(o[0] - x) * 2 >= o[2] + w || Math.abs(o[1] - y) * 2 >= o[3] + h));
    if (!spot) continue;
    const [x, y] = spot;
    taken.push([x, y, w, h]);
    view.layers.labels.append(svg('rect', { x: x - w / 2, y: y - h / 2, width: w, height: h, rx: h * 0.2 }), svg('text', { x, y, 'font-size': size, text }));
    return;
  }
}

const centreOf = (all) => all.reduce((sum, v) => sum + v, 0) / all.length;

// flag is what marks a plant that struggles.
function flag(x, y) {
  const u = Math.min(view.letter * 0.75, view.unit * 0.9);
  return svg('path', { class: 'flag', d: `M${x} ${y}V${y - 2.4 * u}L${x + 1.5 * u} ${y - 1.8 * u}L${x} ${y - 1.2 * u}` });
}

// Where on the ground a pointer is.
function ground_at(e) {
  const m = view.root.getScreenCTM().inverse();
  const p = new DOMPoint(e.clientX, e.clientY).matrixTransform(m);
  return [view.box[0] + p.x / cm, view.box[3] - p.y / cm];
}

export const pick = (stake) => {
  store.stake = stake;
  tell('picked', stake);
};

export function look(x, y) {
  cross(x, y);
  store.stake = '';
  tell('picked', '');
  tell('look', { x_m: x, y_m: y });
}

function cross(x, y) {
  view.cross = [x, y];
  follow(X(x), Y(y));
  const u = view.perPixel * 9;
  view.layers.cross.replaceChildren(svg('path', { class: 'cross', d: `M${X(x) - u} ${Y(y)}H${X(x) + u}M${X(x)} ${Y(y) - u}V${Y(y) + u}` }));
}

// While a plant is held, its risk follows.
const ask = latest((q) => post('api/risk', q), (r, q) => {
  if (!view.held || view.held.stake !== q.stake) return;
  view.held.risk = r;
  tip(r);
  if (view.held.keyed) say([r.inside ? `Risk ${r.risk}` : 'Outside the bed', r.change, r.reason, ...r.clash].filter(Boolean).join('. '));
}, (cause) => { tell('refused', cause); });

function tip(r) {
  put(view.tip, el('strong', { text: r.inside ? `${r.name}, ${r.zone}: risk ${r.risk}` : `${r.name}: outside the bed` }), [r.change, r.reason, ...r.clash].filter(Boolean).map((t) => el('span', { text: capital(t) })));
  view.tip.hidden = false;
  const [x, y] = view.held.at, frame = $('plan').getBoundingClientRect();
  const p = new DOMPoint(X(x), Y(y)).matrixTransform(view.root.getScreenCTM());
  const left = p.x - frame.left, top = p.y - frame.top;
  view.tip.style.left = `${Math.max(4, Math.min(left + 18, frame.width - view.tip.offsetWidth - 4))}px`;
  view.tip.style.top = `${top > frame.height / 2 ? top - view.tip.offsetHeight - 22 : top + 26}px`;
}

function lift(stake, keyed) {
  const p = store.state.plants.find((q) => q.stake === stake);
  if (!p) return;
  view.held = { stake, name: p.name, r: p.radius_m * cm, from: [p.x_m, p.y_m], at: [p.x_m, p.y_m], keyed };
  view.root.classList.add('lifting');
  carry(p.x_m, p.y_m);
}

function carry(x, y) {
  const h = view.held;
  h.at = [x, y];
  if (h.keyed) follow(X(x), Y(y));
  const node = view.layers.plants.querySelector(`[data-stake="${CSS.escape(h.stake)}"]`);
  if (node) {
    if (node !== view.layers.plants.lastChild) view.layers.plants.append(node); // over the others
    node.classList.add('on', 'held');
    node.setAttribute('transform', `translate(${X(x) - X(h.from[0])} ${Y(y) - Y(h.from[1])})`);
  }
  view.layers.cross.replaceChildren(svg('circle', { class: 'ghost', cx: X(h.from[0]), cy: Y(h.from[1]), r: h.r }));
  ask({ stake: h.stake, x_m: x, y_m: y });
}

async function drop(keep) {
  const h = view.held;
  if (!h) return;
  view.held = null;
  view.tip.hidden = true;
  view.root.classList.remove('lifting');
  view.layers.cross.replaceChildren();
  pick(h.stake);
  const moved = keep && (h.at[0] !== h.from[0] || h.at[1] !== h.from[1]);
  say(`${h.name} ${moved ? 'set down' : 'put back'}.`);
  if (moved) await act('api/move', { stake: h.stake, x_m: h.at[0], y_m: h.at[1] });
  tell('dropped');
}

// onPicked says whether a point lies on the plant that is picked, also where a smaller
// one stands over it: a finger drags the first, and a tap picks the second.
function onPicked(e) {
  const c = view.layers.plants && view.layers.plants.querySelector('.on circle');
  const r = c && c.getBoundingClientRect();
  return Boolean(r) && Math.hypot(e.clientX - r.left - r.width / 2, e.clientY - r.top - r.height / 2) <= r.width / 2;
}

function pointers() {
  let down = null;
  view.root.addEventListener('pointerdown', (e) => {
    if (e.button !== 0 || view.held) return;
    const g = e.target.closest('.plant');
    const stake = g ? g.dataset.stake : '';
    down = { x: e.clientX, y: e.clientY, stake, id: e.pointerId, mine: e.pointerType !== 'touch' ? stake : onPicked(e) ? store.stake : '' };
  });
  // A finger moves the page, whichever way it goes; a plant only once it was picked.
  view.root.addEventListener('touchstart', (e) => { if (onPicked(e.touches[0])) e.preventDefault(); }, { passive: false });
  view.root.addEventListener('pointermove', (e) => {
    if (!down) return;
    if (!view.held && down.mine && Math.hypot(e.clientX - down.x, e.clientY - down.y) > 5) {
      view.root.setPointerCapture(down.id);
      lift(down.mine, false);
    }
    if (view.held && !view.held.keyed) carry(...ground_at(e));
    else if (!view.held && zoomed() > 1 && !down.mine && (down.far || Math.hypot(e.clientX - down.x, e.clientY - down.y) > 5)) {
      if (!down.far) view.root.setPointerCapture(down.id);
      const at = down.far || [down.x, down.y];
      down.far = [e.clientX, e.clientY];
      pan((e.clientX - at[0]) * view.perPixel, (e.clientY - at[1]) * view.perPixel);
    }
  });
  view.root.addEventListener('pointerup', (e) => {
    const was = down;
    down = null;
    if (view.held && !view.held.keyed) drop(true);
    else if (was && was.far) return;
    else if (was && was.stake) { view.layers.cross.replaceChildren(); pick(was.stake); }
    else if (was) look(...ground_at(e));
  });
  view.root.addEventListener('pointercancel', () => { down = null; if (view.held && !view.held.keyed) drop(false); });
}

const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function keys() {
  view.root.addEventListener('keydown', (e) => {
    if (e.ctrlKey || e.metaKey || e.altKey) return;
    const step = steps[e.key];
    if (step) {
      const far = e.shiftKey ? 0.5 : 0.1;
      const [x, y] = view.held ? view.held.at : view.cross || centre(store.state.plan.outline);
      const to = [x + step[0] * far, y + step[1] * far];
      if (view.held) carry(...to); else cross(...to);
    } else if (e.key === 'Enter' || e.key === ' ') {
      if (view.held) drop(true);
      else if (view.cross) look(...view.cross);
      else look(...centre(store.state.plan.outline));
    } else if (e.key === 'Escape' && view.held) drop(false);
    else if (e.key === 'm' || e.key === 'M') {
      if (view.held) drop(true);
      else if (store.stake) lift(store.stake, true);
      else say('Pick a plant first: N for the next.');
    } else if (/^[-+=]$/.test(e.key)) zoom(zoomed() * (e.key === '-' ? 1 / 1.6 : 1.6), largest());
    else if (/^[nNpP]$/.test(e.key) && !view.held) next(/n/i.test(e.key) ? 1 : -1);
    else return;
    e.preventDefault();
  });
}

function next(by) {
  const all = store.state.plants;
  if (!all.length) return;
  const i = all.findIndex((p) => p.stake === store.stake);
  const p = all[(i + by + all.length + (i < 0 && by < 0 ? 1 : 0)) % all.length];
  view.cross = [p.x_m, p.y_m];
  follow(X(p.x_m), Y(p.y_m));
  view.layers.cross.replaceChildren();
  pick(p.stake);
  say(`${p.name}, ${p.stake}, ${p.zone}, risk ${p.risk}.`);
}

export function holdByKeys(stake) {
  pick(stake);
  view.root.focus();
  lift(stake, true);
  say('Lifted. Arrows move it, M sets it down, Escape puts it back.');
}

// under draws the water of an hour and how dry the soil of each band is.
function under(w) {
  if (!view.layers.under) return;
  view.layers.under.replaceChildren();
  view.root.classList.toggle('playing', Boolean(w)); // the ground shows through the plants
  const ring = w && w.frame.ring >= 0 ? w.rings[w.frame.ring] : null;
  if (ring) view.layers.under.append(svg('path', { class: 'under', d: rings(ring.rings), 'fill-rule': 'evenodd' }));
  for (const node of view.layers.bed.querySelectorAll('.dry')) {
    const left = w ? w.frame.bands[Number(node.dataset.band)] : 1;
    node.setAttribute('fill-opacity', left === undefined ? 0 : (0.75 * (1 - left)).toFixed(2));
  }
}
