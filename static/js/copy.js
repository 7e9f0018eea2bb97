// Copies the field that a button names, where the browser lets it, and says so; without it the field can be copied by hand.

for (const button of document.querySelectorAll("[data-copy]")) {
  const field = /** @type {HTMLInputElement} */ (document.getElementById(button.dataset.copy));
  const said = document.getElementById(`${button.dataset.copy}-said`);
  button.hidden = false;
  field.addEventListener("focus", () => field.select());
  button.addEventListener("click", async () => {
    field.select();
    try {
      await navigator.clipboard.writeText(field.value);
      said.textContent = "Copied. Paste it where you write to them.";
    } catch {
      said.textContent = "It is selected: copy it with your keyboard or the menu.";
    }
  });
}
