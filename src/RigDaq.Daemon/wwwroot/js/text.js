// Figures as text, in one way everywhere. Narrow spaces keep a figure and its unit together.
export const NONE = '–';

/** A force with about four figures: 0.12, 12.3, 123.4, 1234. */
export function force(newtons) {
  if (newtons === null || newtons === undefined || !Number.isFinite(newtons)) return NONE;
  const size = Math.abs(newtons);
  return tidy(newtons.toFixed(size >= 1000 ? 0 : 1));
}

export function fixed(value, decimals) {
  return value === null || value === undefined || !Number.isFinite(value) ? NONE : tidy(value.toFixed(decimals));
}

export const withUnit = (text, unit) => text === NONE ? NONE : `${text}\u202f${unit}`;

/** A value and its uncertainty, both to the uncertainty's second figure (JCGM 100, 7.2.6). */
export function plusMinus(value, uncertainty) {
  if (value === null) return [NONE, null];
  if (!(uncertainty > 0)) return [fixed(value, 1), null];
  const decimals = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(uncertainty))));
  return [fixed(value, decimals), fixed(uncertainty, decimals)];
}

export function element(name, className, text) {
  const made = document.createElement(name);
  if (className) made.className = className;
  if (text !== undefined) made.textContent = text;
  return made;
}

// A true minus, and no "-0.0".
const tidy = text => /^-0(\.0+)?$/.test(text) ? text.slice(1) : text.replace('-', '\u2212');
