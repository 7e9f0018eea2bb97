// What others did: the page asks now and then, more seldom where nobody is at it, and hands on what it has not yet told.

import { isAttended } from "./attention.js";

const OFTEN_MS = 5000;
const LEFT_OPEN_MS = 20_000;
const HIDDEN_MS = 60_000;
const OFFLINE_MS = 120_000; // at the most: each time that nobody answers it waits twice as long
const STILL_MS = 300_000;
const BEGIN_ANEW_MS = 600_000; // so that a page that is open all day never asks about all day
const MET = 304;

/**
 * @typedef {object} Happened one thing that was done: what sort of thing, to which note, or which draft
 * @property {string} key
 * @property {string} sort
 * @property {boolean} is_own
 * @property {string | null} note
 * @property {number | null} draft
 *
 * @typedef {object} News
 * @property {Happened[]} happened what the page has not been told before, the oldest first
 * @property {boolean} isMore whether there was more than could be told
 * @property {boolean} isFirst whether the page has only begun to ask: it shows most of this already
 * @property {string[]} here who else is at the page in view
 * @property {string} marks on the script, where the notes stand by now on which others have said something, a line each
 */

/** @type {HTMLElement | null} */
export const newsBar = document.querySelector("[data-news]");

/** @type {((news: News) => void)[]} */
const listeners = [];
/** @type {() => Record<string, number> | null} */
let inView = () => null;

/** Hear of what is new. @param {(news: News) => void} listener */
export function onNews(listener) {
  listeners.push(listener);
}

/** Say, each time the page asks, which page of which draft is in view. @param {() => Record<string, number> | null} page */
export function askOfPage(page) {
  inView = page;
}

/** @type {Set<string>} */
const known = new Set();
let since = 0;
let began = 0;
let etag = "";
let asked = "";
let latest = "";
let failures = 0;
let timer = 0;
let isOver = false;

async function ask() {
  clearTimeout(timer);
  if (isOver) return;
  try {
    if (since && Date.now() - began > BEGIN_ANEW_MS && !failures) {
      since = 0;
      etag = "";
    }
    await askOnce();
    failures = 0;
  } catch {
    failures += 1;
  }
  if (!isOver) timer = setTimeout(ask, pause());
}

async function askOnce() {
  const query = new URLSearchParams(Object.entries(inView() ?? {}).map(([name, value]) => [name, String(value)]));
  if (String(query) !== asked) etag = "";
  asked = String(query);
  if (since) query.set("since", String(since));
  if (latest) query.set("after", latest);
  const headers = etag ? { "If-None-Match": etag } : {};
  const answer = await fetch(`${newsBar.dataset.news}?${query}`, { headers, cache: "no-store", redirect: "manual" });
  if (answer.status === MET) return;
  if (answer.type === "opaqueredirect" || (answer.status >= 400 && answer.status < 500)) {
    isOver = true;
    document.dispatchEvent(new CustomEvent("news:over"));
    return;
  }
  if (!answer.ok) throw new Error("no news");
  etag = answer.headers.get("ETag");
  const told = await answer.json();
  if (latest && opensOlder(told.happened)) {
    latest = "";
    etag = "";
    await askOnce();
  } else {
    tell(told);
  }
}

/** Whether something is told of now that is older than what the page knows, for it was kept from its reader until now:
 * where the notes of that stand is said to a page alone that says of nothing that it knows it.
 * @param {Happened[]} happened */
function opensOlder(happened) {
  const at = happened.findIndex(({ key }) => known.has(key));
  return at >= 0 && happened.slice(at).some(({ key }) => !known.has(key));
}

function tell(told) {
  const isFirst = !known.size && !began;
  if (told.since !== since) {
    since = told.since;
    began = Date.now();
  }
  latest = told.happened[0]?.key ?? latest;
  const happened = told.happened.filter(({ key }) => !known.has(key)).reverse();
  for (const { key } of happened) known.add(key);
  const news = { happened, isMore: told.is_more, isFirst, here: told.here, marks: told.marks ?? "" };
  for (const listener of listeners) listener(news);
}

function pause() {
  if (failures) return Math.min(OFTEN_MS * 2 ** failures, OFFLINE_MS);
  if (document.visibilityState === "hidden") return HIDDEN_MS;
  return isAttended(STILL_MS) ? OFTEN_MS : LEFT_OPEN_MS;
}

if (newsBar) {
  timer = setTimeout(ask); // once every script of the page listens
  addEventListener("online", ask);
  document.addEventListener("visibilitychange", () => document.visibilityState === "visible" && ask());
}
