// @ts-check
/** One word of the lesson as a control, by what it takes. */

import { chips } from "./chips.js";
import { element, later } from "./element.js";
import { usual, worded } from "./plain_words.js";
import { search } from "./search.js";
import { smallTable, valueAt, wordsOver } from "./small_table.js";

/**
 * @typedef {{ key: string, takes: string, words: any }} Word
 * @typedef {{ edit: (changes: any[] | ((says: any) => any[]), kind: string) => void, choices: any }} Desk
 */

/** @param {any} tempo */
export const tempoWords = (tempo) =>
  tempo && typeof tempo === "object" ? `${tempo.from} to ${tempo.to} by ${tempo.by}` : tempo === undefined || tempo === null ? "" : String(tempo);

/** What somebody typed as a tempo. @param {string} typed */
export function tempoOf(typed) {
  const ladder = /^(\d+)\s*(?:to|-|–)\s*(\d+)(?:\s*(?:by|,)\s*(\d+))?$/.exec(typed.trim());
  if (ladder) return { from: Number(ladder[1]), to: Number(ladder[2]), by: Number(ladder[3] ?? 8) };
  return /^\d+$/.test(typed.trim()) ? Number(typed) : typed.trim();
}

/** What an exercise takes from the lesson where it says nothing. */
const INHERITED = ["level", "tempo", "keys", "dynamic", "breath"];

/** Switches that are on where nothing is said. */
const ON = ["show_moves", "chord_symbols"];

/** @param {any} keys */
const keysWords = (keys) => {
  if (!keys || typeof keys !== "object") return "";
  if (Array.isArray(keys.only)) return keys.only.join(" ");
  return [keys.order, keys.from ? `from ${keys.from}` : ""].filter(Boolean).join(" ");
};

/** @param {string} typed @param {string[]} orders */
const keysOf = (typed, orders) => {
  const order = orders.find((one) => typed.trim().toLowerCase().startsWith(one));
  const from = /\bfrom\s+(\S+)/i.exec(typed);
  if (order) return from ? { order, from: from[1] } : { order };
  return { only: typed.split(/[\s,]+/).filter(Boolean) };
};

/**
 * A field of a table.
 * @param {Desk} desk
 * @param {Word} word
 * @param {(string | number)[]} way where its table is
 * @param {any} value what the text says, undefined where nothing
 * @param {any} says the whole lesson's values, for names of its own
 * @param {string} [label]
 */
