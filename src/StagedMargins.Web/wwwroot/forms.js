// Forms with data-api send their fields as JSON to the API: the same route, rules and refusals as for everyone else. Nothing typed is lost
// when a send fails, and a second send of the same content carries the same Idempotency-Key, so that it can't be recorded twice.
const key = () => {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (b) => b.toString(16).padStart(2, '0')).join('');
};

const kept = new WeakMap(); // form -> { sent, key }

export const token = () => document.querySelector('meta[name=csrf-token]')?.content ?? '';

/** Sends JSON, or a file as it is, to the API. Resolves to { ok, status, data, offline }. */
export async function send(url, body, { idempotencyKey, version, type, method = 'POST' } = {}) {
  const isFile = body instanceof Blob;
  const headers = { 'Content-Type': isFile ? type || body.type || 'application/octet-stream' : 'application/json', 'RequestVerificationToken': token() };
  if (idempotencyKey) headers['Idempotency-Key'] = idempotencyKey;
  if (version) headers['If-Match'] = version;
  try {
    const answer = await fetch(url, { method, headers, body: isFile ? body : JSON.stringify(body), credentials: 'same-origin', redirect: 'manual' });
    const text = await answer.text();
    let data = null;
    try { data = text ? JSON.parse(text) : null; } catch { data = null; }
    return { ok: answer.ok, status: answer.status, data, offline: false };
  } catch {
    return { ok: false, status: 0, data: null, offline: true };
  }
}

/** True where the service was reached and knows nobody: a send to the sign-in page, which is not followed, has status 0. */
export const isSignedOut = (result) => !result.offline && (result.status === 401 || result.status === 0);

/** The one sentence for a send that did not work. */
export function sentence(result) {
  if (result.offline) return 'Not saved: the service can’t be reached. Nothing you entered is lost; send it again once the connection is back.';
  if (isSignedOut(result)) return 'Not saved: you are signed out. Sign in again in another tab, then send it again here.';
  return `Not saved: ${result.data?.detail ?? `the service answered ${result.status}.`}`;
}

export { key as newKey };

/** Says, or no longer says, that the page shows an earlier state of the record. */
export const outOfDate = (is) => { const note = document.getElementById('out-of-date'); if (note) note.hidden = !is; };

/** Reads the fields of a form into an object: names are paths (site.code, pieces[0].arc.from), empty fields are left out. */
export function read(form) {
  const root = {};
  for (const field of form.querySelectorAll('[name]')) {
    if (field.name.startsWith('__') || field.disabled || field.type === 'file' || field.closest('[hidden]') || ((field.type === 'radio' || field.type === 'checkbox') && !field.checked)) continue;
    const raw = field.value.trim();
    if (raw === '') continue;
    const kind = field.dataset.kind ?? (field.type === 'number' ? 'number' : field.type === 'checkbox' && field.value === 'on' ? 'flag' : 'text');
    // A time by the clock that the page names, sent with its offset from UTC.
    const value = kind === 'number' ? Number(raw) : kind === 'time' ? `${raw.length === 16 ? `${raw}:00` : raw}${field.dataset.offset}` : kind === 'flag' ? true : kind === 'bool' ? raw === 'true' : raw;
    put(root, field.name, value, kind === 'list' || field.hasAttribute('data-list'));
  }
  return root;
}

function put(root, path, value, asList) {
  const steps = path.split(/\.|\[(\d+)\]\.?/).filter((s) => s !== undefined && s !== '').map((s) => (/^\d+$/.test(s) ? Number(s) : s));
  let at = root;
  steps.forEach((step, i) => {
    if (i === steps.length - 1) {
      if (asList) (at[step] ??= []).push(value); else at[step] = value;
      return;
    }
    at = at[step] ??= typeof steps[i + 1] === 'number' ? [] : {};
  });
}

function show(form, result) {
  clear(form);
  const box = form.querySelector('[data-outcome]');
  if (box) { box.textContent = sentence(result); box.hidden = false; box.focus?.(); }
  for (const [name, messages] of Object.entries(result.data?.errors ?? {})) {
    const field = form.querySelector(`[name="${CSS.escape(name)}"]`);
    if (!field) continue;
    field.setAttribute('aria-invalid', 'true');
    const note = document.createElement('span');
    note.className = 'field-error';
    note.id = `error-${name.replace(/\W/g, '-')}`;
    note.textContent = messages.join(' ');
    field.setAttribute('aria-describedby', note.id);
    field.insertAdjacentElement('afterend', note);
  }
}

function clear(form) {
  form.querySelectorAll('.field-error').forEach((note) => note.remove());
  form.querySelectorAll('[aria-invalid]').forEach((field) => { field.removeAttribute('aria-invalid'); field.removeAttribute('aria-describedby'); });
  const box = form.querySelector('[data-outcome]');
  if (box) box.hidden = true;
}

document.addEventListener('submit', async (event) => {
  const form = event.target.closest('form[data-api]');
  if (!form) return;
  event.preventDefault();
  const buttons = form.querySelectorAll('button');
  // A form with a file sends the file as it is; its other fields go with the address.
  const fields = read(form);
  const file = form.querySelector('input[type=file]')?.files[0];
  const body = file ?? fields;
  const text = JSON.stringify(file ? [file.name, file.size, file.lastModified, fields] : fields);
  const url = file && Object.keys(fields).length ? `${form.dataset.api}?${new URLSearchParams(fields)}` : form.dataset.api;
  // With its address: a page that is read again may put another one into the same form.
  const sent = `${url} ${text}`;
  const use = kept.get(form)?.sent === sent ? kept.get(form).key : key();
  kept.set(form, { sent, key: use });
  buttons.forEach((b) => { b.disabled = true; });
  form.setAttribute('aria-busy', 'true');
  const result = await send(url, body, { idempotencyKey: use, version: form.dataset.version, type: form.dataset.fileType });
  form.removeAttribute('aria-busy');
  buttons.forEach((b) => { b.disabled = false; });
  if (!result.ok) {
    show(form, result);
    if (result.status === 412) outOfDate(true);
    return;
  }
  kept.delete(form);
  form.removeAttribute('data-typed');
  clear(form);
  form.dispatchEvent(new CustomEvent('form-saved', { bubbles: true }));
  const once = form.querySelector('[data-result]');
  if (once) {
    // Shown this once: reading the page again would lose it.
    once.querySelector('strong').textContent = result.data?.[once.dataset.result] ?? '';
    once.hidden = false;
    once.focus();
    form.reset();
    return;
  }
  const next = form.dataset.next?.replace('{id}', result.data?.id ?? '') ?? location.pathname + location.search;
  // Another page is read from its top, where what is loud stands.
  if (form.dataset.next) scrollTo(0, 0);
  Blazor.navigateTo(next, { replaceHistoryEntry: !form.dataset.next });
}, true);

// A file that is too large is told before it is sent: the service ends the connection over it, which would look like a lost one.
document.addEventListener('change', (event) => {
  const { files, dataset } = event.target;
  if (files) event.target.setCustomValidity(files[0]?.size > Number(dataset.mostBytes) ? dataset.tooLarge : '');
}, true);
