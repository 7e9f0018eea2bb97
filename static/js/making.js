// What was made is taken as soon as the page that waits for it hears that it is there.

document.addEventListener("htmx:afterSwap", () => {
  const take = /** @type {HTMLAnchorElement | null} */ (document.querySelector("[data-take]"));
  take?.click();
});
