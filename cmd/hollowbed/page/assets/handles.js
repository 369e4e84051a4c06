// Handles of the plan: ends and corners of the bed, inlet, spill, what is kept free.
// They show while the shape is to be changed.

import { $, el, put, svg, say, capital } from './dom.js';
import { post, latest } from './api.js';
import { store, tell, act } from './store.js';

const state = { on: false, held: null, layer: null, plan: null };

// button turns the handles on and off.
export const button = () => el('button', { type: 'button', class: 'shape', text: 'Change the shape', 'aria-pressed': String(state.on), onclick: (e) => {
  state.on = !state.on;
  e.target.setAttribute('aria-pressed', String(state.on));
  draw();
  say(state.on ? `${store.state.plan.handles.length} handles: Tab goes from one to the next, arrow keys move it, with Shift farther, Enter keeps it, Escape puts it back.` : 'Handles put away.');
} });

// handles draws them into a layer; plan gives the way from ground to drawing and back.
export function handles(layer, plan, focus) {
  Object.assign(state, { layer, plan, held: null });
  draw(focus);
}

// holding says whether a handle is held, which must not be drawn anew.
export const holding = () => state.held !== null;

// focused is the handle that has the focus, which it keeps when it is drawn anew.
export const focused = () => document.activeElement && document.activeElement.dataset.handle;

export function draw(focus = focused()) {
  if (state.held) return; // what a finger holds stays
  state.layer.replaceChildren();
  if (state.on) state.layer.append(...store.state.plan.handles.map(handle));
  const again = focus && state.layer.querySelector(`[data-handle="${CSS.escape(focus)}"]`);
  if (again) again.focus();
}

function handle(h) {
  const { X, Y, pixel } = state.plan, u = pixel(), x = X(h.x_m), y = Y(h.y_m);
  const place = /^(inlet|spill|kept)/.test(h.name);
  return svg('g', {
    class: `handle${place ? ' place' : ''}`, 'data-handle': h.name, tabindex: '0', role: 'button', 'aria-label': h.words,
    ontouchstart: (e) => e.preventDefault(), onpointerdown: (e) => down(e, h), onpointermove: move, onpointerup: () => drop(true), onpointercancel: () => drop(false),
    onkeydown: (e) => key(e, h), onblur: () => { if (state.held && state.held.keyed) drop(true); },
  }, svg('title', { text: h.words }), svg('circle', { class: 'reach', cx: x, cy: y, r: u * 13 }),
  place ? svg('path', { d: `M${x} ${y - u * 9}L${x + u * 9} ${y}L${x} ${y + u * 9}L${x - u * 9} ${y}Z` }) : svg('rect', { x: x - u * 7, y: y - u * 7, width: u * 14, height: u * 14 }));
}

function hold(h, keyed) {
  state.held = { h, at: [h.x_m, h.y_m], moved: false, keyed };
}

function down(e, h) {
  if (e.button !== 0) return;
  e.stopPropagation();
  e.preventDefault();
  e.currentTarget.setPointerCapture(e.pointerId);
  e.currentTarget.focus();
  hold(h, false);
}

function move(e) {
  if (!state.held || state.held.keyed) return;
  e.stopPropagation();
  to(state.plan.ground(e));
}

const steps = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };

function key(e, h) {
  const step = steps[e.key];
  if (e.ctrlKey || e.metaKey || e.altKey) return;
  if (step) {
    if (!state.held) hold(h, true);
    const [fine, far] = store.state.units === 'metric' ? [0.01, 0.1] : [0.0254, 0.3048], by = e.shiftKey ? far : fine;
    to([state.held.at[0] + step[0] * by, state.held.at[1] + step[1] * by]);
  } else if (e.key === 'Enter' || e.key === ' ') drop(true);
  else if (e.key === 'Escape' && state.held) drop(false);
  else return;
  e.preventDefault();
  e.stopPropagation();
}

// to brings what is held to a place of the ground, and asks what the bed would be.
function to(at) {
  const { X, Y } = state.plan, { h } = state.held;
  Object.assign(state.held, { at, moved: true });
  const node = state.layer.querySelector(`[data-handle="${CSS.escape(h.name)}"]`);
  if (node) node.setAttribute('transform', `translate(${X(at[0]) - X(h.x_m)} ${Y(at[1]) - Y(h.y_m)})`);
  ask({ handle: h.name, x_m: at[0], y_m: at[1] });
}

const ask = latest((q) => post('api/shape', q), (shape, q) => {
  if (!state.held || state.held.h.name !== q.handle) return;
  state.layer.querySelectorAll('.would').forEach((old) => old.remove());
  state.layer.prepend(svg('path', { class: 'would', d: state.plan.path(shape.outline) }));
  told(shape);
}, (cause) => tell('refused', cause));

function told(shape) {
  put($('plan-says'), el('span', { text: `${shape.words}.` }), shape.doubts.map((d) => el('span', { class: 'wrong', text: `${capital(d)}.` })));
  say([shape.words, ...shape.doubts.map(capital)].join('. '));
}

async function drop(keep) {
  const was = state.held;
  state.held = null;
  if (!was) return;
  if (keep && was.moved) await act('api/shape', { handle: was.h.name, x_m: was.at[0], y_m: was.at[1], keep: true, version: store.state.version });
  else if (was.moved) { put($('plan-says')); say('Put back.'); }
  draw();
  tell('dropped');
}
