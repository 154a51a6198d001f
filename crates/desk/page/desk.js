// @ts-check
/** The desk: one text, shown as words, as things to click, and as a sheet. */

import { address, ask, Refusal, tab, whenHeard } from "./ask.js";
import { exercises } from "./cards.js";
import { changes } from "./changes.js";
import { question } from "./dialog.js";
import { forget, keep } from "./draft.js";
import { Editor } from "./editor.js";
import { byId, element, forgetShown, later, refill, same, say } from "./element.js";
import { lightFigure, showFigure } from "./figure.js";
import { showHead } from "./head.js";
import { History } from "./history.js";
import { keys } from "./keys.js";
import { showLessons } from "./lessons.js";
import { players } from "./players.js";
import { showChosen, showKnow, showNone, showPages } from "./sheet.js";
import { tracks } from "./tracks.js";
import { Transport } from "./transport.js";
import { offerBoth, offerDraft } from "./versions.js";
import { Writer } from "./write.js";

/** How often it is looked whether the file was changed elsewhere. Milliseconds. */
const LOOKED = 2500;

class Desk {
  constructor() {
    /** @type {any} */
    this.choices = null;
    /** @type {any[]} */
    this.lessons = [];
    /** Files of courses beside them: written by the program, not here. @type {string[]} */
    this.courses = [];
    this.folder = "";
    this.file = "";
    this.text = "";
    this.saved = "";
    /** @type {string | null} */
    this.version = null;
    this.history = new History("");
    /** @type {any} the last answer */
    this.last = null;
    /** @type {any} the last answer with a sheet */
    this.good = null;
    /** @type {string[]} */
    this.pages = [];
    this.player = 0;
    this.key = "";
    /** @type {number | null} */
    this.number = null;
    /** @type {(string | null)[]} */
    this.divisions = [];
    /** @type {number | null} the figure that is heard by itself */
    this.hearing = null;
    this.part = "Exercises";
    this.turn = 0;
    /** @type {AbortController | null} */
    this.asking = null;
    /** @type {Promise<void>} */
    this.editing = Promise.resolve();
    this.editor = new Editor((text) => this.change(text, "typing"), () => this.undo(), () => this.redo());
    this.transport = new Transport({
      events: (figure) => ask("POST", "/api/play", { ...this.shown(), figure }),
      complain: (why) => this.complain(why),
      heard: (figure) => this.heard(figure),
      lit: lightFigure,
    });
    this.writer = new Writer(this);
    this.keepDraft = later(300, () => this.draft());
    this.askRest = later(60, () => this.rest());
  }

  get dirty() {
    return this.file !== "" && this.text !== this.saved;
  }

  async begin() {
    whenHeard((here, why) => this.news("server", here ? null : [why]));
    try {
      this.choices = await ask("GET", "/api/choices");
      await this.list();
    } catch (fault) {
      this.news("server", [/** @type {Error} */ (fault).message]);
      return;
    }
    const wanted = address.get("lesson") ?? sessionStorage.getItem("desk-lesson") ?? "";
    const first = this.lessons.find((one) => one.file === wanted) ?? this.lessons[0];
    if (first) await this.open(first.file, true);
    else this.empty();
    document.addEventListener("keydown", (event) => this.pressed(event));
    addEventListener("beforeunload", (event) => {
      this.draft();
      if (this.dirty) event.preventDefault();
    });
    setInterval(() => this.lookElsewhere(), LOOKED);
    addEventListener("focus", () => this.lookElsewhere());
  }

  /** The lessons of the folder. */
  async list() {
    const said = await ask("GET", "/api/lessons");
    this.lessons = said.lessons;
    this.courses = said.courses;
    this.folder = said.folder;
    this.news("other desk", said.elsewhere ? ["Another desk is open on this folder. Whoever saves later is told what changed."] : null);
    showLessons(this);
  }

  empty() {
    showLessons(this);
    showNone("There is no lesson in this folder yet: begin one with New.");
    document.body.dataset.empty = "yes";
  }

  /** Whether an unsaved text may be left. */
  async mayLeave() {
    if (!this.dirty) return true;
    const answer = await question("This lesson isn't saved", [element("p", {}, "Save it before you go on?")],
      [["save", "Save"], ["leave", "Leave it as a draft"], ["", "Stay"]]);
    if (answer === "save") return this.save();
    return answer === "leave";
  }

