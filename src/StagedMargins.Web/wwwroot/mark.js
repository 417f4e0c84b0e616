// Marking a reading on the clock face. What is marked lives here until it is saved; the sentence and the arcs that are read back come from
// the service, which alone knows the rules.
import { send, sentence as problemOf, newKey } from './forms.js';
import { ReadBack } from './readback.js';
import { arcInWords, element, inside, length, mod, parseArc, point, positionInWords, ringPath, text } from './face.js';

const C = 320;
const RINGS = { peripheral: { inner: 186, outer: 250 }, deep: { inner: 96, outer: 170 } };
const POSITIVE = ['tumour', 'perineuralInvasion'];
const UNDECIDED = ['notSeen', 'undetermined'];
const SNAP = 5;

let screen = null;

function start() {
  const root = document.getElementById('mark');
  if (screen?.root === root && document.getElementById('mark-form')) { screen.reload(); return; }
  screen?.readBack.drop();
  screen = null;
  if (!root || !document.getElementById('mark-form')) return;
  screen = new MarkScreen(root);
}

class MarkScreen {
  constructor(root) {
    this.root = root;
    this.model = JSON.parse(root.dataset.model);
    this.step = 60;
    this.margin = 'peripheral';
    this.undone = [];
    this.key = null;
    this.saving = false;
    this.readBack = new ReadBack(() => { if (screen === this) this.heard(); });
    this.choose(this.model.chosen ?? this.first().label);
    this.listen();
  }

  get id() { return `marks ${this.model.caseId} ${this.model.stage} ${this.label}`; }
  get block() { return this.model.blocks.find((b) => b.label === this.label); }
  get dirty() { return this.marks.length > 0 || this.outcome !== null; }
  get editing() { return (!this.block.reading && !this.block.replaced) || this.amending; }
  get isReadBack() { return this.editing && this.outcome !== null && this.readBack.isOf(...this.question()); }
  get state() { return JSON.stringify({ marks: this.marks, outcome: this.outcome, amending: this.amending, noMore: this.noMore }); }
  get isUndecided() { return this.outcome === 'unreadable' || this.marks.some((m) => UNDECIDED.includes(m.kind)); }
  $(id) { return document.getElementById(id); }

  // The page was read again: by a change of the case, or because another stage is shown in its place.
  reload() {
    const before = this.model;
    this.model = JSON.parse(this.root.dataset.model);
    this.$('mark-changed').hidden = true;
    if (before.caseId !== this.model.caseId || before.stage !== this.model.stage || !this.block) this.choose(this.model.chosen ?? this.first().label);
    else if (this.dirty && this.editing) { this.draw(); this.rehearse(); }
    else this.choose(this.label);
  }

  first() {
    return this.model.blocks.find((b) => !b.reading && !b.replaced) ?? this.model.blocks.find((b) => b.reading?.outcome === 'unreadable') ?? this.model.blocks[0];
  }

  choose(label) {
    this.label = label;
    Object.assign(this, { marks: [], outcome: null, amending: false, noMore: false });
    this.$('mirrored').checked = this.block.mirrored;
    this.undone = [];
    this.key = null;
    ['reason', 'typed', 'along-a', 'along-b'].forEach((id) => { this.$(id).value = ''; });
    const kept = sessionStorage.getItem(this.id);
    if (kept) {
      this.undone.push(this.state);
      Object.assign(this, JSON.parse(kept));
      // Marks that are not sent, of a block that has been read by now, can only amend its reading.
      if (this.block.reading) this.amending = true;
    }
    this.draw();
    this.rehearse();
  }

  remember() {
    document.body.dataset.unsaved = this.dirty ? 'true' : 'false';
    if (this.dirty) sessionStorage.setItem(this.id, this.state);
    else sessionStorage.removeItem(this.id);
  }

  change(what) {
    this.undone.push(this.state);
    what();
    if (!this.saidStays) this.$('mark-said').hidden = true;
    this.key = null;
    this.draw();
    this.rehearse();
  }

