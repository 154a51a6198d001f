// @ts-check
/** Questions that want an answer before anything goes on. */

import { element } from "./element.js";

/**
 * Asks, and gives the answer's word; an empty one where it was put away.
 * @param {string} question
 * @param {(Node | string)[]} body
 * @param {[string, string][]} answers each with its word and what its button says; the first is the usual one
 * @returns {Promise<string>}
 */
export function question(question, body, answers) {
  return new Promise((done) => {
    const dialog = /** @type {HTMLDialogElement} */ (/** @type {unknown} */ (
      element("dialog", { "aria-labelledby": "question" }, element("h2", { id: "question" }, question), ...body)
    ));
    let said = "";
    const buttons = answers.map(([word, words], place) =>
      element("button", { type: "button", class: place === 0 ? "usual" : "", on: { click: () => { said = word; dialog.close(); } } }, words));
    dialog.append(element("div", { class: "row" }, ...buttons));
    dialog.addEventListener("keydown", (event) => {
      if (event.key === "Enter" && /** @type {HTMLElement} */ (event.target).tagName === "INPUT") {
        event.preventDefault();
        said = answers[0][0];
        dialog.close();
      }
    });
    dialog.addEventListener("close", () => {
      dialog.remove();
      done(said);
    });
    document.body.append(dialog);
    dialog.showModal();
  });
}

/**
 * Asks for a name.
 * @param {string} words @param {string} label @param {string} value @param {string} yes
 * @returns {Promise<string | null>}
 */
export async function named(words, label, value, yes) {
  const input = element("input", { value, autofocus: true, maxlength: 100 });
  const answer = await question(words, [element("label", { class: "field" }, label, input)], [["yes", yes], ["", "Cancel"]]);
  return answer === "yes" ? input.value.trim() : null;
}
