// @ts-check
/** Which lesson is open; new ones, copies, other names, and away with them. */

import { ask } from "./ask.js";
import { named, question } from "./dialog.js";
import { byId, element, refill, same } from "./element.js";

/** A lesson to begin from: a title, a scale and a figure. @param {string} title */
const beginning = (title) =>
  `title = ${JSON.stringify(title)}\n\n[scale]\nname = "major"\n\n[figure]\nmoves = "start, step up, step up, step up"\ncount = "1 & 2 &"\n`;

/** @param {any} desk */
export function showLessons(desk) {
  const { lessons, file } = desk;
  if (same("lessons", [lessons, desk.courses, file, desk.dirty])) return;
  const select = element("select", {
    id: "lesson", "data-id": "lesson", on: { change: () => desk.open(select.value) },
  }, ...lessons.map((/** @type {any} */ one) => element("option", { value: one.file, selected: one.file === file }, one.title ? `${one.title} (${one.file})` : one.file)),
  ...desk.courses.map((/** @type {string} */ one) => element("option", { disabled: true }, `${one}: a course, for twelvefold write`)));
  const button = (/** @type {string} */ words, /** @type {() => void} */ click, off = false) =>
    element("button", { type: "button", disabled: off, "data-id": `lessons.${words}`, on: { click } }, words);
  const state = element("span", { class: "state", "data-id": "state" }, !file ? "" : desk.dirty ? "not saved yet" : "saved");
  refill(byId("lessons"), [
    element("label", { class: "inline" }, "Lesson", select),
    button("New", () => create(desk)),
    button("Duplicate", () => duplicate(desk), !file),
    button("Rename", () => rename(desk), !file),
    button("Delete", () => remove(desk), !file),
    element("span", { class: "push" }),
    state,
    element("button", { type: "button", class: "usual", disabled: !file, "data-id": "lessons.save", on: { click: () => desk.save() } }, "Save"),
  ]);
}

/** @param {any} desk */
async function create(desk) {
  if (!(await desk.mayLeave())) return;
  const title = await named("A new lesson", "Its title", "", "Begin it");
  if (!title) return;
  await made(desk, title, beginning(title));
}

/** @param {any} desk */
async function duplicate(desk) {
  const name = await named("A copy of this lesson", "What the copy is called", `${desk.file.replace(/\.toml$/, "")} copy`, "Copy it");
  if (name) await made(desk, name, desk.text);
}

/** @param {any} desk @param {string} name @param {string} text */
async function made(desk, name, text) {
  try {
    const { file } = await ask("POST", "/api/lesson", { name, text });
    await desk.list();
    await desk.open(file, true);
  } catch (fault) {
    desk.complain(/** @type {Error} */ (fault).message);
  }
}

/** @param {any} desk */
async function rename(desk) {
  const name = await named("Another name for this lesson's file", "File name", desk.file.replace(/\.toml$/, ""), "Rename it");
  if (!name) return;
  if (desk.dirty && !(await desk.save())) return;
  try {
    const { file } = await ask("POST", "/api/name", { file: desk.file, version: desk.version, name });
    await desk.list();
    await desk.open(file, true);
  } catch (fault) {
    desk.complain(/** @type {Error} */ (fault).message);
  }
}

/** @param {any} desk */
async function remove(desk) {
  const answer = await question(`Delete ${desk.file}?`, [element("p", {}, "The lesson's text goes; sheets already written stay.")],
    [["", "Keep it"], ["delete", "Delete it"]]);
  if (answer !== "delete") return;
  try {
    await ask("DELETE", "/api/lesson", { file: desk.file, version: desk.version });
    desk.gone();
    await desk.list();
    await desk.open(desk.lessons[0]?.file ?? "", true);
  } catch (fault) {
    desk.complain(/** @type {Error} */ (fault).message);
  }
}
