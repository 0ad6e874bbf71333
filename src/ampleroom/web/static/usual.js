// The edition one usually works by, kept in this browser.
const KEY = 'edition';

/** The year, or null where none was chosen yet. */
export function usualEdition() {
  try {
    return Number(localStorage.getItem(KEY)) || null;
  } catch {
    return null;
  }
}

export function keepEdition(year) {
  try {
    if (year) localStorage.setItem(KEY, String(year));
    else localStorage.removeItem(KEY);
  } catch { /* a browser that keeps nothing asks again */ }
}
