// Lets a file be dropped anywhere on the drop zone, and says which one is there.

/** @param {HTMLElement} zone */
function bindZone(zone) {
  const input = /** @type {HTMLInputElement} */ (zone.querySelector('input[type="file"]'));
  const said = zone.querySelector("[data-drop-said]");

  const holdsFiles = (event) => [...event.dataTransfer.types].includes("Files");

  const say = () => {
    const file = input.files[0];
    said.textContent = file ? `${file.name}, ${inWords(file.size)}` : "";
    zone.classList.toggle("drop-filled", Boolean(file));
  };

  const take = (event) => {
    event.preventDefault();
    zone.classList.remove("drop-over");
    if (event.dataTransfer.files.length > 1) {
      said.textContent = "One file at a time, please.";
      return;
    }
    input.files = event.dataTransfer.files;
    input.dispatchEvent(new Event("change", { bubbles: true }));
    input.focus();
  };

  zone.addEventListener("dragover", (event) => {
    if (!holdsFiles(event)) return;
    event.preventDefault();
    event.dataTransfer.dropEffect = "copy";
    zone.classList.add("drop-over");
  });
  zone.addEventListener("dragleave", (event) => {
    if (!zone.contains(/** @type {Node} */ (event.relatedTarget))) zone.classList.remove("drop-over");
  });
  zone.addEventListener("drop", (event) => {
    if (holdsFiles(event)) take(event);
  });
  input.addEventListener("change", say);
  say(); // a browser may bring the choice back with the page
}

function inWords(bytes) {
  if (bytes < 1024) return `${bytes} bytes`;
  const kib = bytes / 1024;
  return kib < 1024 ? `${Math.round(kib)} KiB` : `${(kib / 1024).toFixed(1)} MiB`;
}

const boundZones = new WeakSet();

function bindZones() {
  for (const zone of /** @type {NodeListOf<HTMLElement>} */ (document.querySelectorAll("[data-drop]"))) {
    if (!boundZones.has(zone)) bindZone(zone);
    boundZones.add(zone);
  }
}

document.addEventListener("htmx:load", bindZones); // a form that came back has another zone
bindZones();
