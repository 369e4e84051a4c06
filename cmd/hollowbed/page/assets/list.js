// The planting list: two lines a plant, and why on demand.

import { $, el, put, capital } from './dom.js';
import { blocks } from './blocks.js';
import { store, on, tell } from './store.js';
import { kindMark, risk } from './words.js';

export function start() {
  on('state', (before) => {
    const s = store.state;
    if (before && before.figures_of === s.figures_of && before.places_of === s.places_of && before.plants.length === s.plants.length && before.tick === s.tick) return;
    draw(s);
  });
  let opened = []; // on paper nothing can be opened
  addEventListener('beforeprint', () => { opened = [...$('list').querySelectorAll('.planted details:not([open])')]; for (const d of opened) d.open = true; });
  addEventListener('afterprint', () => { for (const d of opened) d.open = false; });
}

function draw(s) {
  const next = $('list').querySelector(':scope > details');
  if (!s.list) {
    put($('list'), el('h2', { text: 'Planting list' }), el('p', { text: s.failed || s.record || 'No list yet.' }));
    return;
  }
  const l = s.list;
  let zone = '';
  const open = new Set([...$('list').querySelectorAll('.planted details[open]')].map((d) => d.dataset.key));
  put($('list'), l.blocks.map((b) => {
    if (b.text && b.text.head) zone = b.text.lead.replace(/,$/, '');
    return b.table ? el('ul', { class: 'rows planted', 'aria-label': b.table.caption }, l.lines.filter((x) => x.zone === zone).map((x) => line(x, s, open))) : blocks([b]);
  }), el('details', { open: (next && next.open) || null }, el('summary', { text: l.next[0].heading }), blocks(l.next.slice(1))));
}

function line(x, s, open) {
  const kind = (s.kinds || []).find((k) => k.id === x.id), key = `${x.zone} ${x.id}`;
  return el('li', {},
    el('div', { class: 'head' }, kind ? [kindMark(kind), el('b', { text: kind.key })] : null, el('button', { type: 'button', class: 'plain', text: x.name, onclick: () => tell('card', x.id) }), `${x.count} ${x.count === 1 ? 'plant' : 'plants'}`),
    el('p', {}, `${x.facts}; `, risk(x)),
    x.mind.length ? el('p', { class: 'mind', text: capital(x.mind.join('; ')) }) : null,
    el('details', { 'data-key': key, open: open.has(key) || null }, el('summary', { text: 'Why', 'aria-label': `Why ${x.name}` }), x.latin ? el('p', {}, el('i', { class: 'latin', text: x.latin })) : null, x.why.map((w) => el('p', { class: 'why', text: capital(w) }))));
}
