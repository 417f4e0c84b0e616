// The next layer, drawn before it is recorded: while the form is filled in, the service says what the layer would leave behind and draws the map
// it would give. Nothing is written until the form is sent.
import { read, send, sentence, token } from './forms.js';

let timer = 0;
let asked = 0;

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
  if (!begun(body)) return;
  const said = target.querySelector('[data-said]');
  const picture = document.getElementById('rehearsed');
  const result = await send(target.dataset.rehearsal, body);
  if (mine !== asked) return;
  if (!result.ok) {
    said.replaceChildren(line(result.offline ? sentence(result).replace('Not saved: t', 'T') : (result.data?.detail ?? 'This layer can’t be judged yet.'), 'hint'));
    if (picture) picture.hidden = true;
    return;
  }
  const words = { leftBehind: 'alert loud', siteNotConfirmed: 'alert loud', thinOverlap: 'alert caution', unmapped: 'alert caution', beyondTarget: 'alert' };
  const alerts = result.data.alerts.map((a) => line(a.message, words[a.code]));
  said.replaceChildren(...(alerts.length ? alerts : [line('Takes the whole target and nothing is left unmapped.', 'alert good')]));
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

function line(words, cls) {
  const p = document.createElement('p');
  p.className = cls;
  p.textContent = words;
  return p;
}

function later(event) {
  if (event && !event.target.closest?.('form[data-rehearsal]')) return;
  clearTimeout(timer);
  timer = setTimeout(rehearse, 350);
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

document.addEventListener('click', (event) => { if (event.target.closest?.('[data-print]')) window.print(); });
document.addEventListener('input', later);
document.addEventListener('change', later);
document.addEventListener('keydown', keys);
const begin = () => { if (form()) { shape(form()); later(); } printed(); };
begin();
Blazor.addEventListener?.('enhancedload', begin);