  undo() {
    const before = this.undone.pop();
    if (!before) return;
    Object.assign(this, JSON.parse(before));
    this.key = null;
    this.draw();
    this.rehearse();
  }

  add(mark) {
    this.change(() => {
      this.marks.push({ kind: this.$('kind').value, ...mark });
      if (POSITIVE.includes(this.$('kind').value) && this.outcome !== 'unreadable') this.outcome = 'tumour';
    });
  }

  spans(margin) { return margin === 'peripheral' ? this.block.edge : this.block.floor; }

  toggleSector(margin, from) {
    const same = this.marks.findIndex((m) => m.margin === margin && m.kind === this.$('kind').value && !m.along && m.from === from && m.minutes === this.step);
    if (same >= 0) this.change(() => this.marks.splice(same, 1));
    else this.add({ margin, from, minutes: this.step });
  }

  /** What would be recorded, but for the reason of an amendment, which no sentence says. */
  content() {
    return {
      outcome: this.outcome ?? undefined,
      readerEmail: this.$('reader')?.value,
      findings: this.outcome === null ? [] : this.marks.map((m) => ({
        kind: m.kind,
        margin: m.margin,
        ...(m.centre ? { centre: true } : m.along ? { along: m.along, mirrored: m.mirrored } : { arc: { from: text(m.from), to: text(m.from + m.minutes) } }),
      })),
      ...(this.noMore && this.isUndecided ? { noMoreTissue: true } : {}),
      ...(this.amending ? { amends: this.block.reading.id } : {}),
    };
  }

  question() { return [this.url('/rehearsal'), { ...this.content(), reason: this.amending ? 'not yet given' : undefined }]; }

  url(rest = '') { return `/api/cases/${this.model.caseId}/stages/${this.model.stage}/blocks/${encodeURIComponent(this.label)}/readings${rest}`; }

  rehearse() {
    if (this.editing && this.outcome !== null) this.readBack.ask(...this.question()); else this.readBack.drop();
    this.say();
  }

  /** An answer has come: where on the patient the marks along the slide lie, and the sentence. */
  heard() {
    if (this.isReadBack) {
      this.readBack.answer.reading.findings.forEach((f, i) => {
        const mark = this.marks[i];
        if (mark?.along && f.arc) { mark.from = minutesOf(f.arc.from); mark.minutes = length(minutesOf(f.arc.from), minutesOf(f.arc.to)); }
      });
      this.drawFace();
      this.drawMarks();
      this.remember();
    }
    this.say();
  }

  // Save is off until what is marked has been read back; the sentence, or why there is none yet, stands beside it.
  say() {
    const out = this.$('sentence');
    const words = this.words();
    if (out.textContent !== words) out.textContent = words;
    out.classList.toggle('wrong', this.readBack.problem !== null);
    out.classList.toggle('waiting', this.editing && !this.isReadBack && this.readBack.problem === null);
    this.$('save').disabled = this.saving || !this.isReadBack;
    ['reason', 'reader'].forEach((id) => { if (this.$(id)) this.$(id).disabled = this.saving; });
  }

  words() {
    if (!this.editing) return this.block.reading.sentence;
    if (this.outcome === null) return 'Choose a reading, or draw where the tumour is.';
    return this.readBack.answer?.sentence ?? this.readBack.problem ?? 'Reading back what you marked …';
  }

  async save() {
    if (this.saving || !this.isReadBack) return;
    const left = ['typed', 'along-a', 'along-b'].map((id) => this.$(id)).find((field) => field.value.trim());
    if (left) { this.fail('You typed a place and did not add it, so it is not in this reading. Press Add, or empty the field.'); left.focus(); return; }
    const reason = this.$('reason').value.trim();
    if (this.amending && !reason) { this.fail('Give the reason for the amendment.'); this.$('reason').focus(); return; }
    this.key ??= newKey();
    const sent = { caseId: this.model.caseId, stage: this.model.stage, label: this.label, id: this.id, state: this.state, sentence: this.readBack.answer.sentence };
    this.saving = true;
    this.say();
    const result = await send(this.url(), { ...this.content(), reason: this.amending ? reason : undefined }, { idempotencyKey: this.key });
    this.saving = false;
    if (result.ok) this.saved(sent, result.data); else this.notSaved(sent, result);
  }

