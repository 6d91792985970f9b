// @ts-check
// The page of the live bench: sends what a person does, and changes the pieces that the server sends in place, so that focus
// and scrolling stay.

/**
 * @typedef {{ id: string, html: string }} Piece
 * @typedef {{ look: string, words: string, tint: number, share: string }} Load
 * @typedef {{ pieces: Piece[], volts: Record<string, string>, loads: Record<string, Load> }} Change
 * @typedef {{ do: string, name?: string, value?: string }} Ask
 */

/** @type {Map<string, Ask>} What has still to be sent; a later turn of the same knob takes the place of an earlier one. */
const waiting = new Map();
/** @type {Map<Element, number>} Fields that a person is changing, and until when they are left alone. */
const touched = new Map();
/** @type {Record<string, string>} */
const volts = {};
/** @type {Record<string, Load>} */
const loads = {};
let isSending = false;
/** @type {string | null} */
let focusNext = null;
/** @type {number | undefined} */
let typing;

/** @param {Ask} ask */
function act(ask) {
  const key = `${ask.do} ${ask.name ?? ''}`;
  // Steps and presses are each their own; turns of a knob are not.
  waiting.set(['sensor', 'rail', 'celsius', 'scrub', 'text'].includes(ask.do) ? key : `${key} ${waiting.size} ${performance.now()}`, ask);
  void send();
}

async function send() {
  if (isSending) return;
  isSending = true;
  for (const [key, ask] of waiting) {
    waiting.delete(key);
    try {
      await fetch('do', { method: 'POST', headers: { 'content-type': 'application/json' }, body: JSON.stringify(ask) });
    } catch {
      alive('The bench has ended: what you do here is not kept.');
    }
  }
  isSending = false;
  if (waiting.size) void send();
}

/** @param {string} words */
function alive(words) {
  const line = document.getElementById('alive');
  if (line && line.textContent !== words) line.textContent = words;
}

/** @param {Element} field */
function isTouched(field) {
  return (touched.get(field) ?? 0) > performance.now();
}

/**
 * Makes one node as another is, keeping what need not change.
 * @param {Node} from
 * @param {Node} to
 */
function morph(from, to) {
  if (from.nodeType !== to.nodeType || from.nodeName !== to.nodeName || from instanceof Element && to instanceof Element && from.id !== to.id) {
    from.parentNode?.replaceChild(to, from);
    return;
  }
  if (!(from instanceof Element) || !(to instanceof Element)) {
    if (from.nodeValue !== to.nodeValue) from.nodeValue = to.nodeValue;
    return;
  }
  if (to.hasAttribute('data-own')) return; // a piece of its own
  for (const { name } of [...from.attributes])
    if (!to.hasAttribute(name) && name !== 'open') from.removeAttribute(name);
  for (const { name, value } of to.attributes)
    if (from.getAttribute(name) !== value) from.setAttribute(name, value);
  if (from instanceof HTMLInputElement && to instanceof HTMLInputElement) {
    if (!isTouched(from) && from.value !== to.value) from.value = to.value;
    return;
  }
  if (from instanceof HTMLTextAreaElement && to instanceof HTMLTextAreaElement) {
    if (!isTouched(from) && from.value !== to.value) {
      const { selectionStart, selectionEnd, scrollTop } = from;
      from.value = to.value;
      from.setSelectionRange(selectionStart, selectionEnd);
      from.scrollTop = scrollTop;
    }
    return;
  }
  const after = [...to.childNodes];
  after.forEach((child, k) => {
    const before = from.childNodes[k];
    if (before) morph(before, child);
    else from.appendChild(child);
  });
  while (from.childNodes.length > after.length) from.lastChild?.remove();
}

