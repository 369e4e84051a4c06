// How the plants did, and why.

import { $, el, put, say, capital } from './dom.js';
import { blocks } from './blocks.js';
import { get, post } from './api.js';
import { store, on, tell, act } from './store.js';
import { pick } from './plan.js';
import * as moves from './moves.js';

let season = null, turn = 0;

export function start() {
  put($('season'), el('div', { id: 'season-note' }), el('div', { id: 'season-bed' }), el('div', { id: 'season-says' }), el('div', { id: 'season-moves' }));
  on('sheet', (name) => {
    if (name === 'season') return load();
    flags(null);
    return moves.draw(null);
  });
  on('picked', (stake) => { if (season && stake && $('note-stake')) { $('note-stake').value = stake; says(); } });
  on('state', (before) => {
    const s = store.state;
    if (before && !$('season').hidden && (before.places_of !== s.places_of || before.revision !== s.revision || (before.tick !== s.tick && before.version === s.version && !s.busy))) load();
  });
}

async function load() {
  const mine = turn += 1;
  if (!season) put($('season-note'), el('h2', { text: 'How did they do?' }), el('p', { class: 'soft', text: 'Reading the notes, and what the weather did to each plant.' }));
  try {
    const [s, m] = [await get('api/season'), await get('api/moves')];
    if (mine !== turn || $('season').hidden) return;
    took(s);
    moves.draw(m);
  } catch (cause) {
    tell('refused', cause);
  }
}

function took(s) {
  const same = season && JSON.stringify(season) === JSON.stringify(s);
  season = s;
  flags(s);
  if (same && $('note-form')) return;
  note();
  bed();
  says();
}

// flags marks the plants that struggle, as people mark them in the bed.
function flags(s) {
  store.struggles = new Set(s ? s.plants.filter((p) => p.struggles).map((p) => p.stake) : []);
  tell('flags');
}

function note() {
  const head = [el('h2', { text: 'How did they do?' }), el('p', { text: season.words })];
  if (!season.ready) {
    put($('season-note'), head, el('p', { text: 'Notes are about plants that stand. Once they are planted as the plan shows, keep their places.' }),
      el('div', { class: 'do' }, el('button', { type: 'button', text: 'Keep these places', onclick: () => act('api/keep', {}) })));
    return;
  }
  if (store.state.read_only) {
    put($('season-note'), head, el('p', { class: 'soft', text: 'These are the invented notes of the demo. In a garden of yours, you write them here.' }), chooser());
    return;
  }
  put($('season-note'), head,
    el('form', { id: 'note-form', onsubmit: send, oninput: () => { $('note-wrong').hidden = true; }, 'aria-label': 'Note how a plant did' },
      chooser(el('div', { class: 'field' }, el('label', { for: 'note-date', text: 'Date' }), el('input', { id: 'note-date', type: 'date', value: season.today, max: season.today }))),
      el('fieldset', {}, el('legend', { text: 'Vigour' }), el('div', { class: 'chips' }, season.vigour.map((v) => el('label', {}, el('input', { type: 'radio', name: 'vigour', value: String(v.value) }), `${v.value} ${v.label}`)))),
      el('fieldset', {}, el('legend', { text: 'Signs' }), el('div', { class: 'signs' }, season.signs.map((s) => el('label', { title: s.look }, el('input', { type: 'checkbox', name: 'sign', value: s.sign }), s.label)))),
      el('div', { class: 'field' }, el('label', { for: 'note-remark', text: 'Remark' }), el('input', { id: 'note-remark', type: 'text', maxlength: '500' })),
      el('p', { class: 'wrong', id: 'note-wrong', hidden: true }),
      el('div', { class: 'do' }, el('button', { type: 'submit', class: 'main', text: 'Write it down' }))));
  choose();
}

// bed takes down what the bed itself did, and shows what was.
function bed() {
  const seen = season.bed.length ? el('ul', {}, season.bed.map(entry)) : null;
  if (store.state.read_only) return put($('season-bed'), seen);
  const field = (name, label, type, more) => el('div', { class: 'field' }, el('label', { for: `bed-${name}`, text: label }), el('input', { id: `bed-${name}`, type, ...more }));
  return put($('season-bed'), el('h2', { text: 'What did the bed do?' }), seen,
    el('form', { id: 'bed-form', onsubmit: watched, oninput: () => { $('bed-wrong').hidden = true; }, 'aria-label': 'Note what the bed did' },
      el('p', { class: 'soft', id: 'bed-how', text: `Water, as in: ${season.pond_like}. Sun on a clear day, as in: bottom 10:00-14:00. A pond tells more of the ground than any plant; zones, care and move go by it with --by-notes.` }),
      el('div', { class: 'fields' }, field('date', 'Date', 'date', { value: season.today, max: season.today }),
        field('pond', 'Water that stood', 'text', { 'aria-describedby': 'bed-how', autocomplete: 'off' }), field('sun', 'Sun that was seen', 'text', { 'aria-describedby': 'bed-how', autocomplete: 'off' })),
      el('p', { class: 'wrong', id: 'bed-wrong', hidden: true }),
      el('div', { class: 'do' }, el('button', { type: 'submit', text: 'Write it down' }))));
}

function watched(e) {
  e.preventDefault();
  const pond = $('bed-pond').value.trim(), sun = $('bed-sun').value.trim();
  const wrong = wrongIn('bed-wrong');
  return pond || sun ? write({ date: $('bed-date').value, pond, sun }, wrong) : wrong('Say what stood or what was in the sun, and when.');
}

