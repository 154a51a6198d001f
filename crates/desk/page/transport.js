// @ts-check
/** Playing the sheet: start, tempo, loop, what is heard, and the sounding note lit. */

import { byId, element, say } from "./element.js";
import { notesAt } from "./sheet.js";
import { Player, ROLES } from "./sound.js";

export class Transport {
  /**
   * @param {{ events: (figure?: number) => Promise<any>, complain: (why: string) => void,
   *   heard: (figure: number | null) => void, lit: (figure: number, note: [number, string, string] | null) => void }} desk
   */
  constructor(desk) {
    this.desk = desk;
    /** @type {Player | null} */
    this.player = null;
    /** @type {any} */
    this.events = null;
    /** @type {Element[]} */
    this.litNow = [];
    /** A figure by itself. @type {Player | null} */
    this.figure = null;
    this.play = element("button", { type: "button", class: "usual", on: { click: () => this.start() } }, "Play");
    this.stopping = element("button", { type: "button", disabled: true, on: { click: () => this.stop() } }, "Stop");
    this.tempo = element("input", { type: "number", min: 20, max: 400, id: "tempo", on: { input: () => this.speed() } });
    this.loop = element("input", { type: "checkbox", id: "loop", on: { change: () => this.looped() } });
    this.from = element("select", { id: "from-bar", "aria-label": "From bar", on: { change: () => this.looped() } });
    this.to = element("select", { id: "to-bar", "aria-label": "To bar", on: { change: () => this.looped() } });
    this.countIn = element("input", { type: "checkbox", checked: true });
    this.heard = ROLES.map((role) => element("label", { class: "tick", "data-role": role }, element("input", {
      type: "checkbox", checked: true, on: { change: (/** @type {any} */ event) => this.mute(role, !event.target.checked) },
    }), role));
    /** @type {Set<string>} */
    this.muted = new Set();
    byId("transport").append(
      element("div", { class: "row" }, this.play, this.stopping,
        element("label", { class: "inline" }, "Tempo", this.tempo),
        element("label", { class: "inline" }, "From bar", this.from),
        element("label", { class: "tick" }, this.loop, "Loop"),
        element("label", { class: "inline" }, "to bar", this.to),
        element("label", { class: "tick" }, this.countIn, "Count in"),
        element("fieldset", { class: "heard" }, element("legend", {}, "Heard"), ...this.heard)),
      element("p", { class: "quiet caution" }, "Play no louder than you would speak, and rest before anything hurts or rings; if it stays, ask your teacher or a clinician."),
    );
    document.addEventListener("visibilitychange", () => {
      if (document.hidden) this.stop();
    });
    byId("sheet").addEventListener("click", (event) => {
      const note = /** @type {Element} */ (event.target).closest?.("g.note");
      if (note) this.startAt(note.getAttribute("data-bar") ?? "");
    });
  }

  /** The sheet is another: what it sounds like isn't known any more. */
  changed() {
    const playing = this.player?.playing;
    this.events = null;
    this.load().then(() => {
      if (playing && this.player?.playing) this.start();
    });
  }

  /** Asks for the events, unless they are here. */
  async load() {
    if (this.events) return true;
    try {
      const events = await this.desk.events();
      this.events = events;
      this.fill(events);
      this.player?.load(events);
      return true;
    } catch {
      return false;
    }
  }

  /** @param {any} events */
  fill(events) {
    ROLES.forEach((role, place) => { this.heard[place].hidden = events[role].length === 0; });
    const bars = events.bars.map((/** @type {any} */ [, name, counted], /** @type {number} */ place) => ({ name: counted ? name : `pickup ${place === 0 ? "" : `before bar ${events.bars[place + 1]?.[1] ?? ""}`}`.trim(), place }));
    const fill = (/** @type {any} */ select, /** @type {number} */ usual) => {
      const before = select.value;
      select.replaceChildren(...bars.map((/** @type {any} */ bar) => element("option", { value: String(bar.place) }, bar.name)));
      select.value = [...select.options].some((/** @type {any} */ option) => option.value === before) && before !== "" ? before : String(usual);
    };
    fill(this.from, 0);
    const last = this.to.value === "" || Number(this.to.value) >= this.was ? bars.length - 1 : Number(this.to.value);
    fill(this.to, last);
    if (last === bars.length - 1) this.to.value = String(last);
    this.was = bars.length - 1;
    if (!this.tempo.value || this.own === this.tempo.value) this.tempo.value = String(events.perMinute);
    this.own = String(events.perMinute);
    this.speed();
    this.looped();
  }

