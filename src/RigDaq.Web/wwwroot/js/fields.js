// How fields are typed and read, alike in every form.
import { fill, words } from './text.js';

/** Enter goes to the next field of the form; what ends the form is its button. */
export function enterGoesOn(form) {
  form.addEventListener('keydown', event => {
    if (event.key !== 'Enter' || event.target.tagName !== 'INPUT') return;
    event.preventDefault();
    const fields = [...form.elements].filter(field => field.offsetParent !== null
      && (field.type === 'submit' || ['INPUT', 'SELECT', 'TEXTAREA'].includes(field.tagName)));
    fields[fields.indexOf(event.target) + 1]?.focus();
  });
}

/** What is asked a moment after the last key, so that a slow answer never overtakes a later one. */
export class Asker {
  #milliseconds; #ask; #timer = 0; #asked = 0;

  constructor(milliseconds, ask) { this.#milliseconds = milliseconds; this.#ask = ask; }

  /** @param answered Called with the answer to the latest only. */
  soon(answered) {
    this.stop();
    const asked = this.#asked;
    this.#timer = setTimeout(async () => { const answer = await this.#ask(); if (asked === this.#asked && answer !== null) answered(answer);
      }, this.#milliseconds);
  }

  stop() { clearTimeout(this.#timer); this.#asked++; }
}

/** A figure as it was typed, with a decimal comma and its unit if it has them; null where nothing was; tells `wrong` what is none. */
export function figureIn(input, name, wrong) {
  const text = input.value.trim();
  if (text === '') return null;
  const value = Number(text.replace(',', '.').replace(/\s*(°C|%|h|g)$/i, ''));
  if (!Number.isFinite(value)) wrong.push(fill(words.studies.numberExpected, { field: name, text }));
  return value;
}
