// What is laid over the script, told to the style sheets by classes of the main part: by a `:has()` that looks through all
// pages a browser would do so again at each change in them.

const parts = {
  choice: "[data-choice]",
  form: "[data-note-dialog]",
  kept: "[data-kept-notice]",
  left: "[data-note-left]",
  threads: "[data-threads]",
};
const main = document.querySelector("main");

const isOpen = (part) => (part instanceof HTMLDialogElement ? part.open : !part.hidden);

for (const [name, selector] of Object.entries(parts)) {
  const part = /** @type {HTMLElement} */ (document.querySelector(selector));
  const tell = () => main.classList.toggle(`has-${name}`, isOpen(part));
  new MutationObserver(tell).observe(part, { attributeFilter: ["hidden", "open"] });
  tell();
}
