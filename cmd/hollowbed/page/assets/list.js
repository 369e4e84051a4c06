// The planting list, and where each stake stands.

import { $, el, put } from './dom.js';
import { blocks } from './blocks.js';
import { store, on, act } from './store.js';
import { risk } from './words.js';
import { pick } from './plan.js';

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
    s.left.length ? [el('h3', { text: 'Found no place' }), el('ul', {}, s.left.map((x) => el('li', { text: `${x.count} ${x.name}, ${x.zone}: ${x.why}` })))] : null,
    stakes(s, open));
}

const details = (key, summary, open, ...children) => el('details', { 'data-key': key, open: open.has(key) || null }, el('summary', { text: summary }), ...children);

function stakes(s, open) {
  if (!s.plants.length) return null;
  const moved = s.plants.filter((p) => p.moved).length;
  return [
    el('div', { class: 'do' },
      el('button', { type: 'button', text: 'Keep these places', onclick: () => act('api/keep', {}) }),
      moved ? el('button', { type: 'button', text: 'Forget the places set by hand', onclick: () => act('api/scatter', {}) }) : null),
    details('stakes', `Every stake (${s.plants.length})`, open, el('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': 'Every stake' }, el('table', {},
      el('thead', {}, el('tr', {}, ['Stake', 'Plant', 'From A', 'From B', 'Ground', 'Risk a year'].map((t, i) => el('th', { scope: 'col', class: i > 1 && i < 4 ? 'n' : '', text: t })))),
      el('tbody', {}, s.plants.map((p) => el('tr', {}, el('td', {}, el('button', { type: 'button', class: 'plain', text: p.stake, onclick: () => pick(p.stake) })), el('td', { text: p.name }), el('td', { class: 'n', text: p.from_a }), el('td', { class: 'n', text: p.from_b }), el('td', { text: p.ground }), el('td', {}, risk(p))))))))];
}
