// @ts-check
/** The figure by hand: a row of counts to click, and arrows that move a note. */

import { byId, element, refill, same, say } from "./element.js";
import { field } from "./field.js";
import { tables } from "./head.js";
import { staff } from "./staff.js";

const SHAPE = { note: "●", silence: "○", hold: "–" };
const STATE = { note: "note", silence: "silence", hold: "held" };
const DIVISION = { numbers: "the numbers alone", halves: "counted in halves: 1 &", thirds: "counted in thirds: 1 trip let", quarters: "counted in quarters: 1 e & a" };

/** @param {any} cell */
const described = (cell) =>
  cell.state === "note" ? `note ${cell.note}, sounds ${cell.sounds ?? "something unclear"}` : STATE[/** @type {"note"} */ (cell.state)];

/**
 * @param {any} desk
 * @param {any} look
 */
export function showFigure(desk, look) {
  // While a mistake stands, the last good staff does too.
  const staves = look.staves ?? desk.good?.staves ?? [];
  if (same("figure", [look.figures, look.says.figure, staves, desk.hearing])) return;
  const own = tables(look.says.figure);
  const rows = look.figures.map((/** @type {any} */ grid, /** @type {number} */ place) => row(desk, look, grid, place, staves[place]));
  const unclear = own.length > rows.length
    ? element("p", { class: "quiet" }, "The figure has a mistake: mend it in the text, and its counts are here again.")
    : null;
  const none = own.length === 0
    ? element("p", {}, "No figure yet. ", element("button", {
      type: "button", "data-id": "figure.new",
      on: { click: () => desk.edit([{ do: "set", at: ["figure", 0, "moves"], value: "start, step up, step up, step up" }], "figure") },
    }, "Begin a figure"))
    : null;
  const more = own.length > 0 && !unclear
    ? element("button", { type: "button", "data-id": "figure.add", on: { click: () => another(desk) } }, "Add another figure")
    : null;
  refill(byId("figure"), [element("h2", {}, own.length > 1 ? "Figures" : "Figure"), ...rows, unclear, none, more]);
}

/** One more; where there are several, each has a name. @param {any} desk */
function another(desk) {
  desk.edit((/** @type {any} */ now) => {
    const own = tables(now.figure);
    const names = own.map((figure, place) => figure?.name ?? `figure ${place + 1}`);
    let number = own.length + 1;
    while (names.includes(`figure ${number}`)) number += 1;
    return [
      ...own.flatMap((figure, place) => (figure?.name === undefined ? [{ do: "set", at: ["figure", place, "name"], value: names[place] }] : [])),
      { do: "add", table: "figure", place: own.length, says: { name: `figure ${number}`, moves: "start, step up, step up, step up" } },
    ];
  }, "", "figure added");
}

/** @param {any} desk @param {any} look @param {any} grid @param {number} place @param {import("./staff.js").Drawn | null} [drawn] */
function row(desk, look, grid, place, drawn) {
  const id = `figure.${place}`;
  const divide = element("select", {
    "data-id": `${id}.division`, "aria-label": "Counts shown",
    on: { change: () => desk.divide(place, divide.value) },
  }, ...grid.divisions.map((/** @type {"halves"} */ one) => element("option", { value: one, selected: one === grid.division }, DIVISION[one])));
  const meter = meterOf(desk, look, place, grid);
  const cells = grid.cells.map((/** @type {any} */ cell, /** @type {number} */ at) => {
    const about = `${id}.about.${at}`;
    const button = element("button", {
      type: "button", class: `count ${cell.state}`, "aria-label": cell.name, "aria-describedby": about, "data-id": `${id}.${cell.count}`, "data-count": cell.count,
      on: {
        click: () => desk.edit([{ do: "count", figure: place, count: cell.count, division: grid.division }], "", null),
        keydown: (/** @type {KeyboardEvent} */ event) => arrows(desk, event, cell, place),
      },
    }, SHAPE[/** @type {"note"} */ (cell.state)]);
    return element("li", { class: cell.opensBar && at > 0 ? "bar" : "" },
      element("span", { class: "sign", "aria-hidden": "true" }, cell.sign), button,
      element("span", { class: "degree", "aria-hidden": "true" }, cell.sounds ? signs(cell.sounds) : ""),
      cell.state === "note" ? element("span", { class: "nudge" },
        nudge(desk, place, cell, 1, "higher"), nudge(desk, place, cell, -1, "lower")) : null,
      element("span", { class: "unseen", id: about }, described(cell)));
  });
  const stave = drawn ? staff(drawn, (count) => button(made, count)?.focus(), hear(desk, place)) : null;
  const made = element("div", { class: "figure" },
    element("div", { class: "row" }, grid.name ? element("strong", {}, grid.name) : null, meter, divide,
      tables(look.says.figure).length > 1 ? element("button", {
        type: "button", class: "push-left", "aria-label": `Remove ${grid.name ?? `figure ${place + 1}`}`, "data-id": `${id}.remove`,
        on: { click: () => desk.edit([{ do: "remove", table: "figure", place }], "", "removed") },
      }, "Remove") : null),
    element("ul", { class: "counts", "aria-label": grid.name ? `Counts of ${grid.name}` : "Counts of the figure" }, ...cells),
    stave,
    place > 0 ? null : element("p", { class: "quiet" }, "Click a count: note, silence, held. Up and down arrows move a note along the scale, with Shift by an octave."),
    words(desk, look, place));
  if (stave) {
    // The count in focus, or under the pointer, is lit on the staff.
    for (const [event, on] of [["focusin", true], ["focusout", false], ["mouseover", true], ["mouseout", false]]) {
      made.addEventListener(/** @type {string} */ (event), ({ target }) => {
        const count = /** @type {Element} */ (target).closest("button.count")?.getAttribute("data-count");
        if (count) stave.light(on ? count : null);
      });
    }
  }
  made.light = (/** @type {[number, string, string] | null} */ note) => {
    const count = note && stave ? stave.countOf(note[1], note[2]) : null;
    stave?.light(count);
    for (const one of made.querySelectorAll("button.count")) one.classList.toggle("lit", count !== null && one.getAttribute("data-count") === count);
  };
  return made;
}

