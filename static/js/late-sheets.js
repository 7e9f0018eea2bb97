// The sheets of what comes after the pages, cards and forms among them: the pages can be read without waiting for them.

const sheets = /** @type {HTMLLinkElement[]} */ ([...document.querySelectorAll("link[data-late]")]);

function apply(sheet) {
  sheet.media = "all";
  if (sheet.sheet) return null;
  return new Promise((done) => {
    for (const end of ["load", "error"]) sheet.addEventListener(end, done);
  });
}

/** Once they are here. @type {Promise<unknown>} */
export const styled = Promise.all(sheets.map(apply));
