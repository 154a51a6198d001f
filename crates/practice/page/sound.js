// @ts-check
/**
 * A small player: events in ticks, set on the audio clock a tenth of a second
 * ahead by a slow timer, never by the timer itself. Its voices are those of
 * the practice tracks: a few partials under a soft envelope, and a click.
 */

/** How loud each is among the others, and where it stands. */
const PLACES = {
  line: { gain: 0.42, place: 0 },
  chords: { gain: 0.16, place: -0.35 },
  bass: { gain: 0.3, place: 0 },
};
/** Hertz of the click on the bar line and on the beats, its loudness, seconds to 37 % and to silence. */
const CLICK = { high: 1760, low: 1175, gain: 0.4, decay: 0.008, length: 0.06, highKey: 76 };
/** All of it together stays under full scale. */
const WHOLE = 0.55;

/** How far ahead notes are set, and how often it is looked, in seconds. */
const AHEAD = 0.1;
const EVERY = 0.025;

export const ROLES = /** @type {const} */ (["line", "chords", "bass", "drums", "click"]);

/** @typedef {{ partials: number[], rise: number, fall: number, decay: number }} Voice */

/** @type {WeakMap<BaseAudioContext, Map<string, PeriodicWave>>} */
const waves = new WeakMap();

/** @param {BaseAudioContext} context @param {Voice} voice */
function wave(context, voice) {
  let own = waves.get(context);
  if (!own) waves.set(context, (own = new Map()));
  const name = voice.partials.join(" ");
  let made = own.get(name);
  if (!made) {
    made = context.createPeriodicWave(new Float32Array(voice.partials.length + 1), new Float32Array([0, ...voice.partials]), { disableNormalization: true });
    own.set(name, made);
  }
  return made;
}

/**
 * Sets one note on the clock.
 * @param {BaseAudioContext} context @param {AudioNode} out
 * @param {typeof ROLES[number]} role @param {number} at seconds @param {number} length seconds
 * @param {number} key MIDI number @param {number} velocity 1 to 127 @param {number} tuning hertz of the A
 * @param {Record<string, Voice>} [voices]
 * @returns {AudioScheduledSourceNode}
 */
export function strike(context, out, role, at, length, key, velocity, tuning, voices = {}) {
  const loud = (velocity / 127) ** 2;
  const source = context.createOscillator();
  const level = context.createGain();
  if (role === "click" || role === "drums") {
    source.frequency.value = key === CLICK.highKey ? CLICK.high : CLICK.low;
    level.gain.setValueAtTime(CLICK.gain * loud, at);
    level.gain.setTargetAtTime(0, at, CLICK.decay);
    source.connect(level).connect(out);
    source.start(at);
    source.stop(at + CLICK.length);
    return source;
  }
  const voice = voices[role];
  const peak = PLACES[role].gain * loud;
  source.setPeriodicWave(wave(context, voice));
  source.frequency.value = tuning * 2 ** ((key - 69) / 12);
  const rise = Math.min(voice.rise, length / 4);
  const fall = Math.min(voice.fall, length / 4);
  level.gain.setValueAtTime(0, at);
  level.gain.linearRampToValueAtTime(peak, at + rise);
  const left = peak * Math.exp(-voice.decay * (length - fall - rise));
  if (voice.decay) level.gain.setTargetAtTime(0, at + rise, 1 / voice.decay);
  level.gain.setValueAtTime(left, at + length - fall);
  level.gain.linearRampToValueAtTime(0, at + length);
  source.connect(level);
  if (PLACES[role].place && context.createStereoPanner) {
    const place = context.createStereoPanner();
    place.pan.value = PLACES[role].place;
    level.connect(place).connect(out);
  } else {
    level.connect(out);
  }
  source.start(at);
  source.stop(at + length + 0.01);
  return source;
}

/** Ticks to seconds at the tempos of a sheet. */
export class Clock {
  /** @param {{ perQuarter: number, tempos: [number, number][] }} events */
  constructor(events) {
    let seconds = 0;
    this.parts = events.tempos.map(([tick, microseconds], place) => {
      const before = events.tempos[place - 1];
      if (before) seconds += ((tick - before[0]) * before[1]) / 1e6 / events.perQuarter;
      return { tick, seconds, each: microseconds / 1e6 / events.perQuarter };
    });
  }

  /** @param {number} tick */
  at(tick) {
    let part = this.parts[0];
    for (const one of this.parts) if (one.tick <= tick) part = one;
    return part.seconds + (tick - part.tick) * part.each;
  }
}

/** @typedef {{ from: number, to: number, only?: "click" }} Stretch from a tick up to another */

export class Player {
  /**
   * @param {any} events what the sheet sounds like
   * @param {AudioContext | OfflineAudioContext} context
   * @param {{ lit?: (at: [number, string, string] | null) => void, ended?: () => void }} [hears]
   */
  constructor(events, context, hears = {}) {
    this.context = context;
    this.hears = hears;
    this.speed = 1;
    /** @type {Set<string>} */
    this.muted = new Set();
    /** @type {{ from: number, to: number } | null} */
    this.loop = null;
    this.out = context.createGain();
    this.out.gain.value = WHOLE;
    this.out.connect(context.destination);
    this.timer = 0;
    /** @type {AudioScheduledSourceNode[]} */
    this.sources = [];
    /** @type {{ at: number, note: [number, string, string] }[]} */
    this.lights = [];
    this.load(events);
  }