  /** @param {string} bar the name of a bar on the sheet */
  async startAt(bar) {
    if (!(await this.load())) return;
    const place = this.events.bars.findIndex((/** @type {any} */ one) => one[1] === bar);
    if (place >= 0) this.from.value = String(place);
    this.start();
  }

  async start() {
    if (!(await this.load())) {
      this.desk.complain("There is no sheet to play yet.");
      return;
    }
    this.player ??= new Player(this.events, this.sounding(), {
      lit: (note) => this.lit(note),
      ended: () => this.ended(),
    });
    await this.sounding().resume();
    this.figure?.stop();
    this.desk.heard(null);
    this.player.muted = this.muted;
    this.speed();
    this.looped();
    this.player.play(Number(this.from.value), this.countIn.checked);
    this.play.disabled = false;
    this.stopping.disabled = false;
    byId("transport").dataset.playing = "yes";
  }

  stop() {
    this.player?.stop();
    this.figure?.stop();
    this.ended();
  }

  /** The one place where sound goes; a browser allows it once something was clicked. */
  sounding() {
    this.context ??= new AudioContext();
    return this.context;
  }

  /** A figure by itself: its line, nothing else. @param {number} place */
  async hear(place) {
    let events;
    try {
      events = await this.desk.events(place);
    } catch (fault) {
      this.desk.complain(/** @type {Error} */ (fault).message);
      return;
    }
    this.stop();
    const figure = new Player(events, this.sounding(), {
      lit: (note) => this.desk.lit(place, note),
      ended: () => this.ended(),
    });
    this.figure = figure;
    figure.muted = new Set(ROLES.filter((role) => role !== "line"));
    const wanted = Number(this.tempo.value);
    if (wanted >= 20 && wanted <= 400) figure.setSpeed(wanted / events.perMinute);
    await this.sounding().resume();
    if (this.figure !== figure) return;
    figure.play(0, false);
    this.stopping.disabled = false;
    this.desk.heard(place);
  }

  ended() {
    const focused = document.activeElement === this.stopping;
    this.stopping.disabled = true;
    this.figure = null;
    this.desk.heard(null);
    if (focused) this.play.focus();
    delete byId("transport").dataset.playing;
  }

  speed() {
    const wanted = Number(this.tempo.value);
    const own = this.events?.perMinute ?? wanted;
    if (wanted >= 20 && wanted <= 400) this.player?.setSpeed(wanted / own);
  }

  looped() {
    if (!this.player || !this.events) return;
    const { bars, end } = this.events;
    const [from, to] = [Number(this.from.value), Number(this.to.value)];
    this.player.loop = this.loop.checked
      ? { from: bars[Math.min(from, to)][0], to: bars[Math.max(from, to) + 1]?.[0] ?? end }
      : null;
    if (this.player.playing && this.player.stretch && !this.player.stretch.only) {
      this.player.stretch.to = this.player.loop ? this.player.loop.to : end;
    }
  }

  /** @param {string} role @param {boolean} muted */
  mute(role, muted) {
    if (muted) this.muted.add(role);
    else this.muted.delete(role);
    say(`${role} ${muted ? "off" : "on"}`);
  }

  /** @param {[number, string, string] | null} note */
  lit(note) {
    for (const one of this.litNow) one.classList.remove("lit");
    this.litNow = note ? notesAt(note[1], note[2]) : [];
    for (const one of this.litNow) one.classList.add("lit");
    const first = this.litNow[0];
    if (first) {
      const place = byId("sheet");
      const [box, view] = [first.getBoundingClientRect(), place.getBoundingClientRect()];
      if (box.bottom > Math.min(view.bottom, innerHeight) - 20 || box.top < Math.max(view.top, 0) + 20) first.scrollIntoView({ block: "center" });
    }
  }
}
