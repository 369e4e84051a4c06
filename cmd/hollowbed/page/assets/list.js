// The planting list.

import { $, el, put } from './dom.js';
import { blocks } from './blocks.js';
import { store, on } from './store.js';

export function start() {
  on('state', (before) => {
    const s = store.state;
    if (before && before.figures_of === s.figures_of && before.places_of === s.places_of && before.plants.length === s.plants.length && before.tick === s.tick) return;
    draw(s);
  });
}

function draw(s) {
  const next = $('list').querySelector('details');
  if (!s.list) {
    put($('list'), el('h2', { text: 'Planting list' }), el('p', { text: s.failed || s.record || 'No list yet.' }));
    return;
  }
  const l = s.list;
  put($('list'), blocks(l.blocks), el('details', { open: (next && next.open) || null }, el('summary', { text: l.next[0].heading }), blocks(l.next.slice(1))));
}
