// After a decision is sent, the keyboard stays at the note instead of falling to the top of the page.

document.addEventListener("htmx:afterSwap", ({ detail }) => {
  const id = detail.requestConfig?.target?.id ?? "";
  if (!id.startsWith("decision-")) return;
  const decision = document.getElementById(id);
  const wrong = decision?.querySelector("[aria-invalid='true'], [role='alert']");
  if (wrong?.matches("textarea")) wrong.focus();
  else if (wrong) focusOn(wrong);
  else decision?.focus({ preventScroll: true });
});

function focusOn(message) {
  message.tabIndex = -1;
  message.focus();
}
