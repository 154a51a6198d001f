// @ts-check
/** The practice page: a key at a time, the player over it, ticks that stay on this device. */

const { lesson, player: who, tuning } = /** @type {any} */ (document.body.dataset);
const sections = /** @type {HTMLElement[]} */ ([...document.querySelectorAll("main section")]);
const home = /** @type {HTMLElement} */ (document.getElementById("player"));

/**
 * @param {string} tag @param {Record<string, any>} attributes @param {...any} children
 * @returns {any}
 */
function make(tag, attributes, ...children) {
  const made = /** @type {any} */ (document.createElement(tag));
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith("on")) made.addEventListener(name.slice(2), value);
    else if (name in made && name !== "type") made[name] = value;
    else made.setAttribute(name, value);
  }
  made.append(...children);
  return made;
}

/* What stays on this device, under lesson and player. */

const under = `twelvefold practice ${lesson} ${who} `;
let keeps = true;
try {
  localStorage.setItem(`${under}looked`, "1");
  keeps = localStorage.getItem(`${under}looked`) === "1";
} catch {
  keeps = false;
}
const note = /** @type {HTMLElement} */ (document.getElementById("kept"));
note.textContent = keeps
  ? "Ticks stay on this device, in this browser."
  : "This device keeps nothing for a page opened this way: ticks are gone when it is closed.";

/** @param {string} name */
function kept(name) {
  try {
    return localStorage.getItem(under + name);
  } catch {
    return null;
  }
}

/** @param {string} name @param {string | null} value */
function keep(name, value) {
  try {
    if (value === null) localStorage.removeItem(under + name);
    else localStorage.setItem(under + name, value);
  } catch {
    // Said above.
  }
}

for (const box of /** @type {NodeListOf<HTMLInputElement>} */ (document.querySelectorAll("[data-tick]"))) {
  const name = `tick ${box.dataset.tick}`;
  box.checked = kept(name) === "1";
  box.addEventListener("change", () => keep(name, box.checked ? "1" : null));
}

/* The weeks of a course: the one that was opened last stands open. */

const weeks = /** @type {HTMLDetailsElement[]} */ ([...document.querySelectorAll("details.week")]);
const openWeek = weeks.find((one) => one.dataset.week === kept("week")) ?? weeks[0];
for (const week of weeks) {
  week.open = week === openWeek;
  week.addEventListener("toggle", () => {
    if (week.open && !printing) keep("week", week.dataset.week ?? null);
  });
}
let printing = false;
/** @type {HTMLDetailsElement[]} */
let shut = [];
addEventListener("beforeprint", () => {
  printing = true;
  shut = weeks.filter((one) => !one.open);
  for (const week of shut) week.open = true;
});
addEventListener("afterprint", () => {
  for (const week of shut) week.open = false;
  // Its toggling is told of a little later.
  setTimeout(() => { printing = false; }, 200);
});

/* The player. */

/** @type {AudioContext | null} */
let context = null;
/** @type {Player | null} */
let player = null;
/** @type {any} */
let events = null;
/** @type {string} */
let shown = "";
/** @type {Element[]} */
let lit = [];
/** @type {any} */
let awake = null;
/** @type {OscillatorNode | null} */
let sounding = null;
let clicking = 0;
const muted = new Set();

const play = make("button", { type: "button", className: "usual", onclick: () => start() }, "Play");
const stop = make("button", { type: "button", disabled: true, onclick: () => stopAll() }, "Stop");
const tempo = make("input", { type: "number", min: 20, max: 400, oninput: () => speed(true) });
const loop = make("input", { type: "checkbox", onchange: () => looped() });
const from = make("select", { "aria-label": "From bar", onchange: () => looped() });
const to = make("select", { "aria-label": "To bar", onchange: () => looped() });
const countIn = make("input", { type: "checkbox", checked: true });
const key = make("span", {});
const heard = ROLES.map((role) => make("label", {}, make("input", {
  type: "checkbox", checked: true,
  onchange: (/** @type {any} */ event) => (event.target.checked ? muted.delete(role) : muted.add(role)),
}), role));
const tune = make("button", { type: "button", "aria-pressed": "false", onclick: () => tuned() }, `Tuning note: A, ${tuning} hertz`);
const metronome = make("button", { type: "button", "aria-pressed": "false", onclick: () => clicked() }, "Metronome alone");
const more = make("details", { open: matchMedia("(min-width: 40rem)").matches },
  make("summary", {}, "From which bar, what is heard, the tuning note"),
  make("div", { className: "row" }, make("label", {}, "From bar", from), make("label", {}, loop, "Loop"),
    make("label", {}, "to bar", to), make("label", {}, countIn, "Count in")),
  make("div", { className: "row" }, ...heard, tune, metronome));
home.append(make("div", { className: "row" }, play, stop, make("label", {}, "Tempo", tempo), key), more);
home.hidden = false;

/** The click's sound comes with any sheet that can be played. */
const voices = JSON.parse(document.querySelector("script[data-events]")?.textContent ?? "{}").voices ?? {};
metronome.hidden = !voices.kit;

function audio() {
  context ??= new AudioContext();
  context.resume();
  return context;
}

