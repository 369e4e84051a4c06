// Where plants should move: accepted or refused one by one, those that hang
// together together.

import { $, el, put, say, capital } from './dom.js';
import { post } from './api.js';
import { store, tell } from './store.js';
import { pick } from './plan.js';

let plan = null;

// draw shows a plan; null takes its arrows off the bed.
export function draw(m) {
  if (m && plan && JSON.stringify(m) === JSON.stringify(plan) && store.moves) return;
  const refused = plan ? plan.moves.filter((x) => !store.accepted.has(x.stake)).map((x) => x.stake) : [];
  store.moves = m;
  if (m) {
    plan = m;
    store.accepted = new Set(m.moves.map((x) => x.stake).filter((s) => !refused.includes(s)));
    sheet();
  }
  tell('moves');
}

function sheet() {
  const n = store.accepted.size, all = n === plan.moves.length;
  put($('season-moves'), el('h2', { text: 'Moves' }), el('p', { text: plan.words }),
    plan.look.length ? el('p', {}, 'Look at these first, since a look could change the plan: ', plan.look.map((s, i) => [i ? ', ' : '', el('button', { type: 'button', class: 'plain', text: s, onclick: () => pick(s) })]), '.') : null,
    plan.moves.length ? el('form', { onsubmit: apply, 'aria-label': 'Moves to accept' }, el('ul', { class: 'rows' }, plan.moves.map(row)),
      store.state.read_only ? null : el('div', { class: 'do' }, el('button', { type: 'submit', class: 'main', disabled: n === 0 || null, text: n === 0 ? 'Nothing chosen' : all ? 'Done in the ground: write them down' : `Done in the ground: write down the ${n} chosen` }))) : null,
    plan.stays ? el('p', { class: 'soft', text: plan.stays }) : null,
    plan.buy.length ? [el('h3', { text: 'To buy' }), el('ul', {}, plan.buy.map((t) => el('li', { text: t })))] : null,
    [...plan.notes, ...plan.cautions].map((t) => el('p', { class: 'soft', text: t })));
}

function row(m) {
  const box = el('input', { type: 'checkbox', checked: store.accepted.has(m.stake), 'data-stake': m.stake, onchange: (e) => together(m, e.target.checked) });
  return el('li', {},
    el('label', {}, box, el('strong', { text: `${m.stake}, ${m.name}` }), `: ${m.do}`),
    el('p', { text: m.risk }),
    el('p', { class: 'why', text: capital(m.cause) }),
    m.look_for ? el('p', { class: 'why', text: `To be surer, ${m.look_for}` }) : null,
    el('p', { class: 'why', text: [m.when, m.how].filter(Boolean).map(capital).join('. ') }),
    m.second ? el('p', { class: 'why', text: `Or: ${m.second}` }) : null);
}

// together keeps moves of one group in step: a swap is taken whole or not.
function together(m, yes) {
  const others = plan.moves.filter((o) => o.group === m.group && o.stake !== m.stake);
  for (const o of [m, ...others]) store.accepted[yes ? 'add' : 'delete'](o.stake);
  sheet();
  $('season-moves').querySelector(`[data-stake="${CSS.escape(m.stake)}"]`).focus();
  if (others.length) say(`${others.map((o) => o.stake).join(', ')} ${yes ? 'goes' : 'stays'} with it.`);
  tell('moves');
}

async function apply(e) {
  e.preventDefault();
  try {
    const next = await post('api/moves/apply', { accepted: [...store.accepted], revision: plan.revision });
    plan = null;
    draw(next);
    say('Written down.');
  } catch (cause) {
    tell('refused', cause);
  }
}
