// Whether somebody is at the page: it is in front, and was touched, scrolled or typed on not long ago.

let moved = Date.now();
for (const sign of ["scroll", "pointermove", "pointerdown", "keydown"]) {
  addEventListener(sign, () => (moved = Date.now()), { passive: true, capture: true });
}

/** @param {number} still milliseconds after which a page that nobody touches was left open */
export const isAttended = (still) => document.visibilityState === "visible" && Date.now() - moved < still;