  // Whoever has gone on to another case finds the marks again where they made them.
  isAt(sent) { return screen === this && this.model.caseId === sent.caseId && this.model.stage === sent.stage; }

  notSaved(sent, result) {
    if (!this.isAt(sent)) return;
    this.$('save').textContent = result.offline ? 'Send again' : 'Save reading';
    this.say();
    this.fail(`${this.label === sent.label ? '' : `Block ${sent.label}: `}${problemOf(result).replace('Nothing you entered', 'No mark')}`);
  }

  saved(sent, reading) {
    // What was marked while the reading was on its way is not in it.
    const kept = sessionStorage.getItem(sent.id);
    const later = kept !== null && kept !== sent.state;
    if (!later) sessionStorage.removeItem(sent.id);
    if (!this.isAt(sent)) return;
    this.$('save').textContent = 'Save reading';
    const block = this.model.blocks.find((b) => b.label === sent.label);
    block.reading = reading;
    block.unsigned = reading.toBeCountersigned;
    // One's own reading: a surgeon amends it, and whoever wrote it down puts it right while it is unsigned.
    block.mayAmend = true;
    const next = this.model.blocks.find((b) => !b.reading && !b.replaced);
    const stays = later || this.label !== sent.label;
    if (!stays) this.choose(next?.label ?? this.label);
    else if (this.label === sent.label) this.choose(this.label);
    else { this.draw(); this.rehearse(); }
    const differs = reading.sentence !== sent.sentence;
    this.$('mark-problem').hidden = true;
    this.$('mark-changed').hidden = true;
    this.saidStays = differs || later;
    this.$('mark-said').classList.toggle('loud', this.saidStays);
    this.$('mark-said').textContent = [
      differs ? `Saved, but differently from what was read back. Stored: ${reading.sentence}` : `Saved. ${reading.sentence}`,
      later ? `What you have marked on block ${sent.label} since then is not saved.` : next ? (stays ? '' : `Next: block ${next.label}.`) : 'Every block of this stage has a reading.',
    ].filter(Boolean).join(' ');
    this.$('mark-said').hidden = false;
  }

  fail(words) {
    const box = this.$('mark-problem');
    box.textContent = words;
    box.hidden = false;
    this.$('mark-said').hidden = true;
    box.focus();
  }

  draw() {
    this.drawBlocks();
    this.drawFace();
    this.drawStrip();
    this.drawMarks();
    const readOnly = !this.editing;
    document.querySelectorAll('#outcomes button').forEach((b) => { b.setAttribute('aria-pressed', String(b.dataset.outcome === this.outcome)); b.disabled = readOnly; });
    document.querySelectorAll('#margins [data-margin]').forEach((b) => b.setAttribute('aria-pressed', String(b.dataset.margin === this.margin)));
    document.querySelectorAll('[data-step]').forEach((b) => b.setAttribute('aria-pressed', String(Number(b.dataset.step) === this.step)));
    this.$('places').hidden = readOnly;
    this.$('centre').disabled = !this.block.centre;
    this.$('reason-field').hidden = !this.amending || !this.block.mayAmend;
    this.$('save').hidden = readOnly;
    this.$('undo').hidden = readOnly;
    this.$('undo').disabled = this.undone.length === 0;
    const amend = this.$('amend');
    amend.hidden = !readOnly || !this.block.mayAmend;
    amend.textContent = this.block.reading?.outcome === 'unreadable' ? 'Read the recut' : 'Amend';
    this.$('no-more-field').hidden = !this.isUndecided;
    this.$('no-more').checked = this.noMore;
    this.remember();
  }

