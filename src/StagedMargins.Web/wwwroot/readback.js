// What is marked, read back by the service as a sentence. A sentence counts for exactly what was asked: the answer to an earlier question is
// dropped, however late it comes.
import { isSignedOut, send } from './forms.js';

const PAUSE = 200;
const RETRY = 3000;

export class ReadBack {
  /** @param {() => void} heard Called when an answer has come. */
  constructor(heard) {
    this.heard = heard;
    this.drop();
  }

  /** Asks for the sentence of a reading, from now on the only one that counts. */
  ask(url, body) {
    this.drop();
    this.asked = JSON.stringify([url, body]);
    this.waiting = setTimeout(() => this.send(url, body), PAUSE);
  }

  /** Nothing is to be read back. */
  drop() {
    clearTimeout(this.waiting);
    Object.assign(this, { asked: null, answer: null, problem: null });
  }

  /** True when the sentence of this very reading has come. */
  isOf(url, body) { return this.answer !== null && this.asked === JSON.stringify([url, body]); }

  async send(url, body) {
    const asked = JSON.stringify([url, body]);
    const result = await send(url, body);
    if (this.asked !== asked) return;
    this.answer = result.ok ? result.data : null;
    this.problem = result.ok ? null : problemOf(result);
    if (isPassing(result)) this.waiting = setTimeout(() => this.send(url, body), RETRY);
    this.heard();
  }
}

const isPassing = (result) => !result.ok && (result.offline || isSignedOut(result) || result.status >= 500);

function problemOf(result) {
  if (result.offline) return 'The service can’t be reached. Your marks are kept; you can save once they have been read back.';
  if (isSignedOut(result)) return 'You are signed out. Your marks are kept; sign in again in another tab, and they will be read back here.';
  // The words of each field alone: where it stands in the request tells a reader nothing.
  const ofFields = Object.values(result.data?.errors ?? {}).flat().join(' ');
  return ofFields || result.data?.detail || 'The service can’t read this back right now. Your marks are kept.';
}
