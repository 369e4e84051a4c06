// The page from its start: the sheets, and who draws what.

import { $ } from './dom.js';
import { on, tell, follow } from './store.js';
import * as plan from './plan.js';
import * as views from './views.js';
import * as section from './section.js';
import * as water from './water.js';
import * as here from './here.js';
import * as lot from './lot.js';
import * as verdict from './verdict.js';
import * as list from './list.js';
import * as out from './out.js';
import * as year from './year.js';
import * as find from './find.js';
import * as season from './season.js';
import * as bar from './bar.js';

const names = ['lot', 'list', 'out', 'year', 'season', 'find', 'here'];
const wide = matchMedia('(min-width: 110rem)'); // room for what is here beside the other sheets
let now = 'list';

const shown = () => names.filter((n) => n !== 'here' || !wide.matches);

function open(name) {
  if (name === 'here' && wide.matches) return;
  now = name;
  for (const n of names) {
    const mine = n === name, tab = $(`tab-${n}`);
    tab.setAttribute('aria-selected', mine ? 'true' : 'false');
    tab.tabIndex = mine ? 0 : -1;
    $(n).hidden = !mine && !(n === 'here' && wide.matches);
  }
  history.replaceState({ sheet: name }, ''); // a page that is loaded anew opens where it was
  tell('sheet', name);
}

// spread gives what is here a column of its own where there is room.
function spread() {
  $('tab-here').hidden = wide.matches;
  $('here').setAttribute('role', wide.matches ? 'region' : 'tabpanel');
  $('here').setAttribute('aria-labelledby', wide.matches ? 'here-title' : 'tab-here');
  (wide.matches ? document.querySelector('main') : $('lot').parentNode).insertBefore($('here'), wide.matches ? document.querySelector('.sheets') : $('lot'));
  open(wide.matches && now === 'here' ? 'list' : now);
}

function sheets() {
  for (const n of names) {
    $(`tab-${n}`).addEventListener('click', () => open(n));
    $(`tab-${n}`).addEventListener('keydown', (e) => {
      const all = shown(), i = all.indexOf(n);
      const to = { ArrowRight: i + 1, ArrowLeft: i - 1, Home: 0, End: all.length - 1 }[e.key];
      if (to === undefined) return;
      e.preventDefault();
      const next = all[(to + all.length) % all.length];
      open(next);
      $(`tab-${next}`).focus();
    });
  }
  on('open-sheet', open);
  on('here', () => { if (now !== 'season' || wide.matches) open('here'); }); // notes are made by clicking: their sheet stays
  wide.addEventListener('change', spread);
}

for (const part of [bar, verdict, views, plan, section, water, here, lot, list, out, year, find, season]) part.start();
sheets();
const asked = history.state && history.state.sheet;
if (names.includes(asked)) now = asked;
spread();
follow();
