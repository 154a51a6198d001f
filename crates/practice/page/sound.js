// @ts-check
/**
 * A small player: events in ticks, set on the audio clock a tenth of a second
 * ahead by a slow timer, never by the timer itself. Its voices are those of
 * the practice tracks, as they come with the events: a few partials under a
 * soft envelope, and drums of noise and short tones.
 */

/** How loud each is among the others, and where it stands. */
const PLACES = {
  line: { gain: 0.42, place: 0 },
  chords: { gain: 0.2, place: -0.35 },
  bass: { gain: 0.3, place: 0 },
};
/** The same of what is struck. */
const STRUCK = { drums: 0.45, click: 0.42 };
/** Vibrato begins after so many seconds, grows for as long again, and has so many beats a second. */
const VIBRATO = { after: 0.3, rate: 5.2 };
/** Drums are made at this rate, as those of the tracks are. */
const RATE = 44100;
/** All of it together stays under full scale. */
const WHOLE = 0.55;

/** How far ahead notes are set, and how often it is looked, in seconds. */
const AHEAD = 0.1;
const EVERY = 0.025;

export const ROLES = /** @type {const} */ (["line", "chords", "bass", "drums", "click"]);

/** @typedef {{ partials: number[], rise: number, fall: number, decay: number, vibrato: number }} Voice */
/** Parts of a drum: a tone from one frequency to another, its loudness and seconds to 37 %; or noise without its lows, how often they are taken away, the same. */
/** @typedef {{ place: number, parts: number[][] }} Drum */
/** @typedef {{ line?: Voice, chords?: Voice, bass?: Voice, kit?: Record<string, Drum> }} Voices */

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

/** @type {WeakMap<Drum, AudioBuffer>} */
const drums = new WeakMap();

/** What a drum sounds from its stroke on, made once. @param {BaseAudioContext} context @param {Drum} drum */
function beaten(context, drum) {
  const made = drums.get(drum);
  if (made) return made;
  const longest = Math.max(...drum.parts.map((part) => part[part.length - 1]));
  // 60 dB down
  const length = Math.floor(6.9 * longest * RATE);
  const buffer = context.createBuffer(1, length, RATE);
  const sound = buffer.getChannelData(0);
  let seed = 0x9e3779b9;
  for (const part of drum.parts) {
    if (part.length === 4) {
      const [from, to, loud, decay] = part;
      let turn = 0;
      for (let at = 0; at < length; at += 1) {
        const gone = at / RATE / decay;
        sound[at] += loud * Math.sin(2 * Math.PI * turn) * Math.exp(-gone);
        turn += (to + (from - to) * Math.exp(-3 * gone)) / RATE;
      }
    } else {
      const [times, loud, decay] = part;
      const before = [0, 0];
      for (let at = 0; at < length; at += 1) {
        seed ^= seed << 13;
        seed ^= seed >>> 17;
        seed ^= seed << 5;
        let now = seed / 0x80000000;
        for (let time = 0; time < times; time += 1) {
          const last = before[time];
          before[time] = now;
          now = 0.5 * (now - last);
        }
        sound[at] += loud * now * 2 * Math.exp(-at / RATE / decay);
      }
    }
  }
  // No stroke begins or ends with a corner.
  for (let at = 0; at < 22; at += 1) sound[at] *= at / 22;
  const fade = Math.floor(0.003 * RATE);
  for (let at = 0; at < fade; at += 1) sound[length - fade + at] *= 1 - at / fade;
  drums.set(drum, buffer);
  return buffer;
}

/** @type {WeakMap<AudioNode, Map<number, AudioNode>>} */
const lanes = new WeakMap();

/**
 * What leads to a place between left and right: as far as it stands to one
 * side, it is taken from the other, as on the tracks.
 * @param {BaseAudioContext} context @param {AudioNode} out @param {number} where −1 left to 1 right
 */
function lane(context, out, where) {
  let own = lanes.get(out);
  if (!own) lanes.set(out, (own = new Map()));
  let made = own.get(where);
  if (!made) {
    made = context.createGain();
    const both = context.createChannelMerger(2);
    for (const [side, gain] of [[0, 1 - Math.max(where, 0)], [1, 1 + Math.min(where, 0)]]) {
      const one = context.createGain();
      one.gain.value = gain;
      made.connect(one).connect(both, 0, side);
    }
    both.connect(out);
    own.set(where, made);
  }
  return made;
}

/**
 * Sets one note on the clock.
 * @param {BaseAudioContext} context @param {AudioNode} out
 * @param {typeof ROLES[number]} role @param {number} at seconds @param {number} length seconds
 * @param {number} key MIDI number @param {number} velocity 1 to 127 @param {number} tuning hertz of the A
 * @param {Voices} voices
 * @returns {AudioScheduledSourceNode | null} none for a drum that there isn't
 */
export function strike(context, out, role, at, length, key, velocity, tuning, voices) {
  const loud = (velocity / 127) ** 2;
  const level = context.createGain();
  if (role === "click" || role === "drums") {
    const drum = voices.kit?.[key];
    if (!drum) return null;
    const stroke = context.createBufferSource();
    stroke.buffer = beaten(context, drum);
    level.gain.value = STRUCK[role] * loud;
    stroke.connect(level).connect(lane(context, out, role === "drums" ? drum.place : 0));
    stroke.start(at);
    return stroke;
  }
  const voice = voices[role];
  if (!voice) return null;
  const source = context.createOscillator();
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
  if (voice.vibrato && length > VIBRATO.after) {
    const swing = context.createOscillator();
    const depth = context.createGain();
    swing.frequency.value = VIBRATO.rate;
    depth.gain.setValueAtTime(0, at + VIBRATO.after);
    depth.gain.linearRampToValueAtTime(voice.vibrato, at + 2 * VIBRATO.after);
    swing.connect(depth).connect(source.detune);
    swing.start(at + VIBRATO.after);
    swing.stop(at + length + 0.01);
  }
  source.connect(level).connect(lane(context, out, PLACES[role].place));
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
        if (!source) continue;
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
