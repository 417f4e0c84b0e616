// Takes a backup from the settings page. While one runs the service is asked each second how far it is; then the list of files, and
// nothing else of the page, is read again, so that what is typed elsewhere on it stays.
import { send } from './forms.js';

const card = () => document.querySelector('[data-backup]');

function say(words, isLoud) {
  const said = card()?.querySelector('[data-said]');
  if (!said || said.textContent === words) return;
  said.textContent = words;
  said.className = isLoud ? 'alert loud' : 'alert';
}

function show(state) {
  say(state.progress ?? '', Boolean(state.failure));
  card().dataset.backup = state.running ? 'running' : '';
  const button = card().querySelector('[data-backup-now]');
  if (button) button.disabled = state.running;
}

const lost = () => say('The service can’t be reached. A backup that has started keeps running there; the page keeps trying.', true);

let asking = 0;
function follow() {
  clearTimeout(asking);
  if (card()?.dataset.backup === 'running') asking = setTimeout(ask, 1000);
}

async function ask() {
  try {
    const answer = await fetch('/api/backups', { credentials: 'same-origin' });
    if (!card()) return;
    if (answer.status === 401 || answer.status === 403) { say('You are signed out or no longer an administrator. A backup that has started keeps running.', true); return; }
    if (!answer.ok) throw new Error();
    const state = await answer.json();
    show(state);
    if (!state.running) await readFiles();
  } catch { lost(); }
  follow();
}

async function readFiles() {
  const answer = await fetch(location.href, { credentials: 'same-origin' });
  const files = new DOMParser().parseFromString(await answer.text(), 'text/html').querySelector('[data-files]');
  if (files) card()?.querySelector('[data-files]')?.replaceWith(files);
}

document.addEventListener('click', async (event) => {
  const button = event.target.closest?.('[data-backup-now]');
  if (!button) return;
  button.disabled = true;
  const result = await send('/api/backups', {});
  if (!card()) return;
  if (result.ok) { show(result.data); } else {
    button.disabled = false;
    say(result.offline ? 'Not started: the service can’t be reached.' : `Not started: ${result.data?.detail ?? `the service answered ${result.status}.`}`, true);
  }
  if (result.ok && !result.data.running) await readFiles();
  follow();
});

follow();
Blazor.addEventListener?.('enhancedload', follow);
