// @ts-check
/** The figure on a small staff, drawn by the desk: the same notes as the row of counts over it. */

import { element } from "./element.js";

/**
 * @typedef {{ svg: string, name: string, on: string, goesOn: boolean, notes: [string, string, string][] }} Drawn
 */

/**
 * @param {Drawn} drawn
 * @param {(count: string) => void} chosen a note was clicked: the count it is struck on
 * @param {Node} beside what stands beside the words under it
 */
export function staff(drawn, chosen, beside) {
  const read = document.importNode(new DOMParser().parseFromString(drawn.svg, "image/svg+xml").documentElement, true);
  read.querySelector("title")?.remove();
  read.setAttribute("role", "img");
  read.setAttribute("aria-label", drawn.name);
  const made = element("div", { class: "staff" }, read,
    element("div", { class: "row" }, beside, element("span", { class: "quiet" }, drawn.goesOn ? `${drawn.on}; the first lines of it` : drawn.on)));
  /** @type {Map<string, Element>} the drawn notes by their counts */
  const notes = new Map();
  for (const [bar, onset, count] of drawn.notes) {
    const note = read.querySelector(`g.note[data-bar="${CSS.escape(bar)}"][data-onset="${CSS.escape(onset)}"]`);
    if (note) notes.set(count, note);
  }
  read.addEventListener("click", (event) => {
    // The nearest note: heads are small, and stems thin.
    let [nearest, best] = [/** @type {string | null} */ (null), Infinity];
    for (const [count, note] of notes) {
      const { left, right, top, bottom } = note.getBoundingClientRect();
      const away = Math.hypot(event.clientX - (left + right) / 2, event.clientY - (top + bottom) / 2);
      if (away < best) [nearest, best] = [count, away];
    }
    if (nearest !== null) chosen(nearest);
  });
  made.light = (/** @type {string | null} */ count) => {
    for (const note of notes.values()) note.classList.remove("lit");
    if (count !== null) notes.get(count)?.classList.add("lit");
  };
  made.countOf = (/** @type {string} */ bar, /** @type {string} */ onset) =>
    drawn.notes.find((note) => note[0] === bar && note[1] === onset)?.[2] ?? null;
  return made;
}
