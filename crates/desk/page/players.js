// @ts-check
/** Who plays: instruments, or players with names and ranges of their own. */

import { element } from "./element.js";
import { field, instruments } from "./field.js";
import { tables } from "./head.js";
import { search } from "./search.js";

/** @param {any} desk @param {any} says */
export function players(desk, says) {
  const own = tables(says.player);
  return [...(own.length ? named(desk, says, own) : listed(desk, says)), lacking(desk, says)];
}

/** Horns that the list of instruments lacks. @param {any} desk @param {any} says */
function lacking(desk, says) {
  const cards = tables(says.instrument).map((horn, place) => element("article", { class: "card", "aria-label": `Horn ${horn?.name ?? place + 1}` },
    element("div", { class: "row" }, element("h3", {}, horn?.name ?? `Horn ${place + 1}`), element("span", { class: "push" }),
      element("button", {
        type: "button", "aria-label": `Remove horn ${horn?.name ?? place + 1}`, "data-id": `instrument.${place}.remove`,
        on: { click: () => desk.edit([{ do: "remove", table: "instrument", place }], "", "removed") },
      }, "Remove")),
    element("div", { class: "fields" }, ...desk.choices.words.instrument.map((/** @type {any} */ word) =>
      field(desk, word, ["instrument", place], horn?.[word.key], says)))));
  return element("details", { "data-id": "instrument.more" }, element("summary", {}, "A horn that the list lacks"),
    element("p", { class: "quiet" }, "Say what it sounds and how far it goes; then add it above by its name."), ...cards,
    element("button", {
      type: "button", "data-id": "instrument.add",
      on: { click: () => desk.edit((/** @type {any} */ now) => {
        const place = tables(now.instrument).length;
        return [{ do: "add", table: "instrument", place, says: { name: `Own horn ${place + 1}`, clef: "treble", sounds: "C4", range: "C4 to G5" } }];
      }, "", "horn added") },
    }, "Describe a horn"));
}

/** @param {any} desk @param {any} says */
function listed(desk, says) {
  /** @type {string[]} */
  const all = Array.isArray(says.instruments) ? says.instruments : [];
  const set = (/** @type {(all: string[]) => string[]} */ change, /** @type {string} */ words) =>
    desk.edit((/** @type {any} */ now) => {
      const value = change(Array.isArray(now.instruments) ? now.instruments : []);
      return [value.length ? { do: "set", at: ["instruments"], value } : { do: "unset", at: ["instruments"] }];
    }, "", words);
  const without = (/** @type {string[]} */ now, /** @type {string} */ name) => now.filter((_, place) => place !== now.indexOf(name));
  const items = all.map((name, place) => element("li", {},
    element("span", {}, name), element("span", { class: "push" }),
    element("button", {
      type: "button", disabled: place === 0, "aria-label": `Move ${name} up`, "data-id": `instruments.${place}.up`,
      on: { click: () => set((now) => {
        const at = now.indexOf(name);
        return at < 1 ? now : [...now.slice(0, at - 1), name, now[at - 1], ...now.slice(at + 1)];
      }, "moved up") },
    }, "↑"),
    element("button", {
      type: "button", "aria-label": `Remove ${name}`, "data-id": `instruments.${place}.remove`,
      on: { click: () => set((now) => without(now, name), `${name} removed`) },
    }, "Remove")));
  return [
    all.length === 0 ? element("p", { class: "quiet" }, "Nobody is said, so the sheet is at concert pitch in treble clef.") : null,
    element("ul", { class: "lines", "aria-label": "Instruments" }, ...items),
    element("div", { class: "row" },
      element("span", {}, "Add instrument"),
      search(instruments(desk), "Add instrument", "", "instruments.add", (name) => set((now) => [...now, name], `${name} added`), true)),
    all.length
      ? element("button", {
        type: "button", "data-id": "players.name",
        on: {
          click: () => desk.edit((/** @type {any} */ now) => [{ do: "unset", at: ["instruments"] },
            ...(now.instruments ?? []).map((/** @type {string} */ name, /** @type {number} */ place) =>
              ({ do: "add", table: "player", place, says: { name: `Player ${place + 1}`, instrument: name } }))], "", "each player has a card now"),
        },
      }, "Give players names and ranges")
      : null,
  ];
}

/** @param {any} desk @param {any} says @param {any[]} own */
function named(desk, says, own) {
  const cards = own.map((player, place) => element("article", { class: "card", "aria-label": `Player ${player?.name ?? place + 1}` },
    element("div", { class: "row" }, element("h3", {}, player?.name ?? `Player ${place + 1}`), element("span", { class: "push" }),
      element("button", {
        type: "button", "aria-label": `Remove ${player?.name ?? `player ${place + 1}`}`, "data-id": `player.${place}.remove`,
        on: { click: () => desk.edit([{ do: "remove", table: "player", place }], "", "removed") },
      }, "Remove")),
    element("div", { class: "fields" }, ...desk.choices.words.player.map((/** @type {any} */ word) =>
      field(desk, word, ["player", place], player?.[word.key], says)))));
  return [...cards, element("button", {
    type: "button", "data-id": "player.add",
    on: {
      click: () => desk.edit((/** @type {any} */ now) => {
        const place = tables(now.player).length;
        return [{ do: "add", table: "player", place, says: { name: `Player ${place + 1}`, instrument: "flute" } }];
      }, "", "player added"),
    },
  }, "Add player")];
}
