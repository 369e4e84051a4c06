// How the plants did, why, and where they should move.

import { $, el, put, say, capital } from './dom.js';
import { get, post } from './api.js';
import { store, on, tell } from './store.js';
import { pick } from './plan.js';

let season = null, moves = null;

export function start() {
  put($('season'), el('div', { id: 'season-note' }), el('div', { id: 'season-says' }), el('div', { id: 'season-moves' }));
  on('sheet', (name) => { if (name === 'season') load(); });
  on('picked', (stake) => { if (season && stake && $('note-stake')) { $('note-stake').value = stake; says(); } });
  on('state', (before) => { if (before && before.places_of !== store.state.places_of && !$('season').hidden) load(); });
}

async function load() {
  try {
    season = await get('api/season');
    note();
    says();
    await loadMoves();
  } catch (cause) {
    tell('refused', cause);
  }
}

function note() {
  if (!season.ready) {
    put($('season-note'), el('h2', { text: 'How did they do?' }), el('p', { text: season.words }));
    return;
  }
  const chosen = $('note-stake') ? $('note-stake').value : store.stake;
  put($('season-note'), el('h2', { text: 'How did they do?' }), el('p', { text: season.words }),
    el('form', { id: 'note-form', onsubmit: send, 'aria-label': 'Note how a plant did' },
      el('div', { class: 'fields' },
        el('div', { class: 'field' }, el('label', { for: 'note-stake', text: 'Plant, or click it' }), el('select', { id: 'note-stake', onchange: () => { if ($('note-stake').value) pick($('note-stake').value); says(); } }, el('option', { value: '', text: 'choose a plant' }), season.plants.map((p) => el('option', { value: p.stake, text: `${p.stake}, ${p.name}` })))),
        el('div', { class: 'field' }, el('label', { for: 'note-date', text: 'Date' }), el('input', { id: 'note-date', type: 'date', value: today() }))),
      el('fieldset', {}, el('legend', { text: 'Vigour' }), el('div', { class: 'chips' }, season.vigour.map((v) => el('label', {}, el('input', { type: 'radio', name: 'vigour', value: String(v.value) }), `${v.value} ${v.label}`)))),
      el('fieldset', {}, el('legend', { text: 'Signs' }), el('div', { class: 'chips' }, season.signs.map((s) => el('label', {}, el('input', { type: 'checkbox', name: 'sign', value: s.sign }), s.label)))),
      el('div', { class: 'field' }, el('label', { for: 'note-remark', text: 'Remark' }), el('input', { id: 'note-remark', type: 'text', maxlength: '500' })),
      el('p', { class: 'wrong', id: 'note-wrong', hidden: true }),
      el('div', { class: 'do' }, el('button', { type: 'submit', class: 'main', text: 'Write it down' }))));
  if (chosen && season.plants.some((p) => p.stake === chosen)) $('note-stake').value = chosen;
}

const today = () => {
  const d = new Date();
  return `${d.getFullYear()}-${String(d.getMonth() + 1).padStart(2, '0')}-${String(d.getDate()).padStart(2, '0')}`;
};

async function send(e) {
  e.preventDefault();
  const form = $('note-form');
  const vigour = form.querySelector('[name=vigour]:checked');
  const wrong = (text) => { $('note-wrong').textContent = text; $('note-wrong').hidden = !text; if (text) say(text); };
  if (!$('note-stake').value) return wrong('Choose the plant first: click it on the plan or pick it from the list.');
  if (!vigour) return wrong('Say how vigorous it is, from 0 to 5.');
  try {
    season = await post('api/note', { stake: $('note-stake').value, date: $('note-date').value, vigour: Number(vigour.value), signs: [...form.querySelectorAll('[name=sign]:checked')].map((s) => s.value), remark: $('note-remark').value });
    note();
    says();
    say('Written down.');
    await loadMoves();
  } catch (cause) {
    if (cause.status >= 400 && cause.status < 500 && cause.status !== 409) wrong(capital(cause.message));
    else tell('refused', cause);
  }
  return undefined;
}

