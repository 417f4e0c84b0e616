// Drawing on a clock face: 720 minutes clockwise from 12, seen as one faces the skin.
export const NS = 'http://www.w3.org/2000/svg';
export const mod = (m) => ((Math.round(m) % 720) + 720) % 720;
/** As the API has it: HH:MM. */
export const text = (m) => { const v = mod(m); const h = Math.floor(v / 60) || 12; return `${String(h).padStart(2, '0')}:${String(v % 60).padStart(2, '0')}`; };

const digits = (m) => text(m).replace(/^0/, '');

/** A position as people say it, so that it does not look like a time of day: 7:30 o'clock, 9 o'clock. */
export const positionInWords = (m) => `${digits(m).replace(/:00$/, '')} o'clock`;

/** An arc likewise: 7:30–9:00 o'clock. */
export const arcInWords = (from, minutes) => (minutes >= 720 ? 'all around' : `${digits(from)}–${digits(from + minutes)} o'clock`);

/** Minutes for HH:MM or H:MM, or null. */
export function parse(t) {
  const match = /^\s*(\d{1,2})\s*[:.]\s*([0-5]\d)\s*$/.exec(t) ?? /^\s*(\d{1,2})\s*$/.exec(t);
  if (!match || Number(match[1]) > 12) return null;
  return (Number(match[1]) % 12) * 60 + Number(match[2] ?? 0);
}

/** [from, to] for "07:30–09:00", or null. */
export function parseArc(t) {
  const parts = t.split(/\s*(?:–|—|-|to|\s)\s*/).filter(Boolean);
  if (parts.length !== 2) return null;
  const [a, b] = parts.map(parse);
  return a === null || b === null ? null : [a, b];
}

export const length = (from, to) => (mod(to) === mod(from) ? 720 : mod(to - from));
export const point = (cx, cy, r, m) => { const t = (m / 720) * 2 * Math.PI; return [cx + r * Math.sin(t), cy - r * Math.cos(t)]; };

/** Path of a ring's stretch between two radii. */
export function ringPath(cx, cy, inner, outer, from, minutes) {
  if (minutes >= 720) {
    const circle = (r, sweep) => `M ${cx} ${cy - r} A ${r} ${r} 0 1 ${sweep} ${cx} ${cy + r} A ${r} ${r} 0 1 ${sweep} ${cx} ${cy - r} Z`;
    return `${circle(outer, 1)} ${circle(inner, 0)}`;
  }
  const large = minutes > 360 ? 1 : 0;
  const [a, b] = [point(cx, cy, outer, from), point(cx, cy, outer, from + minutes)];
  const [c, d] = [point(cx, cy, inner, from + minutes), point(cx, cy, inner, from)];
  const f = (n) => n.toFixed(2);
  return `M ${f(a[0])} ${f(a[1])} A ${outer} ${outer} 0 ${large} 1 ${f(b[0])} ${f(b[1])} L ${f(c[0])} ${f(c[1])} A ${inner} ${inner} 0 ${large} 0 ${f(d[0])} ${f(d[1])} Z`;
}

export function element(name, attributes = {}, content) {
  const node = document.createElementNS(NS, name);
  for (const [key, value] of Object.entries(attributes)) if (value !== undefined && value !== null) node.setAttribute(key, value);
  if (content !== undefined) node.textContent = content;
  return node;
}

/** True where [from, minutes] lies inside one of the spans [[from, minutes], …]. */
export const inside = (from, minutes, spans) => spans.some(([f, n]) => n >= 720 || mod(from - f) + minutes <= n);
