// After a decision is sent: where notes are decided in turn, on the notes screen and in a talk, the keyboard goes to the
// next one; elsewhere it stays at this one.

const SENT_TO = /^(?:decision|note)-(.+)$/;
const UNDECIDED = "[data-undecided]";
const IN_TURN = ":is(#notes-screen, [data-decided-in-turn])";

document.addEventListener("htmx:afterSwap", ({ detail }) => {
  const { target, path } = detail.requestConfig ?? {};
  const [, id] = SENT_TO.exec(target?.id ?? "") ?? [];
  if (!id || !/\/(?:decision|open-again)\/$/.test(path)) return;
  const [decision, note] = ["decision", "note"].map((each) => document.getElementById(`${each}-${id}`));
  const wrong = /** @type {HTMLElement} */ (
    decision?.querySelector("[aria-invalid='true'], [role='alert']:not([hidden])")
  );
  if (wrong?.matches("textarea")) wrong.focus();
  else if (wrong) focusOn(wrong);
  else if (!note?.closest(IN_TURN)) decision?.focus({ preventScroll: true });
  else goOn(note, decision);
});

function focusOn(message) {
  message.tabIndex = -1;
  message.focus();
}

/** To the next note that waits for a decision; from the last one it stays where it is. */
function goOn(note, decision) {
  const next = note.querySelector(UNDECIDED) ? note : nextUndecided(note);
  if (next && next !== note) document.dispatchEvent(new CustomEvent("notes:led-on", { detail: { next } }));
  (next ?? note).focus({ preventScroll: true });
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  if (next)
    next.scrollIntoView({ block: next.matches(".row") ? "nearest" : "center", behavior: calm ? "auto" : "smooth" });
  else if (!note.matches(".row")) decision?.focus({ preventScroll: true });
}

/** @returns {HTMLElement | undefined} */
function nextUndecided(note) {
  const all = /** @type {HTMLElement[]} */ ([...document.querySelectorAll(`${IN_TURN} .note`)]);
  const open = (each) => each.querySelector(UNDECIDED) && !each.parentElement.closest("details:not([open])");
  return all.slice(all.indexOf(note) + 1).find(open);
}

// Notes that are decided together lead on to the one behind them.

document.addEventListener("htmx:configRequest", ({ detail }) => {
  const alike = detail.elt.closest(".alike");
  const last = alike && [...alike.querySelectorAll(".note")].at(-1);
  const next = last && nextUndecided(last);
  if (next && detail.elt.matches(".decide-together")) detail.parameters.then = next.id.replace("note-", "");
});

// An answer brings the wordings beside the one that was decided too: those whose cards are not on this page are left out.

document.addEventListener("htmx:beforeSwap", ({ detail }) => {
  if (!detail.serverResponse?.includes("hx-swap-oob")) return;
  const answer = document.createElement("template");
  answer.innerHTML = detail.serverResponse;
  for (const part of answer.content.querySelectorAll("[id][hx-swap-oob='true']")) {
    if (!document.getElementById(part.id)) part.remove();
  }
  detail.serverResponse = answer.innerHTML;
});

// A page that was led back to at a note begins there.

const begun = document.getElementById(location.hash.slice(1));
if (begun?.matches("#notes-screen .note")) begun.focus({ preventScroll: true });
