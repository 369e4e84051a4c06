// Setting out: where each stake stands, and keeping that.

import { $, el, put } from './dom.js';
import { blocks } from './blocks.js';
import { store, on, act } from './store.js';

export function start() {
  on('state', (before) => {
    const s = store.state;
    if (!before || before.tick !== s.tick) put($('out'), el('h2', { text: 'Set out' }), stakes(s));
  });
}

function stakes(s) {
  if (!s.plants.length) return el('p', { text: s.busy ? 'The plants have no places yet: wait a moment.' : 'No plant has a place.' });
  return [
    el('div', { class: 'do' },
      el('button', { type: 'button', text: 'Keep these places', onclick: () => act('api/keep', {}) }),
      s.plants.some((p) => p.moved) ? el('button', { type: 'button', text: 'Forget the places set by hand', onclick: () => act('api/scatter', {}) }) : null),
    blocks(s.places.filter((b) => !b.heading))];
}
