// How long a scene was on the screen: counted while its page is in front, and reported now and then and on leaving.

import { isAttended } from "./attention.js";

const EVERY = 10_000; // milliseconds between reports
const STILL = 120_000; // nobody reads a scene that long without a touch, a key or a scroll: the page was left open

const leaves = /** @type {HTMLElement | null} */ (document.querySelector("[data-time-on-screen]"));

if (leaves) {
  const { timeOnScreen: address, scene } = leaves.dataset;
  let seconds = 0;

  const report = () => {
    const whole = Math.floor(seconds);
    if (!whole) return;
    seconds -= whole;
    const told = new FormData();
    told.set("seconds", JSON.stringify({ [scene]: whole }));
    const token = JSON.parse(document.body.getAttribute("hx-headers"))["X-CSRFToken"];
    fetch(address, { method: "POST", body: told, headers: { "X-CSRFToken": token }, keepalive: true }).catch(() => {
      seconds += whole; // the next report brings it
    });
  };

  setInterval(() => {
    if (isAttended(STILL)) seconds += 1;
  }, 1000);
  setInterval(report, EVERY);
  addEventListener("pagehide", report);
  document.addEventListener("visibilitychange", () => document.visibilityState === "hidden" && report());
}
