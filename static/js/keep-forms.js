// Forms whose words survive a reload and a dropped connection: kept as they are typed, put back, and sent again.

import "./sent-by-keys.js";
import "./sent-forms.js";
import { forget, keep, kept } from "./kept-text.js";
import { sendWaiting, waitToBeSent } from "./waiting-forms.js";

// Words stand in text areas, and in fields of one line that say so by `data-words`. Beside them: fields that are kept in
// every form. Others say so by `data-kept`; where that names a text area, what they say is of its words, and goes with
// them. What is told apart by another field, which `data-kept-by` names, is put back only where that one still says the
// same.
const FIELDS = ["form_id", "about", "kind", "audience", "outcome", "chosen", "from", "to", "from_char", "to_char"];
const PAUSE_MS = 250;

const beginnings = new WeakMap();
const pauses = new WeakMap();

/** @returns {(HTMLTextAreaElement | HTMLInputElement)[]} */
const areas = (form) => [...form.querySelectorAll("textarea[name], input[data-words]")];

/** @returns {HTMLInputElement[]} */
const markedKept = (form) => [...form.querySelectorAll("[data-kept]")];

/** @param {HTMLInputElement} field */
const isBox = ({ type }) => type === "checkbox";

/** Whether a text area holds words that it was not handed out with.
 * @param {HTMLTextAreaElement | HTMLInputElement} area */
const isOwn = (area) => area.value.trim() !== (beginnings.get(area.form)?.[area.name] ?? "").trim();

/** What is kept of a form: its fields, and of its text areas those that are told.
 * @returns {Record<string, string>} */
function values(form, told = areas(form).filter(isOwn)) {
  const fields = new FormData(form);
  const words = told.map(({ name }) => name);
  const more = markedKept(form).filter(({ dataset: { kept: of } }) => !of || words.includes(of));
  const by = more.flatMap(({ dataset: { keptBy } }) => keptBy ?? []);
  const names = new Set([...FIELDS, ...words, ...by, ...more.map(({ name }) => name)]);
  const ticks = more.filter(isBox).map(({ name }) => [name, fields.getAll(name).join("\n")]);
  const single = [...names].filter((name) => fields.has(name)).map((name) => [name, String(fields.get(name))]);
  return Object.fromEntries([...single, ...ticks]);
}

/** Whether the form holds words that it was not handed out with. */
const hasOwnWords = (form) => areas(form).some(isOwn);

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
  pauses.set(
    form,
    setTimeout(() => keepNow(form), PAUSE_MS),
  );
}

/** Whether the field that tells this one apart said something else when the words were kept.
 * @param {HTMLInputElement} field */
function isOutdated({ form, dataset }, fields) {
  const { keptBy } = dataset;
  return Boolean(keptBy) && new FormData(form).get(keptBy) !== fields[keptBy];
}

function fill(form, fields) {
  const boxes = markedKept(form).filter((field) => isBox(field) && field.name in fields);
  for (const box of boxes) box.checked = fields[box.name].split("\n").includes(box.value);
  for (const box of boxes) if (box.checked && box.closest("details")) box.closest("details").open = true;
  const others = [...areas(form), ...markedKept(form).filter((field) => !isBox(field) && !isOutdated(field, fields))];
  const names = new Set([...FIELDS, ...others.map(({ name }) => name)]);
  for (const [name, value] of Object.entries(fields)) {
    const field = names.has(name) && form.elements.namedItem(name);
    if (field) field.value = value;
  }
  for (const details of form.querySelectorAll("details")) {
    const field = details.querySelector("textarea");
    if (field && field.value !== field.defaultValue) details.open = true;
  }
  for (let around = form.closest("details"); around; around = around.parentElement.closest("details"))
    around.open = true;
  form.dispatchEvent(new CustomEvent("kept:filled"));
}

/** Say something of kept words, with a button.
 * @param {HTMLElement | null} notice */
