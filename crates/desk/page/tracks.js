// @ts-check
/** What the practice tracks play. */

import { element } from "./element.js";
import { field } from "./field.js";

/** @param {any} desk @param {any} says */
export function tracks(desk, says) {
  const own = says.track && typeof says.track === "object" ? says.track : {};
  return [
    element("p", { class: "quiet" }, "What is heard with Play, and on the tracks that are written: the band, the count-in, the click, and further versions of each track."),
    element("div", { class: "fields" }, ...desk.choices.words.track.map((/** @type {any} */ word) => field(desk, word, ["track"], own[word.key], says))),
  ];
}
