// The planting list, and where each stake stands.

import { $, el, put } from './dom.js';
import { blocks } from './blocks.js';
import { get } from './api.js';
import { store, on, act, tell } from './store.js';

export function start() {
  on('state', (before) => {
    const s = store.state;
    if (before && before.figures_of === s.figures_of && before.places_of === s.places_of && before.plants.length === s.plants.length && before.tick === s.tick) return;
    draw(s);
  });
}

function draw(s) {
  const open = new Set([...$('list').querySelectorAll('details[open]')].map((d) => d.dataset.key));
  if (!s.list) {
    put($('list'), el('h2', { text: 'Planting list' }), el('p', { text: s.failed || s.record || 'No list yet.' }));
    return;
  }
  const l = s.list;
  put($('list'),
    blocks(l.blocks),
    details('next', l.next[0].heading, open, blocks(l.next.slice(1))),
    care(s, open),
    stakes(s, open));
}

// care is the first year, which is worked out when it is looked at.
let year = { of: '', blocks: [] };
function care(s, open) {
  const of = `${s.figures_of} ${s.units}`, body = el('div', { id: 'care' });
  const fill = async () => {
    if (year.of !== of) {
      put(body, el('p', { class: 'soft', text: 'Working it out.' }));
      try {
        year = { of, blocks: (await get('api/care')).blocks };
      } catch (cause) {
        tell('refused', cause);
        return;
      }
    }
    put(body, year.blocks.length ? blocks(year.blocks.filter((b) => !b.heading)) : el('p', { text: 'Nothing is on the list.' }));
  };
  const box = details('care', 'The first year', open, body);
  box.addEventListener('toggle', () => { if (box.open) fill(); });
  if (box.open) fill();
  return box;
}

const details = (key, summary, open, ...children) => el('details', { 'data-key': key, open: open.has(key) || null }, el('summary', { text: summary }), ...children);

function stakes(s, open) {
  if (!s.plants.length) return null;
  const moved = s.plants.filter((p) => p.moved).length;
  return [
    el('div', { class: 'do' },
      el('button', { type: 'button', text: 'Keep these places', onclick: () => act('api/keep', {}) }),
      moved ? el('button', { type: 'button', text: 'Forget the places set by hand', onclick: () => act('api/scatter', {}) }) : null),
    blocks(s.places.filter((b) => !b.table)),
    details('stakes', `Every stake (${s.plants.length})`, open, blocks(s.places.filter((b) => b.table)))];
}
