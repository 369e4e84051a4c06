// Documents of the program, drawn block by block (package doc writes them).

import { el, capital } from './dom.js';
import { store, tell } from './store.js';
import { looks } from './words.js';
import { pick } from './plan.js';

const bar = (b, know) => (b ? el('meter', { class: know, min: '0', max: '1', value: String(b.hard), 'aria-hidden': 'true' }) : null);

// keyOf is what the stakes of a kind begin with.
const keyOf = (id) => (store.state.plants.find((p) => p.id === id) || {}).key;

// words of a cell: a plant opens its card, a risk shows its level.
const words = (c, text = c.words) => [
  c.id ? [el('button', { type: 'button', class: 'plain', text, onclick: () => tell('card', c.id) }), keyOf(c.id) ? el('span', { class: 'soft', text: ` ${keyOf(c.id)}` }) : null]
    : c.stake ? el('button', { type: 'button', class: 'plain', text, onclick: () => pick(c.stake) })
    : c.level ? el('span', { class: `r ${looks(c.level)}`, text }) : text,
  c.latin ? [' ', el('i', { class: 'latin', text: c.latin })] : null];

// heads are the cells of the first column, over the rows that belong to them.
function heads(t) {
  const out = [];
  t.rows.forEach((row, i) => {
    if (row[0].words || !i) out.push([row[0], []]);
    out.at(-1)[1].push(row);
  });
  return out;
}

const lines = (t) => el('tbody', {}, heads(t).map(([head, rows]) => rows.map((row, k) => el('tr', {},
  k ? null : el('th', { scope: 'row', rowspan: rows.length > 1 ? String(rows.length) : null }, words(head, capital(head.words))),
  row.slice(1).map((c, i) => el('td', { class: [c.look, t.columns[i + 1].right && 'n'].filter(Boolean).join(' ') || null }, words(c), bar(c.bar, t.columns[i + 1].know)))))));

// stacked rows have no room beside each other: each cell says what it is.
const stacked = (t) => heads(t).map(([head, rows]) => {
  const row = (cells, from) => el('li', {}, words(cells[from], capital(cells[from].words)),
    cells.map((c, i) => (i > from && c.words && !t.columns[i].under ? [i === from + 1 ? ': ' : ', ', el('span', { class: 'soft', text: `${t.columns[i].head} ` }), words(c)] : null)),
    cells.map((c, i) => (t.columns[i].under && c.words ? el('p', { class: 'why', text: capital(c.words) }) : null)));
  return rows.length > 1 || t.rows.some((r) => !r[0].words) ? el('li', {}, el('strong', {}, words(head)), el('ul', { class: 'rows' }, rows.map((r) => row(r, 1)))) : row(rows[0], 0);
});

const table = (t) => (t.columns.some((c) => c.under) ? el('ul', { class: 'rows', 'aria-label': t.caption }, stacked(t))
  : el('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': t.caption }, el('table', {}, el('caption', { text: t.caption }),
    el('thead', {}, el('tr', {}, t.columns.map((c) => (c.head ? el('th', { scope: 'col', class: c.right ? 'n' : null, text: capital(c.head) }) : el('td'))))), lines(t))));

const kinds = {
  heading: (text) => el('h2', { text }),
  text: (t) => [t.head ? el('h3', { text: capital(t.lead.replace(/,$/, '')) }) : null, el('p', {}, t.level ? el('span', { class: `r ${looks(t.level)}` }) : null, t.lead && !t.head ? el('b', { text: `${capital(t.lead)}: ` }) : null, capital(t.words))],
  list: (l) => (l.items.length ? [l.title ? el('h3', { text: l.title }) : null, el('ul', { class: l.mind ? 'mind' : null }, l.items.map((t) => el('li', { text: t })))] : null),
  facts: (all, was) => el('dl', { class: 'lines' }, all.map((f) => el('div', {}, el('dt', { text: capital(f.label) }), el('dd', {}, f.value, f.note ? `; ${f.note}` : null,
    was[f.label] && was[f.label] !== f.value ? el('span', { class: 'soft', text: ` was ${was[f.label]}` }) : null)))),
  table,
  picture: (p) => el('figure', {}, el('div', { class: 'scroll', tabindex: '0', role: 'region', 'aria-label': p.name }, el('img', { class: 'drawing', src: `${p.src}?of=${store.state.figures_of}-${store.state.units}`, alt: `${p.name}; its figures are below` })),
    el('figcaption', { class: 'soft', text: p.below }), p.table ? el('details', {}, el('summary', { text: 'In figures' }), table(p.table)) : null),
};

// blocks draws a document; was is what its facts said before, by label.
export const blocks = (all, was = {}) => (all || []).map((b) => Object.entries(b).map(([kind, block]) => kinds[kind](block, was)));

// of is the first block of a kind.
export const of = (all, kind) => all.find((b) => b[kind])[kind];
