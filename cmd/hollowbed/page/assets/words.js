// How figures that come in words look on the page.

import { el, svg } from './dom.js';
import { bloom } from './views.js';

// looks is the class of a risk by its level.
export const looks = (level) => ({ low: 'k0', some: 'k2', high: 'k3' })[level] || 'k1';

export const risk = (r) => el('span', { class: `r ${looks(r.level)}`, text: /^(about )?(under |over )?\d/.test(r.risk) ? `risk ${r.risk}` : r.risk });

// marks are signs and words for how a check came out.
export const marks = { ok: ['✓', 'met'], fails: ['▲', 'not met'], unknown: ['?', 'not known'] };

// figure is the growth form of a kind of plant, of a size, that stands on a place.
export const figure = (kind, x, y, size) => svg('path', { class: 'figure', d: kind.figure, transform: `translate(${x} ${y}) scale(${size / 100})` });

// kindMark is how a kind looks on the plan, at a time of the year if one is shown.
export const kindMark = (kind, look) => svg('svg', { viewBox: '0 0 20 20', class: `kind ${look ? look.look : ''}`, 'aria-hidden': 'true' },
  svg('circle', { cx: 10, cy: 10, r: 8, fill: look ? look.tone : kind.tint }), look ? bloom(look, 10, 10, 8) : figure(kind, 10, 15.5, 11));

// badge marks more risk than is accepted by a triangle, one not known by a square.
export const badge = (level, x, y, u) => svg('path', { class: `badge ${level}`, d: level === 'high' ? `M${x} ${y - u}L${x + u} ${y + u * 0.8}H${x - u}Z` : `M${x - u * 0.8} ${y - u * 0.8}h${1.6 * u}v${1.6 * u}h${-1.6 * u}Z` });
