// The plan at a time of the year: what is green then, and what flowers.

import { $, el, put, svg, say } from './dom.js';
import { store, on, tell } from './store.js';

export function start() {
  $('plan-view').addEventListener('change', (e) => {
    store.view = e.target.value;
    tell('view');
    const v = shown();
    say(v ? [v.words, ...store.state.kinds.filter((k, i) => v.looks[i].look === 'flower').map((k) => `${k.name}, ${lookOf(k).words}`)].join(' ') : 'All kinds of plants.');
  });
  on('state', () => {
    const names = (store.state.views || []).map((v) => v.name);
    if ([...$('plan-view').options].slice(1).map((o) => o.value).join() !== names.join()) put($('plan-view'), $('plan-view').options[0], names.map((n) => el('option', { value: n, text: n })));
    if (!names.includes(store.view)) store.view = '';
    $('plan-view').value = store.view;
    words();
  });
  on('view', words);
}

function words() {
  $('plan-season').hidden = !shown();
  put($('plan-season'), shown() && shown().words);
}

// shown is the time of the year that is shown, if one is.
const shown = () => store.view && store.state.views && store.state.views.find((v) => v.name === store.view);

// lookOf is what a kind looks like now, if the plan shows a time of the year.
export function lookOf(kind) {
  const v = shown();
  return v ? v.looks[store.state.kinds.indexOf(kind)] : null;
}

// bloom is the dot in the middle of what flowers, a question mark for leaves not known.
export function bloom(look, x, y, r) {
  if (look.look === 'flower') return svg('circle', { class: 'dot', cx: x, cy: y, r: r * 0.28 });
  return look.look === 'unsure' ? svg('text', { x, y, 'font-size': r, text: '?' }) : null;
}
