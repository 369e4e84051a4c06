// Playing the water through the wettest week and the driest summer.

import { $ } from './dom.js';
import { get } from './api.js';
import { store, on, tell } from './store.js';

const play = { film: null, timer: 0, of: -1, asked: 0 };
const calm = matchMedia('(prefers-reduced-motion: reduce)');

export function start() {
  $('water-play').addEventListener('click', async () => {
    if (play.timer) return stop();
    if (!await load()) return undefined;
    if (Number($('water-at').value) >= play.film.frames.length - 1) show(0);
    return run();
  });
  $('water-what').addEventListener('change', async () => { stop(); play.film = null; if (await load()) show(0); });
  $('water-at').addEventListener('input', () => { stop(); show(Number($('water-at').value)); });
  on('state', () => {
    if (play.film && play.of !== store.state.figures_of) { // the bed is another: so is its water
      stop();
      play.film = null;
      load();
    } else if (play.film) show(Number($('water-at').value));
  });
}

async function load() {
  if (play.film) return true;
  const mine = play.asked += 1, at = $('water-at');
  at.disabled = true;
  try {
    const of = store.state.figures_of, film = await get(`api/water?play=${$('water-what').value}`);
    if (mine !== play.asked) return false;
    Object.assign(play, { film, of });
    at.max = film.frames.length - 1;
    at.disabled = false;
    show(Math.min(Number(at.value), film.frames.length - 1));
    return true;
  } catch (cause) {
    tell('refused', cause);
    return false;
  }
}

function show(i) {
  const frame = play.film && play.film.frames[i];
  if (!frame) return;
  $('water-at').value = i;
  $('water-at').setAttribute('aria-valuetext', frame.words);
  $('water-says').textContent = `${frame.at}: ${frame.words}`;
  tell('water', { frame, rings: play.film.rings, film: play.film });
}

function run() {
  $('water-play').textContent = 'Pause';
  $('water-play').setAttribute('aria-pressed', 'true');
  play.timer = setInterval(() => {
    const i = Number($('water-at').value) + 1;
    if (i >= play.film.frames.length) stop();
    else show(i);
  }, calm.matches ? 900 : Math.max(60, Math.min(200, 20000 / play.film.frames.length)));
}

function stop() {
  clearInterval(play.timer);
  play.timer = 0;
  $('water-play').textContent = 'Play';
  $('water-play').setAttribute('aria-pressed', 'false');
}
