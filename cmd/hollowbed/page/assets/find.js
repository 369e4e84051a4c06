// Searching the plant table while typing, and two plants side by side.

import { $, el, put, say, capital } from './dom.js';
import { blocks } from './blocks.js';
import { post, latest } from './api.js';
import { store, on, tell, act } from './store.js';
import { risk } from './words.js';

const compare = []; // up to two ids, in the order chosen
let limit = 20, found = null, openFacets = new Set();

export function start() {
  put($('find'),
    el('form', { role: 'search', class: 'fields', onsubmit: (e) => { e.preventDefault(); ask(); } },
      el('div', { class: 'field' }, el('label', { for: 'find-what', text: 'Words and conditions' }), el('input', { id: 'find-what', type: 'search', autocomplete: 'off', spellcheck: 'false', 'aria-describedby': 'find-how find-wrong', oninput: () => { limit = 20; fold(); ask(); } }), el('p', { class: 'wrong', id: 'find-wrong', hidden: true })),
      el('div', { class: 'field' }, el('label', { for: 'find-in', text: 'That would live' }), el('select', { id: 'find-in', onchange: ask }, [['', 'anywhere'], ['bottom', 'in the bottom'], ['slope', 'on the slope'], ['rim', 'on the rim']].map(([v, t]) => el('option', { value: v, text: t })))),
      el('div', { class: 'field' }, el('label', { for: 'find-sort', text: 'In order of' }), el('select', { id: 'find-sort', onchange: ask }, [['', 'best first'], ['name', 'name'], ['height', 'height'], ['-height', 'height, tallest first'], ['spread', 'spread'], ['bloom', 'month of flowers'], ['price', 'price']].map(([v, t]) => el('option', { value: v, text: t }))))),
    el('p', { class: 'soft', id: 'find-how', text: 'As in: blue july, wet feet, wet:48 dry:3wk, height<2ft bees -toxic, like NAME but shorter, replace STAKE.' }),
    el('div', { id: 'find-compare' }),
    el('div', { id: 'find-facets' }),
    el('div', { id: 'find-hits' }));
  on('state', (before) => { if (!before || before.figures_of !== store.state.figures_of || before.version !== store.state.version) if (found || !$('find').hidden) ask(); });
  on('sheet', (name) => { if (name === 'find' && !found) ask(); });
  on('compare', (c) => { toggle(c.id, c.name); tell('open-sheet', 'find'); });
}

const send = latest((q) => post('api/find', q), (f) => { found = f; wrong(''); draw(f); }, (cause) => {
  if (cause.status === 400 || cause.status === 422) wrong(cause.body.faults && cause.body.faults.length ? cause.body.faults.map((x) => (x.want || x.value).replace(/^query:\d+:\d+: /, '')).join('. ') : cause.message);
  else tell('refused', cause);
});

const asked = () => ({ query: $('find-what').value, in: $('find-in').value, sort: $('find-sort').value });

function ask() {
  send({ ...asked(), limit });
}

// wrong tells what cannot be read, once typing rests.
let resting = 0;
function wrong(text) {
  clearTimeout(resting);
  if (text) resting = setTimeout(() => told(text), 500);
  else told('');
}

function told(text) {
  $('find-wrong').textContent = text && capital(text);
  $('find-wrong').hidden = !text;
  $('find-what').setAttribute('aria-invalid', text ? 'true' : 'false');
}

function draw(f) {
  put($('find-facets'), facets(f));
  put($('find-hits'),
    el('div', { class: 'answer' }, blocks(f.before)),
    el('ul', { class: 'rows hits' }, f.hits.map(hit)),
    f.total > f.hits.length && f.hits.length ? el('button', { type: 'button', text: 'Show more', onclick: () => { limit += 40; ask(); } }) : null,
    f.hits.length ? el('p', { class: 'soft' }, el('a', { href: `api/find.csv?${new URLSearchParams(asked())}`, download: 'found.csv', text: 'These as a plant table (CSV)' })) : null,
    f.also.length ? [el('h3', { text: 'With some of the words only' }), el('ul', { class: 'rows hits' }, f.also.map(hit))] : null,
    blocks(f.after),
    f.nearest ? el('button', { type: 'button', text: 'Show it', onclick: () => tell('card', f.nearest) }) : null);
  say($('find-hits').querySelector('.answer').textContent);
}

// wishes are the ids that the garden file wants, or does not.
function wishes(key) {
  const f = store.state.fields.find((x) => x.key === key);
  return f ? f.text.split(/[\s,]+/) : [];
}

function hit(h) {
  const listed = store.state.list ? store.state.list.lines.filter((l) => l.id === h.id).reduce((n, l) => n + l.count, 0) : 0;
  const wanted = wishes('wishes.wanted').includes(h.id);
  const on = compare.some((c) => c.id === h.id);
  return el('li', {},
    el('div', {},
      el('button', { type: 'button', class: 'plain', text: h.name, onclick: () => tell('card', h.id) }), ' ', h.risk ? risk(h) : null,
      listed ? el('span', { class: 'soft', text: ' on the list' }) : null,
      h.short ? el('p', { text: capital(h.short) }) : null,
      el('div', { class: 'why' }, blocks(h.why))),
    el('div', { class: 'do' },
      el('button', { type: 'button', text: wanted ? 'Wanted' : 'Want it', 'aria-pressed': wanted ? 'true' : 'false', 'aria-label': `${wanted ? 'Wanted' : 'Want it'}: ${h.name}`, onclick: () => act('api/wish', { id: h.id, wish: wanted ? '' : 'wanted' }) }),
      el('button', { type: 'button', 'aria-pressed': on ? 'true' : 'false', text: 'Compare', 'aria-label': `Compare ${h.name}`, onclick: () => toggle(h.id, h.name) })));
}

function facets(f) {
  for (const d of $('find-facets').querySelectorAll('details')) openFacets[d.open ? 'add' : 'delete'](d.dataset.key);
  return f.facets.filter((x) => x.values.length).map((x) => el('details', { class: 'facet', 'data-key': x.field, open: openFacets.has(x.field) || null },
    el('summary', { text: capital(x.label) }),
    el('div', { class: 'chips' }, x.values.map((v) => el('button', { type: 'button', text: `${v.value} ${v.count}`, 'aria-pressed': v.on ? 'true' : 'false', 'aria-label': `${x.label} ${v.value}, ${v.count} plants`, onclick: () => { $('find-what').value = v.query; limit = 20; ask(); } })))));
}

// Two plants side by side: the third pushes the first out.
function toggle(id, name) {
  const i = compare.findIndex((c) => c.id === id);
  if (i >= 0) compare.splice(i, 1);
  else compare.push({ id, name });
  if (compare.length > 2) compare.shift();
  side();
  if (found) draw(found); else ask();
}

// fold makes room for what is searched anew.
function fold() {
  const d = $('find-compare').querySelector('details');
  if (d) d.open = false;
}

async function side() {
  const box = $('find-compare');
  if (compare.length === 0) return put(box);
  if (compare.length === 1) return put(box, el('p', { role: 'status' }, `${compare[0].name} is one of two to compare. Choose the other.`));
  try {
    const c = await post('api/compare', { a: compare[0].id, b: compare[1].id });
    return put(box, el('details', { open: true }, el('summary', { text: c.names.join(' beside ') }), blocks(c.blocks),
    el('div', { class: 'do' }, el('button', { type: 'button', text: 'Put both away', onclick: () => { compare.length = 0; side(); if (found) draw(found); } }))));
  } catch (cause) {
    return tell('refused', cause);
  }
}
