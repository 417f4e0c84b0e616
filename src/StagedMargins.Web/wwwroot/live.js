// Keeps an open screen current: on each change of a case that the screen shows, the page is read again by the framework's enhanced
// navigation. What is marked or typed and not yet sent is never taken from under the hand: the page then says that it is out of date.
import { outOfDate } from './forms.js';
import { typed, unsaved } from './leaving.js';

const shown = () => document.querySelector('[data-live]');
const lost = (away) => { const note = document.getElementById('lost'); if (note) note.hidden = !away; };

// What was opened and typed by hand on this page. The server sends every part closed and every field as it is recorded, and a page that
// was asked for before may arrive just after.
const opened = new Set();
const typedIn = new Map(); // address of a form -> Map of field -> what stands in it
let seenOn = location.pathname;
const named = (details) => details.querySelector('summary').textContent.trim();
document.addEventListener('click', (event) => {
  const details = event.target.closest?.('summary')?.parentElement;
  if (details) opened[details.open ? 'delete' : 'add'](named(details));
});
document.addEventListener('form-saved', (event) => {
  const details = event.target.closest('details');
  if (details) opened.delete(named(details));
  typedIn.delete(event.target.dataset.api);
});
document.addEventListener('input', (event) => {
  const form = event.target.closest?.('form[data-api]');
  if (!form) return;
  form.setAttribute('data-typed', '');
  if (event.target.type === 'file' || !event.target.name) return;
  if (!typedIn.has(form.dataset.api)) typedIn.set(form.dataset.api, new Map());
  typedIn.get(form.dataset.api).set(place(event.target), isBox(event.target) ? event.target.checked : event.target.value);
});
document.addEventListener('left-unsent', () => typedIn.clear());
const isBox = (field) => field.type === 'checkbox' || field.type === 'radio';
const place = (field) => (isBox(field) ? `${field.name}=${field.value}` : field.name);

function putBack() {
  for (const form of document.querySelectorAll('form[data-api]')) {
    const values = typedIn.get(form.dataset.api);
    if (!values) continue;
    form.setAttribute('data-typed', '');
    for (const field of form.querySelectorAll('[name]')) {
      if (values.has(place(field))) field[isBox(field) ? 'checked' : 'value'] = values.get(place(field));
    }
  }
}

let pending = 0;
export function refresh() {
  clearTimeout(pending);
  pending = setTimeout(() => {
    if (!shown()) return;
    if (unsaved()) { document.dispatchEvent(new CustomEvent('case-changed-meanwhile')); return; }
    if (typed().length) { outOfDate(true); return; }
    readAgain();
  }, 120);
}

function readAgain() {
  Blazor.navigateTo(location.pathname + location.search, { replaceHistoryEntry: true });
}

function loaded() {
  outOfDate(false);
  if (seenOn !== location.pathname) {
    opened.clear();
    typedIn.clear();
    seenOn = location.pathname;
  }
  for (const details of document.querySelectorAll('details:not([open])')) {
    if (opened.has(named(details))) details.open = true;
  }
  putBack();
  listen();
}

document.addEventListener('click', (event) => {
  if (!event.target.closest?.('#out-of-date button')) return;
  typedIn.clear();
  typed().forEach((form) => { form.reset(); form.removeAttribute('data-typed'); });
  readAgain();
});

let source = null;
let wasAway = false;
function listen() {
  if (source || !shown()) return;
  source = new EventSource('/api/events');
  source.addEventListener('listening', () => { lost(false); if (wasAway) refresh(); wasAway = false; });
  source.addEventListener('changed', (event) => {
    const only = shown()?.dataset.live;
    if (!only || only === 'all' || only === JSON.parse(event.data).caseId) refresh();
  });
  source.addEventListener('settings', refresh);
  source.addEventListener('error', () => {
    wasAway = true;
    lost(true);
    // A refused stream is not tried again by the browser itself.
    if (source.readyState === EventSource.CLOSED) { source = null; setTimeout(listen, 2000); }
  });
}

listen();
Blazor.addEventListener?.('enhancedload', loaded);
