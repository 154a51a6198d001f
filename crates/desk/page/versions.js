// @ts-check
/** Versions of a lesson beside the one that is open: a draft that was kept, a file that was changed elsewhere. */

import { forget, kept } from "./draft.js";
import { byId, element } from "./element.js";

/** A draft that was kept is offered, not taken. @param {any} desk */
export function offerDraft(desk) {
  const draft = kept(desk.folder, desk.file);
  if (!draft || draft.text === desk.saved) {
    forget(desk.folder, desk.file);
    return;
  }
  const when = new Date(draft.at).toLocaleString();
  const { file } = desk;
  desk.news("draft", [`A draft of this lesson was kept on ${when}.`,
    element("button", { type: "button", on: { click: () => {
      desk.news("draft", null);
      if (desk.file === file) desk.change(draft.text, "");
    } } }, "Go on with the draft"),
    element("button", { type: "button", on: { click: () => {
      forget(desk.folder, file);
      desk.news("draft", null);
    } } }, "Throw it away")]);
}

/** The file is another than was opened: both versions are offered. @param {any} desk @param {string} text @param {string} version */
export function offerBoth(desk, text, version) {
  if (text === desk.text) {
    desk.version = version;
    desk.saved = text;
    desk.show(text);
    return;
  }
  if (byId("news").querySelector(`[data-version="${version}"]`)) return;
  const newer = element("textarea", { readonly: true, rows: 8, "aria-label": "The newer version", value: text });
  desk.news("changed", [
    element("p", { "data-version": version }, "This lesson was changed elsewhere, after you opened it."),
    element("details", {}, element("summary", {}, "Look at the newer version"), newer),
    element("button", { type: "button", on: { click: () => {
      desk.version = version;
      desk.saved = text;
      desk.news("changed", null);
      desk.change(text, "");
    } } }, "Take the newer version"),
    element("button", { type: "button", on: { click: () => {
      desk.version = version;
      desk.saved = text;
      desk.news("changed", null);
      desk.show(desk.text);
    } } }, "Keep mine"),
  ]);
}
