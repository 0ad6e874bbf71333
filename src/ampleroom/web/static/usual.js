// What one usually works with, kept in this browser. A browser that keeps nothing asks again.

export function recall(key) {
  try {
    return JSON.parse(localStorage.getItem(key));
  } catch {
    return null;
  }
}

export function note(key, value) {
  try {
    localStorage.setItem(key, JSON.stringify(value));
  } catch { /* nothing is kept */ }
}

/** The edition chosen last: the year, or null. */
export const usualEdition = () => Number(recall('edition')) || null;
export const keepEdition = (year) => note('edition', year);
