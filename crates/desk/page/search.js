// @ts-check
/** A box to type in, with a list of what fits: scales and instruments by any of their names. */

import { element } from "./element.js";

/** @param {string} text */
export const plain = (text) =>
  text.toLowerCase().replaceAll("♭", "b").replaceAll("♯", "#").replaceAll(/[-_\s]+/g, " ").trim();

let lists = 0;

/**
 * @param {{ name: string, says: string, aliases: string[], about?: string }[]} all
 * @param {string} label
 * @param {string} value
 * @param {string} id
 * @param {(name: string) => void} chosen
 * @param {boolean} [clears] whether the box is empty again after a choice
 * @param {string} [unsaid] what stands in it where nothing is chosen
 */
export function search(all, label, value, id, chosen, clears = false, unsaid = undefined) {
  lists += 1;
  const listId = `list-${lists}`;
  const list = element("ul", { id: listId, role: "listbox", "aria-label": label, class: "options", hidden: true });
  const input = element("input", {
    role: "combobox", "aria-expanded": "false", "aria-controls": listId, "aria-autocomplete": "list", "aria-label": label,
    value, autocomplete: "off", spellcheck: "false", "data-id": id, placeholder: unsaid,
  });
  let at = -1;
  /** @type {{ name: string, says: string, aliases: string[], about?: string }[]} */
  let fitting = [];

  const close = () => {
    list.hidden = true;
    input.setAttribute("aria-expanded", "false");
    input.removeAttribute("aria-activedescendant");
    at = -1;
  };
  const take = (/** @type {string} */ said) => {
    close();
    input.value = clears ? "" : said;
    chosen(said);
  };
  const point = () => {
    [...list.children].forEach((option, place) => option.setAttribute("aria-selected", String(place === at)));
    const option = list.children[at];
    if (option) {
      input.setAttribute("aria-activedescendant", option.id);
      option.scrollIntoView({ block: "nearest" });
    } else {
      input.removeAttribute("aria-activedescendant");
    }
  };
  const open = (/** @type {boolean} */ whole) => {
    const typed = whole ? "" : plain(input.value);
    const fits = (/** @type {string} */ name) => plain(name).includes(typed);
    fitting = all.filter((one) => fits(one.name) || fits(one.says) || one.aliases.some(fits));
    const begins = (/** @type {{ name: string }} */ one) => (plain(one.name).startsWith(typed) ? 0 : 1);
    if (typed) fitting.sort((a, b) => begins(a) - begins(b));
    fitting = fitting.slice(0, 200);
    list.replaceChildren(...fitting.map((one, place) => {
      const alias = typed && !fits(one.name) && !fits(one.says) ? one.aliases.find(fits) : null;
      return element("li", {
        role: "option", id: `${listId}-${place}`, "aria-selected": "false",
        on: { mousedown: (/** @type {Event} */ event) => { event.preventDefault(); take(one.says); } },
      }, element("span", {}, alias ? `${one.name} (${alias})` : one.name), one.about ? element("small", {}, one.about) : null);
    }));
    list.hidden = fitting.length === 0;
    input.setAttribute("aria-expanded", String(fitting.length > 0));
    at = -1;
    point();
  };
  input.addEventListener("input", () => open(false));
  input.addEventListener("click", () => open(true));
  input.addEventListener("blur", () => {
    close();
    if (!clears && input.value.trim() !== value) chosen(input.value.trim());
  });
  input.addEventListener("keydown", (/** @type {KeyboardEvent} */ event) => {
    if (event.key === "ArrowDown" || event.key === "ArrowUp") {
      event.preventDefault();
      if (list.hidden) open(plain(input.value) === plain(value));
      const step = event.key === "ArrowDown" ? 1 : -1;
      at = fitting.length ? (at + step + fitting.length) % fitting.length : -1;
      point();
    } else if (event.key === "Enter") {
      event.preventDefault();
      const own = fitting[at];
      const only = fitting.length === 1 ? fitting[0] : null;
      if (own) take(own.says);
      else if (input.value.trim()) take(only && !list.hidden ? only.says : input.value.trim());
    } else if (event.key === "Escape" && !list.hidden) {
      event.preventDefault();
      close();
    }
  });
  return element("span", { class: "search" }, input, list);
}
