// What the plan shows, above it.

import { $, el, put, svg } from './dom.js';
import { store } from './store.js';
import { badge, kindMark } from './words.js';
import { lookOf } from './views.js';

const swatch = (shape) => svg('svg', { viewBox: '0 0 20 20', class: 'swatch', 'aria-hidden': 'true' }, shape);

// legend tells the kinds first, then marks and ground.
export function legend(grid) {
  const s = store.state, looks = (s.kinds || []).map(lookOf), some = (level) => !looks[0] && s.plants.some((p) => p.level === level);
  const entry = (shape, text) => el('li', {}, swatch(shape), text);
  const ground = (s.plan ? s.plan.bands : []).filter((b, i, all) => all.findIndex((o) => o.zone === b.zone) === i)
    .map((b) => entry(svg('rect', { class: b.zone, x: 1, y: 4, width: 18, height: 12 }), b.zone));
  put($('plan-legend'), (s.kinds || []).map((k, i) => el('li', {}, kindMark(k, looks[i]), el('b', { text: k.key }), ` ${k.name}, ${looks[i] ? looks[i].words : k.count}`)),
    some('high') ? entry(badge('high', 10, 10, 7), 'more risk than you accept') : null,
    some('unknown') ? entry(badge('unknown', 10, 10, 7), 'risk not known') : null,
    store.struggles.size ? entry(svg('path', { class: 'flag', d: 'M6 18V3L15 6.500L6 10' }), 'struggles') : null,
    ground, grid ? el('li', { text: `grid ${grid}` }) : null);
}
