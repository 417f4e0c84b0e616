// Keeps an open screen current: on each change of a case that the screen shows, the page is read again by the framework's enhanced
// navigation. What is marked or typed and not yet sent is never taken from under the hand: the page then says that it is out of date.
import { outOfDate } from './forms.js';

const shown = () => document.querySelector('[data-live]');
const unsaved = () => document.body.dataset.unsaved === 'true';
const lost = (away) => { const note = document.getElementById('lost'); if (note) note.hidden = !away; };

const typed = () => document.querySelector('form[data-api][data-typed]');

// What was opened by hand on this page. The server sends every part closed, and a page may arrive just after a part was opened.
let opened = new Set();
let openedOn = location.pathname;
const named = (details) => details.querySelector('summary').textContent.trim();
document.addEventListener('click', (event) => {
  const details = event.target.closest?.('summary')?.parentElement;
  if (details) opened[details.open ? 'delete' : 'add'](named(details));
});
document.addEventListener('form-saved', (event) => {
  const details = event.target.closest('details');
  if (details) opened.delete(named(details));
});

let pending = 0;
export function refresh() {
  clearTimeout(pending);
  pending = setTimeout(() => {
    if (!shown()) return;
    if (unsaved()) { document.dispatchEvent(new CustomEvent('case-changed-meanwhile')); return; }
    if (typed()) { outOfDate(true); return; }
    readAgain();
  }, 120);
}

function readAgain() {
  Blazor.navigateTo(location.pathname + location.search, { replaceHistoryEntry: true });
}

function loaded() {
  outOfDate(false);
  if (openedOn !== location.pathname) [opened, openedOn] = [new Set(), location.pathname];
  for (const details of document.querySelectorAll('details:not([open])')) {
    if (opened.has(named(details))) details.open = true;
  }
  listen();
}

document.addEventListener('input', (event) => event.target.closest?.('form[data-api]')?.setAttribute('data-typed', ''));
document.addEventListener('click', (event) => {
  if (!event.target.closest?.('#out-of-date button')) return;
  document.querySelectorAll('form[data-api][data-typed]').forEach((form) => { form.reset(); form.removeAttribute('data-typed'); });
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
  source.addEventListener('error', () => {
    wasAway = true;
    lost(true);
    // A refused stream is not tried again by the browser itself.
    if (source.readyState === EventSource.CLOSED) { source = null; setTimeout(listen, 2000); }
  });
}

listen();
Blazor.addEventListener?.('enhancedload', loaded);