export function field(desk, word, way, value, says, label = worded(word.key)) {
  const at = [...way, word.key];
  const id = at.join(".");
  const unsaid = way[0] === "exercise" && INHERITED.includes(word.key) ? "the lesson's" : usual(word.key);
  const set = (/** @type {any} */ value) => {
    const none = value === "" || (Array.isArray(value) && value.length === 0);
    desk.edit([none ? { do: "unset", at } : { do: "set", at, value }], id);
  };
  // A list is taken from what the text says when the change's turn comes.
  const change = (/** @type {(now: any[]) => any[]} */ of) => desk.edit((/** @type {any} */ now) => {
    const own = valueAt(now, at);
    const all = of(Array.isArray(own) ? own : typeof own === "string" ? own.split(/\s+/) : []);
    return [all.length ? { do: "set", at, value: all } : { do: "unset", at }];
  }, id);
  const labelled = (/** @type {Node} */ control) => element("label", { class: "field" }, label, control);
  const typing = (/** @type {any} */ input, /** @type {(typed: string) => any} */ of) => {
    input.addEventListener("input", later(250, () => {
      if (document.activeElement === input) set(of(input.value));
    }));
    input.addEventListener("change", () => set(of(input.value)));
    return input;
  };
  const text = (/** @type {string} */ shown, /** @type {(typed: string) => any} */ of, /** @type {string[]} */ known) => {
    const list = known.length ? element("datalist", { id: `usual-${id}` }, ...known.map((one) => element("option", { value: one }))) : null;
    const input = typing(element("input", { value: shown, "data-id": id, list: list ? `usual-${id}` : null, autocomplete: "off", placeholder: unsaid }), of);
    return element("div", { class: "field" }, element("label", {}, label, input), list);
  };
  switch (word.takes) {
    case "one":
    case "own": {
      const words = word.takes === "one" ? word.words : ownNames(says, word.words);
      if (word.takes === "own" && words.length < 2 && value === undefined) return null;
      const known = value === undefined || words.includes(value);
      const options = [element("option", { value: "", selected: value === undefined }, unsaid ? `${unsaid}, as usual` : "as usual"),
        ...(known ? [] : [element("option", { value: String(value), selected: true }, String(value))]),
        ...words.map((/** @type {string} */ one) => element("option", { value: one, selected: one === value }, one))];
      const select = element("select", { "data-id": id, on: { change: () => set(select.value) } }, ...options);
      return labelled(select);
    }
    case "several": {
      const on = Array.isArray(value) ? value : [];
      const boxes = word.words.map((/** @type {string} */ one) => element("label", { class: "tick" },
        element("input", {
          type: "checkbox", checked: on.includes(one), "data-id": `${id}.${one}`,
          on: { change: (/** @type {any} */ event) => change((now) => (event.target.checked ? [...now, one] : now.filter((other) => other !== one))) },
        }), one));
      const own = word.key === "labels" && way.length ? `${label} (the lesson's where none is ticked)` : label;
      return element("fieldset", { class: "field" }, element("legend", {}, own), ...boxes);
    }
    case "owns": {
      const words = ownNames(says, word.words);
      if (words.length < 2 && value === undefined) return null;
      return field(desk, { ...word, takes: "several", words }, way, value, says, label);
    }
    case "table": return smallTable(desk, word, at, value, label);
    case "words over": return wordsOver(desk, at, value, label);
    case "text": return text(Array.isArray(value) ? value.join(", ") : value ?? "", (typed) => typed, word.words ?? []);
    case "chord": return text(value ?? "", (typed) => typed.trim(), desk.choices.chords);
    case "texts": return chips(id, label, Array.isArray(value) ? value : typeof value === "string" ? value.split(/\s+/) : [], word.words ?? [], change);
    case "lines": return element("label", { class: "field wide" }, label, typing(element("textarea", { rows: word.key === "bars" ? 5 : 3, class: word.key === "bars" ? "bars" : null, value: value ?? "", "data-id": id }), (typed) => typed));
    case "number": {
      const [from, to] = word.words;
      return labelled(typing(element("input", { type: "number", min: from, max: to, value: value ?? "", "data-id": id, placeholder: unsaid }),
        (typed) => (typed === "" ? "" : Number(typed))));
    }
    case "switch": return element("label", { class: "tick" },
      element("input", { type: "checkbox", checked: ON.includes(word.key) ? value !== false : value === true, "data-id": id,
        on: { change: (/** @type {any} */ event) => set(event.target.checked === ON.includes(word.key) ? "" : event.target.checked) } }), label);
    case "tempo": return text(tempoWords(value), (typed) => (typed.trim() === "" ? "" : tempoOf(typed)), []);
    case "keys": return text(keysWords(value), (typed) => (typed.trim() === "" ? "" : keysOf(typed, desk.choices.orders)), desk.choices.orders);
    case "scale": return element("div", { class: "field" }, element("span", {}, label), search(scales(desk), label, value ?? "", id, set));
    case "instrument": return element("div", { class: "field" }, element("span", {}, label), search(instruments(desk), label, value ?? "", id, set));
    default: return null;
  }
}

/** @param {Desk} desk */
export const scales = (desk) => desk.choices.scales.map((/** @type {any} */ one) =>
  ({ name: one.name, says: one.says, aliases: one.aliases, about: [one.degrees, one.chord].filter(Boolean).join(" · ") }));

/** Those of the catalogue, and the lesson's own. @param {any} desk */
export const instruments = (desk) => [
  ...ownNames(desk.last?.says, "instrument").map((/** @type {string} */ name) => ({ name, says: name, aliases: [], about: "this lesson's own" })),
  ...desk.choices.instruments,
];

/** Names of the lesson's own figures or scales. @param {any} says @param {string} what */
function ownNames(says, what) {
  const tables = Array.isArray(says?.[what]) ? says[what] : says?.[what] ? [says[what]] : [];
  return tables.map((/** @type {any} */ one) => one?.name).filter((/** @type {any} */ name) => typeof name === "string");
}
