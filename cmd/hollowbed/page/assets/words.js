// How figures that come in words look on the page.

import { el } from './dom.js';

// looks is the class of a risk by its level.
export const looks = (level) => ({ low: 'k0', some: 'k2', high: 'k3' })[level] || 'k1';

export const risk = (r) => el('span', { class: `r ${looks(r.level)}`, text: /^(about )?(under |over )?\d/.test(r.risk) ? `risk ${r.risk}` : r.risk });

// marks are signs and words for how a check came out.
export const marks = { ok: ['✓', 'met'], fails: ['▲', 'not met'], unknown: ['?', 'not known'] };
