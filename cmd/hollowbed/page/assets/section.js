// The cut through the bed at the head of the page: ground, mix and water,
// heights drawn larger than lengths.

import { $, put, svg } from './dom.js';
import { store, on } from './store.js';

let level = null; // of the water, mm from the spill level

export function start() {
  on('state', (before) => { if (!before || before.plan !== store.state.plan) draw(); });
  on('water', (w) => { level = w && w.frame.ring >= 0 ? w.frame.level_mm : null; draw(); });
  new ResizeObserver(draw).observe($('section'));
}

// profile is the ground along the cut, [m from its left end, height mm, inside].
function profile(cut) {
  const long = Math.hypot(cut.to[0] - cut.from[0], cut.to[1] - cut.from[1]), n = cut.ground.length - 1;
  return cut.ground.map((mm, i) => [(long * i) / n, mm, cut.inside[i]]);
}

function draw() {
  const s = store.state, frame = $('section');
  const w = frame.clientWidth, h = frame.clientHeight;
  if (!s || !s.plan || !w || !s.plan.bands.length) return;
  const ground = profile(s.plan.cut), mixed = s.plan.cut.mix_mm;
  const xs = ground.map((p) => p[0]), ys = ground.map((p) => p[1]);
  const [x0, x1, low, top] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys, 0)];
  const side = Math.min(w * 0.16, 260);
  const X = (x) => side + ((x - x0) / (x1 - x0)) * (w - 2 * side);
  const deep = (h * 0.62) / Math.max(top - low + mixed, 1);
  const Y = (mm) => h * 0.3 + (top - mm) * deep;
  const line = ground.map(([x, y]) => `${X(x).toFixed(1)} ${Y(y).toFixed(1)}`).join('L');
  const turf = `M-5 ${Y(top)}L${line}L${w + 5} ${Y(top)}`;
  const mix = mixed * deep;
  const parts = [
    svg('path', { class: 'soil', d: `${turf}V${h + 1}H-5Z` }),
    svg('path', { class: 'mix', d: stretches(ground).map((part) => `M${part.map(([x, y]) => `${X(x).toFixed(1)} ${Y(y).toFixed(1)}`).join('L')}L${part.reverse().map(([x, y]) => `${X(x).toFixed(1)} ${(Y(y) + mix).toFixed(1)}`).join('L')}Z`).join('') }),
  ];
  if (level !== null) parts.push(pond(ground, X, Y, Math.min(level, top)));
  parts.push(svg('path', { class: 'turf', d: turf }));
  parts.push(...stand(s, X, Y, ground, h * 0.26));
  parts.push(svg('path', { class: 'spill', d: `M${X(x0) - 10} ${Y(0)}H${X(x1) + 10}` }));
  const small = w < 560;
  parts.push(svg('text', { x: small ? 6 : X(x0) - 16, y: Y(top) - 8, 'text-anchor': small ? 'start' : 'end', text: 'lawn' }));
  parts.push(svg('text', { x: small ? w - 6 : X(x1) + 16, y: Y(top) - 8, 'text-anchor': small ? 'end' : 'start', text: 'spill level' }));
  if (s.bed) parts.push(svg('text', { class: 'in', x: w / 2, y: Y(low) + mix * 0.5 + 4, 'text-anchor': 'middle', text: 'mix' }));
  put(frame, svg('svg', { viewBox: `0 0 ${w} ${h}`, role: 'img', 'aria-label': 'Section through the bed, heights drawn larger than lengths.' }, parts));
}

// stretches are the parts of the ground that lie inside the bed.
function stretches(ground) {
  const parts = [[]];
  for (const p of ground) {
    if (p[2]) parts[parts.length - 1].push(p);
    else if (parts[parts.length - 1].length) parts.push([]);
  }
  return parts.filter((p) => p.length > 1);
}

// pond fills the ground up to a level.
function pond(ground, X, Y, mm) {
  let d = '';
  for (let i = 0; i + 1 < ground.length; i += 1) {
    const [[xa, ya], [xb, yb]] = [ground[i], ground[i + 1]];
    if (ya >= mm && yb >= mm) continue;
    const at = (y) => (yb === ya ? xa : xa + ((y - ya) / (yb - ya)) * (xb - xa));
    const l = ya > mm ? [at(mm), mm] : [xa, ya], r = yb > mm ? [at(mm), mm] : [xb, yb];
    if (r[0] <= l[0]) continue;
    d += `M${X(l[0])} ${Y(mm)}L${X(l[0])} ${Y(l[1])}L${X(r[0])} ${Y(r[1])}L${X(r[0])} ${Y(mm)}Z`;
  }
  return svg('path', { class: 'pond', d });
}

const beside = 0.5; // m from the line of the cut within which plants are shown

// stand shows the plants along the cut, each by its form and as tall against the
// tallest as it grows: blades, a head on a stem, or a round.
function stand(s, X, Y, ground, sky) {
  const { from, to } = s.plan.cut, long = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
  const [ux, uy] = [(to[0] - from[0]) / long, (to[1] - from[1]) / long], n = ground.length - 1;
  const near = (s.plants || []).map((p) => {
    const [dx, dy] = [p.x_m - from[0], p.y_m - from[1]];
    return { p, at: dx * ux + dy * uy, off: Math.abs(dy * ux - dx * uy) };
  }).filter((q) => q.off <= beside && q.at >= 0 && q.at <= long);
  const tallest = Math.max(...near.map((q) => q.p.height_m || 0), 0.3);
  return near.map(({ p, at }) => {
    const x = X(at), y = Y(ground[Math.round((at / long) * n)][1]);
    const t = Math.max(5, (sky * (p.height_m || 0.3)) / tallest), r = Math.max(2, Math.min((X(p.radius_m) - X(0)) * 0.6, t * 0.5));
    const to2 = (dx, dy) => `${(x + dx).toFixed(1)} ${(y - dy).toFixed(1)}`;
    const stems = `M${to2(-r, t * 0.75)}Q${to2(-r * 0.2, t * 0.5)} ${to2(0, 0)}L${to2(0, t)}M${to2(0, 0)}Q${to2(r * 0.2, t * 0.5)} ${to2(r, t * 0.85)}`;
    const round = (up, size) => `M${to2(-size, up)}a${size.toFixed(1)} ${size.toFixed(1)} 0 1 0 ${(2 * size).toFixed(1)} 0a${size.toFixed(1)} ${size.toFixed(1)} 0 1 0 ${(-2 * size).toFixed(1)} 0`;
    const d = /grass|fern|bulb/.test(p.form) ? stems : /shrub|tree|groundcover/.test(p.form) ? `M${to2(0, 0)}L${to2(0, t * 0.4)}${round(t - r, r)}` : `M${to2(0, 0)}L${to2(0, t - 4)}${round(t - 2, 2)}`;
    return svg('path', { class: 'tall', d }, svg('title', { text: p.name }));
  });
}