  /** @param {any} events */
  load(events) {
    this.events = events;
    this.clock = new Clock(events);
    /** @type {{ role: typeof ROLES[number], strike: [number, number, number, number] }[]} */
    this.strikes = ROLES.flatMap((role) => events[role].map((/** @type {any} */ strike) => ({ role, strike })));
    this.strikes.sort((a, b) => a.strike[0] - b.strike[0]);
  }

  get playing() {
    return this.timer !== 0;
  }

  /** The stretches from a bar on, a count-in before them. @param {number} bar its place @param {boolean} countIn */
  stretches(bar, countIn) {
    const { bars, end } = this.events;
    const start = bars[bar]?.[0] ?? bars[0][0];
    const next = bars[bar + 1]?.[0] ?? end;
    const main = { from: start, to: this.loop ? this.loop.to : end };
    if (!countIn) return [main];
    // A bar's own click where it has one, else the sheet's count-in.
    const clicked = this.events.click.some((/** @type {number[]} */ [onset]) => onset >= start && onset < next);
    return bar > 0 && clicked ? [/** @type {Stretch} */ ({ from: start, to: next, only: "click" }), main]
      : [/** @type {Stretch} */ ({ from: 0, to: bars[0][0], only: "click" }), main];
  }

  /** @param {number} bar @param {boolean} countIn */
  play(bar, countIn) {
    this.stop();
    this.queue = this.stretches(bar, countIn);
    this.time = this.context.currentTime + 0.06;
    this.begin(this.queue.shift());
    this.timer = setInterval(() => this.ahead(), EVERY * 1000);
    this.ahead();
    this.light();
  }

  /** @param {Stretch | undefined} stretch */
  begin(stretch) {
    this.stretch = stretch;
    this.tick = stretch?.from ?? 0;
    this.next = stretch ? this.strikes.findIndex(({ strike }) => strike[0] >= stretch.from) : -1;
    if (this.next < 0) this.next = this.strikes.length;
    this.lightNext = stretch ? this.events.notes.findIndex((/** @type {any} */ note) => note[0] >= stretch.from) : -1;
    if (this.lightNext < 0) this.lightNext = this.events.notes.length;
  }

  /** When a tick of this stretch is heard. @param {number} tick */
  when(tick) {
    return this.time + (this.clock.at(tick) - this.clock.at(this.tick)) / this.speed;
  }

  /** How fast, against the sheet's own tempo: from here on. @param {number} speed */
  setSpeed(speed) {
    if (this.playing && this.stretch) {
      const until = this.context.currentTime + AHEAD;
      // The tick that is heard then goes on from there.
      let [low, high] = [this.tick, this.stretch.to];
      while (high - low > 1) {
        const middle = (low + high) >> 1;
        if (this.when(middle) < until) low = middle;
        else high = middle;
      }
      const time = this.when(low);
      this.tick = low;
      this.time = time;
    }
    this.speed = speed;
  }

  ahead() {
    const until = this.context.currentTime + AHEAD;
    while (this.stretch) {
      const { to, only } = this.stretch;
      for (; this.next < this.strikes.length; this.next += 1) {
        const { role, strike: [onset, end, key, velocity] } = this.strikes[this.next];
        if (onset >= to) break;
        const at = this.when(onset);
        if (at >= until) break;
        if (this.muted.has(role) && only !== role) continue;
        if (only && only !== role) continue;
        const length = this.when(Math.min(end, to)) - at;
        const source = strike(this.context, this.out, role, Math.max(at, this.context.currentTime), length, key, velocity, this.events.tuning, this.events.voices);
        this.sources.push(source);
        source.addEventListener("ended", () => {
          this.sources = this.sources.filter((one) => one !== source);
        });
      }
      for (; !only && this.lightNext < this.events.notes.length; this.lightNext += 1) {
        const note = this.events.notes[this.lightNext];
        const at = this.when(note[0]);
        if (note[0] >= to || at >= until) break;
        this.lights.push({ at, note });
      }
      const end = this.when(to);
      if (end >= until) return;
      this.time = end;
      let stretch = this.queue?.shift();
      if (!stretch && this.loop && !only) stretch = { ...this.loop };
      this.begin(stretch);
      if (!stretch) {
        const wait = Math.max(0, end - this.context.currentTime) * 1000;
        clearInterval(this.timer);
        this.timer = setTimeout(() => {
          this.stop();
          this.hears.ended?.();
        }, wait + 50);
        return;
      }
    }
  }

  light() {
    if (!this.hears.lit || typeof requestAnimationFrame === "undefined") return;
    const look = () => {
      if (!this.playing) return;
      const heard = this.context.currentTime - (/** @type {any} */ (this.context).outputLatency || 0);
      let now = null;
      while (this.lights.length && this.lights[0].at <= heard) now = this.lights.shift() ?? null;
      if (now) this.hears.lit?.(now.note);
      requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
  }

  stop() {
    clearInterval(this.timer);
    clearTimeout(this.timer);
    this.timer = 0;
    for (const source of this.sources) {
      try {
        source.stop();
      } catch {
        // It never began.
      }
      source.disconnect();
    }
    this.sources = [];
    this.lights = [];
    this.stretch = undefined;
    this.hears.lit?.(null);
  }

  /** All of it set at once, for a context that isn't heard. */
  setAll() {
    for (const { role, strike: [onset, end, key, velocity] } of this.strikes) {
      const at = this.clock.at(onset) / this.speed;
      strike(this.context, this.out, role, at, this.clock.at(end) / this.speed - at, key, velocity, this.events.tuning, this.events.voices);
    }
  }
}
