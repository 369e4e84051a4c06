// Documents of the program, drawn block by block (package doc writes them).

import { el, capital } from './dom.js';

const bar = (b, know) => (b ? el('meter', { class: know, min: '0', max: '1', value: String(b.hard), 'aria-hidden': 'true' }) : null);

const table = (t) => el('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': t.caption }, el('table', {}, el('caption', { text: t.caption }),
  el('thead', {}, el('tr', {}, t.columns.map((c) => el('th', { scope: 'col', class: c.right ? 'n' : null, text: capital(c.head) })))),
  el('tbody', {}, t.rows.map((row) => el('tr', {}, row.map((c, i) => (i ? el('td', { class: t.columns[i].right ? 'n' : null }, c.words, bar(c.bar, t.columns[i].know)) : el('th', { scope: 'row', text: capital(c.words) }))))))));

const kinds = {
  heading: (words) => el('h2', { text: words }),
  text: (t) => el('p', {}, t.lead ? el('b', { text: `${t.lead}: ` }) : null, t.words),
  list: (l) => (l.items.length ? [l.title ? el('h3', { text: l.title }) : null, el('ul', { class: l.mind ? 'mind' : null }, l.items.map((t) => el('li', { text: t })))] : null),
  facts: (all) => el('dl', { class: 'lines' }, all.map((f) => el('div', {}, el('dt', { text: capital(f.label) }), el('dd', { text: f.value })))),
  table,
};

export const blocks = (all) => (all || []).map((b) => Object.entries(b).map(([kind, of]) => kinds[kind](of)));
