// What a page remembers in this browser. Storage can be blocked or full: nothing is remembered then, and everything else works.

/** @returns {string | null} */
export function recall(key) { try { return localStorage.getItem(key); } catch { return null; } }

export function remember(key, value) { try { localStorage.setItem(key, value); } catch { /* Only this page, then. */ } }
