// Figures as text, in one way everywhere. They come in N, MPa and mm and are shown in the units that were chosen. Narrow spaces keep a
// figure and its unit together.
import { all } from './dom.js';
import { units } from './units.js';
import { words } from './words.js';

export { units, words };
export const NONE = '–';

/** What people read for a state that the daemon names; scripts decide by its name. */
export const said = state => words.states[state] ?? state;

const DECIMALS_MAX = 6;
const missing = value => value === null || value === undefined || !Number.isFinite(value);

/** In the unit that was chosen; null stays null. */
export const shown = (stored, unit) => missing(stored) ? null : stored / unit.stored;

/** What was typed in the unit that was chosen, as it is kept; null where nothing was. */
export const stored = (typed, unit) => missing(typed) ? null : Number((typed * unit.stored).toFixed(9));

/** A figure in its unit, without it: as many digits as its expanded uncertainty allows, else so many decimals of the kept unit. */
export function figure(stored, unit, decimals, expanded = null) {
  return fixed(shown(stored, unit), expanded > 0 ? decimalsOf(expanded / unit.stored) : decimals + unit.decimals);
}

/** A live force, with about four figures. */
export const force = newtons => figure(newtons, units.force, Math.abs(newtons) >= 1000 ? 0 : 1);

/** Below 0 decimals: tens, hundreds. */
export function fixed(value, decimals) {
  if (missing(value)) return NONE;
  if (decimals >= 0) return tidy(value.toFixed(decimals));
  return tidy((Math.round(value * 10 ** decimals) * 10 ** -decimals).toFixed(0));
}

/** What an uncertainty allows: two digits of it where it begins with 1 or 2, else one (JCGM 100, 7.2.6 allows two at most). */
export function decimalsOf(expanded) {
  const exponent = Math.floor(Math.log10(expanded));
  return Math.min(DECIMALS_MAX, Math.max(-DECIMALS_MAX, (expanded / 10 ** exponent < 2.95 ? 1 : 0) - exponent));
}

export const withUnit = (text, unit) => text === NONE ? NONE : `${text}\u202f${unit}`;

/** A value and its expanded uncertainty, both to the decimals that this allows. */
export function plusMinus(stored, expanded, unit) {
  return [figure(stored, unit, 1, expanded), missing(stored) || !(expanded > 0) ? null : figure(expanded, unit, 1, expanded)];
}

/** Headings and labels of a page name the unit in an element of their own. */
export function nameUnits() {
  for (const place of all('[data-unit]')) {
    place.textContent = units[place.dataset.unit].symbol;
    if (place.dataset.unit === 'force' && place.textContent === 'kgf') place.title = words.shared.kilogramForce;
  }
}

/** By whom something was done: name and place, or the place alone; nothing where that was not kept. */
export function byWhom(by) {
  if (!by) return '';
  const from = { terminal: words.shared.fromTerminal, page: words.shared.fromPage }[by.from] ?? by.from;
  return fill(by.name ? words.shared.byName : words.shared.byPlace, { name: by.name, from });
}

/** A text with what belongs into its {places}. */
export const fill = (text, values) => text.replace(/\{(\w+)\}/g, (_, name) => values[name] ?? '');

/**
 * The same where elements of the page belong into the places.
 * @param {string} text
 * @param {Record<string, HTMLElement>} elements
 */
export const filled = (text, elements) => text.split(/\{(\w+)\}/).map((part, i) => i % 2 ? elements[part] : part);

// A true minus, and no "-0.0".
const tidy = text => /^-0(\.0+)?$/.test(text) ? text.slice(1) : text.replace('-', '\u2212');
