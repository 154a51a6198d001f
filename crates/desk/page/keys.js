// @ts-check
/** The keys: an order of twelve, or exactly those that are ticked. */

import { element } from "./element.js";
import { field } from "./field.js";

/** @param {any} desk @param {any} says @param {any} look */
export function keys(desk, says, look) {
  const said = says.keys ?? {};
  const only = Array.isArray(said.only) ? said.only : null;
  const names = ["C", "Db", "D", "Eb", "E", "F", "Gb", "G", "Ab", "A", "Bb", "B"];
  const sharps = { Db: "C#", Eb: "D#", Gb: "F#", Ab: "G#", Bb: "A#", B: "Cb", E: "Fb" };
  const at = (/** @type {string[]} */ all, /** @type {string} */ name) => all.findIndex((one) => one === name || one === sharps[/** @type {"Db"} */ (name)]);
  const set = (/** @type {(only: string[] | null) => string[]} */ change, /** @type {string} */ words) =>
    desk.edit((/** @type {any} */ now) => {
      const keys = change(Array.isArray(now.keys?.only) ? now.keys.only : null);
      return keys.length
        ? [{ do: "unset", at: ["keys", "order"] }, { do: "unset", at: ["keys", "from"] }, { do: "set", at: ["keys", "only"], value: keys }]
        : [{ do: "unset", at: ["keys", "only"] }];
    }, "", words);
  const boxes = names.map((name) => element("label", { class: "tick" },
    element("input", {
      type: "checkbox", checked: only === null || at(only, name) >= 0, "data-id": `keys.only.${name}`,
      on: {
        change: (/** @type {any} */ event) => {
          const on = event.target.checked;
          set((now) => {
            const all = now ?? names;
            const place = at(all, name);
            if (on) return place >= 0 ? all : [...all, name];
            return all.filter((_, other) => other !== place);
          }, `${name} ${on ? "in" : "out"}`);
        },
      },
    }), name.replace("b", "♭")));
  const words = desk.choices.words.keys;
  const one = (/** @type {string} */ key) => words.find((/** @type {any} */ word) => word.key === key);
  const order = orderOf(desk, said);
  return [
    element("fieldset", { class: "field" }, element("legend", {}, "Only these keys"), ...boxes),
    only
      ? element("p", {}, `In this order: ${only.join(" ").replaceAll("b", "♭").replaceAll("#", "♯")}. `, element("button", {
        type: "button", "data-id": "keys.all", on: { click: () => set(() => [], "all twelve keys") },
      }, "All twelve, in an order"))
      : element("div", { class: "fields" }, order, field(desk, { ...one("from"), words: names }, ["keys"], said.from, says, "From")),
    element("details", { "data-id": "more-keys" }, element("summary", {}, "More about keys"),
      element("div", { class: "fields" }, ...["named", "prefer", "seed", "draw", "heard"].map((key) =>
        (one(key) ? field(desk, one(key), ["keys"], said[key], says) : null)))),
    element("p", { class: "quiet" }, look.keys ? `${look.keys.length} sheets for this player.` : ""),
  ];
}

/** @param {any} desk @param {any} said */
function orderOf(desk, said) {
  const at = ["keys", "order"];
  const select = element("select", {
    "data-id": "keys.order",
    on: { change: () => desk.edit([select.value ? { do: "set", at, value: select.value } : { do: "unset", at }], "keys.order") },
  }, element("option", { value: "" }, "fourths, as usual"),
  ...desk.choices.orders.map((/** @type {string} */ one) => element("option", { value: one, selected: one === said.order }, one)));
  return element("label", { class: "field" }, "Order", select);
}
