// What the page knows, and who wants to hear of it.

import { get, post } from './api.js';

export const store = {
  state: null,
  stake: '', // the plant picked on the plan
  view: '', // the time of the year that the plan shows
  moves: null, // the relocation plan, once asked for
  accepted: new Set(),
  struggles: new Set(), // stakes to flag on the plan
};

const hearers = new Map();

export function on(what, hear) {
  if (!hearers.has(what)) hearers.set(what, []);
  hearers.get(what).push(hear);
}

export function tell(what, detail) {
  for (const hear of hearers.get(what) || []) hear(detail);
}

// took keeps a state unless a newer one is here already.
export function took(state) {
  if (!state || (store.state && state.tick < store.state.tick)) return;
  const before = store.state;
  store.state = state;
  tell('state', before);
}

// act asks for a change and keeps the state that comes of it.
export async function act(path, body) {
  try {
    took(await post(path, body));
    return true;
  } catch (cause) {
    tell('refused', cause);
    return false;
  }
}

// shown resolves once the window can be seen.
const shown = () => new Promise((done) => {
  if (!document.hidden) done();
  else document.addEventListener('visibilitychange', () => done(), { once: true });
});

// follow waits for what changes without this window's doing: figures that are
// worked out, other windows, the files on disk. A window that nobody sees does
// not wait, since a browser keeps only a few lines to one server.
export async function follow() {
  const me = Math.random().toString(36).slice(2); // what waits is counted by windows
  let silent = 0, told = '';
  for (;;) {
    await shown();
    const line = new AbortController();
    const hide = () => { if (document.hidden) line.abort(); };
    document.addEventListener('visibilitychange', hide);
    try {
      took(await get(store.state ? `api/state?after=${store.state.tick}&window=${me}` : 'api/state', line.signal));
      if (silent > 1) tell('back');
      silent = 0;
      told = '';
    } catch (cause) {
      if (cause.name !== 'AbortError') {
        silent += 1;
        if (silent > 1 && told !== cause.message) tell('refused', cause);
        if (silent > 1) told = cause.message;
        await new Promise((done) => { setTimeout(done, Math.min(8000, 500 * silent)); });
      }
    }
    document.removeEventListener('visibilitychange', hide);
  }
}

// change sends what was typed; what is typed meanwhile goes along with the next.
let waiting = null, sending = false;
export async function change(changes) {
  waiting = { ...waiting, ...changes };
  if (sending) return;
  sending = true;
  while (waiting) {
    const now = waiting;
    waiting = null;
    try {
      took(await post('api/try', { version: store.state.version, changes: now }));
    } catch (cause) {
      tell('refused', cause); // what another window has changed meanwhile is not changed blindly
      tell('unsent', Object.keys(now));
      try {
        took(await get('api/state'));
      } catch {
        // The line that follows the program tells when nobody answers.
      }
    }
  }
  sending = false;
}
