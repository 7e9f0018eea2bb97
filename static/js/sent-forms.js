// A form that was sent and comes back when the browser goes back: made anew by the server, with the words put back by the
// browser. As long as they say what was sent, it is sent in the form they were sent in, and so counts once.

const MOST_CHARACTERS = 100_000; // an entry of the browser's history holds little

/** @param {HTMLFormElement} form */
const idOf = (form) => /** @type {HTMLInputElement | null} */ (form.querySelector("input[type=hidden][name=form_id]"));

/** @param {HTMLFormElement} form */
const whereTo = (form) => form.getAttribute("action") ?? "";

/** The words somebody put into a form. @param {HTMLFormElement} form */
function typed(form) {
  const fields = /** @type {NodeListOf<HTMLInputElement>} */ (
    form.querySelectorAll("textarea[name], input[name]:not([type=hidden], [type=radio], [type=checkbox], [type=file])")
  );
  return [...fields].filter(({ value, defaultValue }) => value !== defaultValue).map(({ name, value }) => [name, value]);
}

/** These, and what was chosen beside them. @param {HTMLFormElement} form */
function said(form) {
  const fields = /** @type {NodeListOf<HTMLInputElement>} */ (form.querySelectorAll("select[name], input[name]:checked"));
  return [...typed(form), ...[...fields].map(({ name, value }) => [name, value])].map((field) => JSON.stringify(field));
}

document.addEventListener("submit", ({ target, defaultPrevented }) => {
  const form = /** @type {HTMLFormElement} */ (target);
  const id = idOf(form)?.value;
  if (!id || (defaultPrevented && !form.hasAttribute("hx-post"))) return;
  const words = said(form);
  if (words.join("").length > MOST_CHARACTERS) return;
  history.replaceState({ ...history.state, sent: { ...history.state?.sent, [whereTo(form)]: { id, words } } }, "");
});

/** @param {HTMLFormElement} form */
function goOnAsSent(form) {
  const before = history.state?.sent?.[whereTo(form)];
  const field = idOf(form);
  if (!before || !field || !typed(form).length) return;
  const own = field.value;
  const choose = () => {
    field.value = said(form).every((each) => before.words.includes(each)) ? before.id : own;
  };
  form.addEventListener("input", choose);
  choose();
}

// Words come back once the whole page is there. A page from the browser's memory has its forms as they were.
addEventListener("pageshow", ({ persisted }) => persisted || [...document.forms].forEach(goOnAsSent));
