// @ts-check
/** The head of the lesson: title, scale, and what else is said at its top. */

import { byId, element, refill, same } from "./element.js";
import { field, scales } from "./field.js";
import { plain, search } from "./search.js";

/** Words that stand open; the others are behind "More". */
const OPEN = ["subtitle", "tempo", "level", "feel", "labels"];

/** @param {any} value */
export const tables = (value) => (Array.isArray(value) ? value : value && typeof value === "object" ? [value] : []);

/** @param {any} desk @param {any} says */
export function showHead(desk, says) {
  const { figure, exercise, keys, track, ...head } = says;
  if (same("head", head)) return;
  const words = desk.choices.words.lesson.filter((/** @type {any} */ word) => word.key !== "title" && word.takes !== "in text");
  const fields = (/** @type {(key: string) => boolean} */ wanted) =>
    words.filter((/** @type {any} */ word) => wanted(word.key)).map((/** @type {any} */ word) => field(desk, word, [], says[word.key], says));
  const title = field(desk, { key: "title", takes: "text", words: [] }, [], says.title, says);
  const own = tables(says.scale);
  const scaled = own.length > 1
    ? own.map((scale, place) => scaleOf(desk, scale, place, `Scale ${place + 1}`))
    : [scaleOf(desk, own[0] ?? {}, 0, "Scale")];
  const nobody = !own.length || tables(says.player).length || (Array.isArray(says.instruments) && says.instruments.length) ? null
    : element("p", { class: "steps" }, "Choose a scale, click the counts of the figure, then say ",
      element("button", { type: "button", class: "plain", "data-id": "head.players", on: { click: () => desk.goTo("Players", '[aria-label="Add instrument"]') } }, "who plays"),
      ". The sheet follows at once.");
  refill(byId("head"), [
    nobody,
    element("div", { class: "fields" }, title, ...scaled, ...fields((key) => OPEN.includes(key))),
    moreScales(desk, says, own),
    element("details", { "data-id": "more-head" }, element("summary", {}, "More of the head"),
      element("div", { class: "fields" }, ...fields((key) => !OPEN.includes(key)))),
  ]);
}

/** @param {any} desk @param {any} scale @param {number} place @param {string} label */
function scaleOf(desk, scale, place, label) {
  const at = ["scale", place, "name"];
  const known = desk.choices.scales.find((/** @type {any} */ one) => [one.name, one.says, ...one.aliases].some((own) => plain(own) === plain(String(scale.name ?? ""))));
  const about = scale.degrees ?? (known ? [known.degrees, known.chord].filter(Boolean).join(" · ") : "");
  return element("div", { class: "field" }, element("span", {}, label),
    search(scales(desk), label, scale.name ?? "", at.join("."), (name) =>
      desk.edit([name ? { do: "set", at, value: name } : { do: "unset", at }], at.join(".")), false,
    desk.last?.says?.changes && !scale.name ? "each chord's own" : undefined),
    about ? element("small", {}, about) : null);
}

/** Scales by their degrees, their chords, and further ones. @param {any} desk @param {any} says @param {any[]} own */
function moreScales(desk, says, own) {
  const words = desk.choices.words.scale.filter((/** @type {any} */ word) => word.key !== "name");
  const cards = (own.length ? own : [{}]).map((scale, place) => element("div", { class: "card" },
    own.length > 1 ? element("div", { class: "row" }, element("h3", {}, scale.name ?? `Scale ${place + 1}`), element("span", { class: "push" }),
      element("button", {
        type: "button", "aria-label": `Remove scale ${scale.name ?? place + 1}`, "data-id": `scale.${place}.remove`,
        on: { click: () => desk.edit([{ do: "remove", table: "scale", place }], "", "removed") },
      }, "Remove")) : null,
    element("div", { class: "fields" }, ...words.map((/** @type {any} */ word) =>
      field(desk, word, ["scale", place], scale[word.key], says, `${word.key === "degrees" ? "Its degrees" : "Its chord"}${own.length > 1 ? ` (${scale.name ?? place + 1})` : ""}`)))));
  return element("details", { "data-id": "more-scale" }, element("summary", {}, "More of the scale"), ...cards,
    own.length ? element("button", {
      type: "button", "data-id": "scale.add",
      on: { click: () => desk.edit((/** @type {any} */ now) => {
        const names = tables(now.scale).map((scale) => plain(String(scale.name ?? "")));
        const free = ["major", "dorian", "mixolydian"].find((name) => !names.includes(name)) ?? "lydian";
        return [{ do: "add", table: "scale", place: names.length, says: { name: free } }];
      }, "", "scale added") },
    }, "Add another scale") : null);
}
