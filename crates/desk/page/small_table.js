// @ts-check
/** Words of the lesson that are small tables: numbers under names, and words over places. */

import { element } from "./element.js";
import { usual } from "./plain_words.js";

/** @typedef {{ edit: (changes: any[] | ((says: any) => any[]), kind: string, words?: string) => void }} Desk */

/** What a lesson says at a place. @param {any} says @param {(string | number)[]} at */
export function valueAt(says, at) {
  let value = says;
  // A table alone is the first of its kind.
  for (const step of at) value = step === 0 && !Array.isArray(value) ? value : value?.[step];
  return value;
}

/** A key of a small table is said no more, nor the table once nothing is left in it. @param {(string | number)[]} at @param {string} key */
const without = (at, key) => (/** @type {any} */ now) =>
  [Object.keys(valueAt(now, at) ?? {}).every((own) => own === key) ? { do: "unset", at } : { do: "unset", at: [...at, key] }];

/** @param {string} key */
const worded = (key) => key.replaceAll("_", " ");

/**
 * Numbers under names: how much each weighs, or how loud it is.
 * @param {Desk} desk @param {any} word @param {(string | number)[]} at @param {any} value @param {string} label
 */
export function smallTable(desk, word, at, value, label) {
  const fields = word.words.map((/** @type {any} */ own) => {
    const [from, to] = own.words;
    const id = [...at, own.key].join(".");
    const input = element("input", {
      type: "number", min: from, max: to, value: value?.[own.key] ?? "", placeholder: word.key === "levels" ? "100" : usual(own.key), "data-id": id,
      on: { change: () => desk.edit(input.value === "" ? without(at, own.key)
        : [{ do: "set", at: [...at, own.key], value: Number(input.value) }], id) },
    });
    return element("label", { class: "field" }, worded(own.key), input);
  });
  return element("fieldset", { class: "field" }, element("legend", {}, `${label}, each ${word.words[0].words.join(" to ")}`),
    element("div", { class: "numbers" }, ...fields));
}

/**
 * Words over bars and statements of an exercise.
 * @param {Desk} desk @param {(string | number)[]} at @param {any} value @param {string} label
 */
export function wordsOver(desk, at, value, label) {
  const id = at.join(".");
  const rows = Object.entries(value ?? {}).map(([place, words]) => {
    const input = element("input", {
      value: String(words ?? ""), "aria-label": `Words over ${place}`, "data-id": `${id}.${place}`, autocomplete: "off",
      on: { change: () => desk.edit(input.value.trim() === "" ? without(at, place)
        : [{ do: "set", at: [...at, place], value: input.value.trim() }], `${id}.${place}`) },
    });
    return element("li", {}, element("span", {}, place), input, element("button", {
      type: "button", "aria-label": `Remove the words over ${place}`, "data-id": `${id}.${place}.remove`,
      on: { click: () => desk.edit(without(at, place), "", "removed") },
    }, "Remove"));
  });
  const what = element("select", { "aria-label": "Over what", "data-id": `${id}.what` },
    ...["bar", "statement"].map((one) => element("option", { value: one }, one)));
  const number = element("input", { type: "number", min: 1, value: "1", "aria-label": "Which one", "data-id": `${id}.number` });
  const words = element("input", { "aria-label": "Words to stand there", "data-id": `${id}.new`, autocomplete: "off", placeholder: "listen" });
  const add = () => {
    if (words.value.trim() === "" || !(Number(number.value) >= 1)) {
      words.focus();
      return;
    }
    const place = `${what.value} ${Number(number.value)}`;
    const said = words.value.trim();
    words.value = "";
    desk.edit([{ do: "set", at: [...at, place], value: said }], "", `words over ${place}`);
  };
  words.addEventListener("keydown", (event) => {
    if (/** @type {KeyboardEvent} */ (event).key === "Enter") add();
  });
  return element("fieldset", { class: "field" }, element("legend", {}, `${label} over bars and statements`),
    rows.length ? element("ul", { class: "lines", "aria-label": "Words over places" }, ...rows) : null,
    element("div", { class: "adding" }, what, number, words,
      element("button", { type: "button", "data-id": `${id}.add`, on: { click: add } }, "Add words")));
}
