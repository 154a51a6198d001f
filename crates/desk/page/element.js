// @ts-check
/** Small helpers for making and finding elements. */

/**
 * An element with its attributes and children. `on` holds listeners; a value
 * of `false`, `null` or `undefined` leaves an attribute out.
 * @param {string} tag
 * @param {Record<string, any>} [attributes]
 * @param {...(Node | string | null | undefined | (Node | string | null)[])} children
 * @returns {HTMLElement & Record<string, any>}
 */
export function element(tag, attributes = {}, ...children) {
  const made = /** @type {any} */ (document.createElement(tag));
  for (const [name, value] of Object.entries(attributes)) {
    if (name === "on") {
      for (const [event, listener] of Object.entries(value)) made.addEventListener(event, listener);
    } else if (name === "value" || name === "checked" || name === "disabled" || name === "selected") {
      made[name] = value;
    } else if (value === true) {
      made.setAttribute(name, "");
    } else if (value !== false && value !== null && value !== undefined) {
      made.setAttribute(name, String(value));
    }
  }
  made.append(...children.flat().filter((child) => child !== null && child !== undefined));
  return made;
}

/**
 * The element with an id that the page has.
 * @param {string} id
 * @returns {HTMLElement}
 */
export function byId(id) {
  return /** @type {HTMLElement} */ (document.getElementById(id));
}

let refilling = false;

/** Whether elements are being replaced: what a browser tells of those that go is no wish of anybody's. */
export const isRefilling = () => refilling;

/**
 * Puts new children into a place, and the focus back where it was: on the
 * element with the same `data-id`, with the text that is being typed there.
 * @param {HTMLElement} place
 * @param {(Node | string | null)[]} children
 */
export function refill(place, children) {
  const active = /** @type {any} */ (document.activeElement);
  const inside = active && place.contains(active) ? active : null;
  const id = inside?.dataset.id;
  const typed = inside && /^(INPUT|TEXTAREA)$/.test(inside.tagName) && inside.type !== "checkbox" && inside.type !== "radio"
    ? { value: inside.value, from: inside.selectionStart, to: inside.selectionEnd }
    : null;
  const open = new Set([...place.querySelectorAll("details[open]")].map((one) => /** @type {any} */ (one).dataset.id));
  refilling = true;
  place.replaceChildren(...children.filter((child) => child !== null));
  refilling = false;
  for (const one of place.querySelectorAll("details")) {
    if (open.has(/** @type {any} */ (one).dataset.id)) one.setAttribute("open", "");
  }
  if (!id) return;
  const again = /** @type {any} */ (place.querySelector(`[data-id="${CSS.escape(id)}"]`));
  if (!again) return;
  again.focus({ preventScroll: true });
  if (typed && "value" in again) {
    again.value = typed.value;
    try {
      again.setSelectionRange(typed.from, typed.to);
    } catch {
      // Numbers have no selection.
    }
  }
}

/** What each part of the page shows. @type {Map<string, string>} */
const shown = new Map();

/**
 * Whether a part of the page shows these values already, so that whoever is
 * in the middle of something there isn't disturbed.
 * @param {string} part @param {any} values
 */
export function same(part, values) {
  const now = JSON.stringify(values);
  if (shown.get(part) === now) return true;
  shown.set(part, now);
  return false;
}

/** The next time all parts are made anew. */
export function forgetShown() {
  shown.clear();
}

/**
 * Says something to a screen reader.
 * @param {string} words
 */
export function say(words) {
  const place = byId("said");
  place.textContent = "";
  // Said again even where it is the same.
  requestAnimationFrame(() => {
    place.textContent = words;
  });
}

/**
 * Calls something once nothing has asked for it for a while.
 * @template {any[]} T
 * @param {number} milliseconds
 * @param {(...given: T) => void} work
 * @returns {(...given: T) => void}
 */
export function later(milliseconds, work) {
  let timer = 0;
  return (...given) => {
    clearTimeout(timer);
    timer = setTimeout(() => work(...given), milliseconds);
  };
}