  /** @param {string} file @param {boolean} [sure] */
  async open(file, sure = false) {
    if (!sure && !(await this.mayLeave())) {
      forgetShown();
      showLessons(this);
      return;
    }
    this.draft();
    if (!file) {
      this.empty();
      return;
    }
    try {
      const { text, version } = await ask("GET", `/api/lesson?file=${encodeURIComponent(file)}`);
      delete document.body.dataset.empty;
      this.transport.stop();
      this.file = file;
      this.saved = text;
      this.version = version;
      this.history = new History(text);
      this.good = null;
      this.pages = [];
      this.divisions = [];
      this.key = "";
      this.number = null;
      this.player = 0;
      sessionStorage.setItem("desk-lesson", file);
      for (const kind of ["changed", "fault", "draft"]) this.news(kind, null);
      this.show(text);
      offerDraft(this);
    } catch (fault) {
      this.complain(/** @type {Error} */ (fault).message);
    }
  }

  draft() {
    if (!this.file) return;
    if (this.dirty) {
      const isKept = keep(this.folder, this.file, this.text, this.version);
      this.news("unkept", isKept ? null : ["This browser keeps no drafts: save often."]);
    } else if (!byId("news").querySelector('[data-kind="draft"]')) {
      forget(this.folder, this.file);
    }
  }

  gone() {
    forget(this.folder, this.file);
    this.saved = this.text;
    this.file = "";
  }

  /** The text became another. @param {string} text @param {string} kind */
  change(text, kind) {
    this.history.step(text, kind);
    this.show(text);
  }

  undo() {
    this.show(this.history.undo());
  }

  redo() {
    this.show(this.history.redo());
  }

  /** @param {string} text */
  show(text) {
    this.text = text;
    this.editor.show(text);
    this.editor.undo.disabled = this.history.before.length === 0;
    this.editor.redo.disabled = this.history.after.length === 0;
    const state = byId("lessons").querySelector(".state");
    if (state) state.textContent = this.dirty ? "not saved yet" : "saved";
    this.keepDraft();
    return this.look();
  }

  /** What is looked at. */
  shown() {
    return { file: this.file, text: this.text, player: this.player, key: this.key, number: this.number, divisions: this.divisions };
  }

  /** Asks what the text says; the newest question wins. */
  async look() {
    this.turn += 1;
    const { turn } = this;
    this.asking?.abort();
    this.asking = new AbortController();
    let answer;
    try {
      answer = await ask("POST", "/api/look", { ...this.shown(), tab, turn }, this.asking.signal);
    } catch {
      return;
    }
    if (turn !== this.turn) return;
    this.last = answer;
    this.editor.tell(answer.mistakes);
    this.controls(answer);
    if (answer.players) {
      this.player = answer.player;
      this.key = answer.key;
      this.number = answer.number;
      this.good = answer;
      showChosen(this, answer);
      if (answer.sheet) {
        this.pages = [answer.sheet.first, ...this.pages.slice(1, answer.sheet.pages)];
        showPages(answer, this.pages);
      } else {
        this.pages = [];
        showNone(answer.leftOut ?? "There is no sheet for this player.");
      }
      showKnow(this.knows ?? [], [...(answer.know ?? []), ...(answer.leftOut ? [answer.leftOut] : [])]);
      this.transport.changed();
      this.askRest();
    }
    byId("sheet").classList.toggle("old", answer.mistakes.length > 0);
    byId("sheet").dataset.turn = String(turn);
    document.title = `${answer.says?.title ?? this.file} · desk`;
  }

  /** The pages after the first, and what there is to know of all sheets. */
  async rest() {
    const { turn } = this;
    try {
      const { pages, know } = await ask("POST", "/api/rest", { ...this.shown(), tab, turn });
      if (turn !== this.turn || !this.good?.sheet || !pages) return;
      this.pages = [this.good.sheet.first, ...pages];
      this.knows = know;
      showPages(this.good, this.pages);
      showKnow(know, this.good.know ?? []);
    } catch {
      // A newer text has come, or nobody answers: said elsewhere.
    }
  }

  /** What can be clicked, by what the text says. @param {any} look */
  controls(look) {
    showLessons(this);
    showHead(this, look.says);
    showFigure(this, look);
    this.parts(look);
  }

  /** @param {any} look */
  parts(look) {
    if (same("parts", [this.part, look.says, look.keys?.length])) return;
    /** @type {Record<string, () => (Node | null)[]>} */
    const parts = {
      Exercises: () => exercises(this, look.says),
      Players: () => players(this, look.says),
      Keys: () => keys(this, look.says, look),
      Changes: () => changes(this, look.says),
      Tracks: () => tracks(this, look.says),
    };
    const names = Object.keys(parts);
    const tabs = names.map((name) => element("button", {
      type: "button", role: "tab", id: `tab-${name}`, "aria-selected": String(name === this.part), "aria-controls": "part",
      tabindex: name === this.part ? 0 : -1, "data-id": `tab.${name}`,
      on: {
        click: () => { this.part = name; this.parts(this.last); },
        keydown: (/** @type {KeyboardEvent} */ event) => {
          const step = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
          if (!step) return;
          this.part = names[(names.indexOf(name) + step + names.length) % names.length];
          this.parts(this.last);
          byId(`tab-${this.part}`).focus();
        },
      },
    }, name));
    refill(byId("parts"), [
      element("div", { role: "tablist", "aria-label": "Parts of the lesson", class: "tabs" }, ...tabs),
      element("div", { role: "tabpanel", id: "part", "aria-labelledby": `tab-${this.part}` }, ...parts[this.part]().filter((one) => one !== null)),
    ]);
  }

