// @ts-check
/** What a text was before, and after: undo and redo over typing and controls alike. */

const MOST = 500;
/** Typing within this time is one step. Milliseconds. */
const TOGETHER = 800;

export class History {
  /** @param {string} text */
  constructor(text) {
    /** @type {string[]} */
    this.before = [];
    /** @type {string[]} */
    this.after = [];
    this.text = text;
    this.last = { kind: "", at: 0 };
  }

  /**
   * The text became another.
   * @param {string} text
   * @param {string} kind what changed it; equal kinds in quick succession are one step
   */
  step(text, kind) {
    if (text === this.text) return;
    const now = Date.now();
    const same = kind !== "" && kind === this.last.kind && now - this.last.at < TOGETHER;
    if (!same || this.before.length === 0) this.before.push(this.text);
    if (this.before.length > MOST) this.before.shift();
    this.after = [];
    this.text = text;
    this.last = { kind, at: now };
  }

  undo() {
    const text = this.before.pop();
    if (text === undefined) return this.text;
    this.after.push(this.text);
    return this.at(text);
  }

  redo() {
    const text = this.after.pop();
    if (text === undefined) return this.text;
    this.before.push(this.text);
    return this.at(text);
  }

  /** @param {string} text */
  at(text) {
    this.text = text;
    this.last = { kind: "", at: 0 };
    return text;
  }
}
