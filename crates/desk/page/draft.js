// @ts-check
/** What was typed and not saved, kept by the browser under the folder and the file. */

/** @param {string} folder @param {string} file */
const name = (folder, file) => `draft ${folder} ${file}`;

/**
 * Keeps a draft; false where the browser keeps nothing.
 * @param {string} folder @param {string} file @param {string} text @param {string | null} version
 */
export function keep(folder, file, text, version) {
  try {
    localStorage.setItem(name(folder, file), JSON.stringify({ text, version, at: Date.now() }));
    return true;
  } catch {
    return false;
  }
}

/** @param {string} folder @param {string} file @returns {{ text: string, version: string | null, at: number } | null} */
export function kept(folder, file) {
  try {
    const said = JSON.parse(localStorage.getItem(name(folder, file)) ?? "null");
    return typeof said?.text === "string" ? said : null;
  } catch {
    return null;
  }
}

/** @param {string} folder @param {string} file */
export function forget(folder, file) {
  try {
    localStorage.removeItem(name(folder, file));
  } catch {
    // Nothing is kept here anyway.
  }
}
