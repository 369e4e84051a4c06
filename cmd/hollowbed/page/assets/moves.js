// Where plants should move: accepted or refused one by one, those that hang
// together together.

import { $, el, put, say } from './dom.js';
import { blocks } from './blocks.js';
import { post } from './api.js';
import { store, tell } from './store.js';

let plan = null;

// draw shows a plan; null takes its arrows off the bed.
export function draw(m) {
  if (m && plan && JSON.stringify(m) === JSON.stringify(plan) && store.moves) return;
  const refused = plan ? plan.moves.filter((x) => !store.accepted.has(x.plant)).map((x) => x.plant) : [];
  const chosen = plan && m ? m.steps.flatMap((s) => s.stakes).filter((s) => store.accepted.has(s)) : [];
  store.moves = m;
  if (m) {
    plan = m;
    store.accepted = new Set([...m.moves.map((x) => x.plant).filter((s) => !refused.includes(s)), ...chosen]);
    sheet();
  }
  tell('moves');
}

function sheet() {
  const n = store.accepted.size, all = n === plan.steps.flatMap((s) => s.stakes).length;
  put($('season-moves'), blocks(plan.before),
    plan.steps.length ? el('form', { onsubmit: apply, 'aria-label': 'Moves to accept' }, el('ul', { class: 'rows' }, plan.steps.map(row)),
      store.state.read_only ? null : el('div', { class: 'do' }, el('button', { type: 'submit', class: 'main', disabled: n === 0 || null, text: n === 0 ? 'Nothing chosen' : all ? 'Done in the ground: write them down' : `Done in the ground: write down the ${n} chosen` }))) : null,
    blocks(plan.after));
}

// row is what is done with one plant, or with some that are replaced alike.
function row(step) {
  const head = el('strong', { text: step.blocks[0].text.words }), many = step.stakes.length > 1;
  const box = (stake) => el('input', { type: 'checkbox', checked: store.accepted.has(stake), 'data-stake': stake, onchange: (e) => together(stake, e.target.checked) });
  return el('li', {}, many ? el('p', {}, head) : null,
    step.stakes.map((stake) => el('label', {}, box(stake), many ? `${stake} ` : head)),
    el('div', { class: 'why' }, blocks(step.blocks.slice(1))));
}

// together keeps moves of one group in step: a swap is taken whole or not.
function together(stake, yes) {
  const group = plan.moves.find((m) => m.plant === stake)?.group; // none: the place of one that died
  const others = plan.moves.filter((o) => o.group === group && o.plant !== stake).map((o) => o.plant);
  for (const o of [stake, ...others]) store.accepted[yes ? 'add' : 'delete'](o);
  sheet();
  $('season-moves').querySelector(`[data-stake="${CSS.escape(stake)}"]`).focus();
  if (others.length) say(`${others.join(', ')} ${yes ? 'goes' : 'stays'} with it.`);
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