function offer(notice, sentence, label, act) {
  if (!notice) return;
  const button = document.createElement("button");
  button.type = "button";
  button.className = "link-button";
  button.textContent = label;
  button.addEventListener("click", act);
  notice.replaceChildren(`${sentence} `, button);
  notice.hidden = false;
}

function putBack(form) {
  const fields = kept(form.dataset.keep);
  if (!fields) return;
  const now = values(form, areas(form));
  if (areas(form).every(({ name, value }) => (fields[name] ?? value) === value)) return;
  giveBack(form, fields, now);
  const given = areas(form).map(({ value }) => value);
  form.addEventListener("change", ({ target }) => {
    const isUntouched = areas(form).every(({ value }, at) => value === given[at]);
    if (target.type === "file" && target.files.length && isUntouched) leaveOut(form, fields, now, target);
  });
}

function giveBack(form, fields, now) {
  fill(form, fields);
  const notice = form.querySelector("[data-kept-words]");
  const outdated = markedKept(form).some((field) => isOutdated(field, fields));
  const moved = outdated ? " What they were on has changed since: choose it again." : "";
  offer(notice, `Your words from before are back.${moved}`, "Discard them", () => {
    fill(form, now);
    forget(form.dataset.keep);
    say(form, "");
    notice.hidden = true;
    areas(form)[0].focus();
  });
}

/** Whoever chooses a file means the file, not the words that were only brought back.
 * @param {HTMLInputElement} file */
function leaveOut(form, fields, now, file) {
  fill(form, now);
  keepNow(form);
  const notice = form.querySelector("[data-kept-words]");
  offer(notice, "You chose a file, so your words from before are left out.", "Take them instead", () => {
    file.value = "";
    file.dispatchEvent(new Event("change", { bubbles: true }));
    giveBack(form, fields, now);
    keepNow(form);
    areas(form)[0].focus();
  });
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
    const begun = (area) => area.dataset.begin ?? ("fresh" in form.dataset ? area.defaultValue : "");
    beginnings.set(form, Object.fromEntries(areas(form).map((area) => [area.name, begun(area)])));
    form.addEventListener("input", () => keepSoon(form));
    if ("instead" in form.dataset) forget(form.dataset.keep);
    putBack(form);
    if (hasOwnWords(form)) keepNow(form);
  }
}

/** Keep what stands in every bound form now, without waiting for a pause in the typing. */
export function keepAll() {
  document.querySelectorAll("form[data-keep]").forEach(keepNow);
}

// What went wrong, as a sentence that says whether the words are safe and what to do.

const OFFLINE = "the connection dropped";
const REASONS = {
  400: "there is a character in it that is no letter. Type that line again first",
  403: "this page is older than your last sign-in. Reload the page first",
  404: "this page is no longer open to you",
  413: "it is larger than this server takes. See whether something else came along",
};

function reason(xhr) {
  if (!xhr || xhr.status === 0) return OFFLINE;
  return REASONS[xhr.status] ?? "the server had trouble";
}

/** What became of what was to be sent. A form without words of its own is kept nowhere, and nothing of it waits.
 * @param {{ formData: FormData, triggeringEvent?: SubmitEvent }} asked */
function whatBecame(form, why, asked) {
  const isOffline = why === OFFLINE;
  const isKept = Boolean(kept(form.dataset.keep));
  if (isOffline && isKept && waitToBeSent(form.dataset.keep, values(form), form, asked.formData)) {
    return "Your words are kept on this device. They are sent by themselves once it is back.";
  }
  const button = (asked.triggeringEvent?.submitter ?? form.querySelector(".send")).textContent.trim();
  const again = isOffline ? "again once it is back" : "again";
  return isKept
    ? `Your words are kept on this device. “${button}” sends them ${again}.`
    : `Nothing of it is kept on this device. “${button}” sends it ${again}.`;
}

