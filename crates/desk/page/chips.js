// @ts-check
/** A list of words: each can be taken out, and one more put at the end. */

import { element, isRefilling } from "./element.js";

let lists = 0;

/**
 * @param {string} id @param {string} label @param {string[]} all
 * @param {string[]} known words that are usual there
 * @param {(of: (now: string[]) => string[]) => void} change
 */
export function chips(id, label, all, known, change) {
  lists += 1;
  const list = known.length ? element("datalist", { id: `chips-${lists}` }, ...known.map((one) => element("option", { value: one }))) : null;
  const input = element("input", {
    "data-id": `${id}.add`, "aria-label": `${label}: add`, list: list ? `chips-${lists}` : null, autocomplete: "off",
    placeholder: all.length ? "and" : known[0],
  });
  const add = () => {
    if (isRefilling()) return;
    const more = input.value.split(",").map((/** @type {string} */ one) => one.trim()).filter(Boolean);
    input.value = "";
    if (more.length) change((now) => [...now, ...more]);
  };
  input.addEventListener("change", add);
  input.addEventListener("keydown", (event) => {
    if (/** @type {KeyboardEvent} */ (event).key === "Enter") add();
  });
  const items = all.map((one, place) => element("li", {}, element("button", {
    type: "button", class: "chip", "aria-label": `Remove ${one}`, "data-id": `${id}.${place}.remove`,
    on: { click: () => change((now) => (now[place] === one ? now.filter((_, other) => other !== place) : now)) },
  }, one, element("span", { "aria-hidden": "true" }, " ×"))));
  return element("fieldset", { class: "field" }, element("legend", {}, label),
    element("div", { class: "adding" }, items.length ? element("ul", { class: "chips", "aria-label": label }, ...items) : null, input, list));
}
