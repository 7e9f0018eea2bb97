// A form that is on its way is not sent a second time by a second click; the answer to the first is the one shown.

import "./sent-forms.js";

const sent = new WeakSet();

document.addEventListener("submit", (event) => {
  if (event.defaultPrevented) return;
  if (sent.has(event.target)) event.preventDefault();
  else sent.add(event.target);
});

// A page that comes back from the browser's memory can be sent again.
addEventListener("pageshow", (event) => {
  if (event.persisted) document.querySelectorAll("form").forEach((form) => sent.delete(form));
});
