// Keeps an open screen current: on each change of a case that the screen shows, the page is read again by the framework's enhanced
// navigation. A screen with marks that are not saved is never read again from under the hand.
const shown = () => document.querySelector('[data-live]');
const unsaved = () => document.body.dataset.unsaved === 'true';
const lost = (away) => { const note = document.getElementById('lost'); if (note) note.hidden = !away; };

let pending = 0;
export function refresh() {
  clearTimeout(pending);
  pending = setTimeout(() => {
    if (!shown()) return;
    if (unsaved()) { document.dispatchEvent(new CustomEvent('case-changed-meanwhile')); return; }
    if (document.activeElement?.closest('form[data-api]') && document.activeElement.matches('input:not([type=hidden]),select,textarea')) {
      document.activeElement.addEventListener('blur', refresh, { once: true });
      return;
    }
    Blazor.navigateTo(location.pathname + location.search, { replaceHistoryEntry: true });
  }, 120);
}

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
Blazor.addEventListener?.('enhancedload', listen);
