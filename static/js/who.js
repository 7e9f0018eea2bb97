// Whom a form asks: all or none of them at one press, a department whole as long as all of it is chosen, and how many are.

/** @param {HTMLElement} who */
function bindChoice(who) {
  const form = who.closest("form");
  const people = /** @type {NodeListOf<HTMLInputElement>} */ (who.querySelectorAll("[name=members]"));
  const said = form.querySelector("[data-who-chosen]");
  const groups = [...who.querySelectorAll("[data-who-group]")].map((group) => ({
    whole: /** @type {HTMLInputElement | null} */ (group.querySelector("[name=departments]")),
    members: [.../** @type {NodeListOf<HTMLInputElement>} */ (group.querySelectorAll("[name=members]"))],
  }));

  function tell() {
    for (const { whole, members } of groups) if (whole) whole.checked = members.every((each) => each.checked);
    const count = [...people].filter((each) => each.checked).length;
    said.textContent = count ? `${count} of ${people.length} chosen` : "Nobody chosen yet";
  }

  function choose(members, isChosen) {
    for (const each of members) each.checked = isChosen;
    tell();
  }

  for (const { whole, members } of groups) {
    if (whole?.checked) choose(members, true);
    whole?.addEventListener("change", () => choose(members, whole.checked));
  }
  who.addEventListener("change", tell);
  who.querySelector("[data-who-all]").hidden = people.length < 2;
  for (const button of who.querySelectorAll("[data-choose]")) {
    button.addEventListener("click", () => choose(people, button.dataset.choose === "all"));
  }
  form.addEventListener("kept:filled", tell);
  addEventListener("pageshow", tell); // with what the browser put back into the form
  tell();
}

const boundChoices = new WeakSet();

function bindChoices() {
  for (const who of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-who]"))) {
    if (!boundChoices.has(who)) bindChoice(who);
    boundChoices.add(who);
  }
}

document.addEventListener("htmx:load", bindChoices); // a form that came back has its people anew
bindChoices();
