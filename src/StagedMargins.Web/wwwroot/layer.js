// The next layer, drawn before it is recorded: while the form is filled in, the service says what the layer would leave behind and draws the map
// it would give. Nothing is written until the form is sent.
import { read, send, sentence, token } from './forms.js';

let timer = 0;
let asked = 0;
let isStale = false;

function form() { return document.querySelector('form[data-rehearsal]'); }

function shape(target) {
  for (const row of target.querySelectorAll('[data-piece]')) {
    const kind = row.querySelector('[name$=".kind"]')?.value;
    row.querySelectorAll('[data-for]').forEach((field) => { field.hidden = !field.dataset.for.split(' ').includes(kind); });
  }
}

async function rehearse() {
  const target = form();
  if (!target) return;
  shape(target);
  const mine = ++asked;
  const body = read(target);
  if (!begun(body)) { isStale = false; return; }
  const said = target.querySelector('[data-said]');
  const picture = document.getElementById('rehearsed');
  const result = await send(target.dataset.rehearsal, body);
  if (mine !== asked) return;
  isStale = false;
  if (!result.ok) {
    said.replaceChildren(line(result.offline ? sentence(result).replace('Not saved: t', 'T') : (result.data?.detail ?? 'This layer can’t be checked yet.'), 'hint'));
    if (picture) picture.hidden = true;
    return;
  }
  const words = { leftBehind: 'alert loud', siteNotConfirmed: 'alert loud', thinOverlap: 'alert caution', unmapped: 'alert caution', beyondTarget: 'alert' };
  const alerts = result.data.alerts.map((a) => line(a.message, words[a.code]));
  result.data.alerts.forEach((a, i) => { if (a.code === 'leftBehind') alerts[i].setAttribute('data-leaves', ''); });
  said.replaceChildren(...(alerts.length ? alerts : [line('Takes the whole target; nothing is left unmapped.', 'alert good')]));
  const reason = target.querySelector('[data-reason]');
  if (reason) reason.hidden = !result.data.reasonNeeded;
  await draw(target, body, picture, mine);
}

// An empty piece is not asked about.
const begun = (body) => (body.pieces ?? []).every((p) => p && (p.outline?.ellipse?.lengthMm && p.outline.ellipse.widthMm || p.arc?.from && p.arc.to || p.centre));

async function draw(target, body, picture, mine) {
  if (!picture) return;
  try {
    const answer = await fetch(`${target.dataset.rehearsal}/map.svg?withoutSurround=true`, {
      method: 'POST', headers: { 'Content-Type': 'application/json', 'RequestVerificationToken': token() }, body: JSON.stringify(body), credentials: 'same-origin',
    });
    if (!answer.ok || mine !== asked) return;
    const image = picture.querySelector('img');
    const old = image.src;
    image.src = URL.createObjectURL(await answer.blob());
    if (old.startsWith('blob:')) URL.revokeObjectURL(old);
    picture.hidden = false;
  } catch {
    picture.hidden = true;
  }
}

// Cuts the piece as it is typed into equal blocks; the rows take the place of those before.
async function cut(button) {
  const target = form();
  const value = (name) => target.querySelector(`[name="${name}"]`)?.value ?? '';
  const whole = value('pieces[0].kind') === 'whole';
  const [from, to] = whole ? ['12:00', '12:00'] : [value('pieces[0].arc.from'), value('pieces[0].arc.to')];
  const said = target.querySelector('[data-cut-said]');
  const result = await ask(`/api/block-plan?${new URLSearchParams({ from, to, count: button.dataset.cut })}`);
  said.hidden = result.ok;
  if (!result.ok) {
    said.textContent = result.words;
    return;
  }
  const first = target.querySelector('.block-row');
  const rows = result.data.map((block, i) => row(first, block, i));
  target.querySelectorAll('.block-row').forEach((old, i) => { if (i > 0) old.remove(); });
  first.replaceWith(...rows);
  target.setAttribute('data-typed', '');
  later();
}

function row(first, block, i) {
  const made = first.cloneNode(true);
  const values = { label: block.label, 'arc.from': block.arc.from, 'arc.to': block.arc.to, fromInk: block.fromInk, toInk: block.toInk };
  for (const field of made.querySelectorAll('[name]')) {
    const name = field.name.replace(/^blocks\[\d+\]\./, '');
    field.name = `blocks[${i}].${name}`;
    if (name in values) field.value = values[name];
  }
  return made;
}

async function ask(url) {
  try {
    const answer = await fetch(url, { credentials: 'same-origin' });
    const data = await answer.json();
    return { ok: answer.ok, data, words: data.detail ?? `The service answered ${answer.status}.` };
  } catch {
    return { ok: false, words: 'The service can’t be reached. The blocks are unchanged; cut again once the connection is back.' };
  }
}

function line(words, cls) {
  const p = document.createElement('p');
  p.className = cls;
  p.textContent = words;
  return p;
}

function later(event) {
  if (event && !event.target.closest?.('form[data-rehearsal]')) return;
  clearTimeout(timer);
  isStale = true;
  timer = setTimeout(rehearse, 350);
}

// What is said of a layer is of the layer as it is typed: one that has changed since is checked first, and one that turns out to leave
// tumour behind takes a second press.
async function check(event) {
  const target = event.target.closest?.('form[data-rehearsal]');
  if (!target || !isStale) return;
  event.preventDefault();
  event.stopImmediatePropagation();
  clearTimeout(timer);
  const button = event.submitter ?? undefined;
  await rehearse();
  if (!isStale && target.isConnected && !target.querySelector('[data-said] [data-leaves]')) target.requestSubmit(button);
}

function keys(event) {
  if (event.target.closest?.('input,select,textarea,[contenteditable]') || event.ctrlKey || event.metaKey || event.altKey) return;
  const record = document.querySelector('a[data-print-record]');
  if (event.key === 'p' && record) { event.preventDefault(); location.href = `${record.getAttribute('href')}?print=1`; }
}

// A page opened to be printed prints itself once.
function printed() {
  if (!document.querySelector('[data-print-page]')) return;
  if (new URLSearchParams(location.search).has('print')) {
    history.replaceState(null, '', location.pathname);
    const wait = [...document.images].map((i) => (i.complete ? null : new Promise((done) => { i.onload = i.onerror = done; })));
    Promise.all(wait).then(() => window.print());
  }
}

document.addEventListener('click', (event) => {
  if (event.target.closest?.('[data-print]')) window.print();
  const button = event.target.closest?.('[data-cut]');
  if (button) cut(button);
});
window.addEventListener('submit', check, true);
document.addEventListener('input', later);
document.addEventListener('change', later);
document.addEventListener('keydown', keys);
const begin = () => { if (form()) { shape(form()); later(); } printed(); };
begin();
Blazor.addEventListener?.('enhancedload', begin);
