// Forms that could not be sent for want of a connection: each is sent once it is back, in the order they were sent in.
// What somebody else wrote on this device waits for them: a form speaks for whoever is signed in when it is sent.

import { forget, keep, kept, ownNames } from "./kept-text.js";

/** Keep a form's words so that what was to be sent is sent by itself, until somebody types in the form again.
 * False where the browser keeps nothing, and with a file, which none keeps.
 * @param {FormData} sent */
export function waitToBeSent(name, fields, form, sent) {
  const files = [...sent].filter(([, value]) => value instanceof File);
  if (files.some(([, file]) => /** @type {File} */ (file).name)) return false;
  const words = new URLSearchParams();
  for (const [field, value] of sent) if (typeof value === "string") words.append(field, value);
  return keep(name, { ...fields, waits: form.getAttribute("action"), sent: words.toString() });
}

const waiting = () =>
  ownNames()
    .map((name) => ({ name, ...kept(name) }))
    .filter(({ waits }) => waits)
    .sort((one, other) => one.at.localeCompare(other.at));

const AGAIN_MS = 5000;
let sending = Promise.resolve();
let again = 0;

/** Send what waits. A form that arrived before makes nothing a second time: it carries an id of its own. */
export function sendWaiting() {
  clearTimeout(again);
  sending = sending
    .then(sendAll)
    .catch(() => {})
    .then(() => {
      if (navigator.onLine && waiting().length) again = setTimeout(sendWaiting, AGAIN_MS);
    });
  return sending;
}

async function sendAll() {
  if (!navigator.onLine) return;
  for (const { name, waits, sent, ...fields } of waiting()) {
    const { "X-CSRFToken": token } = JSON.parse(document.body.getAttribute("hx-headers"));
    const body = new URLSearchParams(sent);
    body.set("csrfmiddlewaretoken", token);
    const answer = await fetch(waits, { method: "POST", body, headers: { "HX-Request": "true" } });
    if (answer.redirected || answer.status >= 500) return; // signed out, or the server has trouble: later
    if (!answer.ok) {
      keep(name, fields); // something is to be mended: it is half-written again
      document.dispatchEvent(new CustomEvent("kept:back"));
      continue;
    }
    forget(name);
    const { headers } = answer;
    const told = { target: headers.get("HX-Retarget"), leadsTo: headers.get("HX-Redirect") };
    const detail = { name, html: await answer.text(), ...told };
    document.dispatchEvent(new CustomEvent("kept:sent", { detail }));
  }
}
