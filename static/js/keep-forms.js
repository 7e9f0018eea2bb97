// Forms whose words survive a reload and a dropped connection: kept as they are typed, put back, and sent again.

import { forget, keep, kept } from "./kept-text.js";
import { sendWaiting, waitToBeSent } from "./waiting-forms.js";

const WORDS = ["body", "wording", "reason"];
const FIELDS = ["form_id", "about", "kind", "audience", "outcome", "chosen", "from", "to", "from_char", "to_char", ...WORDS];
const PAUSE_MS = 250;

const beginnings = new WeakMap();
const pauses = new WeakMap();

/** @returns {Record<string, string>} */
function values(form) {
  const fields = new FormData(form);
  return Object.fromEntries(FIELDS.filter((name) => fields.has(name)).map((name) => [name, String(fields.get(name))]));
}

/** Whether the form holds words that it was not handed out with. */
function hasOwnWords(form) {
  const now = values(form);
  const then = beginnings.get(form) ?? {};
  return WORDS.some((name) => name in now && now[name].trim() !== (then[name] ?? "").trim());
}

function say(form, text) {
  const state = form.querySelector("[data-kept-state]");
  if (state) state.textContent = text;
}

/** Whether what stands in the form waits to be sent, just so. */
function waitsAsItStands(form) {
  const waiting = kept(form.dataset.keep);
  return Boolean(waiting?.waits) && Object.entries(values(form)).every(([name, value]) => waiting[name] === value);
}

function keepNow(form) {
  clearTimeout(pauses.get(form));
  if (!beginnings.has(form) || waitsAsItStands(form)) return;
  if (!hasOwnWords(form)) {
    forget(form.dataset.keep);
    say(form, "");
  } else if (keep(form.dataset.keep, values(form))) {
    say(form, "Kept on this device");
  }
}

function keepSoon(form) {
  clearTimeout(pauses.get(form));
  pauses.set(form, setTimeout(() => keepNow(form), PAUSE_MS));
}

function fill(form, fields) {
  for (const [name, value] of Object.entries(fields)) {
    if (!FIELDS.includes(name)) continue;
    const field = form.elements.namedItem(name);
    if (field) field.value = value;
  }
  for (const details of form.querySelectorAll("details")) {
    const field = details.querySelector("textarea");
    if (field && field.value !== field.defaultValue) details.open = true;
  }
  for (let around = form.closest("details"); around; around = around.parentElement.closest("details")) around.open = true;
}

function putBack(form) {
  const fields = kept(form.dataset.keep);
  if (!fields) return;
  const now = values(form);
  if (WORDS.every((name) => (fields[name] ?? "") === (now[name] ?? ""))) return;
  fill(form, fields);
  const notice = form.querySelector("[data-kept-words]");
  if (!notice) return;
  const discard = document.createElement("button");
  discard.type = "button";
  discard.className = "link-button";
  discard.textContent = "Discard them";
  discard.addEventListener("click", () => {
    fill(form, now);
    forget(form.dataset.keep);
    say(form, "");
    notice.hidden = true;
    form.querySelector("textarea").focus();
  });
  notice.replaceChildren("Your words from before are back. ", discard);
  notice.hidden = false;
}

/**
 * Bind every such form below a node, or that node, that is not yet bound.
 * @param {ParentNode} root
 */
export function bind(root = document) {
  const forms = /** @type {HTMLFormElement[]} */ ([...root.querySelectorAll("form[data-keep]")]);
  if (root instanceof HTMLFormElement && root.matches("[data-keep]")) forms.push(root);
  for (const form of forms) {
    if (beginnings.has(form)) continue;
    const begun = (name) => /** @type {HTMLElement} */ (form.elements.namedItem(name))?.dataset.begin ?? "";
    beginnings.set(form, { body: begun("body"), wording: begun("wording") });
    form.addEventListener("input", () => keepSoon(form));
    putBack(form);
    if (hasOwnWords(form)) keepNow(form);
  }
}