/** @param {Change} change */
function apply(change) {
  let isDrawn = false;
  for (const { id, html } of change.pieces) {
    const place = document.getElementById(id);
    const template = document.createElement('template');
    template.innerHTML = html;
    const made = template.content.firstElementChild;
    if (!place || !made) continue;
    morph(place, made);
    isDrawn ||= id === 'drawing';
  }
  Object.assign(volts, change.volts);
  Object.assign(loads, change.loads);
  if (isDrawn || Object.keys(change.volts).length)
    for (const e of document.querySelectorAll('[data-volts]')) {
      const words = volts[/** @type {SVGElement} */ (e).dataset.volts ?? ''] ?? '';
      if (e.textContent !== words) e.textContent = words;
    }
  if (isDrawn || Object.keys(change.loads).length)
    for (const e of document.querySelectorAll('svg [data-part]')) {
      const part = /** @type {SVGElement} */ (e), load = loads[part.dataset.part ?? ''], title = part.querySelector('title');
      if (!title) continue;
      part.dataset.is ??= title.textContent ?? '';
      const words = part.dataset.is + (load?.words ? `; ${load.words}` : '');
      part.setAttribute('class', `part ${load?.look ?? ''}`.trim());
      title.textContent = words;
      part.setAttribute('aria-label', words);
      part.style.setProperty('--share', String(load?.tint ?? 0));
      const label = part.querySelector('[data-load]');
      if (label && label.textContent !== (load?.share ?? '')) label.textContent = load?.share ?? '';
    }
  tell();
  if (focusNext) {
    const field = document.getElementById(focusNext);
    if (field) {
      field.focus();
      focusNext = null;
    }
  }
}

/** @param {Element} e @returns {Ask} */
function askOf(e) {
  const data = /** @type {HTMLElement} */ (e).dataset;
  return { do: data.do ?? '', name: data.name, value: data.value };
}

/** @param {string} place */
function goTo(place) {
  const text = /** @type {HTMLTextAreaElement | null} */ (document.getElementById('text'));
  const [line, column, length] = place.split(':').map(Number);
  if (!text) return;
  const start = text.value.split('\n').slice(0, line - 1).reduce((n, l) => n + l.length + 1, 0) + column - 1;
  text.focus();
  text.setSelectionRange(start, start + length);
}

document.addEventListener('input', event => {
  const field = event.target;
  if (!(field instanceof HTMLInputElement || field instanceof HTMLTextAreaElement) || !field.dataset.do) return;
  touched.set(field, performance.now() + (field.dataset.on === 'change' ? 60_000 : 700));
  if (field.dataset.on === 'change') return;
  if (field.value === '' && field instanceof HTMLInputElement) return;
  const ask = { ...askOf(field), value: field.value };
  if (field instanceof HTMLTextAreaElement) {
    clearTimeout(typing);
    typing = setTimeout(() => act(ask), 150);
  } else act(ask);
});

document.addEventListener('change', event => {
  const field = event.target;
  if (field instanceof HTMLInputElement && field.dataset.on === 'change' && field.value !== '') {
    touched.delete(field);
    act({ ...askOf(field), value: field.value });
  }
});

document.addEventListener('click', event => {
  const what = event.target instanceof Element ? event.target.closest('button[data-do], g[data-do]') : null;
  if (!what) return;
  const ask = askOf(what);
  if (ask.do === 'go') goTo(ask.value ?? '');
  else act(ask);
});

/** @type {Element | null} The part of the drawing that is pointed at or has the focus. */
let pointed = null;

/** Says below the drawing what the part that is pointed at carries. */
function tell() {
  const line = document.getElementById('carries'), words = pointed?.isConnected ? pointed.getAttribute('aria-label') : null;
  if (line && words && line.textContent !== words) line.textContent = words;
}

for (const kind of ['pointerover', 'focusin'])
  document.addEventListener(kind, event => {
    const part = event.target instanceof Element ? event.target.closest('g[data-do=part]') : null;
    if (!part) return;
    pointed = part;
    tell();
  });

document.addEventListener('keydown', event => {
  const at = event.target;
  if (at instanceof SVGElement && at.dataset.do && (event.key === 'Enter' || event.key === ' ')) {
    event.preventDefault();
    focusNext = 'part-value';
    act(askOf(at));
  } else if (at instanceof HTMLInputElement && at.id === 'part-value' && (event.key === 'ArrowUp' || event.key === 'ArrowDown')) {
    event.preventDefault();
    touched.delete(at);
    act({ do: 'step', name: at.dataset.name, value: event.key === 'ArrowUp' ? '1' : '-1' });
  } else if ((event.ctrlKey || event.metaKey) && event.key === 's') {
    event.preventDefault();
    act({ do: 'save' });
  }
});

const stream = new EventSource('changes');
stream.onopen = () => alive('On the bench: knobs and faults are not kept, edits are kept when you save.');
stream.onerror = () => alive('No connection to the bench: trying again …');
stream.onmessage = event => apply(/** @type {Change} */ (JSON.parse(event.data)));
