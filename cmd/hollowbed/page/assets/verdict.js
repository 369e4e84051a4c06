// The first thing seen: whether the bed does its work, a few figures, and what
// to do next.

import { $, el, put, capital } from './dom.js';
import { store, on, tell } from './store.js';
import { looks, marks } from './words.js';

let shown = '';

export function start() {
  on('state', () => {
    const v = store.state.verdict;
    if (!v || shown === JSON.stringify(v)) return; // what is pressed keeps the focus
    shown = JSON.stringify(v);
    const step = $(`tab-${v.step}`);
    put($('verdict'),
      el('p', { class: `answer ${v.look}` }, el('span', { class: 'mark', 'aria-hidden': 'true', text: marks[v.look][0] }), ` ${v.words}`),
      el('dl', {}, v.facts.map((f) => el('div', {}, el('dt', { text: capital(f.label) }), el('dd', { class: f.level ? `r ${looks(f.level)}` : null, text: f.value }), f.note ? el('dd', { class: 'soft', text: f.note }) : null))),
      el('p', { class: 'next' }, el('b', { text: 'Next: ' }), v.next, ' ', el('button', { type: 'button', text: `Open ${step.lastChild.textContent.trim()}`, onclick: () => { tell('open-sheet', v.step); step.focus(); } })));
  });
}
