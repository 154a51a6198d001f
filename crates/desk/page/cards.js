// @ts-check
/** Exercises as cards, in their order. */

import { element } from "./element.js";
import { field } from "./field.js";
import { tables } from "./head.js";

/** What any exercise may say beside what it is. */
const GENERAL = ["chord", "chord_symbols", "for", "heading", "text", "words", "level", "keys", "tempo", "labels", "dynamic", "breath"];

const OVER = ["changes", "guide tones", "targets"];

/**
 * What each exercise is called on the sheet: letters, numbers where sections have the letters. An exercise that plays
 * several variants has a letter for each, so from there on its place in the lesson is said.
 * @param {any[]} own @param {any} says
 */
function names(own, says) {
  const numbered = tables(says.section).length > 0;
  let several = false;
  return own.map((exercise, place) => {
    several ||= Array.isArray(exercise?.variants) && exercise.variants.length > 0 && !OVER.includes(exercise.kind);
    return numbered || several || place > 25 ? `exercise ${place + 1}` : String.fromCharCode(65 + place);
  });
}

/** What a key says, on one line. @param {any} value @returns {string} */
function inWords(value) {
  if (value === true) return "yes";
  if (value === false) return "no";
  if (Array.isArray(value)) return value.map(inWords).join(", ");
  if (value && typeof value === "object") return Object.entries(value).map(([key, own]) => `${key.replaceAll("_", " ")} ${inWords(own)}`).join(", ");
  return String(value ?? "unclear");
}

/** @param {any} desk @param {any} says */
export function exercises(desk, says) {
  const own = tables(says.exercise);
  const called = names(own, says);
  const cards = own.map((exercise, place) => card(desk, says, exercise ?? {}, place, own.length, called[place]));
  const unsaid = own.length === 0
    ? element("p", { class: "quiet" }, "None is said, so the sheet has the scale, the figure once, and the figure on each degree, up and down.")
    : null;
  const kinds = element("select", {
    "aria-label": "Kind of exercise", "data-id": "exercise.kind", on: { change: () => { desk.newKind = kinds.value; } },
  }, ...desk.choices.kinds.map((/** @type {any} */ one) =>
    element("option", { value: one.kind, selected: one.kind === (desk.newKind ?? "sequence") }, one.kind)));
  const add = element("button", {
    type: "button", "data-id": "exercise.add",
    on: {
      click: () => {
        const kind = desk.choices.kinds.find((/** @type {any} */ one) => one.kind === kinds.value);
        const of = kind.words.find((/** @type {any} */ word) => word.key === "of");
        const says = of ? { kind: kind.kind, of: of.words[0] } : { kind: kind.kind };
        desk.edit((/** @type {any} */ now) => {
          const place = tables(now.exercise).length;
          desk.opening = place;
          return [{ do: "add", table: "exercise", place, says }];
        }, "", `${kind.kind} added`);
      },
    },
  }, "Add exercise");
  return [unsaid, ...cards, element("div", { class: "row" }, kinds, add)];
}

/** @param {any} desk @param {any} says @param {any} exercise @param {number} place @param {number} of @param {string} letter */
function card(desk, says, exercise, place, of, letter) {
  const kind = desk.choices.kinds.find((/** @type {any} */ one) => one.kind === exercise.kind);
  const way = ["exercise", place];
  const name = `${letter[0].toUpperCase()}${letter.slice(1)} · ${exercise.kind ?? "no kind yet"}`;
  const move = (/** @type {number} */ to, /** @type {string} */ words) => element("button", {
    type: "button", disabled: to < 0 || to >= of, "aria-label": `Move ${letter} ${words}`, "data-id": `exercise.${place}.${words}`,
    on: { click: () => desk.edit([{ do: "move", table: "exercise", from: place, to }], "", `moved ${words}`) },
  }, words === "up" ? "↑" : "↓");
  const fields = (/** @type {boolean} */ general) => (kind?.words ?? [])
    .filter((/** @type {any} */ word) => GENERAL.includes(word.key) === general)
    .map((/** @type {any} */ word) => field(desk, word, way, exercise[word.key], says));
  const said = Object.entries(exercise).filter(([key]) => !["kind", "text"].includes(key))
    .map(([key, value]) => `${key.replaceAll("_", " ")} ${inWords(value)}`).join("; ");
  // A new card's choices stand open.
  const opens = desk.opening === place;
  if (opens) desk.opening = null;
  return element("article", { class: "card", "aria-label": `Exercise ${name}` },
    element("div", { class: "row" },
      element("h3", {}, name),
      element("span", { class: "push" }),
      move(place - 1, "up"), move(place + 1, "down"),
      element("button", {
        type: "button", "aria-label": `Remove ${letter}`, "data-id": `exercise.${place}.remove`,
        on: { click: () => desk.edit([{ do: "remove", table: "exercise", place }], "", "removed") },
      }, "Remove")),
    said ? element("p", { class: "quiet" }, said) : null,
    element("details", { "data-id": `exercise.${place}.choices`, open: opens }, element("summary", {}, `Choices of ${letter}`),
      element("p", { class: "quiet" }, kind?.about ?? ""),
      element("div", { class: "fields" }, ...fields(false)),
      element("details", { "data-id": `exercise.${place}.general` }, element("summary", {}, `What stands on the sheet with ${letter}, and for whom`),
        element("div", { class: "fields" }, ...fields(true)))));
}
