// Answering which notes a draft answers by one key each: Y and N answer and go on to the next.

const questions = [...document.querySelectorAll("[data-question]")];
const keys = document.querySelector("[data-asking-keys]");
const count = document.querySelector("[data-asking-count]");
const send = document.querySelector(".asking button[type='submit']");
let at = 0;

/** @returns {HTMLInputElement} */
function answerOf(question, value) {
  return question.querySelector(`[value='${value}']`);
}

function countAnswered() {
  const yes = questions.filter((question) => answerOf(question, "yes").checked).length;
  const open = questions.filter((question) => !question.querySelector(":checked")).length;
  count.textContent = `${yes} of ${questions.length} answered${open ? `, ${open} not said yet` : ""}`;
}

function goTo(place) {
  at = Math.max(0, Math.min(place, questions.length));
  const next = questions[at] ?? send;
  next.focus({ preventScroll: true });
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  next.scrollIntoView({ block: "center", behavior: calm ? "auto" : "smooth" });
}

function answer(value) {
  const question = questions[at];
  if (!question) return;
  answerOf(question, value).checked = true;
  countAnswered();
  goTo(at + 1);
}

function isTyping(target) {
  return target.closest("textarea, select, input:not([type='radio'])") !== null;
}

document.addEventListener("keydown", (event) => {
  if (isTyping(event.target) || event.ctrlKey || event.metaKey || event.altKey) return;
  const key = event.key.toLowerCase();
  if (key === "y") answer("yes");
  else if (key === "n") answer("no");
  else if (key === "j") goTo(at + 1);
  else if (key === "k") goTo(at - 1);
  else return;
  event.preventDefault();
});

document.addEventListener("focusin", (event) => {
  const target = /** @type {HTMLElement} */ (event.target);
  const place = questions.indexOf(target.closest("[data-question]"));
  if (place >= 0) at = place;
});

document.addEventListener("change", countAnswered);
if (keys) {
  keys.hidden = false;
  countAnswered();
  goTo(0);
}