  drawBlocks() {
    const box = this.$('blocks');
    box.replaceChildren(...this.model.blocks.map((b) => {
      const button = document.createElement('button');
      button.type = 'button';
      const state = !b.reading ? '' : { clear: ' – clear', tumour: ' – tumour', unreadable: ' – recut' }[b.reading.outcome];
      button.textContent = b.label + state;
      button.setAttribute('aria-pressed', String(b.label === this.label));
      button.addEventListener('click', () => { this.$('mark-said').hidden = true; this.$('mark-problem').hidden = true; this.choose(b.label); });
      return button;
    }));
    const b = this.block;
    const where = b.minutes ? arcInWords(b.from, b.minutes) : '';
    const parts = [where, b.centre ? 'with the centre' : '', b.fromInk || b.toInk ? `inked ${b.fromInk ?? '–'} at ${positionInWords(b.from ?? 0)}, ${b.toInk ?? '–'} at ${positionInWords((b.from ?? 0) + (b.minutes ?? 0))}` : ''];
    if (b.reading) parts.push(b.unsigned ? 'read, to be countersigned' : 'read');
    if (b.replaced) parts.push('embedded again in another block');
    if (b.reading && !b.mayAmend) parts.push('only a surgeon can amend it');
    this.$('block-hint').textContent = parts.filter(Boolean).join(' · ');
  }

  marksShown() {
    if (this.editing) return this.marks;
    return (this.block.reading?.findings ?? []).map((f) => ({
      kind: f.kind, margin: f.margin, centre: f.centre && !f.arc, from: f.arc ? minutesOf(f.arc.from) : undefined, minutes: f.arc ? length(minutesOf(f.arc.from), minutesOf(f.arc.to)) : undefined,
    }));
  }

  drawFace() {
    const svg = this.$('face');
    const had = document.activeElement?.closest?.('#face') ? document.activeElement.dataset.place : null;
    const zoom = this.step === 15 && this.block.minutes && this.block.minutes < 720 ? this.block.from + this.block.minutes / 2 : null;
    const [zx, zy] = zoom === null ? [C, C] : point(C, C, 170, zoom);
    svg.setAttribute('viewBox', zoom === null ? '0 0 640 640' : `${zx - 170} ${zy - 170} 340 340`);
    const parts = [element('circle', { cx: C, cy: C, r: 306, class: 'dial' })];
    for (let h = 1; h <= 12; h++) {
      const [x, y] = point(C, C, 279, h * 60);
      parts.push(element('text', { x, y, class: 'numeral' }, String(h)));
    }
    for (const margin of ['deep', 'peripheral']) {
      const r = RINGS[margin];
      parts.push(element('path', { d: ringPath(C, C, r.inner, r.outer, 0, 720), class: 'ring', 'fill-rule': 'evenodd' }));
      for (const [from, minutes] of this.spans(margin)) parts.push(element('path', { d: ringPath(C, C, r.inner, r.outer, from, minutes), class: 'ring own', 'fill-rule': 'evenodd' }));
    }
    parts.push(element('circle', { cx: C, cy: C, r: 80, class: this.block.centre ? 'ring own' : 'ring' }));
    for (const margin of ['deep', 'peripheral']) {
      const r = RINGS[margin];
      for (let from = 0; from < 720; from += this.step) {
        const own = this.spans(margin).some(([f, n]) => n >= 720 || mod(from - f) < n || mod(f - from) < this.step);
        if (!own) continue;
        parts.push(element('path', {
          d: ringPath(C, C, r.inner, r.outer, from, this.step), class: 'sector', role: 'button', tabindex: -1, 'data-place': `${margin} ${from}`,
          'aria-label': `${this.model.margins[margin]}, ${arcInWords(from, this.step)}`,
        }));
      }
    }
    if (this.block.centre) parts.push(element('circle', { cx: C, cy: C, r: 80, class: 'sector', role: 'button', tabindex: -1, 'data-place': 'centre', 'aria-label': 'Centre of the deep margin' }));
    for (const [margin, r] of Object.entries(RINGS)) {
      const [x, y] = [C, C - (r.inner + r.outer) / 2];
      if (zoom === null) parts.push(element('text', { x, y, class: 'ring-name' }, margin === 'peripheral' ? 'Peripheral' : 'Deep'));
    }
    parts.push(element('g', { id: 'drawn' }));
    svg.replaceChildren(hatch(), ...parts);
    this.drawDrawn();
    const sectors = [...svg.querySelectorAll('.sector')];
    const focusable = sectors.find((s) => s.dataset.place === had) ?? sectors.find((s) => s.dataset.place.startsWith(this.margin)) ?? sectors[0];
    if (focusable) { focusable.setAttribute('tabindex', '0'); if (had) focusable.focus(); }
  }

