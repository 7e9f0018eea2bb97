// What is half typed, kept on this device until it is sent, discarded, or the person signs out.

const PREFIX = "fairhand:kept:";

/** Keep the fields of a half-typed form, an object of strings, under its name. False where the browser keeps nothing. */
export function keep(name, fields) {
  try {
    localStorage.setItem(name, JSON.stringify({ ...fields, at: new Date().toISOString() }));
    return true;
  } catch {
    return false;
  }
}

/** The kept fields, or null. */
export function kept(name) {
  try {
    return JSON.parse(localStorage.getItem(name));
  } catch {
    return null;
  }
}

export function forget(name) {
  try {
    localStorage.removeItem(name);
  } catch {
    // A browser that keeps nothing has nothing to forget.
  }
}

/** The names under which something is kept, of those that begin so. */
export function keptNames(beginning = PREFIX) {
  try {
    return Object.keys(localStorage)
      .filter((name) => name.startsWith(beginning))
      .sort();
  } catch {
    return [];
  }
}

/** The names under which something of whoever is signed in on this page is kept; of nobody, where nobody is. */
export function ownNames() {
  const { reader } = document.body.dataset;
  return reader ? keptNames(`${PREFIX}${reader}:`) : [];
}