/** Keep what stands in every bound form now, without waiting for a pause in the typing. */
export function keepAll() {
  document.querySelectorAll("form[data-keep]").forEach(keepNow);
}

// What went wrong, as a sentence that says the words are safe and what to do.

const OFFLINE = "the connection dropped";
const REASONS = {
  400: "there is a character in it that is no letter. Type that line again first",
  403: "this page is older than your last sign-in. Reload the page first",
  404: "this page is no longer open to you",
  413: "it is too long to send",
};

function reason(xhr) {
  if (!xhr || xhr.status === 0) return OFFLINE;
  return REASONS[xhr.status] ?? "the server had trouble";
}

function notSent(form, why) {
  keepNow(form);
  if (why === OFFLINE) wait(form);
  const place = form.querySelector("[data-not-sent]");
  if (!place) return;
  const button = form.querySelector(".send")?.textContent.trim();
  const sentence = document.createElement("p");
  sentence.textContent = `Not sent: ${why}. Your words are kept on this device. ${
    why === OFFLINE ? "They are sent by themselves once it is back." : `“${button}” sends them again.`
  }`;
  place.replaceChildren(sentence);
  place.hidden = false;
  place.scrollIntoView({ block: "nearest" });
  place.tabIndex = -1;
  if (!form.contains(document.activeElement)) place.focus({ preventScroll: true });
}

/** Have the form sent once the connection is back, as it stands now; words typed after that are sent by hand. */
function wait(form) {
  if (kept(form.dataset.keep)) waitToBeSent(form.dataset.keep, values(form), form);
}

addEventListener("online", sendWaiting);
sendWaiting();

function keptFormOf(event) {
  const sender = event.detail.requestConfig?.elt ?? event.detail.elt;
  const form = sender?.closest?.("form[data-keep]");
  return form && beginnings.has(form) ? form : null;
}

function isLook(event) {
  return event.detail.requestConfig?.parameters?.look !== undefined;
}

document.addEventListener("htmx:beforeRequest", (event) => {
  const form = keptFormOf(event);
  if (!form) return;
  keepNow(form);
  const place = form.querySelector("[data-not-sent]");
  if (place) place.hidden = true;
});

for (const name of /** @type {const} */ (["htmx:sendError", "htmx:timeout", "htmx:responseError"])) {
  document.addEventListener(name, (event) => {
    const form = keptFormOf(event);
    if (form) notSent(form, reason(name === "htmx:timeout" ? null : event.detail.xhr));
  });
}

function isElsewhere({ xhr, requestConfig }) {
  const landed = new URL(xhr.responseURL || location.href).pathname;
  return xhr.status < 400 && landed !== new URL(requestConfig.path, location.href).pathname;
}

document.addEventListener("htmx:beforeSwap", (event) => {
  const form = keptFormOf(event);
  if (!form || !isElsewhere(event.detail)) return;
  event.detail.shouldSwap = false;
  notSent(form, "you are signed out. Sign in in another tab first");
});

// What has arrived is kept no longer, be it answered with something to show or with another page to go to.

document.addEventListener("htmx:beforeOnLoad", (event) => {
  const form = keptFormOf(event);
  if (!form || isElsewhere(event.detail)) return;
  if (event.detail.xhr.status < 300 || isLook(event)) {
    clearTimeout(pauses.get(form));
    beginnings.delete(form);
    forget(form.dataset.keep);
  }
});

// A form that comes back with something wrong shows its first error, and the keyboard goes on from there.

function showFirstError(form) {
  const error = form?.querySelector(".field-errors, .message-warning");
  if (!error) return;
  error.tabIndex = -1;
  error.focus({ preventScroll: true });
  error.scrollIntoView({ block: "center" });
}

document.addEventListener("htmx:afterSettle", ({ detail }) => {
  const { elt } = detail;
  showFirstError(elt.matches?.("#note-form") ? elt : elt.querySelector?.(":scope .reply-form"));
});

document.addEventListener("htmx:load", (event) => bind(event.detail.elt));
addEventListener("pagehide", keepAll);
bind();