  drawDrawn(extra) {
    const group = document.getElementById('drawn');
    if (!group) return;
    const shapes = [...this.marksShown(), ...(extra ? [extra] : [])].flatMap((m) => {
      const cls = POSITIVE.includes(m.kind) ? 'mark positive' : m.kind === 'inflammation' ? 'mark caution' : UNDECIDED.includes(m.kind) ? 'mark undecided' : 'mark other';
      if (m.centre) return [element('circle', { cx: C, cy: C, r: 62, class: cls })];
      if (m.from === undefined) return [];
      const r = RINGS[m.margin];
      return [element('path', { d: ringPath(C, C, r.inner + 6, r.outer - 6, m.from, m.minutes), class: cls, 'fill-rule': 'evenodd' })];
    });
    group.replaceChildren(...shapes);
  }

  drawStrip() {
    const svg = this.$('strip');
    const b = this.block;
    if (!b.minutes) { svg.replaceChildren(); this.$('along-hint').textContent = 'This block holds the centre only.'; return; }
    const { mirrored } = this.block;
    const [left, right] = mirrored ? [b.from + b.minutes, b.from] : [b.from, b.from + b.minutes];
    const [leftInk, rightInk] = mirrored ? [b.toInk, b.fromInk] : [b.fromInk, b.toInk];
    const parts = [element('rect', { x: 30, y: 34, width: 540, height: 46, rx: 4, class: 'strip' })];
    for (let i = 0; i <= 10; i++) parts.push(element('line', { x1: 30 + 54 * i, x2: 30 + 54 * i, y1: 80, y2: i % 5 ? 86 : 92, class: 'tick' }));
    parts.push(element('text', { x: 30, y: 22, class: 'strip-name' }, `${positionInWords(left)}${leftInk ? ` · ${leftInk}` : ''}`));
    parts.push(element('text', { x: 570, y: 22, class: 'strip-name end' }, `${rightInk ? `${rightInk} · ` : ''}${positionInWords(right)}`));
    parts.push(element('text', { x: 30, y: 112, class: 'strip-name' }, '0'));
    parts.push(element('text', { x: 570, y: 112, class: 'strip-name end' }, '1'));
    for (const m of this.marks.filter((one) => one.along)) {
      const [a, z] = m.mirrored === mirrored ? m.along : [1 - m.along[1], 1 - m.along[0]];
      parts.push(element('rect', { x: 30 + 540 * a, y: 38, width: 540 * (z - a), height: 38, class: POSITIVE.includes(m.kind) ? 'mark positive' : 'mark other' }));
    }
    svg.replaceChildren(hatch(), ...parts, element('rect', { id: 'strip-drag', y: 38, height: 38, width: 0, class: 'mark positive' }));
    this.$('along-hint').textContent = `On the slide from left (0) to right (1); on the patient the left end is at ${positionInWords(left)}. You are marking the ${this.model.margins[this.margin]}.`;
  }

