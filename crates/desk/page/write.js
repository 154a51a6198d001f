// @ts-check
/** Writing everything, the book, and opening the folder. */

import { ask } from "./ask.js";
import { byId, element } from "./element.js";

export class Writer {
  /** @param {any} desk */
  constructor(desk) {
    this.desk = desk;
    byId("write").append(element("div", { class: "row" }));
  }
}
void ask;
