// What a page remembers in this browser. Storage can be blocked or full: nothing is remembered then, and everything else works.

/** @returns {string | null} */
export function recall(key) { try { return localStorage.getItem(key); } catch { return null; } }

/** What the person here calls themselves: the daemon keeps it with what they do. A cookie, because each request carries it. */
export function sayName(name) {
  document.cookie = `rigdaq-name=${encodeURIComponent(name)}; path=/; max-age=${name === '' ? 0 : 31536000}; samesite=strict`;
}

/** What was said last; empty where nothing was. */
export function saidName() {
  const said = document.cookie.split('; ').find(each => each.startsWith('rigdaq-name='));
  try { return said ? decodeURIComponent(said.slice(12)) : ''; } catch { return ''; }
}

export function remember(key, value) { try { localStorage.setItem(key, value); } catch { /* Only this page, then. */ } }