/** @param {Element} figure @param {string} count @returns {HTMLElement | null} */
const button = (figure, count) => figure.querySelector(`button.count[data-count="${CSS.escape(count)}"]`);

/** The figure by itself. @param {any} desk @param {number} place */
function hear(desk, place) {
  const heard = desk.hearing === place;
  return element("button", {
    type: "button", "data-id": `figure.${place}.hear`,
    on: { click: () => (heard ? desk.transport.stop() : desk.transport.hear(place)) },
  }, heard ? "Stop the figure" : "Hear the figure");
}

/** The lit note of a figure that is heard. @param {number} place @param {[number, string, string] | null} note */
export function lightFigure(place, note) {
  /** @type {any} */ (byId("figure").querySelectorAll(".figure")[place])?.light(note);
}

/** @param {string} sounds */
const signs = (sounds) => sounds
  .replace(/^from below$/, "↗").replace(/^from above$/, "↘")
  .replaceAll(/b(?=\d)/g, "♭").replaceAll("#", "♯").replaceAll("high ", "↑").replaceAll("low ", "↓");

/** @param {any} desk @param {KeyboardEvent} event @param {any} cell @param {number} figure */
function arrows(desk, event, cell, figure) {
  const button = /** @type {HTMLElement} */ (event.currentTarget);
  const across = { ArrowLeft: "previousElementSibling", ArrowRight: "nextElementSibling" }[event.key];
  if (across) {
    event.preventDefault();
    const beside = /** @type {any} */ (button.closest("li"))?.[across];
    beside?.querySelector("button")?.focus();
    return;
  }
  const way = { ArrowUp: 1, ArrowDown: -1 }[event.key];
  if (!way) return;
  event.preventDefault();
  if (cell.state !== "note") {
    say(`${cell.name} is ${STATE[/** @type {"note"} */ (cell.state)]}: there is no note to move`);
    return;
  }
  const by = event.shiftKey ? { rungs: 0, octaves: way } : { rungs: way, octaves: 0 };
  desk.edit([{ do: "shift", figure, note: cell.note, ...by }], "", null);
}

/** A note one rung on, for a pointer; by keyboard there are the arrows. @param {any} desk @param {number} figure @param {any} cell @param {number} rungs @param {string} way */
function nudge(desk, figure, cell, rungs, way) {
  return element("button", {
    type: "button", class: "nudging", tabindex: -1, "aria-label": `${cell.name} ${way}`, "data-id": `figure.${figure}.${cell.count}.${way}`,
    on: { click: () => desk.edit([{ do: "shift", figure, note: cell.note, rungs, octaves: 0 }], "", `${cell.name} ${way}`) },
  }, rungs > 0 ? "▴" : "▾");
}

/** The figure's own words. @param {any} desk @param {any} look @param {number} place */
function words(desk, look, place) {
  const own = tables(look.says.figure)[place] ?? {};
  const fields = desk.choices.words.figure.filter((/** @type {any} */ word) => word.key !== "meter" && !(["degrees", "rungs", "moves"].includes(word.key) && own[word.key] === undefined))
    .map((/** @type {any} */ word) => field(desk, word, ["figure", place], own[word.key], look.says));
  return element("details", { "data-id": `figure.${place}.words` }, element("summary", {}, "The figure in words"), element("div", { class: "fields" }, ...fields));
}

/** @param {any} desk @param {any} look @param {number} place @param {any} grid */
function meterOf(desk, look, place, grid) {
  const at = ["figure", place, "meter"];
  const words = desk.choices.words.figure.find((/** @type {any} */ word) => word.key === "meter")?.words ?? [];
  const known = words.includes(grid.meter) ? words : [grid.meter, ...words];
  const select = element("select", {
    "data-id": at.join("."), "aria-label": "Meter",
    on: { change: () => desk.edit([{ do: "set", at, value: select.value }], at.join(".")) },
  }, ...known.map((/** @type {string} */ one) => element("option", { value: one, selected: one === grid.meter }, one)));
  return select;
}
