// The first year, which is worked out when it is looked at.

import { $, el, put } from './dom.js';
import { blocks } from './blocks.js';
import { get } from './api.js';
import { store, on, tell } from './store.js';

let known = '';

export function start() {
  on('sheet', (name) => { if (name === 'year') fill(); });
  on('state', () => { if (!$('year').hidden) fill(); });
}

async function fill() {
  const s = store.state, now = s && `${s.figures_of} ${s.units}`, head = el('h2', { text: 'The first year' });
  if (!s || now === known) return;
  if (!known) put($('year'), head, el('p', { class: 'soft', text: 'Working it out.' }));
  known = now;
  try {
    const found = (await get('api/care')).blocks;
    if (now === known) put($('year'), found.length ? blocks(found) : [head, el('p', { text: 'Nothing is on the list.' })]);
  } catch (cause) {
    known = '';
    tell('refused', cause);
  }
}
