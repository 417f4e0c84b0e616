// The risk while the facts of a case are typed: asked of the service, in its words. Nothing is written, and without this module the form is
// sent all the same.
import { read, send } from './forms.js';

const Pause = 400;
let timer = 0;
let asked = 0;

const within = (target) => target?.closest?.('form[data-risk]');

/** Calibre and name are of a nerve that is invaded; else they are neither asked for nor sent. */
function shape(form) {
  const invaded = form.querySelector('[name="tumour.perineural.present"]')?.value === 'true';
  form.querySelectorAll('[data-of-nerve]').forEach((field) => { field.hidden = !invaded; });
}

function say(form, ...lines) {
  const said = form.querySelector('[data-risk-said]');
  const waits = said.querySelector('[data-risk-waits]');
  waits.hidden = lines.length > 0;
  said.replaceChildren(waits, ...lines.map(([words, kind]) => {
    const line = document.createElement('p');
    line.textContent = words;
    if (kind) line.className = kind;
    return line;
  }));
}

const begun = (form) => ['site.code', 'tumour.morphology'].every((name) => {
  const field = form.querySelector(`[name="${name}"]`);
  return field.value !== '' && field.validity.valid;
});

async function ask(form) {
  const mine = ++asked;
  if (!begun(form)) { say(form); return; }
  const { reason, ...facts } = read(form);
  const result = await send('/api/cases/risk-rehearsal', facts);
  if (mine !== asked || !form.isConnected) return;
  if (result.ok) {
    say(form, ...result.data.sentences.map((words) => [words]), ...result.data.prompts.map((prompt) => [prompt.message, 'alert caution']));
  } else if (result.status === 400) {
    say(form, ['Not shown yet: an entry is incomplete.', 'hint'], ...Object.values(result.data?.errors ?? {}).flat().map((words) => [words, 'hint']));
  } else {
    say(form, [result.offline ? 'Not available: the service can’t be reached. What you typed is still here.' : 'Not available right now. You can open the case anyway.', 'hint']);
  }
}

function typed(event) {
  const form = within(event.target);
  if (!form) return;
  shape(form);
  clearTimeout(timer);
  timer = setTimeout(() => ask(form), Pause);
}

function begin() {
  for (const form of document.querySelectorAll('form[data-risk]')) {
    shape(form);
    ask(form);
  }
}

document.addEventListener('input', typed);
document.addEventListener('change', typed);
begin();
Blazor.addEventListener?.('enhancedload', begin);
