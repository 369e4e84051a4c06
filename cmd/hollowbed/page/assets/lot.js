// What is given: the fields of the garden file, and what follows from them.

import { $, el, put, say, capital } from './dom.js';
import { blocks, of } from './blocks.js';
import { store, on, change } from './store.js';
import { marks } from './words.js';

const groups = [['bed', 'The bed'], ['roof', 'The roof'], ['soil', 'The ground'], ['mix', 'The mix'], ['target', 'What the bed has to do'], ['sun', 'Sun'], ['wishes', 'Wishes for the list'], ['plants', 'The plants'], ['site', 'The site'], ['weather', 'The weather'], ['layout', 'Setting out'], ['name', 'The garden']];
const fields = new Map(); // key -> {box, input, hint, wrong, field}
const timers = new Map();

export function start() {
  put($('lot'), el('div', { id: 'lot-follows' }), el('form', { id: 'lot-form', onsubmit: (e) => e.preventDefault(), 'aria-label': 'What is given' }), el('div', { id: 'lot-checks' }));
  on('unsent', (keys) => { for (const k of keys) if (fields.has(k)) fields.get(k).sent = null; });
  on('state', (before) => { form(); follows(before); checks(); });
}

function form() {
  const s = store.state;
  const known = s.fields.map((f) => f.key + f.kind + (f.choices || []).join()).join('|');
  if ($('lot-form').dataset.known !== known) build(s, known);
  shape(s);
  for (const f of s.fields) update(f, s.faults.find((x) => x.key === f.key));
}

// shape leaves out what the shape of the bed has no use for.
function shape(s) {
  const text = (key) => (s.fields.find((f) => f.key === key) || {}).text;
  const free = text('bed.shape') === 'polygon';
  for (const [key, useful] of [['bed.points', free], ['bed.length', !free], ['bed.width', !free]]) {
    if (fields.has(key)) fields.get(key).box.hidden = !useful && !text(key);
  }
}

function build(s, known) {
  fields.clear();
  const form = put($('lot-form'));
  form.dataset.known = known;
  for (const [group, name] of groups) {
    const mine = s.fields.filter((f) => f.group === group);
    if (mine.length) form.append(el('fieldset', {}, el('legend', { text: name }), el('div', { class: 'fields' }, mine.map(field))));
  }
}

function field(f) {
  const id = `f-${f.key.replace(/[^a-z_]/gi, '-')}`;
  const hint = el('p', { class: 'hint', id: `${id}-hint` }), wrong = el('p', { class: 'wrong', id: `${id}-wrong`, hidden: true });
  let input;
  if (f.kind === 'choice' || f.kind === 'yesno') {
    const choices = f.kind === 'yesno' ? ['yes', 'no'] : f.choices;
    input = el('select', { id, onchange: () => send(f.key, input.value, 0) }, el('option', { value: '', text: f.default ? `usual: ${f.default}` : 'not stated' }), choices.map((c) => el('option', { value: c, text: c })));
  } else {
    input = el('input', { id, type: 'text', autocomplete: 'off', spellcheck: 'false', oninput: () => send(f.key, input.value, 220), onchange: () => send(f.key, input.value, 0) });
    if (f.default) input.placeholder = f.default;
  }
  const box = el('div', { class: 'field' }, el('label', { for: id, text: f.label }), input, hint, wrong);
  fields.set(f.key, { box, input, hint, wrong, sent: null });
  return box;
}

function send(key, text, wait) {
  clearTimeout(timers.get(key));
  const f = fields.get(key);
  timers.set(key, setTimeout(() => {
    timers.delete(key);
    if (f.sent === text) return;
    f.sent = text;
    change({ [key]: text });
  }, wait));
}

function update(f, fault) {
  const x = fields.get(f.key);
  if (document.activeElement !== x.input && !timers.has(f.key)) {
    if (x.input.value !== f.text) {
      if (x.input.tagName === 'SELECT' && ![...x.input.options].some((o) => o.value === f.text)) x.input.append(el('option', { value: f.text, text: f.text }));
      x.input.value = f.text;
    }
    x.sent = f.text;
  }
  x.hint.textContent = f.hint || '';
  x.hint.hidden = !f.hint;
  x.wrong.hidden = !fault;
  x.wrong.textContent = fault ? capital(fault.want) : '';
  x.input.setAttribute('aria-invalid', fault ? 'true' : 'false');
  const told = [f.hint && x.hint.id, fault && x.wrong.id].filter(Boolean).join(' ');
  if (told) x.input.setAttribute('aria-describedby', told); else x.input.removeAttribute('aria-describedby');
}

// follows shows the figures, each beside what it was before the last change.
let was = {};
function follows(before) {
  const s = store.state;
  if (!s.bed) return;
  if (before && before.units !== s.units) { // the same figures in other words
    was = {};
    before = null;
    put($('plan-says'));
  }
  if (before && before.bed && before.figures_of !== s.figures_of) was = Object.fromEntries(of(before.bed, 'facts').map((f) => [f.label, f.value]));
  if (before && before.figures_of !== s.figures_of) {
    const news = s.short.flatMap((f) => (before.short || []).filter((old) => old.label === f.label && old.value !== f.value).map((old) => `${capital(f.label)} ${f.value}, was ${old.value}.`));
    const failing = checksOf(s).filter(([, holds]) => holds.look === 'fails').map(([name, , found, wanted]) => `${capital(name.words)}: ${found.words}, want ${wanted.words}.`);
    if (before.list && s.list && before.list.advice !== s.list.advice) news.push(s.list.advice);
    if (news.length) put($('plan-says'), [...news, ...failing].map((t) => el('span', { text: t })));
    if (news.length) say([...news, ...failing].join(' '));
  }
  const other = s.faults.filter((f) => !fields.has(f.key));
  put($('lot-follows'),
    other.map((f) => el('p', { class: 'wrong', text: `${f.key}: ${f.want}` })),
    el('div', { class: 'followed' }, el('h2', { text: 'What follows' }), blocks(s.bed.filter((b) => b.text || b.facts), was), el('p', { class: 'soft', text: s.record }), blocks(s.year)),
    blocks(s.zones), blocks(s.way));
}

// checksOf are the rows of the table of checks: name, whether it holds, what was found, what is wanted, source.
const checksOf = (s) => s.bed.find((b) => b.table && b.table.know === 'checks').table.rows;

function checks() {
  const s = store.state;
  if (!s.bed) return;
  put($('lot-checks'), el('h2', { text: 'Checks' }), el('ul', { class: 'checks' }, checksOf(s).map(([name, holds, found, wanted, source]) => el('li', { class: holds.look },
    el('span', { class: 'mark', 'aria-hidden': 'true', text: marks[holds.look][0] }),
    el('div', {}, `${capital(name.words)}: `, el('span', { class: 'found', text: found.words }), el('span', { class: 'hear', text: ` (${marks[holds.look][1]})` }), el('p', { class: 'why', text: `Want ${wanted.words}. ${source.words}` }))))),
  blocks(s.bed.filter((b) => (b.table && b.table.know !== 'checks') || (b.list && !b.list.mind))));
}