  drawMarks() {
    this.$('marks').replaceChildren(...this.marks.map((m, i) => {
      const item = document.createElement('li');
      const where = m.centre ? 'centre' : m.from === undefined ? `${m.along[0]} to ${m.along[1]} along the slide` : arcInWords(m.from, m.minutes);
      item.append(`${this.model.kinds[m.kind]}, ${this.model.margins[m.margin]}: ${where}${m.along ? ` (slide ${m.along[0]}–${m.along[1]}${m.mirrored ? ', mirrored' : ''})` : ''} `);
      const remove = document.createElement('button');
      remove.type = 'button';
      remove.className = 'quiet';
      remove.textContent = 'Remove';
      remove.addEventListener('click', () => this.change(() => this.marks.splice(i, 1)));
      item.append(remove);
      return item;
    }));
  }

  place(event) {
    const svg = this.$('face');
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(svg.getScreenCTM().inverse());
    const [dx, dy] = [at.x - C, at.y - C];
    return { radius: Math.hypot(dx, dy), minutes: ((Math.atan2(dx, -dy) / (2 * Math.PI)) * 720 + 720) % 720 };
  }

  listen() {
    const form = this.$('mark-form');
    form.addEventListener('submit', (e) => { e.preventDefault(); this.save(); });
    document.querySelectorAll('#outcomes button').forEach((b) => b.addEventListener('click', () => this.change(() => {
      this.outcome = b.dataset.outcome;
      if (this.outcome === 'clear') this.marks = this.marks.filter((m) => !POSITIVE.includes(m.kind));
    })));
    document.querySelectorAll('#margins [data-margin]').forEach((b) => b.addEventListener('click', () => { this.margin = b.dataset.margin; this.draw(); }));
    document.querySelectorAll('[data-step]').forEach((b) => b.addEventListener('click', () => { this.step = Number(b.dataset.step); this.draw(); }));
    this.$('centre').addEventListener('click', () => this.toggleCentre());
    this.$('undo').addEventListener('click', () => this.undo());
    this.$('reason').addEventListener('input', () => { this.key = null; });
    this.$('reader')?.addEventListener('change', () => { this.key = null; this.rehearse(); });
    this.$('amend').addEventListener('click', () => this.change(() => {
      this.amending = true;
      this.marks = this.marksOf(this.block.reading);
      this.outcome = this.block.reading.outcome;
    }));
    this.$('add-typed').addEventListener('click', () => this.addTyped());
    this.$('typed').addEventListener('keydown', (e) => { if (e.key === 'Enter') { e.preventDefault(); this.addTyped(); } });
    this.$('no-more').addEventListener('change', (e) => this.change(() => { this.noMore = e.target.checked; }));
    const addAlong = () => this.addAlong(Number(this.$('along-a').value), Number(this.$('along-b').value));
    this.$('add-along').addEventListener('click', addAlong);
    ['along-a', 'along-b'].forEach((id) => this.$(id).addEventListener('keydown', (e) => { if (e.key === 'Enter') { e.preventDefault(); addAlong(); } }));
    this.listenFace();
    this.listenStrip();
    addEventListener('keydown', (e) => { if (screen === this && (e.ctrlKey || e.metaKey) && e.key === 'z' && !e.target.matches('input,textarea')) { e.preventDefault(); this.undo(); } });
    addEventListener('online', () => { if (screen === this && this.dirty && !this.isReadBack) this.rehearse(); });
    document.addEventListener('case-changed-meanwhile', () => {
      if (screen !== this) return;
      this.$('mark-changed').hidden = false;
      if (!this.saving) this.rehearse();
    });
  }

  marksOf(reading) {
    return reading.findings.flatMap((f) => [
      ...(f.arc ? [{ kind: f.kind, margin: f.margin, from: minutesOf(f.arc.from), minutes: length(minutesOf(f.arc.from), minutesOf(f.arc.to)) }] : []),
      ...(f.centre ? [{ kind: f.kind, margin: 'deep', centre: true }] : []),
    ]);
  }