  /** Shows a part of the lesson, and goes to something in it. @param {string} part @param {string} selector */
  goTo(part, selector) {
    this.part = part;
    this.parts(this.last);
    const found = /** @type {HTMLElement | null} */ (byId("parts").querySelector(selector));
    found?.focus();
    found?.scrollIntoView({ block: "center" });
  }

  /**
   * A control's change of the text; those before it are done first.
   * @param {any[] | ((says: any) => any[])} changes or what gives them from what the text says by then
   * @param {string} kind @param {string | null} [words] for a screen reader
   */
  edit(changes, kind, words) {
    this.editing = this.editing.then(async () => {
      try {
        const { text } = await ask("POST", "/api/edit", {
          text: this.text,
          changes: typeof changes === "function" ? changes(this.last?.says ?? {}) : changes,
        });
        this.news("fault", null);
        this.history.step(text, kind);
        await this.show(text);
        if (words) say(words);
        else if (words === null) this.sayFocused();
      } catch (fault) {
        this.complain(/** @type {Error} */ (fault).message);
        forgetShown();
        if (this.last) this.controls(this.last);
      }
    });
    return this.editing;
  }

  /** @param {number | null} figure that is heard by itself */
  heard(figure) {
    if (this.hearing === figure) return;
    this.hearing = figure;
    if (this.last) showFigure(this, this.last);
  }

  /** What the count in focus has become. */
  sayFocused() {
    const now = document.activeElement;
    const about = now?.getAttribute("aria-describedby");
    if (about) say(`${now?.getAttribute("aria-label") ?? ""}: ${byId(about)?.textContent ?? ""}`);
  }

  /** @param {{ player?: number, key?: string }} chosen */
  choose(chosen) {
    Object.assign(this, chosen);
    this.pages = [];
    this.look();
  }

  /** @param {number} figure @param {string} division */
  divide(figure, division) {
    while (this.divisions.length <= figure) this.divisions.push(null);
    this.divisions[figure] = division;
    this.look();
  }

  async save() {
    if (!this.file) return false;
    const { text, file } = this;
    try {
      const { version } = await ask("PUT", "/api/lesson", { file, text, version: this.version });
      this.version = version;
      this.saved = text;
      forget(this.folder, file);
      this.news("changed", null);
      this.news("draft", null);
      await this.list();
      say("saved");
      return true;
    } catch (fault) {
      if (fault instanceof Refusal && fault.status === 409) offerBoth(this, fault.body.text, fault.body.version);
      else this.complain(/** @type {Error} */ (fault).message);
      return false;
    }
  }

  /** Whether the file was changed elsewhere. */
  async lookElsewhere() {
    if (!this.file || document.hidden) return;
    const { file, version } = this;
    try {
      const now = await ask("GET", `/api/version?file=${encodeURIComponent(file)}`);
      if (this.file !== file || this.version !== version) return;
      if (now.version === null) {
        this.news("changed", ["This lesson's file is gone. Save writes it again."]);
      } else if (now.version !== version) {
        const newer = await ask("GET", `/api/lesson?file=${encodeURIComponent(file)}`);
        if (this.file === file && this.version === version) offerBoth(this, newer.text, newer.version);
      }
    } catch {
      // Said elsewhere.
    }
  }

  /** @param {KeyboardEvent} event */
  pressed(event) {
    if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
    const key = event.key.toLowerCase();
    if (key === "s") {
      event.preventDefault();
      this.save();
    } else if (key === "z" || key === "y") {
      // The desk's own steps, for typing and controls alike.
      event.preventDefault();
      if (key === "y" || event.shiftKey) this.redo();
      else this.undo();
    }
  }

  /** @param {string} why */
  complain(why) {
    this.news("fault", [why[0].toUpperCase() + why.slice(1)]);
  }

  /** Something to be told at the top; one of each kind. @param {string} kind @param {(Node | string)[] | null} words */
  news(kind, words) {
    const place = byId("news");
    const old = place.querySelector(`[data-kind="${kind}"]`);
    if (!words) {
      old?.remove();
      return;
    }
    const item = element("div", { class: "item", "data-kind": kind }, ...words,
      ["fault", "written"].includes(kind) ? element("button", { type: "button", on: { click: () => item.remove() } }, "Well") : null);
    if (old) old.replaceWith(item);
    else place.append(item);
  }
}

new Desk().begin();
