// @ts-check
/** The sheet, page by page, for one player in one key. */

import { byId, element, refill, same } from "./element.js";

/** @param {any} desk @param {any} look the last good one */
export function showChosen(desk, look) {
  const players = look.players ?? [];
  const select = element("select", {
    id: "player", "data-id": "player", on: { change: () => desk.choose({ player: Number(select.value) }) },
  }, ...players.map((/** @type {string} */ name, /** @type {number} */ place) =>
    element("option", { value: String(place), selected: place === look.player }, name)));
  const keys = (look.keys ?? []).map((/** @type {any} */ key) => element("label", { class: "key", title: key.long },
    element("input", {
      type: "radio", name: "key", value: key.stem, checked: key.stem === look.key, "data-id": `key.${key.stem}`,
      "aria-label": key.long, on: { change: () => desk.choose({ key: key.stem, number: key.number }) },
    }), element("span", {}, key.short)));
  if (same("chosen", [players, look.player, look.keys, look.key])) return;
  refill(byId("chosen"), [
    element("label", { class: "inline", for: "player" }, "Player"), select,
    element("fieldset", { class: "keys" }, element("legend", {}, "Key"), ...keys),
  ]);
}

/**
 * The pages that a look brought; those that are the same stay.
 * @param {any} look @param {string[]} pages
 */
export function showPages(look, pages) {
  const place = byId("sheet");
  const name = look.sheet?.name ?? "";
  const of = look.sheet?.pages ?? pages.length;
  pages.forEach((svg, at) => {
    const old = /** @type {any} */ (place.children[at]);
    if (old?.drawn === svg) return;
    const page = drawn(svg, of > 1 ? `${name}, page ${at + 1} of ${of}` : name);
    const holder = element("div", { class: "page" }, page);
    holder.drawn = svg;
    if (old) old.replaceWith(holder);
    else place.append(holder);
  });
  while (place.children.length > of) place.lastElementChild?.remove();
}

/** @param {string} svg @param {string} name */
function drawn(svg, name) {
  const read = new DOMParser().parseFromString(svg, "image/svg+xml").documentElement;
  const page = document.importNode(read, true);
  page.setAttribute("role", "img");
  page.removeAttribute("aria-labelledby");
  page.setAttribute("aria-label", name);
  page.removeAttribute("width");
  page.removeAttribute("height");
  return page;
}

/** @param {string} words what stands instead of the sheet */
export function showNone(words) {
  byId("sheet").replaceChildren(element("p", { class: "quiet" }, words));
}

/** The drawn notes at a place. @param {string} bar @param {string} onset @returns {Element[]} */
export function notesAt(bar, onset) {
  return [...byId("sheet").querySelectorAll(`g.note[data-bar="${CSS.escape(bar)}"][data-onset="${CSS.escape(onset)}"]`)];
}

/** @param {string[]} know @param {string[]} remarks */
export function showKnow(know, remarks) {
  const items = [...know, ...remarks].map((words) => element("li", {}, words));
  byId("know").replaceChildren(element("h2", {}, "What to know"), element("ul", { tabindex: 0, "aria-label": "What to know" }, ...items));
}
