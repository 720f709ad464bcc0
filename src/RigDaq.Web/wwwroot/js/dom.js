// What every page does with its elements, in one way.

/**
 * The page's element of this id.
 * @param {string} id
 * @returns {any} Which kind of element it is stands in the page.
 */
export const $ = id => document.getElementById(id);

/**
 * Every element of the page, or of a part of it, that a selector names.
 * @param {string} selector
 * @returns {any[]}
 */
export const all = (selector, within = document.documentElement) => [...within.querySelectorAll(selector)];

/**
 * @param {string} name
 * @param {string} [className]
 * @param {string} [text]
 * @returns {any}
 */
export function element(name, className, text) {
  const made = document.createElement(name);
  if (className) made.className = className;
  if (text !== undefined) made.textContent = text;
  return made;
}

/** Texts as the items of a list. */
export const showItems = (place, texts) => place.replaceChildren(...texts.map(text => element('li', '', text)));

/** A text that is changed only where it differs, so that a screen reader hears it once. */
export function setText(id, text) { if ($(id).textContent !== text) $(id).textContent = text; }

/** What a command was answered. */
export function say(place, result) {
  place.textContent = result.message;
  place.classList.toggle('bad', !result.done);
}

/**
 * What stands above everything else of a page, one of each name.
 * @param {string | null} text Null takes it away.
 */
export function banner(text, bad = false, name = 'page') {
  const id = `banner-${name}`, old = $(id);
  if ((old?.textContent ?? null) === text) return;
  old?.remove();
  if (!text) return;
  const made = element('p', bad ? 'banner bad' : 'banner', text);
  made.id = id;
  $('banners').append(made);
}
