// Zoom and pan of the plan: which part of it is shown.

import { el, say } from './dom.js';

const shown = { by: 1, x: 0, y: 0, root: null, w: 1, h: 1, changed: () => {} };

// hold takes a plan of a size; the part shown stays where it was.
export function hold(root, w, h, changed) {
  const again = shown.root && { x: (shown.x * w) / shown.w, y: (shown.y * h) / shown.h };
  Object.assign(shown, { root, w, h, changed }, again);
  apply();
}

function apply() {
  const w = shown.w / shown.by, h = shown.h / shown.by;
  shown.x = Math.max(0, Math.min(shown.x, shown.w - w));
  shown.y = Math.max(0, Math.min(shown.y, shown.h - h));
  shown.root.setAttribute('viewBox', `${shown.x.toFixed(1)} ${shown.y.toFixed(1)} ${w.toFixed(1)} ${h.toFixed(1)}`);
  shown.root.classList.toggle('zoomed', shown.by > 1);
}

// centre shows a place in the middle.
function centre(x, y) {
  shown.x = x - shown.w / shown.by / 2;
  shown.y = y - shown.h / shown.by / 2;
  apply();
}

// zoom shows a part that many times larger, round what lies in the middle.
export function zoom(by, most) {
  const x = shown.x + shown.w / shown.by / 2, y = shown.y + shown.h / shown.by / 2;
  shown.by = Math.max(1, Math.min(by, most));
  centre(x, y);
  shown.changed();
  say(shown.by > 1 ? `${Math.round(shown.by * 10) / 10} times as large.` : 'The whole plan.');
}

export const zoomed = () => shown.by;

export function pan(dx, dy) {
  shown.x -= dx;
  shown.y -= dy;
  apply();
}

// follow brings a place into view.
export function follow(x, y) {
  const w = shown.w / shown.by, h = shown.h / shown.by;
  if (x < shown.x || y < shown.y || x > shown.x + w || y > shown.y + h) centre(x, y);
}

// controls are the buttons; most says how far it goes.
export const controls = (most) => el('div', { class: 'zoom', role: 'group', 'aria-label': 'Size of the plan' },
  [['−', 'Smaller', () => shown.by / 1.6], ['+', 'Larger', () => shown.by * 1.6], ['Whole', 'The whole plan', () => 1]].map(([text, label, by]) => el('button', { type: 'button', text, 'aria-label': label, onclick: () => zoom(by(), most()) })));