function chooser(more) {
  const write = more && season.drifts.length;
  return el('div', { class: 'fields' }, el('div', { class: 'field' }, el('label', { for: 'note-stake', text: write ? 'Plant, or click it; or a drift' : 'Plant, or click it' }),
    el('select', { id: 'note-stake', onchange: chosen },
      el('option', { value: '', text: season.plants.some((p) => p.notes.length) ? 'all that struggle' : 'choose a plant' }),
      write ? el('optgroup', { label: 'Drifts' }, season.drifts.map((d) => el('option', { value: ofDrift(d), text: d.words }))) : null,
      season.plants.map((p) => el('option', { value: p.stake, text: `${p.stake}, ${p.name}` })))),
  write ? el('div', { class: 'field', id: 'note-some', hidden: true }, el('label', { for: 'note-count' }), el('input', { id: 'note-count', type: 'text', maxlength: '11', autocomplete: 'off' })) : null, more);
}

// A drift has a value that no stake has.
const ofDrift = (d) => `drift ${d.letter}`;
const driftOf = (value) => season.drifts.find((d) => ofDrift(d) === value);

// chosen picks the plant on the plan, or asks how many of a drift are meant.
function chosen() {
  const value = $('note-stake').value, d = driftOf(value);
  if (d) $('note-some').firstChild.textContent = `How many of the ${d.count}, as 2; or 2 of ${d.count} where the others are well`;
  else if (value) pick(value);
  says();
}

function choose() {
  if (store.stake && season.plants.some((p) => p.stake === store.stake)) $('note-stake').value = store.stake;
}

async function send(e) {
  e.preventDefault();
  const form = $('note-form'), stake = $('note-stake').value;
  const vigour = form.querySelector('[name=vigour]:checked');
  const wrong = wrongIn('note-wrong');
  if (!stake) return wrong('Choose the plant first: click it on the plan or pick it from the list.');
  const d = driftOf(stake);
  if (d && !$('note-count').value.trim()) return wrong(`Say how many of the ${d.count} plants, as 2, or 2 of ${d.count}.`);
  if (!d) store.stake = stake;
  return write({ ...(d ? { drift: d.letter, count: $('note-count').value } : { stake }), date: $('note-date').value, vigour: vigour ? Number(vigour.value) : null, signs: [...form.querySelectorAll('[name=sign]:checked')].map((s) => s.value), remark: $('note-remark').value }, wrong);
}

const wrongIn = (id) => (text) => { $(id).textContent = text; $(id).hidden = !text; if (text) say(text); };

async function write(entry, wrong) {
  try {
    took(await post('api/note', entry));
    say('Written down.');
    moves.draw(await get('api/moves'));
  } catch (cause) {
    if (cause.status >= 400 && cause.status < 500 && cause.status !== 409) wrong((cause.body.faults || []).length ? cause.body.faults.map((f) => `${capital([f.value, f.want].filter(Boolean).join(': '))}.`).join(' ') : cause.message);
    else tell('refused', cause);
  }
}

const entry = (n) => el('li', {}, `${n.date}: ${n.words} `, strikes(n), photo(n));

// photo shows the photograph of a note; one that is gone shows nothing.
function photo(n) {
  if (!n.photo) return null;
  const src = `api/photo/${encodeURIComponent(n.photo)}`;
  return el('a', { class: 'photo', href: src, target: '_blank', rel: 'noopener' },
    el('img', { src, alt: `Photograph of ${n.date}, opens whole`, loading: 'lazy', onerror: (e) => e.target.parentNode.remove() }));
}

const strikes = (n) => (store.state.read_only ? null : el('button', { type: 'button', class: 'plain', text: 'strike out', 'aria-label': `Strike out the note of ${n.date}`, onclick: () => strike(n.entry) }));

async function strike(entry) {
  try {
    took(await post('api/note', { strike: entry }));
    say('Struck out.');
    moves.draw(await get('api/moves'));
  } catch (cause) {
    tell('refused', cause);
  }
}

// says tells of one plant, or of all that struggle.
function says() {
  if (!season || !season.ready) return put($('season-says'));
  const value = $('note-stake') ? $('note-stake').value : '', stake = driftOf(value) ? '' : value;
  if ($('note-some')) $('note-some').hidden = !driftOf(value);
  const some = season.plants.filter((p) => (stake ? p.stake === stake : p.struggles));
  return put($('season-says'),
    some.length ? [el('h2', { text: stake ? 'What it may be' : 'Those that struggle' }), el('ul', { class: 'rows' }, some.map((p) => one(p, Boolean(stake))))] : null);
}

function one(p, whole) {
  return el('li', {},
    el('button', { type: 'button', class: 'plain', text: `${p.stake}, ${p.name}`, onclick: () => { $('note-stake').value = p.stake; pick(p.stake); says(); } }),
    p.struggles ? el('span', { class: 'struggles', text: ' struggles' }) : null,
    !whole && p.chances ? el('span', { class: 'why', text: `: ${p.chances}` }) : null,
    whole ? [
      blocks(p.causes),
      el('h3', { text: 'Notes' }),
      p.notes.length ? el('ul', {}, p.notes.map(entry)) : el('p', { text: 'Nothing noted yet.' }),
    ] : null);
}