  toggleCentre() {
    const at = this.marks.findIndex((m) => m.centre && m.kind === this.$('kind').value);
    if (at >= 0) this.change(() => this.marks.splice(at, 1));
    else this.add({ margin: 'deep', centre: true });
  }

  addTyped() {
    const arc = parseArc(this.$('typed').value);
    if (!arc) { this.fail('Type the arc like 7:30–9:00.'); return; }
    this.$('mark-problem').hidden = true;
    this.add({ margin: this.margin, from: arc[0], minutes: length(arc[0], arc[1]) });
    this.$('typed').value = '';
  }

  addAlong(a, b) {
    const ends = [Math.min(a, b), Math.max(a, b)].map((v) => Math.round(v * 1000) / 1000);
    if (!(ends[0] >= 0 && ends[1] <= 1 && ends[0] < ends[1])) { this.fail('Enter two different fractions from 0 to 1.'); return; }
    this.$('mark-problem').hidden = true;
    this.add({ margin: this.margin, along: ends, mirrored: this.block.mirrored });
    ['along-a', 'along-b'].forEach((id) => { this.$(id).value = ''; });
  }

  listenFace() {
    const svg = this.$('face');
    let drag = null;
    const editable = () => this.editing;
    svg.addEventListener('pointerdown', (e) => {
      if (!editable() || e.button > 0) return;
      const at = this.place(e);
      const margin = at.radius <= 80 ? 'centre' : at.radius <= 178 ? 'deep' : at.radius <= 262 ? 'peripheral' : null;
      if (!margin) return;
      e.preventDefault();
      svg.setPointerCapture(e.pointerId);
      drag = { margin, start: at.minutes, swept: 0, last: at.minutes, x: e.clientX, y: e.clientY, moved: false };
    });
    svg.addEventListener('pointermove', (e) => {
      if (!drag) return;
      const at = this.place(e);
      if (Math.hypot(e.clientX - drag.x, e.clientY - drag.y) > 8) drag.moved = true;
      let by = at.minutes - drag.last;
      if (by > 360) by -= 720;
      if (by < -360) by += 720;
      drag.swept = Math.max(-720, Math.min(720, drag.swept + by));
      drag.last = at.minutes;
      if (drag.moved && drag.margin !== 'centre') this.drawDrawn(this.dragged(drag));
    });
    svg.addEventListener('pointerup', (e) => {
      if (!drag) return;
      const done = drag;
      drag = null;
      if (done.margin === 'centre') { if (this.block.centre && this.place(e).radius <= 90) this.toggleCentre(); return; }
      this.margin = done.margin;
      if (done.moved) {
        const mark = this.dragged(done);
        if (mark) this.add({ margin: mark.margin, from: mark.from, minutes: mark.minutes }); else this.drawDrawn();
        return;
      }
      this.toggleClipped(done.margin, Math.floor(done.start / this.step) * this.step);
    });
    svg.addEventListener('pointercancel', () => { drag = null; this.drawDrawn(); });
    svg.addEventListener('keydown', (e) => this.keys(e, editable));
  }

  // A tapped sector that reaches past the block is marked as far as the block goes.
  toggleClipped(margin, from) {
    const spans = this.spans(margin);
    if (inside(from, this.step, spans)) { this.toggleSector(margin, from); return; }
    const clipped = clip(from, this.step, spans);
    if (clipped) this.add({ margin, from: clipped[0], minutes: clipped[1] });
    else this.fail(`Block ${this.label} does not cover the ${this.model.margins[margin]} there.`);
  }

  dragged(drag) {
    const back = drag.swept < 0;
    const a = Math.round((back ? drag.start + drag.swept : drag.start) / SNAP) * SNAP;
    const minutes = Math.min(720, Math.max(SNAP, Math.round(Math.abs(drag.swept) / SNAP) * SNAP));
    const clipped = clip(mod(a), minutes, this.spans(drag.margin));
    return clipped ? { kind: this.$('kind').value, margin: drag.margin, from: clipped[0], minutes: clipped[1] } : null;
  }

