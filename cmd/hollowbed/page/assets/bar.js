// What the program has to tell across the page: work going on, a file that
// changed on disk, an answer that did not come.

import { $, el, put, say } from './dom.js';
import { store, on, act, took } from './store.js';
import { post } from './api.js';

let trouble = null, conflict = null, slow = 0;

export function start() {
  on('refused', (cause) => {
    if (cause.body && cause.body.conflict) conflict = cause.body.conflict;
    else trouble = cause;
    draw();
  });
  on('back', () => { trouble = null; draw(); });
  on('state', () => {
    const s = store.state;
    conflict = s.disk || null;
    if (trouble && trouble.status === 0) trouble = null;
    clearTimeout(slow);
    if (s.busy) slow = setTimeout(draw, 300); // quick work is not worth a line
    else draw();
    head(s);
  });
  $('save').addEventListener('click', save);
  $('undo').addEventListener('click', () => step('undo'));
  $('redo').addEventListener('click', () => step('redo'));
  $('print').addEventListener('click', () => window.print());
  $('units').addEventListener('change', (e) => act('api/units', { units: e.target.value }));
  addEventListener('keydown', (e) => {
    if (!(e.ctrlKey || e.metaKey) || e.altKey) return;
    const typing = /^(INPUT|TEXTAREA|SELECT)$/.test(document.activeElement.tagName);
    if (e.key === 's') { e.preventDefault(); if (!$('save').disabled) save(); }
    if (e.key === 'z' && !typing) { e.preventDefault(); step(e.shiftKey ? 'redo' : 'undo'); }
  });
}

async function step(which) {
  const words = store.state[which];
  if (words && await act(`api/${which}`, {})) say(`${which === 'undo' ? 'Undone' : 'Done again'}: ${words}`);
}

function head(s) {
  $('garden-name').textContent = s.name;
  document.title = `${s.saved ? '' : '• '}${s.name} · Hollowbed`;
  $('garden-from').textContent = s.demo ? 'The invented demo garden: nothing here is written to disk.' : s.folder;
  $('changed').textContent = s.saved ? 'As on disk' : `${s.unsaved.length} not saved`;
  $('changed').title = s.unsaved.join('\n');
  $('save').disabled = s.saved || s.read_only || s.faults.length > 0;
  for (const which of ['undo', 'redo']) {
    $(which).disabled = !s[which];
    $(which).title = s[which] || '';
    $(which).setAttribute('aria-label', s[which] ? `${which === 'undo' ? 'Undo' : 'Redo'}: ${s[which]}` : which === 'undo' ? 'Undo' : 'Redo');
  }
  if (document.activeElement !== $('units')) $('units').value = s.units;
  if (s.bed) put($('cautions'), s.bed.find((b) => b.list && b.list.mind).list.items.map((c) => el('li', { text: c })));
}

export async function save() {
  await saveAs(store.state.revision);
}

async function saveAs(revision) {
  try {
    took(await post('api/save', { revision, version: store.state.version }));
    say('Saved.');
  } catch (cause) {
    if (cause.body && cause.body.conflict) conflict = cause.body.conflict;
    else trouble = cause;
    draw();
  }
}

function draw() {
  const s = store.state, bar = $('bar');
  bar.classList.toggle('bad', Boolean(trouble || conflict));
  if (trouble) show([trouble.message, ...((trouble.body && trouble.body.faults) || []).map((f) => ` ${f.value ? `${f.value}: ` : ''}${f.want}.`)], [button('Close', () => { trouble = null; draw(); })]);
  else if (conflict) {
    show([conflict.words, ...conflict.files.map((f) => el('pre', { tabindex: '0', role: 'region', 'aria-label': `What differs in ${f.name}`, text: `${f.name}\n${f.lines.map((l) => `${l.sign} ${l.text}`).join('\n')}` }))],
      [button('Take the file from disk', () => { conflict = null; act('api/reload', {}); }), s.read_only ? null : button('Write mine over it', () => saveAs(conflict.revision))]);
  } else if (s && s.failed && !s.busy) show(s.failed, []);
  else if (s && s.stopped && !s.busy) show(stopped(s), [button('Work it out', () => act('api/try', { version: s.version, changes: {} }))]);
  else if (s && s.busy) working(s);
  else bar.hidden = true;
}

function stopped(s) {
  if (s.figures_of !== s.version) return 'Stopped. The figures are those of before your last change.';
  if (s.places_of !== s.version) return 'Stopped. The places of the plants are those of before your last change.';
  return 'Stopped. Every plant has a place; whether there are better ones was not looked at to the end.';
}

function working(s) {
  const done = s.stages.filter((x) => x.state === 'done').length, now = s.stages.find((x) => x.state === 'running');
  show([`${now ? now.words : 'Working'} `, el('progress', { max: String(s.stages.length || 1), value: String(done), 'aria-label': 'Work done' })], [stop]);
}

const button = (text, press) => el('button', { type: 'button', text, onclick: press });
const stop = button('Stop', () => act('api/stop', {}));

// A button that stays is left where it is: it keeps the focus, and a press that has begun.
function show(what, buttons) {
  put($('bar-says'), what);
  if (buttons.length !== 1 || $('bar-do').firstChild !== buttons[0]) put($('bar-do'), buttons);
  $('bar').hidden = false;
}
