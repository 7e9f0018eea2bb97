// Where a note's form comes from: the server, asked as soon as lines are chosen; without a connection there is a plain
// one, which the page brought along.

import { endOf, pagesOf, quoteOf } from "./script-lines.js";

const { address } = /** @type {HTMLElement} */ (document.querySelector("[data-note-dialog]")).dataset;
const { keptNotice } = /** @type {HTMLElement} */ (document.querySelector("[data-kept-notice]")).dataset;
const blank = /** @type {HTMLTemplateElement | null} */ (document.querySelector("#note-form-blank"));

/** Where the form for a note on a span is, or that in which the lines of a page are chosen. */
export function addressFor({ page, from, fromChar, to, toChar, about }) {
  if (page) return `${address}?${new URLSearchParams({ page })}`;
  const query = new URLSearchParams({ from, to });
  if (fromChar !== null && toChar !== null) {
    query.set("from_char", fromChar);
    query.set("to_char", toChar);
  }
  if (about) query.set("about", about);
  return `${address}?${query}`;
}

let asked = { at: "", form: /** @type {Promise<string | null> | null} */ (null) };

/** The form's HTML; "" where it is for those who sign in again, null where there is no connection. */
async function fetchForm(at) {
  let answer;
  try {
    answer = await fetch(at, { headers: { "HX-Request": "true" } });
  } catch {
    return null;
  }
  if (answer.redirected) return "";
  if (!answer.ok) throw new Error("the form did not come");
  return answer.text();
}

/** Ask for the form for a span beforehand. */
export function askFor(span) {
  const at = addressFor(span);
  if (asked.at === at) return;
  asked = { at, form: fetchForm(at) };
  asked.form.catch(() => {
    asked = { at: "", form: null };
  });
}

/** The form for a span, as `fetchForm` gives it, asked for beforehand or now. */
export function formFor(span) {
  const at = addressFor(span);
  const form = asked.at === at && asked.form ? asked.form : fetchForm(at);
  asked = { at: "", form: null }; // a form counts once
  return form;
}

/** A form made here, for a note on these lines; null where the page brought none along. */
export function blankForm(span) {
  if (!blank || span.page) return null;
  const form = /** @type {HTMLFormElement} */ (blank.content.cloneNode(true)).querySelector("form");
  const set = (name, value) => {
    /** @type {HTMLInputElement} */ (form.elements.namedItem(name)).value = value;
  };
  const { from, to, fromChar, toChar } = span;
  set("form_id", newId());
  set("from", String(from));
  set("to", String(to));
  set("chosen", `${from}-${to}`);
  set("from_char", fromChar === null ? "" : String(fromChar));
  set("to_char", toChar === null ? "" : String(toChar));
  const page = pagesOf(span);
  form.querySelector("#note-form-title").textContent = page ? `A note on ${page}` : "A note";
  form.querySelector(".quoted pre").textContent = quoteOf(span);
  form.dataset.keep = `${keptNotice}${from}.${fromChar ?? 0}-${to}.${toChar ?? endOf(to)}`;
  return form;
}

/** An id that nobody else has; browsers give one by itself on secure pages alone. */
function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  bytes[6] = (bytes[6] & 0x0f) | 0x40; // RFC 9562, version 4
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const digits = [...bytes].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  return digits.replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