function notSent(form, why, asked) {
  keepNow(form);
  const became = whatBecame(form, why, asked);
  const place = form.querySelector("[data-not-sent]");
  if (!place) return;
  const sentence = document.createElement("p");
  sentence.textContent = `Not sent: ${why}. ${became}`;
  place.replaceChildren(sentence);
  place.hidden = false;
  place.scrollIntoView({ block: "nearest" });
  place.tabIndex = -1;
  if (!form.contains(document.activeElement)) place.focus({ preventScroll: true });
}

addEventListener("online", sendWaiting);
sendWaiting();

function keptFormOf(event) {
  const sender = event.detail.requestConfig?.elt ?? event.detail.elt;
  const form = sender?.closest?.("form[data-keep]");
  return form && beginnings.has(form) ? form : null;
}

/** Whether what was sent to be looked at comes back in a form, which is kept by its own name from then on. */
function comesBack({ detail: { xhr, requestConfig } }) {
  return xhr.status === 422 && requestConfig.parameters.look !== undefined;
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
    if (!form) return;
    notSent(form, reason(name === "htmx:timeout" ? null : event.detail.xhr), event.detail.requestConfig);
  });
}

function isElsewhere({ xhr, requestConfig }) {
  const landed = new URL(xhr.responseURL || location.href).pathname;
  return xhr.status < 400 && landed !== new URL(requestConfig.path, location.href).pathname;
}

// Refused before any view saw it: the answer is a sentence, and no form to stand in the place of this one.
const UNSEEN = [400, 413];

document.addEventListener("htmx:beforeSwap", (event) => {
  const form = keptFormOf(event);
  const { xhr, requestConfig } = event.detail;
  if (!form || !(isElsewhere(event.detail) || UNSEEN.includes(xhr.status))) return;
  event.detail.shouldSwap = false;
  const isUnseen = UNSEEN.includes(xhr.status);
  notSent(form, isUnseen ? reason(xhr) : "you are signed out. Sign in in another tab first", requestConfig);
});

// What has arrived is kept no longer, be it answered with something to show or with another page to go to.

document.addEventListener("htmx:beforeOnLoad", (event) => {
  const form = keptFormOf(event);
  if (!form || isElsewhere(event.detail)) return;
  if (event.detail.xhr.status < 300 || comesBack(event)) {
    clearTimeout(pauses.get(form));
    beginnings.delete(form);
    forget(form.dataset.keep);
  }
});

// A form that comes back with something wrong shows its first error, and the keyboard goes on from there.

/** @param {HTMLFormElement} form */
function firstError(form) {
  return /** @type {HTMLElement} */ (form.querySelector(".field-errors, .message-warning, .message-error"));
}

/** @param {HTMLElement} elt */
function showFirstError(elt) {
  const within = elt.querySelectorAll("form[data-keep]:not(.decide)"); // `decisions.js` looks after those
  const forms = /** @type {HTMLFormElement[]} */ (elt.matches("form[data-keep]") ? [elt] : [...within]);
  const error = forms.map(firstError).find(Boolean);
  if (!error) return;
  error.tabIndex = -1;
  error.focus({ preventScroll: true });
  error.scrollIntoView({ block: "center" });
}

document.addEventListener("htmx:afterSettle", ({ detail }) => {
  if (detail.elt instanceof HTMLElement) showFirstError(detail.elt);
});

// What waited and was sent from its own page leads on from there, as it would have by hand.

document.addEventListener("kept:sent", (event) => {
  const { name, leadsTo } = /** @type {CustomEvent} */ (event).detail;
  const forms = /** @type {HTMLFormElement[]} */ ([...document.querySelectorAll("form[data-keep]")]);
  const form = forms.find(({ dataset }) => dataset.keep === name);
  if (!form || !leadsTo) return;
  beginnings.delete(form);
  const here = location.pathname + location.search;
  location.assign(leadsTo);
  if (leadsTo.split("#")[0] === here) location.reload();
});

document.addEventListener("htmx:load", (event) => bind(event.detail.elt));
addEventListener("pagehide", keepAll);
bind();
