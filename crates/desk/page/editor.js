// @ts-check
/** The lesson's text, its mistakes marked where they stand, with what to write instead. */

import { byId, element } from "./element.js";

export class Editor {
  /**
   * @param {(text: string) => void} typed
   * @param {() => void} undo
   * @param {() => void} redo
   */
  constructor(typed, undo, redo) {
    this.behind = element("div", { class: "behind", "aria-hidden": "true" });
    this.area = /** @type {HTMLTextAreaElement} */ (/** @type {unknown} */ (element("textarea", {
      id: "lesson-text", spellcheck: "false", autocomplete: "off", autocapitalize: "off", wrap: "off",
      "aria-describedby": "mistakes", rows: "18",
    })));
    this.list = element("ul", { id: "mistakes", "aria-label": "Mistakes", class: "mistakes" });
    this.undo = element("button", { type: "button", on: { click: undo } }, "Undo");
    this.redo = element("button", { type: "button", on: { click: redo } }, "Redo");
    this.mistakes = [];
    this.area.addEventListener("input", () => {
      this.mark();
      typed(this.area.value);
    });
    this.area.addEventListener("scroll", () => this.follow());
    this.area.addEventListener("keydown", (event) => {
      if (event.key === "Tab" && !event.shiftKey && !event.ctrlKey && !event.altKey) return;
    });
    byId("text").append(
      element("div", { class: "row" },
        element("label", { for: "lesson-text", class: "heading" }, "Lesson text"),
        element("span", { class: "push" }), this.undo, this.redo),
      element("div", { class: "paper" }, this.behind, this.area),
      this.list,
    );
  }

  /** @param {string} text */
  show(text) {
    if (this.area.value === text) return;
    const { selectionStart, selectionEnd, scrollTop, scrollLeft } = this.area;
    const old = this.area.value;
    // The caret stays where it was in what didn't change.
    const caret = (/** @type {number} */ at) => {
      let same = 0;
      while (same < Math.min(old.length, text.length) && old[same] === text[same]) same += 1;
      return at <= same ? at : Math.max(same, at + text.length - old.length);
    };
    this.area.value = text;
    this.area.setSelectionRange(caret(selectionStart), caret(selectionEnd));
    this.area.scrollTop = scrollTop;
    this.area.scrollLeft = scrollLeft;
    this.mistakes = [];
    this.mark();
  }

  /**
   * @param {{ from: number, to: number, line: number, message: string, help: string }[]} mistakes
   */
  tell(mistakes) {
    this.mistakes = mistakes;
    this.mark();
    const items = mistakes.map((mistake) => element("li", {},
      element("button", { type: "button", class: "plain", on: { click: () => this.go(mistake) } }, `Line ${mistake.line}: ${mistake.message}`),
      element("p", {}, mistake.help)));
    this.list.replaceChildren(...items);
    this.list.hidden = mistakes.length === 0;
    this.area.setAttribute("aria-invalid", String(mistakes.length > 0));
  }

  /** @param {{ from: number, to: number }} mistake */
  go(mistake) {
    this.area.focus();
    this.area.setSelectionRange(mistake.from, Math.max(mistake.to, mistake.from));
    const line = this.area.value.slice(0, mistake.from).split("\n").length - 1;
    const height = parseFloat(getComputedStyle(this.area).lineHeight);
    this.area.scrollTop = Math.max(0, (line - 4) * height);
  }

  /** Marks lie behind the text, on a copy of it. */
  mark() {
    const text = this.area.value;
    const parts = [];
    let at = 0;
    for (const { from, to } of [...this.mistakes].sort((a, b) => a.from - b.from)) {
      if (from < at || from > text.length) continue;
      const end = Math.min(Math.max(to, from + 1), text.length);
      parts.push(text.slice(at, from), element("mark", {}, text.slice(from, end) || " "));
      at = end;
    }
    parts.push(text.slice(at), "\n");
    this.behind.replaceChildren(...parts);
    this.follow();
  }

  follow() {
    this.behind.scrollTop = this.area.scrollTop;
    this.behind.scrollLeft = this.area.scrollLeft;
  }
}