  keys(e, editable) {
    const sector = e.target.closest('.sector');
    if (!sector) return;
    const sectors = [...this.$('face').querySelectorAll('.sector')];
    const at = sectors.indexOf(sector);
    const ring = sector.dataset.place.split(' ')[0];
    const same = sectors.filter((s) => s.dataset.place.startsWith(ring));
    const go = (to) => { e.preventDefault(); sectors.forEach((s) => s.setAttribute('tabindex', '-1')); to.setAttribute('tabindex', '0'); to.focus(); };
    if (e.key === 'ArrowRight') go(same[(same.indexOf(sector) + 1) % same.length]);
    else if (e.key === 'ArrowLeft') go(same[(same.indexOf(sector) + same.length - 1) % same.length]);
    else if (e.key === 'ArrowUp' || e.key === 'ArrowDown') {
      const order = ['peripheral', 'deep', 'centre'];
      const next = sectors.find((s) => s.dataset.place.startsWith(order[order.indexOf(ring) + (e.key === 'ArrowDown' ? 1 : -1)] ?? '-'));
      if (next) go(next);
    } else if ((e.key === ' ' || e.key === 'Enter') && editable()) {
      e.preventDefault();
      if (ring === 'centre') this.toggleCentre(); else this.toggleClipped(ring, Number(sector.dataset.place.split(' ')[1]));
    }
    void at;
  }

  listenStrip() {
    const svg = this.$('strip');
    let from = null;
    const share = (e) => Math.max(0, Math.min(1, (new DOMPoint(e.clientX, e.clientY).matrixTransform(svg.getScreenCTM().inverse()).x - 30) / 540));
    svg.addEventListener('pointerdown', (e) => { if (!this.block.minutes) return; e.preventDefault(); svg.setPointerCapture(e.pointerId); from = share(e); });
    svg.addEventListener('pointermove', (e) => {
      if (from === null) return;
      const to = share(e);
      const rect = document.getElementById('strip-drag');
      rect.setAttribute('x', 30 + 540 * Math.min(from, to));
      rect.setAttribute('width', 540 * Math.abs(to - from));
    });
    svg.addEventListener('pointerup', (e) => {
      if (from === null) return;
      const [a, b] = [from, share(e)].map((v) => Math.round(v * 100) / 100);
      from = null;
      if (Math.abs(a - b) >= 0.01) this.addAlong(a, b); else this.drawStrip();
    });
  }
}

const minutesOf = (t) => { const [h, m] = t.split(':').map(Number); return (h % 12) * 60 + m; };

// The part of a stretch that lies on the spans, as one stretch; null where none does.
function clip(from, minutes, spans) {
  let best = null;
  for (const [f, n] of spans) {
    if (n >= 720) return [mod(from), Math.min(720, minutes)];
    for (let shift = -720; shift <= 720; shift += 720) {
      const a = Math.max(from, f + shift);
      const b = Math.min(from + minutes, f + shift + n);
      if (b > a && (!best || b - a > best[1])) best = [mod(a), b - a];
    }
  }
  return best;
}

function hatch() {
  const defs = element('defs');
  const pattern = element('pattern', { id: 'hatch', width: 9, height: 9, patternUnits: 'userSpaceOnUse', patternTransform: 'rotate(45)' });
  pattern.append(element('rect', { width: 9, height: 9, class: 'hatch-ground' }), element('line', { x1: 0, y1: 0, x2: 0, y2: 9, class: 'hatch-line' }));
  const dots = element('pattern', { id: 'dots', width: 10, height: 10, patternUnits: 'userSpaceOnUse' });
  dots.append(element('rect', { width: 10, height: 10, class: 'dots-ground' }), element('circle', { cx: 5, cy: 5, r: 1.8, class: 'dots-dot' }));
  defs.append(pattern, dots);
  return defs;
}

start();
Blazor.addEventListener?.('enhancedload', start);
