// @ts-check
/** Writing everything, a book or this sheet, with its progress; and opening the folder. */

import { ask } from "./ask.js";
import { byId, element, say } from "./element.js";

const FORMATS = /** @type {const} */ ([
  ["musicxml", "MusicXML, for notation programs", true],
  ["pdf", "PDF, to print", true],
  ["midi", "tracks as MIDI", false],
  ["wav", "tracks as audio (wav)", false],
  ["page", "a practice page for each player's phone", true],
]);

export class Writer {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    this.boxes = FORMATS.map(([word, words, on]) => ({ word, box: element("input", { type: "checkbox", checked: on }), words }));
    this.everything = element("button", { type: "button", class: "usual", on: { click: () => this.write({ formats: this.chosen() }) } }, "Write everything");
    this.book = element("button", { type: "button", on: { click: () => this.write({ formats: ["pdf"], player: desk.player }) } }, "Book");
    this.one = element("button", { type: "button", on: { click: () => this.write({ formats: ["pdf"], player: desk.player, sheet: desk.key }) } }, "This sheet as PDF");
    this.folder = element("button", { type: "button", on: { click: () => this.openFolder() } }, "Open folder");
    this.stop = element("button", { type: "button", hidden: true, on: { click: () => ask("POST", "/api/stop", {}) } }, "Stop writing");
    this.bar = element("progress", { hidden: true, "aria-label": "Sheets written" });
    this.report = element("div", { role: "status" });
    byId("write").append(
      element("div", { class: "row" }, this.everything, this.book, this.one, this.folder, this.bar, this.stop),
      element("details", {}, element("summary", {}, "What everything is"),
        element("div", {}, ...this.boxes.map(({ box, words }) => element("label", { class: "tick" }, box, words)))),
      this.report);
  }

  chosen() {
    return this.boxes.filter(({ box }) => box.checked).map(({ word }) => word);
  }

  /** @param {any} wanted */
  async write(wanted) {
    const { desk } = this;
    if (desk.dirty && !(await desk.save())) return;
    try {
      await ask("POST", "/api/write", { file: desk.file, ...wanted });
    } catch (fault) {
      this.tell([/** @type {Error} */ (fault).message]);
      return;
    }
    this.busy(true);
    this.report.replaceChildren();
    this.follow();
  }

  /** @param {boolean} busy */
  busy(busy) {
    for (const button of [this.everything, this.book, this.one]) button.disabled = busy;
    this.bar.hidden = !busy;
    this.stop.hidden = !busy;
  }

  async follow() {
    let now;
    try {
      now = await ask("GET", "/api/writing");
    } catch {
      this.busy(false);
      return;
    }
    if (now.running) {
      this.bar.max = Math.max(1, now.of);
      this.bar.value = now.done;
      setTimeout(() => this.follow(), 150);
      return;
    }
    this.busy(false);
    const { told, well, out } = now.report ?? { told: [], well: true, out: "" };
    this.tell([well ? `Written into ${out}` : "Not everything could be written.", ...told]);
  }

  /** @param {string[]} words */
  tell(words) {
    this.report.replaceChildren(element("ul", { "aria-label": "What was written" }, ...words.map((one) => element("li", {}, one))));
    say(words[0]);
  }

  async openFolder() {
    try {
      await ask("POST", "/api/open-folder", {});
    } catch (fault) {
      this.tell([/** @type {Error} */ (fault).message]);
    }
  }
}
