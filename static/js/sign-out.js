// At sign-out nothing half typed stays behind on the device; whoever has such words is asked first.

import { forget, keptNames } from "./kept-text.js";

const QUESTION = "Something half typed is kept on this device. Signing out discards it. Sign out?";

document.addEventListener("submit", (event) => {
  if (!new URL(/** @type {HTMLFormElement} */ (event.target).action).pathname.endsWith("/sign-out/")) return;
  const names = keptNames();
  if (names.length && !window.confirm(QUESTION)) {
    event.preventDefault();
    return;
  }
  names.forEach(forget);
});
