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

// profile is the ground from left to right, [x m, height mm], as wide as each
// band is when seen from the side.
function profile(plan) {
  const left = [], right = [];
  for (const b of plan.bands) {
    const xs = b.rings.flat().map((p) => p[0]);
    if (!xs.length) continue;
    left.push([Math.min(...xs), b.top_mm]);
    right.unshift([Math.max(...xs), b.top_mm]);
  }
  const last = plan.bands[plan.bands.length - 1];
  if (left.length && last.foot_mm < last.top_mm) {
    left.push([left[left.length - 1][0], last.foot_mm]);
    right.unshift([right[0][0], last.foot_mm]);
  }
  return [...left, ...right];
}

function draw() {
  const s = store.state, frame = $('section');
  const w = frame.clientWidth, h = frame.clientHeight;
  if (!s || !s.plan || !w || !s.plan.bands.length) return;
  const ground = profile(s.plan);
  const xs = ground.map((p) => p[0]), ys = ground.map((p) => p[1]);
  const [x0, x1, low, top] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys, 0)];
  const side = Math.min(w * 0.16, 260);
  const X = (x) => side + ((x - x0) / (x1 - x0)) * (w - 2 * side);
  const deep = (h * 0.56) / Math.max(top - low, 1);
  const Y = (mm) => h * 0.24 + (top - mm) * deep;
  const line = ground.map(([x, y]) => `${X(x).toFixed(1)} ${Y(y).toFixed(1)}`).join('L');
  const turf = `M-5 ${Y(top)}L${line}L${w + 5} ${Y(top)}`;
  const mix = h * 0.11;
  const parts = [
    svg('path', { class: 'soil', d: `${turf}V${h + 1}H-5Z` }),
    svg('path', { class: 'mix', d: `M${line}L${ground.slice().reverse().map(([x, y]) => `${X(x).toFixed(1)} ${(Y(y) + mix).toFixed(1)}`).join('L')}Z` }),
  ];
  if (level !== null) parts.push(pond(ground, X, Y, Math.min(level, top)));
  parts.push(svg('path', { class: 'turf', d: turf }));
  parts.push(...stand(s, X, Y, ground));
  parts.push(svg('path', { class: 'spill', d: `M${X(x0) - 10} ${Y(0)}H${X(x1) + 10}` }));
  const small = w < 560;
  parts.push(svg('text', { x: small ? 6 : X(x0) - 16, y: Y(top) - 8, 'text-anchor': small ? 'start' : 'end', text: 'lawn' }));
  parts.push(svg('text', { x: w / 2, y: Y(0) - 6, 'text-anchor': 'middle', text: 'spill level' }));
  if (s.bed) parts.push(svg('text', { class: 'in', x: w / 2, y: Y(low) + mix * 0.5 + 4, 'text-anchor': 'middle', text: 'mix' }));
  put(frame, svg('svg', { viewBox: `0 0 ${w} ${h}`, role: 'img', 'aria-label': 'Section through the bed, heights drawn larger than lengths.' }, parts));
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

// stand shows where plants stand, as blades over the ground.
function stand(s, X, Y, ground) {
  const height = (x) => {
    for (let i = 0; i + 1 < ground.length; i += 1) {
      const [[xa, ya], [xb, yb]] = [ground[i], ground[i + 1]];
      if (x >= xa && x <= xb && xb > xa) return ya + ((x - xa) / (xb - xa)) * (yb - ya);
    }
    return 0;
  };
  const k = Math.max(0.55, Math.min(1.8, (X(1) - X(0)) / 170)); // blades as large as the bed is drawn
  let d = '';
  for (const p of s.plants || []) {
    const x = X(p.x_m), y = Y(height(p.x_m)), t = (7 + p.radius_m * 22) * k;
    d += `M${(x - 3 * k).toFixed(1)} ${(y - t * 0.7).toFixed(1)}L${x.toFixed(1)} ${y.toFixed(1)}V${(y - t).toFixed(1)}M${x.toFixed(1)} ${y.toFixed(1)}L${(x + 3 * k).toFixed(1)} ${(y - t * 0.8).toFixed(1)}`;
  }
  return d ? [svg('path', { class: 'tall', d })] : [];
}
