// Moves on the plan: arrows with the numbers of the list.

import { svg } from './dom.js';
import { store } from './store.js';

// what is done with a plant that should move, in words.
const what = (plant) => store.moves.steps.find((s) => s.stakes.includes(plant)).blocks[0].text.words;

// number is that of the list of moves.
const number = (n, x, y, kept, letter) => svg('g', { class: `number${kept}` }, svg('circle', { cx: x, cy: y, r: letter * 0.75 }), svg('text', { x, y, 'font-size': letter * 0.95, text: String(n) }));

// cased is a line with a white edge, which keeps it apart from what it crosses.
const cased = (d, m, kept) => [svg('path', { class: 'casing', d }), svg('path', { class: `move${kept}`, d }, svg('title', { text: what(m.plant) }))];

// arrows shows where plants should move.
export function arrows(layer, { X, Y, unit: u, letter }) {
  layer.replaceChildren();
  for (const m of (store.moves && store.moves.moves) || []) {
    const kept = store.accepted.has(m.plant) ? '' : ' off';
    if (!m.to) { // taken out, with another in its place or none
      const [x, y, r] = [X(m.from.x_m), Y(m.from.y_m), u * 0.7];
      layer.append(...cased(`M${x - r} ${y - r}L${x + r} ${y + r}M${x - r} ${y + r}L${x + r} ${y - r}`, m, kept), number(m.group, x + 2 * r, y, kept, letter));
      continue;
    }
    const [x1, y1, x2, y2] = [X(m.from.x_m), Y(m.from.y_m), X(m.to.x_m), Y(m.to.y_m)];
    const far = Math.hypot(x2 - x1, y2 - y1) || 1, ux = (x2 - x1) / far, uy = (y2 - y1) / far;
    const bend = `Q${(x1 + x2) / 2 - uy * far * 0.25} ${(y1 + y2) / 2 + ux * far * 0.25} ${x2} ${y2}`;
    const [nx, ny] = [(x1 + x2) / 2 - uy * far * 0.125, (y1 + y2) / 2 + ux * far * 0.125];
    layer.append(...cased(`M${x1} ${y1}${bend}M${x2 - ux * u - uy * u * 0.6} ${y2 - uy * u + ux * u * 0.6}L${x2} ${y2}L${x2 - ux * u + uy * u * 0.6} ${y2 - uy * u - ux * u * 0.6}`, m, kept), number(m.group, nx, ny, kept, letter));
  }
}
