// @ts-check
/** What the lesson's words are called where somebody chooses, and what they are where nothing is said. */

/** Where the word alone says too little. @type {Record<string, string>} */
const LABELS = {
  class: "Class", rights: "Rights, at the foot", footer: "Words at the foot", text: "A paragraph of your own",
  show_moves: "Print the figure's moves", id: "Name of its folder", together: "Everybody turns and ends at the same place",
  large_print: "Large print", answers: "Completed sheets for worksheets", care: "Print a line of caution",
  chord_symbols: "Print chord symbols", note_names: "Names of notes", dynamic: "How loud", breath: "At places to breathe",
  labels: "Rows under the notes", low: "Lowest written note", high: "Highest written note", copies: "Copies",
  moves: "Moves", count: "Count", numbers: "Numbers count", length: "Length", flipped: "Flipped, in your own words",
  unflipped: "Notes that stay when flipped", slur: "Slurs", ghost: "Ghost notes", fall: "Falls", scoop: "Scoops", doit: "Doits",
  of: "Of", say: "In each key", when_too_wide: "Where it doesn't fit", ending: "Ends on", variants: "Turned before it is played",
  for: "Only for", heading: "Heading of your own", written: "Bars written", slashes: "Bars to answer in", line: "What is written out",
  given: "Bars given", hide: "Leave blank", begins: "Degrees to begin on", choruses: "Choruses", plan: "When to play",
  anticipate: "Take chords an eighth early", weights: "What makes a line good", in_a_row: "The same at most in a row",
  seed: "Another of equals (number)", named: "Keys are named", prefer: "Where names tie", draw: "Draw so many keys", heard: "Keys already heard",
  only: "Only these keys", key: "Key", bars: "Bars", form: "Form", lead_sheet: "A lead sheet beside the lesson", part: "Its part",
  count_in: "Bars of count-in", times: "Times through", click: "Click on", forms: "Further tracks", tuning: "The A, in hertz", style: "The band plays",
  literal: "The whole phrase moves note for note", chords: "Chords over the phrase, in C", connect: "Between statements", shift: "Against the bar line",
  sounds: "A written C4 sounds", range: "Written range", like: "Sounds like", figures: "Figures to choose from", figure: "Figure",
};

/** What it is where nothing is said. @type {Record<string, string>} */
const USUAL = {
  level: "intermediate", feel: "straight", signature: "fitting", spelling: "readable", paper: "A4", note_names: "english", breath: "none",
  dynamic: "none said", coming_down: "flipped", when_too_wide: "turn early", ending: "root", named: "concert", pattern: "straight",
  hide: "nothing", say: "figure", line: "keys", plan: "every bar", in_a_row: "2", seed: "1", count_in: "1", times: "1", tuning: "440",
  smooth: "4", variety: "2", range: "2", strong_beats: "3", phrase: "0", high_point: "0", connect: "none", shift: "none", copies: "1", meter: "4/4", numbers: "the meter's beats",
  tempo: "96, or 72 to 120 by 8", keys: "fourths from C, or C F B♭", begins: "wherever it is best", clef: "treble", length: "to the bar's end",
};

/** How a key is said to people. @param {string} key */
export const worded = (key) => {
  const words = LABELS[key] ?? key.replaceAll("_", " ");
  return words[0].toUpperCase() + words.slice(1);
};

/** @param {string} key @returns {string | undefined} */
export const usual = (key) => USUAL[key];
