// Elements made without markup: text stays text, whatever it holds.

const svgNS = 'http://www.w3.org/2000/svg';

function fill(node, props, children) {
  for (const [name, value] of Object.entries(props || {})) {
    if (value === null || value === undefined || value === false) continue;
    if (name.startsWith('on')) node.addEventListener(name.slice(2), value);
    else if (name === 'class') node.setAttribute('class', value);
    else if (name === 'text') node.textContent = kept(value);
    else if (name in node && !(node instanceof SVGElement) && typeof value !== 'string') node[name] = value;
    else node.setAttribute(name, value === true ? '' : value);
  }
  add(node, children);
  return node;
}

// kept keeps a number and its short unit on one line.
const kept = (text) => String(text).replace(/(\d) (%|[hd]\b)/g, '$1\u00a0$2');

export function add(node, children) {
  for (const child of children.flat(Infinity)) {
    if (child === null || child === undefined || child === false) continue;
    node.append(child instanceof Node ? child : document.createTextNode(kept(child)));
  }
  return node;
}

export const el = (tag, props, ...children) => fill(document.createElement(tag), props, children);
export const svg = (tag, props, ...children) => fill(document.createElementNS(svgNS, tag), props, children);
export const $ = (id) => document.getElementById(id);

export function put(node, ...children) {
  node.replaceChildren();
  return add(node, children);
}

// capital begins a text as a line of its own.
export const capital = (text) => (text ? text[0].toUpperCase() + text.slice(1) : '');

// say lets a screen reader speak a line, once the last one is a moment old.
let saying;
export function say(text) {
  clearTimeout(saying);
  saying = setTimeout(() => { $('say').textContent = text; }, 250);
}

// dl lists terms and what they say; an empty value leaves the term out.
export function facts(pairs, cls = 'facts') {
  const rows = pairs.filter(([, v]) => v !== '' && v !== null && v !== undefined);
  if (rows.length === 0) return null;
  return el('dl', { class: cls }, rows.map(([k, v]) => el('div', {}, el('dt', { text: k }), el('dd', {}, v))));
}