/** Shows one key's sheet. @param {string} stem */
function show(stem) {
  const own = sections.find((one) => one.id === stem) ?? sections[0];
  if (!own) return;
  const was = player?.playing;
  stopAll();
  shown = own.id;
  for (const one of sections) one.hidden = one !== own;
  for (const row of document.querySelectorAll("tbody tr")) {
    row.setAttribute("aria-current", String(row.querySelector("a")?.getAttribute("href") === `#${shown}`));
  }
  key.textContent = own.dataset.key ?? "";
  const said = document.querySelector(`script[data-events="${CSS.escape(shown)}"]`);
  events = said ? JSON.parse(said.textContent ?? "null") : null;
  play.disabled = !events;
  if (events) fill();
  keep("key", shown);
  if (was && events) start();
}

/** Each lesson's tempo is kept by itself. */
function tempoName() {
  const lesson = sections.find((one) => one.id === shown)?.dataset.lesson;
  return lesson ? `tempo ${lesson}` : "tempo";
}

function fill() {
  const fillOne = (/** @type {any} */ select, /** @type {number} */ usual) => {
    select.replaceChildren(...events.bars.map((/** @type {any} */ [, name, counted], /** @type {number} */ place) =>
      make("option", { value: String(place) }, counted ? name : "pickup")));
    select.value = String(usual);
  };
  fillOne(from, 0);
  fillOne(to, events.bars.length - 1);
  ROLES.forEach((role, place) => { heard[place].hidden = events[role].length === 0; });
  tempo.value = kept(tempoName()) ?? String(events.perMinute);
}

/** @param {boolean} [typed] */
function speed(typed) {
  const wanted = Number(tempo.value);
  if (!(wanted >= 20 && wanted <= 400) || !events) return;
  player?.setSpeed(wanted / events.perMinute);
  if (typed) keep(tempoName(), String(wanted));
  if (clicking) {
    clicked();
    clicked();
  }
}

function looped() {
  if (!player || !events) return;
  const [one, two] = [Number(from.value), Number(to.value)];
  player.loop = loop.checked
    ? { from: events.bars[Math.min(one, two)][0], to: events.bars[Math.max(one, two) + 1]?.[0] ?? events.end }
    : null;
  if (player.playing && player.stretch && !player.stretch.only) player.stretch.to = player.loop ? player.loop.to : events.end;
}

function start() {
  if (!events) return;
  stopAll();
  player ??= new Player(events, audio(), { lit: light, ended });
  audio();
  player.load(events);
  player.muted = muted;
  speed();
  looped();
  player.play(Number(from.value), countIn.checked);
  stop.disabled = false;
  stayAwake(true);
}

function stopAll() {
  player?.stop();
  if (sounding) tuned();
  if (clicking) clicked();
  ended();
}

function ended() {
  stop.disabled = true;
  stayAwake(false);
}

/** The screen stays on while it plays. @param {boolean} on */
async function stayAwake(on) {
  try {
    if (on) awake ??= await /** @type {any} */ (navigator).wakeLock?.request("screen");
    else {
      awake?.release();
      awake = null;
    }
  } catch {
    // The device has its own mind about its screen.
  }
}

/** @param {[number, string, string] | null} note */
function light(note) {
  for (const one of lit) one.classList.remove("lit");
  lit = note
    ? [...document.querySelectorAll(`#${CSS.escape(shown)} g.note[data-bar="${CSS.escape(note[1])}"][data-onset="${CSS.escape(note[2])}"]`)]
    : [];
  for (const one of lit) one.classList.add("lit");
  const box = lit[0]?.getBoundingClientRect();
  if (box && (box.bottom > innerHeight - 20 || box.top < home.offsetHeight + 10)) lit[0].scrollIntoView({ block: "center" });
}

/** The note to tune to, until it is asked for again. */
function tuned() {
  if (sounding) {
    sounding.stop();
    sounding = null;
  } else {
    player?.stop();
    const out = audio();
    const level = out.createGain();
    level.gain.value = 0.12;
    sounding = out.createOscillator();
    sounding.type = "triangle";
    sounding.frequency.value = Number(tuning);
    sounding.connect(level).connect(out.destination);
    sounding.start();
  }
  tune.setAttribute("aria-pressed", String(sounding !== null));
}

/** Nothing but clicks at the tempo, set ahead on the clock as notes are. */
function clicked() {
  if (clicking) {
    clearInterval(clicking);
    clicking = 0;
  } else {
    player?.stop();
    const out = audio();
    let next = out.currentTime + 0.1;
    const ahead = () => {
      while (next < out.currentTime + 0.15) {
        strike(out, out.destination, "click", next, 0.05, 77, 96, Number(tuning), voices);
        next += 60 / Math.max(20, Number(tempo.value) || 60);
      }
    };
    clicking = setInterval(ahead, 25);
    ahead();
    stayAwake(true);
  }
  metronome.setAttribute("aria-pressed", String(clicking !== 0));
}

document.addEventListener("visibilitychange", () => {
  if (document.hidden) stopAll();
});
document.querySelector("main")?.addEventListener("click", (event) => {
  const note = /** @type {Element} */ (event.target).closest("g.note");
  if (!note || !events) return;
  const place = events.bars.findIndex((/** @type {any} */ one) => one[1] === note.getAttribute("data-bar"));
  if (place >= 0) from.value = String(place);
  start();
});
for (const link of document.querySelectorAll("tbody a")) {
  link.addEventListener("click", (event) => {
    event.preventDefault();
    show((link.getAttribute("href") ?? "").slice(1));
    sections.find((one) => one.id === shown)?.scrollIntoView();
  });
}
show(location.hash.slice(1) || kept("key") || "");
