// A wording begins with the words that were chosen, and what it would make of their lines is shown before it is sent.

/** How many characters two texts have alike at their beginning, up to a word's end. */
function alike(one, other) {
  let at = 0;
  while (at < one.length && one[at] === other[at]) at += 1;
  while (at > 0 && at < Math.max(one.length, other.length) && !/\s/.test(one[at - 1])) at -= 1;
  return at;
}

const backwards = (text) => [...text].reverse().join("");

function words(tag, text) {
  const element = document.createElement(tag);
  element.textContent = text;
  return element;
}

/** Show the lines as they would read, with what is lost struck. */
function show(place, before, after) {
  const start = alike(before, after);
  const end = alike(backwards(before.slice(start)), backwards(after.slice(start)));
  const [lost, made] = [before.slice(start, before.length - end), after.slice(start, after.length - end)];
  const parts = [
    before.slice(0, start),
    lost && words("del", lost),
    made && words("ins", made),
    before.slice(before.length - end),
  ];
  place.hidden = before === after;
  place.querySelector("[data-would-read]").replaceChildren(...parts.filter(Boolean));
}

/** Have a form's wording written on the chosen words alone, where they are part of their lines. */
export function prepareWording(form) {
  const whole = /** @type {HTMLTextAreaElement} */ (form?.querySelector("textarea.wording"));
  if (!whole) return;
  const { begin, before = "", behind = "" } = whole.dataset;
  const place = form.querySelector("[data-would]");
  const isPart = before !== "" || behind !== "";
  const fits =
    whole.value.startsWith(before) &&
    whole.value.endsWith(behind) &&
    whole.value.length >= before.length + behind.length;
  if (isPart && fits) {
    const part = /** @type {HTMLTextAreaElement} */ (whole.cloneNode(false));
    part.removeAttribute("name");
    part.id = `${whole.id}-part`;
    part.value = whole.value.slice(before.length, whole.value.length - behind.length);
    part.addEventListener("input", () => {
      whole.value = before + part.value + behind;
      whole.dispatchEvent(new Event("input", { bubbles: true }));
    });
    whole.hidden = true;
    whole.before(part);
    const help = form.querySelector("[data-of-part]");
    if (help) help.textContent = help.dataset.ofPart;
    form.querySelector(`label[for="${whole.id}"]`)?.setAttribute("for", part.id);
  }
  whole.addEventListener("input", () => show(place, begin, whole.value));
  show(place, begin, whole.value);
}
