// What others do, on a screen that one looks at: its parts are brought up to date where they stand, but for one in which
// somebody is at work, which waits until they have left it.

import { onNews } from "./news.js";
import "./news-line.js";

let isOutdated = false;

onNews(({ isFirst }) => {
  if (isFirst) return;
  isOutdated = true;
  bringUpToDate();
});
document.addEventListener("focusout", () => isOutdated && setTimeout(bringUpToDate)); // once the focus is where it goes

async function bringUpToDate() {
  const answer = await fetch(location.href, { redirect: "manual" }).catch(() => null);
  if (!answer?.ok) return;
  const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
  isOutdated = false;
  for (const part of document.querySelectorAll("[data-fresh]")) {
    const other = fresh.querySelector(`[data-fresh="${part.dataset.fresh}"]`);
    if (!other || other.innerHTML === part.innerHTML) continue;
    if (isInUse(part)) isOutdated = true;
    else part.replaceChildren(...[...other.childNodes].map((node) => document.adoptNode(node)));
  }
}

function isInUse(part) {
  const selection = document.getSelection();
  return part.contains(document.activeElement) || (!selection.isCollapsed && part.contains(selection.anchorNode));
}
