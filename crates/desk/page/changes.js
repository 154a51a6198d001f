// @ts-check
/** The changes: bars of chords, a form of sections, and which scale each chord takes. */

import { element } from "./element.js";
import { field, scales } from "./field.js";
import { tables } from "./head.js";
import { search } from "./search.js";

const BEGUN = "| Dm7 | G7 | Cmaj7 | same |";

/** @param {any} desk @param {any} says */
export function changes(desk, says) {
  const own = says.changes;
  if (!own || typeof own !== "object") return begin(desk);
  const words = desk.choices.words.changes.map((/** @type {any} */ word) => field(desk, word, ["changes"], own[word.key], says));
  return [
    element("p", { class: "quiet" }, "One bar between strokes, several chords share it: | C7 | F7 | C7 A7 | same |. Exercises of the kinds changes, guide tones and targets play over them."),
    element("div", { class: "fields" }, ...words),
    ...sections(desk, says),
    choose(desk, says),
    element("button", {
      type: "button", "data-id": "changes.remove",
      on: { click: () => desk.edit((/** @type {any} */ now) => [
        { do: "unset", at: ["changes"] }, ...(now.choose ? [{ do: "unset", at: ["choose"] }] : []),
        ...tables(now.section).map(() => ({ do: "remove", table: "section", place: 0 })),
        ...over(now).reverse().map((place) => ({ do: "remove", table: "exercise", place })),
      ], "", "changes removed") },
    }, "Remove the changes, and what plays over them"),
  ];
}

/** Which exercises go over changes. @param {any} says */
const over = (says) => tables(says.exercise).map((exercise, place) => ({ exercise, place }))
  .filter(({ exercise }) => ["changes", "guide tones", "targets"].includes(exercise?.kind)).map(({ place }) => place);

/** @param {any} desk */
function begin(desk) {
  return [
    element("p", {}, "No changes yet. With changes, the figure is carried through a progression of chords, each on its own scale."),
    element("button", {
      type: "button", "data-id": "changes.begin",
      on: { click: () => desk.edit((/** @type {any} */ now) => [
        { do: "set", at: ["changes", "bars"], value: BEGUN },
        { do: "add", table: "exercise", place: tables(now.exercise).length, says: { kind: "changes" } },
      ], "", "changes begun") },
    }, "Begin changes"),
  ];
}

/** @param {any} desk @param {any} says */
function sections(desk, says) {
  const own = tables(says.section);
  const cards = own.map((section, place) => {
    const name = section?.name ?? `Section ${place + 1}`;
    return element("article", { class: "card", "aria-label": `Section ${name}` },
      element("div", { class: "row" }, element("h3", {}, name), element("span", { class: "push" }),
        element("button", {
          type: "button", "aria-label": `Remove section ${name}`, "data-id": `section.${place}.remove`,
          on: { click: () => desk.edit([{ do: "remove", table: "section", place }], "", "removed") },
        }, "Remove")),
      element("div", { class: "fields" }, ...desk.choices.words.section.map((/** @type {any} */ word) =>
        field(desk, word, ["section", place], section?.[word.key], says))));
  });
  return [...cards, element("button", {
    type: "button", "data-id": "section.add",
    on: { click: () => desk.edit((/** @type {any} */ now) => {
      const all = tables(now.section);
      const name = String.fromCharCode(65 + (all.length % 26));
      const bars = all.length === 0 && typeof now.changes?.bars === "string" ? now.changes.bars : BEGUN;
      // A form is made of sections alone: the bars said so far become the first.
      return [...(now.changes?.bars === undefined ? [] : [{ do: "set", at: ["changes", "key"], value: now.changes.key ?? keyOf(bars) }, { do: "unset", at: ["changes", "bars"] }]),
        { do: "add", table: "section", place: all.length, says: { name, bars } }];
    }, "", "section added") },
  }, own.length ? "Add section" : "Make sections of them")];
}

/** The first chord's root. @param {string} bars */
const keyOf = (bars) => /[A-G][b#]?/.exec(bars)?.[0] ?? "C";

const USUAL = ["7", "maj7", "m7", "m7(b5)", "7 to minor", "7 down a half step", "bar 1"];

/** Which scale a chord takes, where not its usual one. @param {any} desk @param {any} says */
function choose(desk, says) {
  const own = says.choose && typeof says.choose === "object" ? says.choose : {};
  const set = (/** @type {string} */ chord, /** @type {string} */ scale) =>
    desk.edit([scale ? { do: "set", at: ["choose", chord], value: scale }
      : Object.keys(own).every((one) => one === chord) ? { do: "unset", at: ["choose"] } : { do: "unset", at: ["choose", chord] }],
    "", scale ? `${chord} takes ${scale}` : "removed");
  const rows = Object.entries(own).map(([chord, scale]) => element("li", {},
    element("strong", {}, chord), search(scales(desk), `Scale for ${chord}`, String(scale ?? ""), `choose.${chord}`, (name) => name && set(chord, name)),
    element("button", { type: "button", "aria-label": `Remove the scale for ${chord}`, "data-id": `choose.${chord}.remove`, on: { click: () => set(chord, "") } }, "Remove")));
  const list = element("datalist", { id: "usual-choose" }, ...USUAL.map((one) => element("option", { value: one })));
  const chord = element("input", { list: "usual-choose", "aria-label": "Chord, motion or bar", "data-id": "choose.new", autocomplete: "off", placeholder: "7 to minor" });
  return element("fieldset", { class: "field" }, element("legend", {}, "Scales of chords, where not their usual ones"),
    rows.length ? element("ul", { class: "lines", "aria-label": "Scales of chords" }, ...rows) : null,
    element("div", { class: "adding" }, chord, list, element("span", {}, "takes"),
      search(scales(desk), "Scale for it", "", "choose.scale", (name) => {
        const said = chord.value.trim();
        if (!said) chord.focus();
        else if (name) {
          chord.value = "";
          set(said, name);
        }
      }, true)));
}
