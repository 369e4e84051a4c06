// What stands here, and what would: the place or the plant that was picked.

import { $, el, put, facts, say, capital } from './dom.js';
import { blocks } from './blocks.js';
import { post } from './api.js';
import { store, on, tell, act } from './store.js';
import { risk } from './words.js';
import { pick, holdByKeys } from './plan.js';

let shown = { kind: '', key: '' }; // what was asked for last; answers to older questions are dropped

export function start() {
  on('look', (spot) => { tell('here'); lookAt(spot); });
  on('picked', (stake) => { if (stake) { tell('here'); stakeCard(stake); } });
  on('card', (id) => { tell('open-sheet', 'here'); plantCard(id); });
  on('wished', again);
  on('state', (before) => {
    const s = store.state;
    if (before && (before.figures_of !== s.figures_of || before.places_of !== s.places_of)) again();
  });
}

// again asks anew for what is shown, since the bed is another.
function again() {
  if (shown.kind === 'place') lookAt(shown.key);
  else if (shown.kind === 'stake') stakeCard(shown.key);
  else if (shown.kind === 'plant') plantCard(shown.key);
}

async function ask(kind, key, send, took) {
  const mine = shown = { kind, key };
  try {
    const answer = await send();
    if (shown === mine) took(answer);
  } catch (cause) {
    if (shown === mine) tell('refused', cause);
  }
}

const lookAt = (spot) => ask('place', spot, () => post('api/place', spot), place);

const many = 8; // plants shown before "show all"

function place(p) {
  $('plan-says').textContent = p.words;
  $('here-title').textContent = p.inside ? `This place, ${p.zone}` : 'Outside the bed';
  put($('here-body'),
    el('p', { text: p.words }),
    p.inside ? facts([['Ground', p.ground], ['Sun', p.sun], ['Longest wet spell', p.wet], ['Short of air', p.air], ['Deepest water', p.deepest], ['Longest dry spell', p.dry]]) : null,
    p.inside && p.standing.length ? [el('h3', { text: 'Within reach' }), el('div', { class: 'chips' }, p.standing.map((s) => el('button', { type: 'button', onclick: () => pick(s), text: nameOf(s) })))] : null,
    p.inside && !p.kept ? lives(p) : null);
  say(p.words);
}

function nameOf(stake) {
  const p = store.state.plants.find((q) => q.stake === stake);
  return p ? `${p.stake}, ${p.name}` : stake;
}

function lives(p) {
  const list = el('ul', { class: 'rows' });
  const row = (h) => el('li', {}, el('button', { type: 'button', class: 'plain', text: h.name, onclick: () => tell('card', h.id) }), ' ', risk(h), el('p', { class: 'why', text: capital(h.reason) }));
  list.append(...p.lives.slice(0, many).map(row));
  const more = p.lives.length > many ? el('button', { type: 'button', text: `Show ${p.lives.length - many} more`, onclick: (e) => { list.append(...p.lives.slice(many).map(row)); e.target.remove(); } }) : null;
  const rest = p.lives_n > p.lives.length ? el('p', { class: 'soft', text: `These are the ${p.lives.length} safest. For the others see Find plants.` }) : null;
  return [el('h3', { text: p.lives_n ? `${p.lives_n} plants would live here, safest first` : 'No plant of the table would live here' }), list, more, rest];
}

function stakeCard(stake) {
  const p = store.state.plants.find((q) => q.stake === stake);
  if (!p) return undefined;
  $('plan-says').textContent = `${p.name}, ${p.stake}, ${p.zone}: risk ${p.risk}.`;
  return ask('stake', stake, () => post('api/plant', { id: p.id }), (c) => {
    $('here-title').textContent = `${p.name}, ${p.stake}`;
    put($('here-body'),
      facts([['Here', risk(p)], [`In the list, over the whole ${p.zone}`, p.in_list && `${p.in_list} a year`], ['Zone', p.zone], ['Drift', p.drift], ['Ground', p.ground], ['Sun', p.sun], ['From A', p.from_a], ['From B', p.from_b]]),
      el('div', { class: 'do' }, el('button', { type: 'button', text: 'Move with the arrow keys', onclick: () => holdByKeys(stake) }), wishes(c)),
      blocks(c.blocks));
  });
}

const plantCard = (id) => ask('plant', id, () => post('api/plant', { id }), (c) => {
  $('here-title').textContent = c.name;
  put($('here-body'), el('div', { class: 'do' }, wishes(c)), blocks(c.blocks));
  say(c.says);
});

// wishes are what one can want of a plant.
export function wishes(c) {
  const set = (wish, text, label) => el('button', {
    type: 'button', text, 'aria-label': `${text}: ${label}`, 'aria-pressed': c.wish === wish ? 'true' : 'false', 
    onclick: async () => {
      await act('api/wish', { id: c.id, wish: c.wish === wish ? '' : wish });
      tell('wished', c.id);
    },
  });
  return [set('wanted', 'Want it', c.name), set('unwanted', 'Leave it out', c.name), el('button', { type: 'button', text: 'Compare', 'aria-label': `Compare ${c.name} with another`, onclick: () => tell('compare', c) })];
}
