// Ctrl+Enter sends a decision, a reply or a note from the words that are written for it, on whatever screen they are.

const SENT_BY_KEYS = "form:is(.decide, .reply-form, .note-form, #say-form, #paper-note-form)";

document.addEventListener("keydown", (event) => {
  if (event.defaultPrevented || event.key !== "Enter" || !(event.ctrlKey || event.metaKey)) return;
  const target = /** @type {HTMLElement} */ (event.target);
  const form = /** @type {HTMLFormElement} */ (target.closest(SENT_BY_KEYS));
  if (!form) return;
  event.preventDefault();
  form.requestSubmit(/** @type {HTMLButtonElement} */ (form.querySelector(".send")));
});
