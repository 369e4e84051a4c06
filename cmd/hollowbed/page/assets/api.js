// The way to the server. Every failure comes back as words.

export class Refused extends Error {
  constructor(status, body) {
    super(status === 403 ? 'This window belongs to a run of hollowbed that has ended. Open the address that it has printed last; what was not saved is gone.' : body.error || `The program answered ${status}.`);
    this.status = status;
    this.body = body;
  }
}

async function ask(path, options) {
  let answer;
  try {
    answer = await fetch(path, { credentials: 'same-origin', cache: 'no-store', ...options });
  } catch (cause) {
    if (cause.name === 'AbortError') throw cause;
    throw new Refused(0, { error: 'No answer. Is hollowbed still running? Start it again and load this page anew.' });
  }
  let body = {};
  try {
    body = await answer.json();
  } catch {
    // An answer without words is told by its number.
  }
  if (!answer.ok) throw new Refused(answer.status, body);
  return body;
}

export const get = (path, signal) => ask(path, { signal });

export const post = (path, body, signal) => ask(path, {
  method: 'POST', signal, headers: { 'Content-Type': 'application/json' }, body: JSON.stringify(body || {}),
});

// latest gives a function that asks with the newest question only: while one
// is on its way the next waits, and one that is overtaken is never sent.
export function latest(send, took, failed) {
  let busy = false, next = null;
  async function run(question) {
    busy = true;
    try {
      const answer = await send(question);
      if (next === null) took(answer, question);
    } catch (cause) {
      if (next === null && cause.name !== 'AbortError') failed(cause, question);
    }
    busy = false;
    if (next !== null) {
      const again = next;
      next = null;
      run(again.question);
    }
  }
  return (question) => { if (busy) next = { question }; else run(question); };
}
