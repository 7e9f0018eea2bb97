// A form that was sent and comes back when the browser goes back: made anew by the server, with the words put back by the
// browser. As long as it says just what was sent, it is sent in the form it was sent in, and so counts once.

const APART = ["csrfmiddlewaretoken", "form_id"]; // what is another's each time it is handed out

/** @param {HTMLFormElement} form */
const idOf = (form) => /** @type {HTMLInputElement | null} */ (form.querySelector("input[type=hidden][name=form_id]"));

/** @param {HTMLFormElement} form */
const whereTo = (form) => form.getAttribute("action") ?? "";

const handedOut = new WeakMap([...document.forms].map((form) => [form, idOf(form)?.value]));

/** Whether somebody put words into a form. @param {HTMLFormElement} form */
function hasWords(form) {
  const fields = /** @type {NodeListOf<HTMLInputElement>} */ (
    form.querySelectorAll("textarea[name], input[name]:not([type=hidden], [type=radio], [type=checkbox], [type=file])")
  );
  return [...fields].some(({ value, defaultValue }) => value !== defaultValue);
}

/** All that a form says, in a number: the words themselves stay in no history of the browser. FNV-1a, twice 32 bits.
 * @param {HTMLFormElement} form */
function said(form) {
  const fields = [...new FormData(form)].filter(([name]) => !APART.includes(name));
  const told = fields.map(([name, value]) => [name, value instanceof File ? `${value.name} ${value.size}` : value]);
  let [one, other] = [0x811c9dc5, 0xc59d1c81];
  for (const letter of JSON.stringify(told)) {
    one = Math.imul(one ^ letter.codePointAt(0), 0x01000193);
    other = Math.imul(other ^ letter.codePointAt(0), 0x01000193);
  }
  return `${one},${other}`;
}

document.addEventListener("submit", ({ target, defaultPrevented }) => {
  const form = /** @type {HTMLFormElement} */ (target);
  const id = idOf(form)?.value;
  if (!id || (defaultPrevented && !form.hasAttribute("hx-post"))) return;
  const sent = { ...history.state?.sent, [whereTo(form)]: { id, said: said(form) } };
  history.replaceState({ ...history.state, sent }, "");
});

/** @param {HTMLFormElement} form */
function goOnAsSent(form) {
  const before = history.state?.sent?.[whereTo(form)];
  const field = idOf(form);
  const own = handedOut.get(form);
  if (!before || !field || !own) return;
  const choose = () => {
    if (hasWords(form) && said(form) === before.said) field.value = before.id;
    else if (field.value === before.id) field.value = own;
  };
  for (const change of ["input", "change", "kept:filled"]) form.addEventListener(change, choose);
  choose();
}

// Words come back once the whole page is there. A page from the browser's memory has its forms as they were.
addEventListener("pageshow", ({ persisted }) => persisted || [...document.forms].forEach(goOnAsSent));
