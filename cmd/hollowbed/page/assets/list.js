// The planting list, and where each stake stands.

import { $, el, put, capital } from './dom.js';
import { store, on, tell, act } from './store.js';
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
    el('h2', { text: 'Planting list' }),
    el('p', { text: l.advice }),
    l.bed_first.map((t) => el('p', { class: 'wrong', text: t })),
    l.zones.map((z) => [
      el('h3', { text: `${capital(z.zone)}` }),
      el('p', { class: 'why', text: z.words }),
      z.refused.map((t) => el('p', { text: t })),
      el('ul', { class: 'rows' }, l.lines.filter((x) => x.zone === z.zone).map((x) => line(x, open)))]),
    el('p', { text: [l.bloom, l.no_bloom].filter(Boolean).map(capital).join('. ') }),
    l.cost ? el('p', { text: `In all ${l.cost}.` }) : null, el('p', { class: 'soft', text: `How good: ${l.gap}.` }),
    [...l.notes, ...l.cautions].map((t) => el('p', { text: t })),
    s.left.length ? [el('h3', { text: 'Found no place' }), el('ul', {}, s.left.map((x) => el('li', { text: `${x.count} ${x.name}, ${x.zone}: ${x.why}` })))] : null,
    stakes(s, open),
    l.labels.length ? details('labels', 'Where the label and this bed disagree', open, [l.labels].flat().map((t) => el('p', { text: t }))) : null);
}

const details = (key, summary, open, ...children) => el('details', { 'data-key': key, open: open.has(key) || null }, el('summary', { text: summary }), ...children);

// keyOf is what the stakes of a kind begin with.
const keyOf = (id) => (store.state.plants.find((p) => p.id === id) || {}).key;

function line(x, open) {
  return el('li', {},
    el('strong', { text: `${x.count} ` }), el('button', { type: 'button', class: 'plain', text: x.name, onclick: () => tell('card', x.id) }),
    ' ', el('span', { class: 'soft', text: [keyOf(x.id), x.apart].filter(Boolean).join(', ') }), ' ', risk(x),
    el('p', { class: 'why', text: [x.reason, x.past].filter(Boolean).map(capital).join('. ') }),
    x.next.length ? details(`${x.zone}-${x.id}`, `Instead of ${x.name}`, open, el('ul', {}, x.next.map((n) => el('li', {}, el('button', { type: 'button', class: 'plain', text: n.name, onclick: () => tell('card', n.id) }), ` ${n.risk}. `, el('span', { class: 'why', text: n.reason }))))) : null);
}

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