// says tells of one plant, or of all that have notes.
function says() {
  if (!season || !season.ready) return put($('season-says'));
  const stake = $('note-stake') ? $('note-stake').value : '';
  const some = season.plants.filter((p) => (stake ? p.stake === stake : p.notes.length > 0));
  return put($('season-says'), some.length ? [el('h2', { text: stake ? 'What it may be' : 'Notes so far' }), el('ul', { class: 'rows' }, some.map((p) => el('li', {},
    el('button', { type: 'button', class: 'plain', text: `${p.stake}, ${p.name}`, onclick: () => pick(p.stake) }),
    el('ul', {}, p.notes.map((n) => el('li', { text: `${n.date}: ${n.words}` }))),
    p.advice ? el('p', {}, el('strong', { text: p.advice })) : null,
    p.causes.length ? el('table', { class: 'causes' }, el('caption', { text: 'Causes, by weight of evidence' }), el('tbody', {}, p.causes.map((c) => el('tr', {}, el('th', { scope: 'row', text: capital(c.cause) }), el('td', {}, bar(c.share), ` ${c.words}`))))) : null,
    p.evidence.length ? el('ul', { class: 'why' }, p.evidence.map((t) => el('li', { text: t }))) : null,
    p.look_for ? el('p', { class: 'why', text: p.look_for }) : null)))] : null);
}

const bar = (share) => el('meter', { min: '0', max: '1', value: String(share), 'aria-hidden': 'true' });

async function loadMoves() {
  moves = await get('api/moves');
  store.moves = moves;
  store.accepted = new Set(moves.moves.map((m) => m.stake));
  drawMoves();
  tell('moves');
}

function drawMoves() {
  const refused = moves.moves.length - store.accepted.size;
  put($('season-moves'), el('h2', { text: 'Moves' }), el('p', { text: moves.words }),
    moves.moves.length ? el('form', { onsubmit: apply, 'aria-label': 'Moves to accept' }, el('ul', { class: 'rows' }, moves.moves.map((m) => el('li', {},
      el('label', {}, el('input', { type: 'checkbox', checked: store.accepted.has(m.stake), onchange: (e) => { together(m, e.target.checked); } }), el('strong', { text: `${capital(m.action)} ${m.name}, ${m.stake}` })),
      el('p', {}, `${m.from.words}${m.to ? ` to ${m.to.words}` : ''}. ${m.before} now, ${m.after} after.`),
      el('p', { class: 'why', text: [m.cause, m.when, m.how].filter(Boolean).map(capital).join('. ') }),
      m.second ? el('p', { class: 'why', text: capital(m.second) }) : null))),
    el('div', { class: 'do' }, el('button', { type: 'submit', class: 'main', disabled: store.accepted.size === 0 || null, text: refused ? `Take the ${store.accepted.size} chosen` : 'Take them all' }))) : null,
    moves.stays ? el('p', { class: 'soft', text: moves.stays }) : null);
}

// together keeps moves of one group in step: a swap is taken whole or not.
function together(m, yes) {
  for (const o of moves.moves) {
    if (o.stake === m.stake || (m.group && o.group === m.group)) store.accepted[yes ? 'add' : 'delete'](o.stake);
  }
  const at = moves.moves.indexOf(m);
  drawMoves();
  $('season-moves').querySelectorAll('input[type=checkbox]')[at].focus();
  tell('moves');
}

async function apply(e) {
  e.preventDefault();
  try {
    moves = await post('api/moves/apply', { accepted: [...store.accepted], revision: moves.revision });
    store.moves = moves;
    store.accepted = new Set(moves.moves.map((m) => m.stake));
    drawMoves();
    tell('moves');
    say('Written to planted.csv.');
  } catch (cause) {
    tell('refused', cause);
  }
}
