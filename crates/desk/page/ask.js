// @ts-check
/** Asking the desk's server. */

/** Where the token of this tab is kept. */
const KEPT = "desk-token";

/** What the address said after its #, before it was removed. */
export const address = new URLSearchParams(location.hash.slice(1));

if (address.has("token")) {
  sessionStorage.setItem(KEPT, address.get("token") ?? "");
  history.replaceState(null, "", location.pathname);
}

/** This tab among others. */
export const tab = Math.random().toString(36).slice(2);

/** Why an answer isn't what was hoped for. */
export class Refusal extends Error {
  /**
   * @param {number} status 0 where nobody answers
   * @param {any} body
   */
  constructor(status, body) {
    super(body?.why ?? "the desk isn't answering");
    this.status = status;
    this.body = body;
  }
}

/** Hears whether the server answers. @type {(here: boolean, why: string) => void} */
let heard = () => {};

/** @param {(here: boolean, why: string) => void} listener */
export function whenHeard(listener) {
  heard = listener;
}

/**
 * One question.
 * @param {string} method
 * @param {string} path
 * @param {any} [body]
 * @param {AbortSignal} [signal]
 * @returns {Promise<any>}
 */
export async function ask(method, path, body, signal) {
  let answer;
  try {
    answer = await fetch(path, {
      method,
      headers: { "x-desk-token": sessionStorage.getItem(KEPT) ?? "" },
      body: body === undefined ? undefined : JSON.stringify(body),
      signal,
      cache: "no-store",
    });
  } catch (fault) {
    if (signal?.aborted) throw fault;
    heard(false, "The desk isn't answering. What you wrote is kept in this browser: start twelvefold desk again, and go on.");
    throw new Refusal(0, null);
  }
  if (answer.status === 401) {
    const words = await answer.text();
    heard(false, `Another desk answers here now. What you wrote is kept in this browser: ${words}.`);
    throw new Refusal(401, { why: words });
  }
  heard(true, "");
  const said = await answer.json().catch(() => null);
  if (!answer.ok) throw new Refusal(answer.status, said);
  return said;
}
