// The bar at the top: where it scrolls sideways, the screen one is on is in sight; the person's menu closes like any menu.

const here = document.querySelector(".top-nav [aria-current]");
const nav = here?.parentElement;
function bringInSight() {
  nav.scrollLeft = here.offsetLeft - nav.offsetLeft - (nav.clientWidth - here.offsetWidth) / 2;
}
if (nav) requestAnimationFrame(bringInSight); // with the frame's own layout

const menu = /** @type {HTMLDetailsElement} */ (document.querySelector(".top-person"));
document.addEventListener("click", (event) => {
  if (menu && !menu.contains(/** @type {Node} */ (event.target))) menu.open = false;
});
menu?.addEventListener("keydown", (event) => {
  if (event.key !== "Escape" || !menu.open) return;
  menu.open = false;
  menu.querySelector("summary").focus();
});
