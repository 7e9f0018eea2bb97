// Half-written notes of this draft, which wait on this device: a line for each at the foot of the screen.

import { forget, kept, keptNames } from "./kept-text.js";
import { pagesOf } from "./script-lines.js";

const notice = /** @type {HTMLElement} */ (document.querySelector("[data-kept-notice]"));

let goOn = /** @type {(span: object) => void} */ (() => {});

/** Say how one goes on with a note that is half written. */
export function onGoOn(open) {
  goOn = open;
}

function spanOfName(name) {
  const lines = /:(\d+)\.(\d+)-(\d+)\.(\d+)$/.exec(name);
  if (!lines) return null;
  const [from, fromChar, to, toChar] = lines.slice(1).map(Number);
  return { from, fromChar, to, toChar };
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.className = "link-button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

function keptRow(name, span) {
  const row = document.createElement("li");
  const { body = "", waits } = kept(name) ?? {};
  const begin = body.trim().split("\n")[0];
  const words = document.createElement("span");
  const short = begin.length > 60 ? `${begin.slice(0, 60)}…` : begin;
  const page = pagesOf(span);
  words.textContent = `${waits ? "Waits to be sent: note" : "Half-written note"}${page ? ` on ${page}` : ""}${short ? `: “${short}”` : ""}`;
  const discard = button("Discard", () => {
    forget(name);
    showKept();
  });
  row.append(
    words,
    " ",
    button("Go on", () => goOn(span)),
    " ",
    discard,
  );
  return row;
}

/** Show them, as they are now. */
export function showKept() {
  const rows = keptNames(notice.dataset.keptNotice)
    .map((name) => [name, spanOfName(name)])
    .filter(([, span]) => span)
    .map(([name, span]) => keptRow(name, span));
  notice.replaceChildren(...rows);
  notice.hidden = !rows.length;
}
